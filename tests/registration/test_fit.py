"""The fit to marks against a published example, other libraries' fits, and laws."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import orthogonal_procrustes
from scipy.spatial.transform import Rotation

from festoon.plane.pose import Pose
from festoon.registration import fit_rigid, fit_scaled, leave_one_out

UMEYAMA = [(0, 0), (1, 0), (0, 2)], [(0, 0), (-1, 0), (0, 2)]
"""The points of Umeyama, IEEE PAMI 13(4) 1991 (published): y is x mirrored, the hardest case for a turn."""

places = st.tuples(st.floats(-200, 200), st.floats(-200, 200))
crosses = st.lists(places, min_size=2, max_size=5).filter(lambda p: np.ptp(np.array(p), axis=0).max() > 5)
poses = st.builds(Pose, st.floats(-500, 500), st.floats(-500, 500), st.floats(-180, 180))


def mean_square(fit):
    return fit.rms**2


def test_umeyama_with_scale():  # points published; R, c, t and error computed from his formulae
    fit = fit_scaled(*UMEYAMA)
    assert fit.pose.matrix == pytest.approx(np.array([[3, 2], [-2, 3]]) / math.sqrt(13), abs=1e-12)
    assert fit.pose.turn == pytest.approx(-33.690, abs=5e-4)
    assert fit.scale == pytest.approx(0.721110, abs=5e-7)
    assert fit.pose.shift == pytest.approx([-0.8, 0.4], abs=1e-12)
    assert mean_square(fit) == pytest.approx(8 / 15, abs=1e-12)


def test_umeyama_without_scale():  # computed: the centroid of y less R times that of x
    fit = fit_rigid(*UMEYAMA)
    assert fit.pose.matrix == pytest.approx(np.array([[3, 2], [-2, 3]]) / math.sqrt(13), abs=1e-12)
    assert fit.pose.shift == pytest.approx(
        [-1 / 3 - 7 / (3 * math.sqrt(13)), 2 / 3 - 4 / (3 * math.sqrt(13))], abs=1e-12
    )
    assert fit.pose.shift == pytest.approx([-0.980484, 0.296867], abs=1e-6)
    assert mean_square(fit) == pytest.approx(0.619755, abs=5e-7)
    assert fit.scale == 1.0


def test_a_plain_decomposition_would_mirror_it():
    """The published trap: the orthogonal matrix that fits best is a mirror image, and the fit is never one."""
    x, y = (np.array(p, float) - np.mean(p, axis=0) for p in UMEYAMA)
    free, _ = orthogonal_procrustes(x, y)
    assert np.linalg.det(free) == pytest.approx(-1)
    assert np.linalg.det(fit_rigid(*UMEYAMA).pose.matrix) == pytest.approx(1)


@given(crosses, st.integers(0, 2**32 - 1), poses)
def test_other_libraries_agree(at, seed, pose):
    """SciPy's vector alignment in space (Kabsch) and its Procrustes fit in the plane give the same turn."""
    seen = pose.apply(at) + np.random.default_rng(seed).normal(0, 0.5, (len(at), 2))
    x, y = (np.array(p) - np.mean(p, axis=0) for p in (at, seen))
    flat = np.zeros((len(x), 1))
    up = [[0.0, 0.0, 1000.0]]  # holds the axis of the turn upright
    turn, _ = Rotation.align_vectors(np.vstack([np.hstack([y, flat]), up]), np.vstack([np.hstack([x, flat]), up]))
    ours = fit_rigid(at, seen).pose.matrix
    assert ours == pytest.approx(turn.as_matrix()[:2, :2], abs=1e-6)
    free, _ = orthogonal_procrustes(x, y)
    if np.linalg.det(free) > 0 and np.linalg.matrix_rank(x, tol=1.0) == 2:
        assert ours == pytest.approx(free.T, abs=1e-6)


@given(crosses, poses)
def test_a_rigid_move_is_found_again(at, pose):
    for fit in (fit_rigid(at, pose.apply(at)), fit_scaled(at, pose.apply(at))):
        assert fit.scale * (fit.pose.apply(at) - fit.pose.shift) + fit.pose.shift == pytest.approx(
            pose.apply(at), abs=1e-7
        )
        assert fit.scale == pytest.approx(1.0, abs=1e-9)
        assert fit.rms == pytest.approx(0.0, abs=1e-8)
        assert math.cos(math.radians(fit.pose.turn - pose.turn)) == pytest.approx(1.0)


