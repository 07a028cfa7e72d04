"""Covariances against worked examples, simulations with independent fits, and laws."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import orthogonal_procrustes
from scipy.spatial.transform import Rotation

from festoon.plane.pose import Pose
from festoon.registration import fiducial_error
from festoon.registration.covariance import (
    carried_covariance,
    influence,
    own_covariance,
    relative_covariance,
    round_covariance,
    stitch_covariance,
    target_covariance,
)
from festoon.registration.model import PlacingModel
from tests.registration.published import target_error

SQUARE = [(-50, -50), (50, -50), (50, 50), (-50, 50)]
CORNER = [(0, 0), (90, 0), (0, 150)]
WORKED = [  # marks, target, rms at FLE 0.5; computed
    pytest.param(SQUARE, (120, 0), 0.3905, id="four corners, target outside"),
    pytest.param([(-60, 0), (60, 0)], (60, 40), 0.4640, id="two crosses"),
    pytest.param(SQUARE, (0, 0), 0.2500, id="at the centroid"),
    pytest.param(CORNER, (130, 180), 0.4982, id="three crosses, far target"),
]
LEFT = [(0, 0), (0, 100), (100, 0), (100, 100)]
RIGHT = [(100, 0), (100, 100), (200, 0), (200, 100)]
JOIN = [(100, 50)]
TRIALS = 200_000

places = st.tuples(st.floats(-200, 200), st.floats(-200, 200))
crosses = st.lists(places, min_size=2, max_size=4, unique=True).filter(lambda p: np.ptp(np.array(p), axis=0).max() > 5)
spreads = st.tuples(*[st.floats(0.01, 2.0)] * 2, st.floats(0, 180))


def slanting(long, short, turn):
    """Covariance with these spreads, the first `turn` degrees clockwise of right."""
    r = Pose(turn=turn).matrix
    return r @ np.diag([long**2, short**2]) @ r.T


UNEVEN = np.array([slanting(0.5, 0.1, 20), slanting(0.2, 0.6, 75), slanting(0.3, 0.3, 0), slanting(0.7, 0.2, 130)])


def rms(covariance):
    return math.sqrt(np.trace(covariance))


def drawn(marks, covariances, seed=20240601, trials=TRIALS):
    """(trials, k, 2) erring crosses."""
    rng = np.random.default_rng(seed)
    roots = np.linalg.cholesky(covariances)
    return np.array(marks, float) + np.einsum("kab,tkb->tka", roots, rng.normal(size=(trials, len(marks), 2)))


def landed(marks, read, target):
    """(trials, 2) misses of a target after least-squares fits of turn and shift, exact, by complex numbers."""
    a = np.array(marks, float) - np.mean(marks, axis=0)
    b = read - read.mean(axis=1, keepdims=True)
    turn = ((a[:, 0] - 1j * a[:, 1]) * (b[..., 0] + 1j * b[..., 1])).sum(axis=1)
    turn /= np.abs(turn)
    out = np.array(target, float) - np.mean(marks, axis=0)
    moved = turn * complex(*out) + read.mean(axis=1) @ np.array([1, 1j])
    return np.stack([moved.real, moved.imag], axis=1) - np.array(target, float)


@pytest.mark.parametrize(("marks", "target", "worked"), WORKED)
def test_crosses_alike_give_the_known_error(marks, target, worked):
    found = rms(target_covariance(marks, [target], round_covariance(0.5))[0])
    assert found == pytest.approx(worked, abs=6e-5)
    assert found == pytest.approx(target_error(marks, [target], 0.5)[0], rel=1e-12)


def test_radial_and_tangential_spread():  # computed: 0.1768 and 0.3482 at (120, 0) of the square
    covariance = target_covariance(SQUARE, [(120, 0)], round_covariance(0.5))[0]
    assert np.sqrt(np.diag(covariance)) == pytest.approx([0.1768, 0.3482], abs=6e-5)
    assert covariance[0, 1] == pytest.approx(0.0, abs=1e-12)


def test_influence_is_the_formula_in_matrices():
    """J(x) A J(m)^T with A inverted outright."""

    def j(p):
        v = np.array(p, float) - np.mean(CORNER, axis=0)
        return np.array([[1, 0, -v[1]], [0, 1, v[0]]])

    a = np.linalg.inv(sum(j(m).T @ j(m) for m in CORNER))
    expected = [[j(x) @ a @ j(m).T for m in CORNER] for x in [(130, 180), (5, -7)]]
    assert influence(CORNER, [(130, 180), (5, -7)]) == pytest.approx(np.array(expected), abs=1e-12)


@pytest.mark.parametrize("target", [(120, 0), (10, 70), (0, 0)])
def test_simulation_with_uneven_crosses_agrees(target):
    miss = landed(SQUARE, drawn(SQUARE, UNEVEN), target)
    seen, told = np.cov(miss.T), target_covariance(SQUARE, [target], UNEVEN)[0]
    scale = np.trace(told)
    assert np.diag(seen) == pytest.approx(np.diag(told), rel=0.02)
    assert seen[0, 1] == pytest.approx(told[0, 1], abs=0.02 * scale)


def test_other_fits_agree():
    """SciPy's two fits land a target where the simulation's own does, and miss by what influence foretells."""
    target, read = (130, 180), drawn(CORNER, np.array([slanting(0.05, 0.02, 30)] * 3), trials=50)
    ours = landed(CORNER, read, target)
    centroid = np.mean(CORNER, axis=0)
    a, out = np.array(CORNER, float) - centroid, np.array(target, float) - centroid
    foretold = np.einsum("kab,tkb->ta", influence(CORNER, [target])[0], read - np.array(CORNER, float))
    for k, points in enumerate(read):
        b = points - points.mean(axis=0)
        rotation, _ = orthogonal_procrustes(a, b)
        assert out @ rotation + points.mean(axis=0) - target == pytest.approx(ours[k], abs=1e-9)
        turn = Rotation.align_vectors(np.pad(b, ((0, 0), (0, 1))), np.pad(a, ((0, 0), (0, 1))))[0]
        assert turn.apply([*out, 0.0])[:2] + points.mean(axis=0) - target == pytest.approx(ours[k], abs=1e-9)
        assert foretold[k] == pytest.approx(ours[k], abs=1e-3)


def test_two_hoopings_with_marks_of_their_own():  # computed: 0.4610
    own = np.add(RIGHT, (0, 1e-9))  # other crosses, all but at the same places
    found = relative_covariance(LEFT, own, JOIN, round_covariance(0.5), round_covariance(0.3))[0]
    assert rms(found) == pytest.approx(0.4610, abs=6e-5)


def test_two_hoopings_that_share_the_marks_on_the_join():  # computed: 0.3446; across 0.232, along 0.255
    found = relative_covariance(LEFT, RIGHT, JOIN, round_covariance(0.5), round_covariance(0.3))[0]
    assert rms(found) == pytest.approx(0.3446, abs=6e-5)
    assert np.sqrt(np.diag(found)) == pytest.approx([0.232, 0.255], abs=5e-4)


def test_simulation_of_shared_crosses_agrees():
    drawing, anew = slanting(0.5, 0.2, 20), slanting(0.1, 0.3, 40)
    six = [*LEFT, *RIGHT[2:]]
    cloth = drawn(six, np.array([drawing] * 6))
    first = cloth[:, :4] + drawn(LEFT, np.array([anew] * 4), seed=7) - np.array(LEFT, float)
    second = cloth[:, 2:] + drawn(RIGHT, np.array([anew] * 4), seed=8) - np.array(RIGHT, float)
    target = (100, 20)
    seen = np.cov((landed(RIGHT, second, target) - landed(LEFT, first, target)).T)
    told = relative_covariance(LEFT, RIGHT, [target], drawing, anew)[0]
    assert np.diag(seen) == pytest.approx(np.diag(told), rel=0.02)
    assert seen[0, 1] == pytest.approx(told[0, 1], abs=0.02 * np.trace(told))


def test_the_same_crosses_leave_only_what_happens_anew():
    found = relative_covariance(LEFT, LEFT, JOIN, round_covariance(0.5), round_covariance(0.3))
    assert found == pytest.approx(2 * target_covariance(LEFT, JOIN, round_covariance(0.3)), abs=1e-12)


def test_a_hooping_adds_its_shift_and_its_turn():
    """Half the square of the shift each way; 0.6 degrees at 100 mm to the right is 1.047 mm up or down (computed)."""
    model = PlacingModel(shift=0.3, turn=0.6, drawn_along=0, drawn_across=0)
    found = own_covariance(model, (20, 10), [(120, 10)], (1, 0), (0, 0))[0]
    assert found == pytest.approx(np.diag([0.045, 0.045 + 1.0472**2]), abs=1e-4)


def test_the_draw_in_grows_with_the_way_from_the_block_middle():
    """Half of 1 % of 40 mm along is 0.2 mm, half of 0.4 % of 30 mm across is 0.06 mm (computed)."""
    model = PlacingModel(shift=0, turn=0, drawn_along=0.01, drawn_across=0.004)
    found = own_covariance(model, (0, 0), [(40, 30)], (1, 0), (40, 30))[0]
    assert found == pytest.approx(np.diag([0.04, 0.0036]), abs=1e-12)
    turned = own_covariance(model, (0, 0), [(40, 30)], (0, 1), (40, 30))[0]
    assert np.sqrt(np.diag(turned)) == pytest.approx([0.08, 0.15])


def test_stitching_errs_by_its_crosses_and_its_hooping():
    model = PlacingModel()
    fle = fiducial_error(model.marking, model.reading, model.seating)
    found = stitch_covariance(model, SQUARE, (0, 0), [(120, 0)], (1, 0), (10, 0))[0]
    own = own_covariance(model, (0, 0), [(120, 0)], (1, 0), (10, 0))[0]
    assert rms(found) ** 2 == pytest.approx(target_error(SQUARE, [(120, 0)], fle)[0] ** 2 + np.trace(own))


def test_four_equal_steps_double_the_spread():
    assert rms(carried_covariance([round_covariance(0.3)] * 4)) == pytest.approx(0.6)


@pytest.mark.parametrize("marks", [[], [(3, 4)], [(3, 4), (3, 4)]])
def test_marks_that_hold_no_turn_are_refused(marks):
    with pytest.raises(ValueError, match="turn"):
        target_covariance(marks, [(0, 0)], round_covariance(0.5))


@given(crosses, places, spreads, st.tuples(*[st.floats(-300, 300)] * 2), st.floats(-360, 360), st.booleans())
def test_moving_everything_turns_the_covariance_with_it(marks, target, spread, shift, turn, mirrored):
    pose = Pose(*shift, turn, mirrored)
    c = slanting(*spread)
    before = target_covariance(marks, [target], c)[0]
    after = target_covariance(pose.apply(marks), [pose.apply(target)], pose.matrix @ c @ pose.matrix.T)[0]
    assert after == pytest.approx(pose.matrix @ before @ pose.matrix.T, rel=1e-6, abs=1e-9 * np.trace(before))


@given(crosses, crosses, places, spreads, spreads)
def test_variances_are_never_below_zero(first, second, target, drawing, anew):
    second = [first[0], *(p for p in second if p != first[0])]
    for found in (
        target_covariance(first, [target], slanting(*drawing))[0],
        relative_covariance(first, second, [target], slanting(*drawing), slanting(*anew))[0],
        stitch_covariance(PlacingModel(), first, (0, 0), [target], (0, 1), target)[0],
    ):
        assert (found == found.T).all()
        assert np.linalg.eigvalsh(found).min() >= -1e-9 * np.trace(found)


@given(crosses, places, spreads, spreads)
def test_a_worse_cross_never_places_better(marks, target, spread, more):
    better = np.array([slanting(*spread)] * len(marks))
    worse = better.copy()
    worse[0] += slanting(*more)
    before, after = (target_covariance(marks, [target], c)[0] for c in (better, worse))
    assert np.linalg.eigvalsh(after - before).min() >= -1e-9 * np.trace(after)
    assert np.trace(after) >= np.trace(before)
