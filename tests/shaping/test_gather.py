"""Gathers: what lies on every stretch of a course, against handbook geometry and old school texts of sewing."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.plane import circle, from_svg, polyline
from festoon.shaping.band import band
from festoon.shaping.gather import flat_at_point, gathers, least_at_point, lie_flat

SQUARE = [(0, 0), (300, 0), (300, 300), (0, 300)]

FULLNESS = st.floats(1.0, 4.0)
WIDTHS = st.floats(2.0, 40.0)


def mat(width=20.0, side="left", closed=True):
    """Edging round a mat of 300 x 300 mm, drawn clockwise, so that what hangs to its left lies outside."""
    return band(polyline(SQUARE, closed), width, side, closed)


def ring(radius, width, side="left"):
    return band(circle((0, 0), radius), width, side, True)


def test_round_mat_takes_its_outer_edge_to_lie_flat_and_its_fullness_to_be_gathered():
    # Computed: R 150, w 20 mm: 942.5 inside, 1068.1 outside, ratio 1.133; 1885 mm at a fullness of 2.
    flat = gathers(ring(150, 20), 1.0)
    assert lie_flat(150, 20) == pytest.approx(1.1333, abs=5e-5)
    assert flat.length == pytest.approx(1068.1, abs=0.05)
    assert flat.at[-1] == pytest.approx(942.5, abs=0.05)
    assert flat.needed == pytest.approx(lie_flat(150, 20))
    assert gathers(ring(150, 20), 2.0).length == pytest.approx(1885.0, abs=0.05)


@pytest.mark.parametrize(("fullness", "length"), [(1.0, 1360.0), (1.5, 1960.0)])
def test_square_mat_has_two_widths_more_at_every_corner(fullness, length):
    # 'Sewing Handicraft for Girls' and 'School Needlework': twice the width at a corner; 300 mm square, 20 mm edging.
    assert gathers(mat(), fullness).length == pytest.approx(length)


def test_half_full_edging_has_two_and_a_half_widths_on_either_side_of_a_corner():
    # 'Sewing Handicraft for Girls': from a width before the corner 2 widths flat, 2 1/2 with half fullness.
    for fullness, widths in ((1.0, 2.0), (1.5, 2.5)):
        on = gathers(mat(), fullness)
        assert on.strip_at(300) - on.strip_at(280) == pytest.approx(widths * 20)
        assert on.strip_at(320) - on.strip_at(300) == pytest.approx(widths * 20)
        assert on.strip_at(200) - on.strip_at(180) == pytest.approx(fullness * 20)


@pytest.mark.parametrize(("turn", "widths"), [(45, 0.828), (60, 1.155), (90, 2.0), (120, 8 / 3), (180, 4.0)])
def test_what_is_let_in_at_a_point(turn, widths):
    # Computed: 2w·tan(φ/2) to a square corner, two widths to a right angle beyond it.
    assert flat_at_point(10, turn) == pytest.approx(widths * 10, abs=0.005)


@given(st.floats(0.1, 180.0), WIDTHS)
def test_what_is_let_in_is_never_less_than_the_fan_round_the_point(turn, width):
    assert flat_at_point(width, turn) >= least_at_point(width, turn)
    assert least_at_point(width, turn) == pytest.approx(width * math.pi * turn / 180)


def test_inside_a_corner_or_curve_nothing_is_let_in_and_corners_are_counted():
    inside = gathers(mat(side="right"), 1.0)
    assert inside.length == pytest.approx(1200)
    assert (inside.points, inside.inward) == ((), 4)
    curved = gathers(ring(150, 20, "right"), 1.0)
    assert curved.length == pytest.approx(2 * math.pi * 150)
    assert curved.needed == 1.0
    assert curved.fullest == pytest.approx(130 / 150)


def test_at_curves_stands_for_what_lies_flat_and_at_points_for_what_is_let_in():
    assert gathers(ring(150, 20), 1.0, at_curves=1.0).length == pytest.approx(2 * math.pi * 150)
    assert gathers(ring(150, 20), 1.0, at_curves=1.5).length == pytest.approx(3 * math.pi * 150)
    assert gathers(mat(), 1.0, at_points=0.0).length == pytest.approx(1200)
    assert gathers(mat(), 1.0, at_points=7.0).length == pytest.approx(1228)


def test_at_curves_leaves_straight_stretches_as_they_are():
    line = from_svg("M 0 0 H 100 A 50 50 0 0 1 100 100 H 0")
    on = gathers(band(line, 20, "left"), 1.0, at_curves=2.0)
    assert on.length == pytest.approx(200 + 2 * math.pi * 50)
    assert on.strip_at(100) == pytest.approx(100)


def test_a_point_near_an_open_end_keeps_all_that_is_let_in():
    line = polyline([(0, 0), (5, 0), (5, 300)])
    on = gathers(band(line, 20, "left"), 1.0)
    assert on.length == pytest.approx(305 + 40)
    assert on.strip_at(25) == pytest.approx(25 + 40)


@given(FULLNESS, st.floats(50.0, 400.0), st.integers(2, 12))
def test_marks_divide_line_and_strip_of_an_even_gathering_alike(fullness, length, parts):
    on = gathers(band(from_svg(f"M 0 0 H {length}"), 10, "right"), fullness)
    marks = np.array(on.marks(parts))
    assert marks[:, 0] == pytest.approx(length * np.arange(1, parts) / parts)
    assert marks[:, 1] == pytest.approx(on.length * np.arange(1, parts) / parts)
    assert on.length == pytest.approx(fullness * length)


@given(FULLNESS, st.floats(60.0, 300.0), WIDTHS)
def test_quarters_of_a_ring_and_of_a_square_take_a_quarter_of_the_strip(fullness, size, width):
    square = polyline([(0, 0), (size, 0), (size, size), (0, size)], True)
    for laid in (ring(size, width), band(square, width, "left", True)):
        on = gathers(laid, fullness)
        assert [strip for _, strip in on.marks()] == pytest.approx([on.length * k / 4 for k in (1, 2, 3)])


@given(FULLNESS, WIDTHS, st.floats(0.0, 120.0), st.sampled_from(["left", "right"]))
def test_strip_is_never_shorter_than_its_line_and_grows_all_along(fullness, width, bow, side):
    line = from_svg(f"M 0 0 Q 100 {bow} 200 0 T 400 0 L 400 100")
    laid = band(line, width, side)
    on = gathers(laid, fullness)
    assert on.length >= fullness * line.length - 1e-6
    assert (np.diff(on.strip) >= fullness * np.diff(on.at) - 1e-6).all()
    assert (on.at[0], on.strip[0]) == (0.0, 0.0)
    assert on.at[-1] == pytest.approx(line.length)


@given(st.floats(20.0, 300.0), WIDTHS)
def test_flat_on_a_straight_line_is_the_line(length, width):
    assert gathers(band(from_svg(f"M 0 0 H {length}"), width, "left"), 1.0).length == pytest.approx(length)


@given(st.floats(0.0, 1.0))
def test_where_a_closed_line_begins_does_not_change_its_strip(share):
    around = polyline(SQUARE, True)
    turned = around.trimmed(share * 1200, share * 1200 + 1200)
    on = gathers(band(turned, 20, "left", True), 1.5)
    assert on.length == pytest.approx(1960)
    assert len(on.points) == 4
