"""Mitres of lace: held against folding worked on paper, and headings that meet against circles of a handbook."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.plane import Arc, Line, circle, polyline
from festoon.shaping.band import band
from festoon.shaping.mitre import MITRE_LIMIT, meeting, mitre_point, turn_between
from festoon.shaping.scallop import pointed_oval

turns = st.one_of(st.floats(-140, -21), st.floats(21, 140))
sides = st.sampled_from(["left", "right"])


def corner(turn, leg=200.0):
    """Two straight legs with a corner of `turn` degrees at (0, 0), the first from the left."""
    a = math.radians(turn)
    return polyline([(-leg, 0), (0, 0), (leg * math.cos(a), leg * math.sin(a))])


def reflected(points, a, b):
    """Points (n, 2) reflected in the line from a to b."""
    along = np.subtract(b, a) / math.dist(a, b)
    away = points - np.array(a)
    return np.array(a) + 2 * (away @ along)[:, None] * along - away


@given(turns, sides)
def test_folding_on_the_mitre_lays_one_leg_on_the_other(turn, side):
    """Worked on paper: the strip goes straight on, is folded back on itself along a line square across and then laid
    round; between the legs that is a reflection in the mitre line, centre line on centre line."""
    laid = band(corner(turn), 12, side)
    (mitre,) = laid.mitres
    across = np.array([0, 6.0 if side == "right" else -6.0])
    centre = across + np.linspace(-150, -60, 5)[:, None] * np.array([1.0, 0.0])
    out = np.array([math.cos(math.radians(turn)), math.sin(math.radians(turn))])
    there = np.array([-out[1], out[0]]) * across[1] + np.linspace(150, 60, 5)[:, None] * out
    assert reflected(centre, mitre.at, mitre.over) == pytest.approx(there, abs=1e-9)
    assert math.dist(mitre.at, mitre.over) == pytest.approx(12 / math.cos(math.radians(turn) / 2))


@pytest.mark.parametrize(("turn", "widths"), [(45, 0.828), (60, 1.155), (90, 2.0), (120, 3.464), (135, 4.828)], ids=str)
@pytest.mark.parametrize("sign", [1, -1])
def test_what_a_mitre_folds_away(turn, widths, sign):
    """2w·tan(φ/2) (computed)."""
    laid = band(corner(sign * turn), 10, "left")
    (mitre,) = laid.mitres
    assert mitre.fold == pytest.approx(10 * widths, abs=0.005)
    assert mitre.turn == pytest.approx(sign * turn)
    assert mitre.inside == (sign > 0)
    assert laid.over_length - laid.course_length == pytest.approx(sign * mitre.fold)


@given(turns, sides)
def test_the_folded_triangle_is_what_the_strip_has_more_than_the_band(turn, side):
    """It is w high on a base of 2w·tan(φ/2): area w²·tan(φ/2) (computed)."""
    laid = band(corner(turn), 12, side)
    triangle = 144 * math.tan(math.radians(abs(turn)) / 2)
    assert laid.strip_length * 12 - laid.region.area == pytest.approx(triangle)


def test_the_fold_between_curved_legs_is_measured_along_the_strip():
    """At an oval's tip the inner arc of 110 mm ends before that of 125 by an angle, which the strip spends at 125."""
    oval = band(pointed_oval(200, 50), 15, "right", closes=True)
    inner = math.degrees(math.acos(75 / 110))
    angle = math.radians(math.degrees(math.acos(75 / 125)) - inner)
    assert [m.fold for m in oval.mitres] == pytest.approx([2 * 125 * angle] * 2)


@given(st.floats(-170, 170), st.floats(-30, 30).filter(lambda d: abs(d) > 0.1))
def test_a_mitre_point_lies_on_both_parallels(turn, distance):
    a, b = (1.0, 0.0), (math.cos(math.radians(turn)), math.sin(math.radians(turn)))
    assert math.degrees(turn_between(a, b)) == pytest.approx(turn, abs=1e-9)
    x, y = mitre_point((5.0, 6.0), a, b, distance)
    away = np.array([x - 5, y - 6])
    if 1 / math.cos(math.radians(turn) / 2) <= MITRE_LIMIT:
        assert [away[1], away @ (-b[1], b[0])] == pytest.approx([distance, distance])
    assert math.hypot(*away) <= MITRE_LIMIT * abs(distance) * (1 + 1e-12)


def test_a_mitre_too_long_is_cut_off():
    assert mitre_point((0, 0), (1.0, 0.0), (-1.0, 0.0), -3) == pytest.approx((3 * MITRE_LIMIT, 0))
    blunt = 3 * MITRE_LIMIT * np.array([math.cos(0.05), -math.sin(0.05)])
    assert mitre_point((0, 0), (1.0, 0.0), (-math.cos(0.1), math.sin(0.1)), -3) == pytest.approx(blunt)
    assert mitre_point((0, 0), (1.0, 0.0), (-math.cos(0.1), math.sin(0.1)), 3) == pytest.approx(-blunt)


def test_two_circles_meet_where_a_handbook_says():
    """Radii r and R, centres d apart on the axis: x = (d² + r² - R²)/2d from the first (any handbook of geometry)."""
    a = (Arc((0, 0), 50, -90, 90), Arc((0, 0), 50, 0, 90))
    b = (Arc((60, 0), 40, 180, 90), Arc((60, 0), 40, 270, 90))
    x = (60**2 + 50**2 - 40**2) / 120
    met = meeting(a, b)
    assert met is not None
    assert a[met.ia].point(met.ta) == pytest.approx([x, -math.sqrt(2500 - x * x)])
    assert b[met.ib].point(met.tb) == pytest.approx([x, -math.sqrt(2500 - x * x)])


def test_of_two_meetings_the_one_nearest_the_corner_counts():
    """The first chain is followed back from its end, the other from its beginning."""
    ring = circle((0, 0), 20, start_angle=180).segments
    across = (Line((30, 0.0), (-30, 0.0)),)
    forth = meeting([Arc((0, 0), 20, 170, 200)], across)
    assert forth is not None
    assert ring[0].point((forth.ta * 200 - 10) / 360) == pytest.approx([20, 0])


def test_lines_that_miss_each_other_do_not_meet():
    assert meeting([Line((0, 0), (10, 0))], [Line((0, 1), (10, 1))]) is None
    assert meeting([Line((0, 0), (10, 0))], [Line((20, -5), (20, 5))]) is None
