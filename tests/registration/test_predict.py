"""The predicted placing error against worked examples, a simulation of its own, and laws."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad

from festoon.plane.pose import Pose
from festoon.registration import covariance_radius, fiducial_error, round_covariance, target_covariance
from tests.registration.published import target_error

SQUARE = [(-50, -50), (50, -50), (50, 50), (-50, 50)]
PAIR = [(-60, 0), (60, 0)]
CORNER = [(0, 0), (90, 0), (0, 150)]

WORKED = [  # marks, target, rms, radius at 95 %; FLE 0.5; computed, and checked by 1 000 000 trials
    pytest.param(SQUARE, (120, 0), 0.3905, 0.7099, id="four corners, target outside"),
    pytest.param(PAIR, (60, 40), 0.4640, 0.8226, id="two crosses"),
    pytest.param(SQUARE, (0, 0), 0.2500, 0.4327, id="at the centroid"),
    pytest.param(CORNER, (130, 180), 0.4982, 0.9174, id="three crosses, far target"),
]

places = st.tuples(st.floats(-200, 200), st.floats(-200, 200))
crosses = st.lists(places, min_size=2, max_size=4).filter(lambda p: np.ptp(np.array(p), axis=0).max() > 5)


def spread(marks, target, fle):
    """(2, 2) mm2 at a target where every cross errs alike."""
    return target_covariance(marks, [target], round_covariance(fle))[0]


def rms(marks, target, fle):
    return math.sqrt(np.trace(spread(marks, target, fle)))


def radius_of(marks, target, fle, confidence=0.95):
    return covariance_radius(spread(marks, target, fle), confidence)


def simulated(marks, target, fle, trials=200_000):
    """Placing errors (trials, 2) of least-squares fits of turn and shift to crosses that each err at random."""
    rng = np.random.default_rng(20240601)
    x = np.array(marks, float)
    y = x + rng.normal(0.0, fle / math.sqrt(2), (trials, len(x), 2))
    a, b = x - x.mean(0), y - y.mean(1, keepdims=True)
    u, _, vt = np.linalg.svd(np.einsum("ki,tkj->tij", a, b))
    flip = np.ones((trials, 2))
    flip[:, 1] = np.linalg.det(u @ vt)
    turn = np.einsum("tji,tj,tkj->tik", vt, flip, u)
    landed = np.einsum("tij,j->ti", turn, np.array(target, float) - x.mean(0)) + y.mean(1)
    return landed - np.array(target, float)


@pytest.mark.parametrize(("marks", "target", "worked", "radius"), WORKED)
def test_worked_examples(marks, target, worked, radius):
    assert rms(marks, target, 0.5) == pytest.approx(worked, abs=6e-5)
    assert target_error(marks, [target], 0.5)[0] == pytest.approx(worked, abs=6e-5)
    assert radius_of(marks, target, 0.5) == pytest.approx(radius, abs=6e-5)


ROOM_CORNER = [(0, 0, 0), (100, 0, 0), (0, 80, 0), (0, 0, 60)]
CROSS_IN_SPACE = [(100, 0, 0), (-100, 0, 0), (0, 100, 0), (0, -100, 0), (0, 0, 100), (0, 0, -100)]


def test_the_formula_in_space_by_hand():
    """Six marks at ±100 on the axes: f² = 20000/3 about each, d² = 22500 about two of them for (0, 0, 150), so
    TRE² = 1/6 · (1 + 1/3 · 2 · 3.375) = 0.541667 (Fitzpatrick, West and Maurer 1998, from memory; computed)."""
    assert target_error(CROSS_IN_SPACE, [(0, 0, 150)], 1.0)[0] == pytest.approx(math.sqrt(0.541667), abs=1e-6)
    assert target_error(CROSS_IN_SPACE, [(0, 0, 150)], 1.0)[0] == pytest.approx(0.7360, abs=6e-5)


def test_the_formula_in_space_against_a_simulation():
    """Marks at a room's corner: 0.8145 by the formula, 0.8150 in 400 000 trials of exact fits (computed)."""
    target, trials = np.array([60.0, 60.0, 60.0]), 400_000
    told = target_error(ROOM_CORNER, [target], 1.0)[0]
    assert told == pytest.approx(0.8145, abs=6e-5)
    x = np.array(ROOM_CORNER, float)
    y = x + np.random.default_rng(7).normal(0.0, 1 / math.sqrt(3), (trials, 4, 3))
    u, _, vt = np.linalg.svd(np.einsum("ki,tkj->tij", x - x.mean(0), y - y.mean(1, keepdims=True)))
    u[:, :, 2] *= np.linalg.det(u @ vt)[:, None]
    landed = np.einsum("tij,i->tj", u @ vt, target - x.mean(0)) + y.mean(1)
    seen = math.sqrt(((landed - target) ** 2).sum(axis=1).mean())
    assert seen == pytest.approx(0.8150, abs=2e-3)
    assert told == pytest.approx(seen, rel=0.005)


