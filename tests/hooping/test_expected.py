"""The error of every hole: worked figures, the draw-in's own direction, and a simulation of all that goes wrong."""

import math
from dataclasses import replace

import numpy as np
import pytest

from festoon.hooping import Mark
from festoon.hooping.expected import expected_error, hole_covariances
from festoon.plane.pose import Pose
from festoon.registration import PlacingModel
from festoon.stitches import from_points
from tests.proof.toy import THREAD, block

CORNERS = np.array([(-50.0, -50.0), (50.0, -50.0), (50.0, 50.0), (-50.0, 50.0)])
MARKS = [Mark(n, tuple(at)) for n, at in zip("ABCD", CORNERS.tolist(), strict=True)]
CROSSES = PlacingModel(marking=0.5, reading=0, seating=0, shift=0, turn=0, drawn_along=0, drawn_across=0)
ALL = PlacingModel(marking=0.5, reading=0.4, seating=0.2, shift=0.3, turn=0.3, drawn_along=0.02, drawn_across=0.01)
TRIALS = 200_000


def sewn(*points):
    return block("leaf", from_points(np.array(points, float), THREAD))


def test_crosses_alone_by_hand():
    """Crosses at (±50, ±50), holes at the centroid and at (120, 0), each cross 0.5 mm out: computed (trade figures)."""
    found = expected_error(MARKS, [sewn((0, 0), (120, 0))], Pose(), CROSSES)
    assert found.at == (120.0, 0.0)
    assert found.confidence == 0.95
    assert (found.mm, found.rms) == pytest.approx((0.7099, 0.3905), abs=6e-5)
    assert found.mean_rms == pytest.approx(math.sqrt((0.25**2 + 0.3905**2) / 2), abs=1e-4)


def test_shift_turn_and_draw_in_count_too():
    """Half the square of the shift each way; the turn across the way from the field's middle; half of 2 % of 20 mm
    along the stitches (computed)."""
    leaf, still = sewn((80, 0), (120, 0)), replace(CROSSES, marking=0)
    shifted = hole_covariances(MARKS, [leaf], Pose(20, 0), replace(still, shift=0.3))
    assert shifted == pytest.approx(np.array([np.diag([0.045, 0.045])] * 2))
    turned = hole_covariances(MARKS, [leaf], Pose(20, 0), replace(still, turn=0.6))
    assert turned[1] == pytest.approx(np.diag([0, math.radians(60.0) ** 2]))
    drawn = hole_covariances(MARKS, [leaf], Pose(20, 0), replace(still, drawn_along=0.02))
    assert drawn == pytest.approx(np.array([np.diag([0.04, 0])] * 2))


def test_every_block_draws_in_towards_its_own_middle():
    alone = hole_covariances(MARKS, [sewn((80, 0), (120, 0))], Pose(), ALL)
    both = hole_covariances(MARKS, [sewn((0, 70), (0, 90)), sewn((80, 0), (120, 0))], Pose(), ALL)
    assert len(both) == 4
    assert both[2:] == pytest.approx(alone)


def test_a_simulation_of_all_parts_agrees():
    """Erring crosses fitted exactly (by complex numbers), then a shift, a turn and a draw-in: covariance and radius."""
    leaf, field = sewn((30, 10), (70, 40), (110, 70)), Pose(10, 5)
    rng = np.random.default_rng(20240601)
    at = CORNERS @ [1, 1j]
    read = at + rng.normal(0, ALL.cross / math.sqrt(2), (TRIALS, 4, 2)) @ [1, 1j]
    turn = (np.conj(at - at.mean()) * (read - read.mean(axis=1, keepdims=True))).sum(axis=1)
    turn /= np.abs(turn)
    target, middle, along = 110 + 70j, 70 + 40j, (4 + 3j) / 5
    landed = turn * (target - at.mean()) + read.mean(axis=1)
    landed += rng.normal(0, ALL.shift / math.sqrt(2), (TRIALS, 2)) @ [1, 1j]
    landed += 1j * np.radians(rng.normal(0, ALL.turn, TRIALS)) * (target - complex(*field.shift))
    reach = (target - middle) * np.conj(along)
    landed += along * reach.real * rng.normal(0, ALL.drawn_along / 2, TRIALS)
    landed += along * 1j * reach.imag * rng.normal(0, ALL.drawn_across / 2, TRIALS)
    off = np.stack([(landed - target).real, (landed - target).imag], axis=1)
    told = hole_covariances(MARKS, [leaf], field, ALL)[2]
    assert np.diag(np.cov(off.T)) == pytest.approx(np.diag(told), rel=0.02)
    assert np.cov(off.T)[0, 1] == pytest.approx(told[0, 1], abs=0.02 * np.trace(told))
    found = expected_error(MARKS, [leaf], field, ALL)
    assert found.at == (110.0, 70.0)
    assert found.mm == pytest.approx(np.quantile(np.hypot(*off.T), 0.95), rel=0.02)
