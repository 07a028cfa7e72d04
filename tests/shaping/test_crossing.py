"""Crossings of lines and arcs against the handbook's right triangles and circles, and against Shapely."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from festoon.plane import Arc, Line, Path
from festoon.shaping.crossing import crossing

numbers = st.floats(-50, 50).map(lambda x: round(x, 2))
spots = st.tuples(numbers, numbers)
lines = st.builds(Line, spots, spots).filter(lambda line: line.length > 1)
arcs = st.builds(Arc, spots, st.floats(2, 60), st.floats(-180, 180), st.floats(5, 340) | st.floats(-340, -5))
segments = lines | arcs


def test_the_diagonals_of_a_square_cross_in_their_middle():
    assert crossing(Line((0, 0), (10, 10)), Line((0, 10), (10, 0))) == pytest.approx((0.5, 0.5))


def test_lines_that_run_alike_do_not_cross():
    assert crossing(Line((0, 0), (10, 0)), Line((0, 1), (10, 1))) is None


def test_a_chord_of_a_circle_by_pythagoras():
    """Radius 5, chord 3 from the centre: half of it is 4."""
    ta, tb = crossing(Line((-8, 3), (8, 3)), Arc((0, 0), 5.0, 0.0, 90.0))
    assert -8 + 16 * ta == pytest.approx(4)
    assert tb == pytest.approx(math.degrees(math.atan2(3, 4)) / 90)


def test_two_equal_circles_a_radius_apart_cross_at_sixty_degrees():
    """The vesica of two circles through each other's centre."""
    ta, tb = crossing(Arc((0, 0), 1.0, -90.0, 90.0), Arc((1, 0), 1.0, 180.0, 90.0))
    assert -90 + 90 * ta == pytest.approx(-60)
    assert 180 + 90 * tb == pytest.approx(240)


def test_of_two_crossings_the_one_nearest_the_end_of_the_first():
    ta, _ = crossing(Line((-8, 3), (8, 3)), Arc((0, 0), 5.0, 0.0, 180.0))
    assert -8 + 16 * ta == pytest.approx(4)


@given(segments, segments)
def test_what_is_found_lies_on_both(a, b):
    found = crossing(a, b)
    if found is not None:
        assert a.point(found[0]) == pytest.approx(b.point(found[1]), abs=1e-6)
        assert all(0 <= t <= 1 for t in found)


@given(segments, segments)
def test_what_shapely_sees_cross_is_found(a, b):
    """Clear crossings of finely sampled lines; touching and nearly parallel ones are left out."""
    one, two = (shapely.LineString(Path((g,)).flatten(1e-4)) for g in (a, b))
    shared = one.intersection(two)
    inner = all(g.line_interpolate_point(t).distance(shared) > 0.5 for g in (one, two) for t in (0, g.length))
    clear = not shared.is_empty and shared.geom_type == "Point" and inner
    if clear:
        found = crossing(a, b)
        assert found is not None
        assert shapely.Point(a.point(found[0])).distance(shared) < 0.2