@given(crosses, places)
def test_in_the_plane_it_is_the_published_formula(marks, target):
    """With its one upright axis, also written out (computed)."""
    assert rms(marks, target, 0.5) == pytest.approx(target_error(marks, [target], 0.5)[0])
    p = np.array(marks)
    f2, d2 = ((p - p.mean(0)) ** 2).sum(axis=1).mean(), ((np.array(target) - p.mean(0)) ** 2).sum()
    assert target_error(marks, [target], 0.5)[0] == pytest.approx(0.5 * math.sqrt((1 + d2 / f2 / 2) / len(p)))


@given(st.lists(st.tuples(*[st.floats(-200, 200)] * 3), min_size=3, max_size=6), st.tuples(*[st.floats(-200, 200)] * 3))
def test_in_space_it_is_the_least_squares_fit_to_first_order(marks, target):
    """The trace of J(x) (sum of J(m)ᵀ J(m))⁻¹ J(x)ᵀ, J(p) = [1 | the turn of p], inverted outright (computed)."""
    p = np.array(marks) - np.mean(marks, axis=0)
    assume(np.linalg.svd(p, compute_uv=False)[1] > 5)

    def j(v):
        return np.hstack([np.eye(3), np.array([[0, v[2], -v[1]], [-v[2], 0, v[0]], [v[1], -v[0], 0]])])

    x = j(np.array(target) - np.mean(marks, axis=0))
    first_order = x @ np.linalg.inv(sum(j(v).T @ j(v) for v in p)) @ x.T / 3
    assert target_error(marks, [target], 1.0)[0] == pytest.approx(math.sqrt(np.trace(first_order)), rel=1e-6)


@pytest.mark.parametrize(("marks", "target"), [p.values[:2] for p in WORKED])
def test_simulation_agrees(marks, target):
    error = simulated(marks, target, 0.5)
    length = np.hypot(*error.T)
    assert rms(marks, target, 0.5) == pytest.approx(math.sqrt((length**2).mean()), rel=0.02)
    for share in (0.5, 0.95):
        assert radius_of(marks, target, 0.5, share) == pytest.approx(np.quantile(length, share), rel=0.02)


def test_one_cross():  # computed: the square root of 0.25 + 0.16 + 0.04
    assert fiducial_error(0.5, 0.4, 0.2) == pytest.approx(0.671, abs=5e-4)


def test_the_radius_holds_what_it_says():
    """The density of two normals, integrated over the disc, gives the confidence back."""
    s = 0.5 / math.sqrt(2) / 2
    wide = s * math.sqrt(1 + 120**2 / 5000)
    radius = radius_of(SQUARE, (120, 0), 0.5, 0.8)

    def ring(r):
        def around(a):
            return math.exp(-((r * math.cos(a) / s) ** 2 + (r * math.sin(a) / wide) ** 2) / 2)

        return r / (2 * math.pi * s * wide) * quad(around, 0, 2 * math.pi)[0]

    assert quad(ring, 0, radius)[0] == pytest.approx(0.8, abs=1e-7)