@given(crosses, poses, st.floats(0.9, 1.1))
def test_a_scale_is_found_again(at, pose, scale):
    fit = fit_scaled(at, pose.apply(np.array(at) * scale))
    assert fit.scale == pytest.approx(scale)
    assert fit.pose.shift == pytest.approx(pose.shift, abs=1e-7)
    assert fit.residuals == pytest.approx(np.zeros((len(at), 2)), abs=1e-8)


@given(crosses, st.integers(0, 2**32 - 1), poses, poses)
def test_it_matters_not_where_the_axes_lie(at, seed, before, after):
    """Moving the marks or what was seen moves the fit along, and leaves the residuals' lengths as they were."""
    seen = np.array(at) + np.random.default_rng(seed).normal(0, 0.5, (len(at), 2))
    plain, moved = fit_rigid(at, seen), fit_rigid(before.apply(at), after.apply(seen))
    expected = after.after(plain.pose).after(before.inverse())
    target = before.apply([[30.0, -40.0]])
    assert moved.pose.apply(target) == pytest.approx(expected.apply(target), abs=1e-7)
    lengths = [np.hypot(*f.residuals.T) for f in (plain, moved)]
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-7)


@given(crosses, st.integers(0, 2**32 - 1), st.floats(-1, 1), st.tuples(st.floats(-1, 1), st.floats(-1, 1)))
def test_no_other_move_fits_better(at, seed, turn, shift):
    seen = np.array(at) + np.random.default_rng(seed).normal(0, 0.5, (len(at), 2))
    fit, scaled = fit_rigid(at, seen), fit_scaled(at, seen)
    other = Pose(fit.pose.x + shift[0], fit.pose.y + shift[1], fit.pose.turn + turn)
    assert ((seen - other.apply(at)) ** 2).sum() >= fit.square_sum - 1e-9
    assert scaled.square_sum <= fit.square_sum + 1e-9


def test_residual_follows_theory():
    """Mean square residual is (1 - 3/(2k)) FLE²: Sibson 1979 (from memory); 4000 seeded trials."""
    rng = np.random.default_rng(20240601)
    for at in ([(-60, 0), (60, 0)], [(0, 0), (90, 0), (0, 150)], [(-50, -50), (50, -50), (50, 50), (-50, 50)]):
        noise = rng.normal(0, 0.5 / math.sqrt(2), (4000, len(at), 2))
        squares = [mean_square(fit_rigid(at, np.array(at) + n)) for n in noise]
        assert np.mean(squares) == pytest.approx((1 - 3 / (2 * len(at))) * 0.25, rel=0.05)


def test_leaving_one_out_finds_the_stray():
    at = np.array([(-50.0, -50.0), (50.0, -50.0), (50.0, 50.0), (-50.0, 50.0)])
    seen = Pose(1.0, 2.0, 0.5).apply(at)
    seen[2] += (4.0, -3.0)
    left = leave_one_out(at, seen)
    assert len(left) == 4
    assert int(np.argmin([f.rms for f in left])) == 2
    assert left[2].rms == pytest.approx(0.0, abs=1e-9)
    assert left[2].pose.shift == pytest.approx([1.0, 2.0], abs=1e-9)
    assert min(f.rms for k, f in enumerate(left) if k != 2) > 1.0


@pytest.mark.parametrize(
    ("at", "seen", "told"),
    [
        ([(0, 0)], [(0, 0)], "two are the fewest"),
        ([(0, 0), (1, 0)], [(0, 0)], "2 marks, but 1 were seen"),
        ([(7, 7), (7, 7)], [(0, 0), (1, 0)], "on one point"),
    ],
)
def test_marks_that_hold_no_turn(at, seen, told):
    for fit in (fit_rigid, fit_scaled):
        with pytest.raises(ValueError, match=told):
            fit(at, seen)


def test_of_two_none_can_be_left_out():
    with pytest.raises(ValueError, match="none can be left out"):
        leave_one_out([(0, 0), (1, 0)], [(0, 0), (1, 0)])
