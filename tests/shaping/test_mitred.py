"""Columns of satin along scallops: as wide as asked, one rung shared at every point, and none over its neighbour."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, Polygon, points, union_all

from festoon.plane import circle, from_svg, polyline
from festoon.shaping.mitred import MITRE, Edges, arcs_along, mitred, point_rung
from festoon.shaping.scallop import arc_length, arc_radius, point_turn
from festoon.shaping.set_out import set_out

HEM = polyline([(0, 0), (300, 0)])
WAVE = from_svg("M 0 0 C 80 60 160 -60 300 0")
ROUND = circle((0, 0), 60)
CORNER = polyline([(0, 0), (200, 0), (200, 150)])

lines = st.sampled_from([HEM, WAVE, ROUND, CORNER])
sides = st.sampled_from([-1, 1])


def columns(line, repeat, rise, width, at_points=None, parity="any"):
    arcs = arcs_along(set_out(line, repeat, parity).places, rise)
    return arcs, mitred(arcs, line, width, width if at_points is None else at_points)


def area(column):
    return Polygon(np.concatenate([column.left, column.right[::-1]]))


@given(lines, st.floats(15, 60), st.floats(0.02, 0.4), st.floats(1, 6), st.floats(0.3, 1), sides)
def test_neighbours_share_their_last_and_first_rung_to_the_last_bit(line, repeat, share, width, thin, side):
    _, drawn = columns(line, repeat, side * share * repeat, width, thin * width)
    pairs = [*itertools.pairwise(drawn), *([(drawn[-1], drawn[0])] if line.closed else [])]
    for before, after in pairs:
        assert before.left[-1].tolist() == after.left[0].tolist()
        assert before.right[-1].tolist() == after.right[0].tolist()


@given(st.floats(20, 80), st.floats(0.05, 0.4), st.floats(0.02, 0.2), sides)
def test_no_column_lies_over_another(repeat, share, thick, side):
    """On a straight line: the areas of all columns together are as large as the area that they cover."""
    _, drawn = columns(HEM, repeat, side * share * repeat, thick * repeat)
    areas = [area(c) for c in drawn]
    assert all(a.is_valid for a in areas)
    assert union_all(areas).area == pytest.approx(sum(a.area for a in areas), rel=1e-6)
    assert len(union_all(areas).buffer(1e-6).interiors) == 0


@given(st.floats(20, 80), st.floats(0.05, 0.3), st.floats(0.02, 0.1), sides)
def test_it_is_as_wide_as_asked_all_along(repeat, share, thick, side):
    """Every place of both edges lies half a width from the middle line, or at its mitred ends a little farther."""
    arcs, drawn = columns(HEM, repeat, side * share * repeat, thick * repeat)
    middle, column = LineString(arcs[0].flatten(0.001)), drawn[0]
    for edge in (column.left, column.right):
        inside = [middle.distance(p) for p in points(edge[len(edge) // 4 : -len(edge) // 4])]
        assert np.allclose(inside, thick * repeat / 2, atol=0.01)
    k = len(column.left) // 2
    assert column.rungs[k - 1 : k + 2].max() == pytest.approx(thick * repeat, rel=1e-3)


@pytest.mark.parametrize(("chord", "rise", "width"), [(60, 15, 3), (50, 10, 3.5), (200, 50, 15)])
def test_edges_against_the_arc_formula(chord, rise, width):
    """The edge below is an arc of the radius R + w/2 cut off by the mitres, which stand upright at both ends of the
    chord: 2(R + w/2)·asin(c/(2(R + w/2))), any handbook of geometry."""
    _, (column,) = columns(polyline([(0, 0), (chord, 0)]), chord, rise, width)
    outer = arc_radius(chord, rise) + width / 2
    assert LineString(column.right).length == pytest.approx(2 * outer * math.asin(chord / 2 / outer), rel=1e-4)
    inner = arc_radius(chord, rise) - width / 2
    half = math.radians(point_turn(chord, rise) / 2)
    beyond = 2 * width / 2 * math.tan(half)  # straight on along the end tangents, to the mitres
    flat = LineString(column.left).length
    if 1 / math.cos(half) <= MITRE:
        assert flat == pytest.approx(inner * 2 * half + beyond, rel=1e-3)


def test_the_rung_at_a_point_halves_its_angle():
    """w/2 / cos(φ/2) on the outside of a turn φ, as any mitre; inside the two arcs' own edges meet: for c 60, h 15, R
    37.5, w 3 that is √(39² - 30²) - 22.5 mm below (computed)."""
    _, drawn = columns(polyline([(0, 0), (120, 0)]), 60, 15, 3)
    left, right = drawn[0].left[-1], drawn[0].right[-1]
    half = math.radians(point_turn(60, 15) / 2)
    assert left == pytest.approx([60, -1.5 / math.cos(half)], abs=1e-3)
    assert right == pytest.approx([60, math.sqrt(39**2 - 30**2) - 22.5], abs=1e-3)


@given(lines, st.floats(15, 60), st.floats(0.05, 0.3), st.floats(0.5, 3))
def test_thinner_at_the_points(line, repeat, share, thin):
    _, drawn = columns(line, repeat, share * repeat, 4.0, thin)
    for column in drawn:
        assert abs(column.rungs - 4.0).min() < 1e-3
    wide = [c.rungs[-1] for c in columns(line, repeat, share * repeat, 4.0)[1]]
    assert all(c.rungs[-1] < w for c, w in zip(drawn, wide, strict=True))


@given(st.floats(20, 60), st.floats(0.05, 0.3), st.integers(1, 6))
def test_an_open_line_ends_square_to_itself(repeat, share, count):
    _, drawn = columns(polyline([(0, 0), (repeat * count, 0)]), repeat, share * repeat, 3.0)
    assert drawn[0].left[0][0] == pytest.approx(drawn[0].right[0][0], abs=1e-6) == pytest.approx(0, abs=1e-6)
    assert drawn[-1].left[-1][0] == pytest.approx(repeat * count)


@given(st.floats(20, 80), st.floats(0.02, 0.4), st.floats(1, 4), sides)
def test_above_and_below_are_mirror_images(repeat, share, width, side):
    _, one = columns(HEM, repeat, side * share * repeat, width)
    _, other = columns(HEM, repeat, -side * share * repeat, width)
    flip = np.array([1.0, -1.0])
    for a, b in zip(one, other, strict=True):
        assert np.allclose(a.left, b.right * flip, atol=1e-6)


@given(st.floats(0, 30))
def test_the_beginning_of_a_column_is_a_part_of_it(length):
    _, (column, *_) = columns(HEM, 60, 15, 3)
    part = column.before(length)
    k = len(part.left)
    assert 1 <= k <= len(column.left)
    assert np.array_equal(part.left, column.left[:k])
    assert LineString(column.right[: max(2, k)]).length >= min(length, 0.1) - 0.5
    assert LineString(column.right[: max(2, k)]).length <= length + 0.5


def test_followed_by_the_next_it_is_one_column():
    _, (first, second, *_) = columns(HEM, 60, 15, 3)
    both = first.followed_by(second.before(5))
    assert isinstance(both, Edges)
    assert (np.hypot(*np.diff(both.right, axis=0).T) > 0).all()
    assert both.left[0].tolist() == first.left[0].tolist()


@given(st.floats(10, 200), st.floats(0.05, 0.45))
def test_arcs_have_the_length_of_the_formula(repeat, share):
    assume(repeat <= 300)
    arcs, _ = columns(HEM, repeat, share * repeat, 0.01 * repeat)
    chord = arcs[0].end[0] - arcs[0].start[0]
    assert arcs[0].length == pytest.approx(arc_length(chord, share * repeat))


@given(st.sampled_from([HEM, WAVE, CORNER]), st.floats(20, 80), st.floats(0.05, 0.5), sides)
def test_one_rung_by_itself_is_the_one_of_the_columns(line, repeat, share, side):
    arcs, drawn = columns(line, repeat, side * share * repeat, 3.0, 2.0)
    for mark in {0, len(arcs) // 2, len(arcs)}:
        column, k = (drawn[0], 0) if mark == 0 else (drawn[mark - 1], -1)
        left, right = point_rung(arcs, line, 3.0, 2.0, mark)
        assert (left.tolist(), right.tolist()) == (column.left[k].tolist(), column.right[k].tolist())
