"""Poses: a group acting on the plane."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString
from shapely.affinity import affine_transform

from festoon.plane import Pose

mm = st.floats(-2000, 2000)
poses = st.builds(Pose, mm, mm, st.floats(-720, 720), st.booleans())
points = st.lists(st.tuples(mm, mm), min_size=1, max_size=5).map(np.array)


@given(poses, points)
def test_inverse_undoes(pose, p):
    assert pose.inverse().apply(pose.apply(p)) == pytest.approx(p, abs=1e-8)
    assert pose.apply(pose.inverse().apply(p)) == pytest.approx(p, abs=1e-8)


@given(poses, points)
def test_one_point_is_carried_as_many_are(pose, p):
    assert np.array([pose.carry((x, y)) for x, y in p.tolist()]) == pytest.approx(pose.apply(p), abs=1e-9)


@given(poses, poses, points)
def test_after_is_one_then_the_other(a, b, p):
    assert a.after(b).apply(p) == pytest.approx(a.apply(b.apply(p)), abs=1e-8)


@given(poses, poses, poses, points)
def test_after_is_associative(a, b, c, p):
    assert a.after(b).after(c).apply(p) == pytest.approx(a.after(b.after(c)).apply(p), abs=1e-8)


@given(poses, points)
def test_distances_are_kept(pose, p):
    assert np.ptp(np.hypot(*(pose.apply(p) - pose.apply(p[0])).T)) == pytest.approx(
        np.ptp(np.hypot(*(p - p[0]).T)), abs=1e-8
    )


@given(poses)
def test_mirroring_turns_the_plane_over(pose):
    assert np.linalg.det(pose.matrix) == pytest.approx(-1.0 if pose.mirrored else 1.0)


@given(poses, st.lists(st.tuples(mm, mm), min_size=2, max_size=5, unique=True).map(np.array))
def test_affine_is_what_shapely_takes(pose, p):
    moved = np.array(affine_transform(LineString(p), pose.affine).coords)
    assert moved == pytest.approx(pose.apply(p), abs=1e-8)


@pytest.mark.parametrize(
    ("turn", "expected"), [(0, (1, 0)), (90, (0, 1)), (180, (-1, 0)), (270, (0, -1)), (-90, (0, -1)), (450, (0, 1))]
)
def test_quarter_turns_are_exact_and_clockwise_as_seen(turn, expected):
    assert tuple(Pose(turn=turn).apply([1, 0])) == expected


def test_mirroring_comes_before_the_turn():
    assert tuple(Pose(10, 20, 90, mirrored=True).apply([1, 0])) == (10, 19)
