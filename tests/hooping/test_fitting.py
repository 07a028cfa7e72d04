"""What fits a field, at which turn: the rotating calipers against a fine sweep of angles."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from festoon.hooping.candidates import candidates
from festoon.hooping.fitting import Turns, extents, fits, fitting_angles, hull_corners
from festoon.hooping.placing import overhang, place_field
from festoon.plane import Pose

coordinate = st.floats(0, 100, allow_nan=False).map(lambda v: round(v, 2))
clouds = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=12).map(np.array)
sizes = st.sampled_from([(60.0, 60.0), (100.0, 40.0), (80.0, 50.0)])
SWEEP = np.arange(0.0, 180.0, 0.02)


@settings(max_examples=150)
@given(clouds, sizes)
def test_free_turns_agree_with_a_fine_sweep(points: np.ndarray, size: tuple[float, float]) -> None:
    lack = (extents(points, SWEEP) - np.array(size)).max(axis=1).min()
    assume(abs(lack) > 0.05)  # a sweep of 0.02 degrees cannot tell nearer cases apart
    found = fitting_angles(hull_corners(points), size, Turns(free=True))
    assert (len(found) > 0) == (lack < 0)
    if len(found):
        assert (extents(points, found) <= np.array(size) + 1e-5).all()


def test_a_square_fits_its_own_diagonal_field_only_when_turned() -> None:
    diamond = np.array([[0, -50], [50, 0], [0, 50], [-50, 0]], float)
    side = 100 / np.sqrt(2)
    assert not fits(diamond, (side, side), Turns((0.0, 90.0)))
    assert fits(diamond, (side, side), Turns(free=True))
    found = fitting_angles(diamond, (side, side), Turns(free=True))
    assert found[0] == 45.0
    assert found == pytest.approx(np.full(len(found), 45.0), abs=1e-4)


def test_a_fit_that_lies_strictly_between_two_hull_directions_is_found() -> None:
    # A 100 mm line in a 99 x 30 field: only where 100 cos t <= 99 and 100 sin t <= 30, so 8.11 to 17.46 degrees.
    line = np.array([[0, 0], [100, 0]], float)
    found = fitting_angles(line, (99.0, 30.0), Turns(free=True))
    assert np.degrees(np.arccos(0.99)) == pytest.approx(min(found % 90))
    assert 10.0 in found


@given(clouds, st.floats(-200, 200), st.floats(-180, 180))
def test_moving_everything_changes_no_fit_of_a_free_field(points: np.ndarray, shift: float, turn: float) -> None:
    size = (75.0, 55.0)
    lack = (extents(points, SWEEP) - np.array(size)).max(axis=1).min()
    assume(abs(lack) > 0.05)
    moved = Pose(shift, -shift, turn).apply(points)
    assert fits(points, size, Turns(free=True)) == fits(moved, size, Turns(free=True))


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(0, 200), st.integers(0, 200), st.integers(5, 40), st.integers(5, 40)),
        min_size=1,
        max_size=6,
    ),
    sizes,
)
def test_no_set_that_fits_is_missing_from_free_candidates(
    rows: list[tuple[int, int, int, int]], size: tuple[float, float]
) -> None:
    blocks = [np.array([[x, y], [x + w, y], [x + w, y + h], [x, y + h]], float) for x, y, w, h in rows]
    found = candidates(blocks, size, Turns(free=True))
    assert found.real is found.bound
    for bits in range(1, 2 ** len(blocks)):
        members = [i for i in range(len(blocks)) if bits >> i & 1]
        if fits(np.concatenate([blocks[i] for i in members]), size, Turns(free=True)):
            assert found.real[:, members].all(axis=1).any(), members
    for row in found.real:
        assert fits(np.concatenate([blocks[i] for i in np.flatnonzero(row)]), size, Turns(free=True))


@given(clouds, st.sampled_from([Turns((0.0,)), Turns((0.0, 90.0)), Turns((30.0,)), Turns(free=True)]))
def test_the_placed_field_holds_everything(points: np.ndarray, turns: Turns) -> None:
    size, outer, cloth = (160.0, 150.0), (200.0, 190.0), (300.0, 300.0)
    pose, sides = place_field(points, size, turns, outer, cloth)
    own = np.abs(pose.inverse().apply(points))
    assert (own <= np.array(size) / 2 + 1e-5).all()
    beyond = overhang(pose, outer, cloth)
    assert sides == tuple(s for s, by in beyond.items() if by > 1e-6)


def test_a_set_that_fits_only_between_the_sampled_turns_is_found() -> None:
    """Two halves of a bar of 100 x 10 mm at 30.5 degrees fit a field of 100 x 10 mm at that turn alone (computed)."""
    bar = Pose(0.0, 0.0, 30.5)
    halves = [bar.apply([[x, 0], [x + 50, 0], [x + 50, 10], [x, 10]]) for x in (0, 50)]
    found = candidates(halves, (100.0 + 1e-3, 10.0 + 1e-3), Turns(free=True))
    assert found.real.tolist() == found.bound.tolist() == [[True, True]]


def test_the_hoop_is_kept_on_the_cloth_where_the_slack_allows() -> None:
    corner = np.array([[30.0, 30.0], [70.0, 70.0]])
    pose, sides = place_field(corner, (100.0, 100.0), Turns(), (140.0, 140.0), (400.0, 400.0))
    assert (pose.x, pose.y, sides) == (70.0, 70.0, ())
    pose, sides = place_field(
        np.array([[5.0, 30.0], [70.0, 70.0]]), (100.0, 100.0), Turns(), (140.0, 140.0), (400.0, 400.0)
    )
    assert (pose.x, pose.y, sides) == (55.0, 70.0, ("left",))
