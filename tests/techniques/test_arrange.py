"""Arrangements: rows, rings, mirrored pairs, and whole repeats along a line."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError
from shapely import LineString, Point

from festoon.errors import PieceError
from festoon.plane import Path, Pose, circle, from_svg, polyline, through
from festoon.techniques.arrange import (
    MITRE,
    MOST,
    Along,
    Pair,
    Ring,
    Row,
    along_line,
    in_pair,
    in_ring,
    in_row,
)

MOTIF = np.array([[0.0, 0.0], [5.0, 0.0], [0.0, 3.0], [-2.0, -1.0]])
"""Four points that no turn or mirroring maps on each other."""

place = st.tuples(st.floats(-500, 500), st.floats(-500, 500))
angle = st.floats(-360, 360)


def spots(poses):
    return np.array([[p.x, p.y] for p in poses])


def gaps(points, closed=False):
    p = np.concatenate([points, points[:1]]) if closed else points
    return np.hypot(*np.diff(p, axis=0).T)


# Rows and rings


def test_a_row_runs_through_its_place_in_equal_steps():
    poses = in_row(Row(count=4, spacing=10, direction=90), (100, 50), 30, True)
    assert spots(poses) == pytest.approx(np.array([[100, 35], [100, 45], [100, 55], [100, 65]]))
    assert {(p.turn, p.mirrored) for p in poses} == {(30, True)}


def test_a_row_of_one_stands_at_its_place():
    (pose,) = in_row(Row(count=1, spacing=10), (7, 8), 0, False)
    assert (pose.x, pose.y) == (7, 8)


def test_nine_in_a_ring_stand_one_chord_apart():
    """Chord of a circle: 2 R sin(pi/n), from any book of geometry (computed: 80.72 mm for 118 mm and 9)."""
    poses = in_ring(Ring(count=9, radius=118), (200, 200), 0, False)
    assert 2 * 118 * math.sin(math.pi / 9) == pytest.approx(80.72, abs=5e-3)
    assert gaps(spots(poses), closed=True) == pytest.approx(np.full(9, 2 * 118 * math.sin(math.pi / 9)))
    assert np.hypot(*(spots(poses) - 200).T) == pytest.approx(np.full(9, 118.0))
    assert spots(poses)[0] == pytest.approx([200, 82])
    assert spots(poses)[1][0] > 200, "clockwise: the second stands to the right of the first"
    assert [p.turn for p in poses] == pytest.approx([40.0 * k for k in range(9)])


def test_a_ring_may_begin_anywhere_and_keep_all_upright():
    poses = in_ring(Ring(count=4, radius=10, start=90, follow=False), (0, 0), 15, False)
    assert spots(poses) == pytest.approx(np.array([[10, 0], [0, 10], [-10, 0], [0, -10]]), abs=1e-9)
    assert [p.turn for p in poses] == [15] * 4


@given(st.integers(1, 40), st.floats(1, 500), angle, angle, st.booleans())
def test_a_ring_turned_by_one_step_is_the_same_ring(count, radius, start, turn, mirrored):
    poses = in_ring(Ring(count=count, radius=radius, start=start), (30, -20), turn, mirrored)
    step = Pose(30, -20, 360 / count).after(Pose(-30, 20))
    for pose, after in zip(poses, [*poses[1:], poses[0]], strict=True):
        assert step.apply(pose.apply(MOTIF)) == pytest.approx(after.apply(MOTIF), abs=1e-6)


# Pairs


def reflected(points, at, axis):
    """Points mirrored in the line through `at` that stands `axis` degrees clockwise from upright."""
    along = np.array([math.sin(math.radians(axis)), -math.cos(math.radians(axis))])
    own = np.asarray(points) - at
    return at + 2 * np.outer(own @ along, along) - own


@given(place, st.floats(0.1, 300), angle, angle, st.booleans())
def test_a_pair_maps_on_itself_in_its_mirror_line(at, apart, axis, turn, mirrored):
    left, right = in_pair(Pair(apart=apart, axis=axis), at, turn, mirrored)
    assert reflected(right.apply(MOTIF), at, axis) == pytest.approx(left.apply(MOTIF), abs=1e-6)
    assert math.hypot(right.x - left.x, right.y - left.y) == pytest.approx(apart)
    assert (right.turn, right.mirrored) == (turn, mirrored)


def test_the_right_one_of_a_pair_stands_to_the_right():
    left, right = in_pair(Pair(apart=40), (100, 100), 0, False)
    assert ((left.x, left.y), (right.x, right.y)) == ((80, 100), (120, 100))


# Along a line

SQUARE = polyline([[0, 0], [100, 0], [100, 60], [0, 60]], closed=True)
CORNER = polyline([[0, 0], [100, 0], [100, 50]])
TEARDROP = from_svg("M 0 0 C 60 -60 60 60 0 0 Z")
SMOOTH_LOOPS = (circle([0, 0], 50), through([[0, 0], [60, -20], [90, 40], [20, 70]], closed=True))
EVERY_PATH = (
    SQUARE,
    CORNER,
    TEARDROP,
    *SMOOTH_LOOPS,
    polyline([[0, 0], [70, 30]]),
    through([[0, 0], [30, 20], [80, 0]]),
)
every_path = st.sampled_from(EVERY_PATH)
spacing = st.floats(1.0, 300.0)


def set_out(path, turn=0.0, mirrored=False, **words):
    return along_line(Along(line="it", **words), path, turn, mirrored)


def where(path, poses):
    """Arc lengths of poses on a path, mm."""
    line = LineString(path.flatten(1e-4))
    return np.array([line.project(Point(p.x, p.y)) for p in poses])


@given(st.sampled_from(SMOOTH_LOOPS), spacing, st.booleans())
def test_smooth_loops_close_at_any_spacing(path, spacing, corners):
    poses = set_out(path, spacing=spacing, corners=corners)
    count = max(1, math.floor(path.length / spacing + 0.5))
    assert len(poses) == count
    assert spots(poses)[0] == pytest.approx(path.start, abs=1e-6)
    s = where(path, poses)[1:]
    assert s == pytest.approx(np.arange(1, count) * path.length / count, abs=0.01)


@given(st.sampled_from([SQUARE, CORNER]), spacing)
def test_without_corners_every_leg_begins_and_ends_with_half_a_repeat(path, spacing):
    s = where(path, set_out(path, spacing=spacing))
    edges = np.concatenate([[0], np.cumsum([leg.length for leg in path.legs()])])
    for a, b in itertools.pairwise(edges):
        count = max(1, math.floor((b - a) / spacing + 0.5))
        expected = a + (np.arange(count) + 0.5) * (b - a) / count
        assert s[(s > a) & (s < b)] == pytest.approx(expected, abs=1e-6)


@given(st.sampled_from([SQUARE, CORNER]), spacing)
def test_with_corners_one_stands_on_each_and_the_legs_divide_evenly(path, spacing):
    poses = spots(set_out(path, spacing=spacing, corners=True))
    expected = []
    for leg in path.legs():
        count = max(1, math.floor(leg.length / spacing + 0.5))
        expected.extend(leg.start + np.arange(count)[:, None] / count * (leg.end - leg.start))
    expected += [] if path.closed else [path.end]
    assert poses == pytest.approx(np.array(expected), abs=1e-6)


def test_an_open_line_with_corners_has_one_at_both_ends():
    poses = set_out(CORNER, spacing=30, corners=True)
    assert spots(poses)[[0, -1]] == pytest.approx(np.array([[0, 0], [100, 50]]))
    assert len(poses) == 3 + 2 + 1
    straight = set_out(polyline([[0, 0], [100, 0]]), spacing=30, corners=True)
    assert spots(straight)[:, 0] == pytest.approx([0, 100 / 3, 200 / 3, 100])


@pytest.mark.parametrize("count_of_corners", [False, True])
def test_a_loop_with_a_single_corner_keeps_to_its_corner_rule(count_of_corners):
    poses = set_out(TEARDROP, spacing=TEARDROP.length / 6, corners=count_of_corners)
    s = where(TEARDROP, poses)
    begin = 0.0 if count_of_corners else 0.5
    inner = slice(1, None) if count_of_corners else slice(None)
    assert len(poses) == 6
    assert s[inner] == pytest.approx((np.arange(6) + begin)[inner] * TEARDROP.length / 6, abs=0.01)
    if count_of_corners:
        assert spots(poses)[0] == pytest.approx([0, 0], abs=1e-9)
        assert poses[0].turn % 360 == pytest.approx(270), "it points where the loop's middle line does"


@pytest.mark.parametrize(
    ("end", "half"), [((100, 50), 45), ((100, -50), -45), ((150, 50), 22.5), ((50, 50), 67.5), ((200, 0), None)]
)
def test_the_turn_at_a_corner_halves_it(end, half):
    poses = set_out(polyline([[0, 0], [100, 0], end]), spacing=50, corners=True)
    corner = next(p for p in poses if math.isclose(p.x, 100) and abs(p.y) < 1e-9)
    assert corner.turn == pytest.approx(half or 0.0)


def test_a_square_turns_its_corners_an_eighth_more_than_the_side_before():
    poses = set_out(SQUARE, spacing=50, corners=True)
    at_corners = [p.turn % 360 for p in poses if any(np.allclose([p.x, p.y], c) for c in SQUARE.flatten()[:-1])]
    assert at_corners == pytest.approx([315, 45, 135, 225])


def test_upright_ones_keep_their_own_turn_and_mirroring():
    poses = set_out(SQUARE, spacing=50, corners=True, follow=False, turn=12, mirrored=True)
    assert {(p.turn, p.mirrored) for p in poses} == {(12, True)}
    followed = set_out(CORNER, spacing=50, turn=12)
    assert [p.turn for p in followed] == pytest.approx([12, 12, 102])


@given(st.sampled_from([p for p in EVERY_PATH if not p.corners()]), spacing, st.floats(-20, 20))
def test_aside_is_to_the_right_of_travel(path, spacing, aside):
    on = set_out(path, spacing=spacing)
    beside = set_out(path, spacing=spacing, aside=aside)
    for a, b in zip(on, beside, strict=True):
        ahead = np.array([math.cos(math.radians(a.turn)), math.sin(math.radians(a.turn))])
        off = np.array([b.x - a.x, b.y - a.y])
        assert off @ ahead == pytest.approx(0, abs=1e-9)
        assert ahead[0] * off[1] - ahead[1] * off[0] == pytest.approx(aside, abs=1e-9)


def test_aside_at_a_corner_is_where_the_rows_of_both_legs_meet():
    """Inside a square travelled clockwise, 10 mm to the right of both sides: computed in the head."""
    poses = set_out(SQUARE, spacing=50, corners=True, aside=10)
    assert spots(poses)[0] == pytest.approx([10, 10])
    assert spots(poses)[2] == pytest.approx([90, 10])
    outside = set_out(SQUARE, spacing=50, corners=True, aside=-10)
    assert spots(outside)[0] == pytest.approx([-10, -10])


def test_beside_a_sharp_corner_it_stands_no_farther_than_the_mitre_allows():
    sharp = polyline([[0, 0], [100, 0], [0, 5]])
    poses = set_out(sharp, spacing=100, corners=True, aside=10)
    assert math.hypot(poses[1].x - 100, poses[1].y) == pytest.approx(10 * MITRE)


@given(every_path, spacing, st.booleans())
def test_never_two_at_one_place(path: Path, spacing, corners):
    at = spots(set_out(path, spacing=spacing, corners=corners))
    far = np.hypot(*(at[:, None] - at[None]).transpose(2, 0, 1)) + np.eye(len(at)) * 1e9
    assert far.min() > 0.2


@given(every_path, st.floats(1e-300, 1e3), st.booleans())
def test_too_many_are_refused_in_a_sentence(path, spacing, corners):
    if path.length / spacing < MOST - 10:
        assert len(set_out(path, spacing=spacing, corners=corners)) <= MOST
    elif path.length / spacing > MOST + 10:
        with pytest.raises(PieceError, match=f"more than {MOST} repeats.*make the spacing larger"):
            set_out(path, spacing=spacing, corners=corners)


@given(st.sampled_from([SQUARE, CORNER, TEARDROP]), spacing, st.floats(0.1, 24))
def test_the_length_left_clear_is_free_at_every_corner_and_end(path, spacing, clear):
    s = where(path, set_out(path, spacing=spacing, clear=clear))
    edges = np.concatenate([[0], np.cumsum([leg.length for leg in path.legs()])])
    for a, b in itertools.pairwise(edges):
        room = b - a - 2 * clear
        count = max(1, math.floor(room / spacing + 0.5))
        expected = a + clear + (np.arange(count) + 0.5) * room / count
        assert s[(s > a) & (s < b)] == pytest.approx(expected, abs=0.01)


def test_a_smooth_loop_has_no_corner_to_keep_clear():
    loop = SMOOTH_LOOPS[0]
    assert spots(set_out(loop, spacing=30, clear=10)) == pytest.approx(spots(set_out(loop, spacing=30)))


def test_clear_must_leave_some_of_every_leg():
    with pytest.raises(PieceError, match=r"^30 mm left free at either end uses up a stretch of 50 mm"):
        set_out(CORNER, spacing=10, clear=30)
    with pytest.raises(ValidationError, match="Keep one of them"):
        Along(line="it", spacing=10, clear=5, corners=True)
