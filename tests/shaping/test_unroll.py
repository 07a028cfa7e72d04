"""Developability: a shaped band flattened back to a strip is the lace that was cut."""

import math

import numpy as np
import pytest
from hypothesis import given
from shapely import LineString, points

from festoon.errors import PieceError
from festoon.plane import circle, polyline
from festoon.shaping.band import band, lies_over_itself
from festoon.shaping.scallop import diamond, loop, pointed_oval, scallop, vee
from festoon.shaping.unroll import unrolled
from tests.shaping.test_band import WAVE, courses, polygon, scallops, sides

COURSES = {
    "ring": (circle((0, 0), 60), True),
    "square": (polygon(4, 120), True),
    "oval": (pointed_oval(200, 50), True),
    "diamond": (diamond(160, 60), True),
    "vee": (polyline([(p.start) for p in vee(160, 60, 40)] + [(80, 0)]), False),
    "scallops": (scallops(500, 100, 25), False),
    "wave": (WAVE, False),
    "chords": (polyline(circle((0, 0), 60).sample(1.0)), True),
    "steps": (polyline([(0, 0), (100, 0), (100, 8), (200, 8), (200, 80)]), False),
}


def swept(flat):
    """mm² between the rulings: half the cross product of each quadrilateral's diagonals."""
    one, two = flat.high[1:] - flat.low[:-1], flat.low[1:] - flat.high[:-1]
    return np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]).sum() / 2


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("name", COURSES)
def test_the_strip_is_as_long_as_was_cut_and_no_wider_than_the_lace(name, side):
    """Chords of step h on a radius R of at least 20 mm are short by h²/24R² of the length at most."""
    course, closes = COURSES[name]
    laid = band(course, 12, side, closes)
    flat = unrolled(laid, 0.5)
    assert flat.length == pytest.approx(laid.strip_length, rel=0.5**2 / 24 / 20**2 * 2)
    assert (np.diff(flat.u) >= 0).all()
    assert flat.v_low.min() >= 0
    assert flat.v_high.max() <= 12 * (1 + 1e-12)
    assert (flat.v_high >= flat.v_low).all()


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("name", COURSES)
def test_the_rulings_cover_the_band_once(name, side):
    """From ruling to ruling they sweep the covered cloth; those whole end on the drawn headings."""
    course, closes = COURSES[name]
    laid = band(course, 12, side, closes)
    flat = unrolled(laid, 0.5)
    a, b = flat.low, flat.high
    assert swept(flat) == pytest.approx(laid.region.area, rel=2e-3)
    course_line, over_line = LineString(course.flatten(1e-3)), LineString(laid.over.flatten(1e-3))
    assert course_line.distance(points(a[flat.v_low == 0])).max() < 0.01
    assert over_line.distance(points(b[flat.v_high >= 12 - 1e-9])).max() < 0.01
    assert np.hypot(*(b - a).T) == pytest.approx(flat.v_high - flat.v_low)


@given(courses(), sides)
def test_any_band_that_can_be_laid_unrolls(course, side):
    """Only where a break is eased against the curve beside it does it take more, at most the break's own fold."""
    laid = band(course, 10, side)
    if not laid.possible:
        with pytest.raises(PieceError, match="cannot be laid"):
            unrolled(laid)
        return
    flat = unrolled(laid, 1.0)
    eased = sum(20 * math.tan(abs(j.turn) / 2) for j in laid.laid.joints if not j.mitred)
    assert laid.strip_length * (1 - 1e-4) <= flat.length <= laid.strip_length + eased + 1e-9
    assert flat.v_high.max() <= 10 * (1 + 1e-12)
    if not lies_over_itself(laid):
        assert swept(flat) == pytest.approx(laid.region.area, rel=5e-3, abs=2.0)


def test_a_mitre_shows_as_a_notch_a_width_deep_on_the_strip():
    """At a square corner the fold takes a triangle: on its base 2w nothing shows of the outermost thread (computed)."""
    laid = band(polyline([(0, 0), (100, 0), (100, 100)]), 10, "right")
    flat = unrolled(laid, 0.25)
    short = flat.v_high < 10 - 1e-9
    assert flat.u[short].min() == pytest.approx(90, abs=0.3)
    assert flat.u[short].max() == pytest.approx(110, abs=0.3)
    assert flat.v_high.min() == pytest.approx(0, abs=1e-9)


def test_a_loop_of_lace_unrolls_though_it_crosses_itself():
    course = polyline([(0, 0), (1, 0)])
    course = type(course)(loop(160, 120, 60))
    laid = band(course, 10, "right")
    assert unrolled(laid, 0.5).length == pytest.approx(laid.strip_length, rel=1e-4)


def test_scallops_unroll_to_the_arcs_outer_lengths():
    """Arcs of 62.5 mm with lace inside: the strip is their own length and a mitre's fold at each point (computed)."""
    laid = band(scallops(500, 100, 25), 12, "left")
    arc = 4 * 62.5 * math.atan(0.5)
    fold = 2 * 12 * math.tan(2 * math.atan(0.5))
    assert unrolled(laid, 0.2).length == pytest.approx(5 * arc + 4 * fold, rel=1e-5)
    assert scallop(100, 25)[0].length == pytest.approx(arc)