def test_far_targets_approach_one_normal():
    """Where the lever outweighs all else, 95 % lie within 1.95996 standard deviations (tables of the normal)."""
    across = 0.5 / math.sqrt(2) / 2 * 20_000 / math.sqrt(5000)
    assert radius_of(SQUARE, (20_000, 0), 0.5) == pytest.approx(1.959964 * across, rel=1e-4)


def test_no_error_no_radius():
    assert radius_of(PAIR, (10, 10), 0.0) == 0.0


@pytest.mark.parametrize("marks", [[], [(3, 4)], [(3, 4), (3, 4)], [(1e5, 1e5)] * 4, [(0.1, 0.7)] * 3])
def test_degenerate_marks_are_refused(marks):
    with pytest.raises(ValueError, match="turn"):
        spread(marks, (0, 0), 0.5)


@pytest.mark.parametrize("confidence", [0.0, 1.0, -1.0, math.nan])
def test_impossible_confidence_is_refused(confidence):
    with pytest.raises(ValueError, match="confidence"):
        radius_of(PAIR, (0, 0), 0.5, confidence)


def test_errors_below_zero_are_refused():
    with pytest.raises(ValueError, match="below zero"):
        fiducial_error(0.5, -0.1, 0.2)


@given(crosses, places, st.tuples(*[st.floats(-300, 300)] * 2), st.floats(-360, 360), st.booleans())
def test_moving_everything_changes_nothing(marks, target, shift, turn, mirrored):
    pose = Pose(*shift, turn, mirrored)
    there, spot = pose.apply(marks), pose.apply(target)
    assert rms(there, spot, 0.5) == pytest.approx(rms(marks, target, 0.5), rel=1e-9)
    assert radius_of(there, spot, 0.5) == pytest.approx(radius_of(marks, target, 0.5), rel=1e-6)


@given(crosses, places, st.floats(1.05, 5.0))
def test_wider_spread_errs_less(marks, target, factor):
    """Crosses moved straight out from their centroid; at the centroid itself nothing is to be gained."""
    p = np.array(marks)
    wider = p.mean(0) + factor * (p - p.mean(0))
    before, after = rms(p, target, 0.5), rms(wider, target, 0.5)
    assert after <= before * (1 + 1e-12)
    if math.dist(target, p.mean(0)) > 1:
        assert after < before
        assert radius_of(wider, target, 0.5) < radius_of(p, target, 0.5)


@given(crosses, places)
def test_the_radius_lies_between_its_bounds(marks, target):
    """A 95 % radius of two normals lies between 1.7308 rms (both alike) and 1.95997 rms (one alone)."""
    ratio = radius_of(marks, target, 0.5) / rms(marks, target, 0.5)
    assert 1.7308 - 1e-4 <= ratio <= 1.95997 + 1e-4


@pytest.mark.parametrize("narrow", [0.0, 1e-6, 9e-5, 1.1e-4, 1e-3, 0.01, 0.1, 0.5, 1.0])
def test_the_radius_of_any_ellipse_by_integration(narrow):
    """The narrower normal's chance, integrated over what the wider one leaves it of the disc (computed)."""
    turned = Pose(turn=33).matrix
    r = covariance_radius(turned @ np.diag([4.0, (2 * narrow) ** 2]) @ turned.T)
    if narrow < 1e-3:
        assert r == pytest.approx(2 * 1.959964, rel=1e-5)  # tables of the normal
        return

    def given(a):
        x, half = r * math.sin(a), r * math.cos(a)
        return math.exp(-(x * x) / 8) / math.sqrt(8 * math.pi) * math.erf(half / (2 * narrow) / math.sqrt(2)) * half

    assert quad(given, -math.pi / 2, math.pi / 2, epsabs=1e-10, limit=400)[0] == pytest.approx(0.95, abs=1e-6)


def test_no_covariance_no_radius():
    assert covariance_radius(np.zeros((2, 2))) == 0.0
