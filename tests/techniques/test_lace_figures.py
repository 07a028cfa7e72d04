"""What a lace band takes, against a handbook's figures and old school texts of sewing."""

import itertools
import math

import numpy as np
import pytest
from shapely import LineString

from festoon.techniques.lace_figures import cut_length

from .lace_toy import lace, laid, on


def test_a_straight_band_takes_its_line_and_both_ends():
    (strip,) = laid(lace(width=13))
    assert (strip.laid.course_length, strip.laid.over_length) == pytest.approx((1100, 1100))
    assert cut_length(lace(width=13), strip) == pytest.approx(1100 + 2 * 25.4)
    assert on(lace()).findings == ()
    assert on(lace()).templates == (), "straight lace is laid on the cloth at once"


@pytest.mark.parametrize(("inner", "outer", "ratio"), [(50, 408.41, 1.3), (30, 282.74, 1.5), (15, 188.50, 2.0)])
def test_a_ring_of_lace_15_mm_wide(inner, outer, ratio):
    """Ring: inner 2πRi, outer 2π(Ri + w), difference 2πw (computed)."""
    round_ = (
        f"M 150 {150 - inner} A {inner} {inner} 0 0 1 150 {150 + inner} A {inner} {inner} 0 0 1 150 {150 - inner} Z"
    )
    one = lace(width=15, gather=3, pattern=20)
    (strip,) = laid(one, round_)
    assert strip.laid.course_length == pytest.approx(2 * math.pi * inner)
    assert strip.laid.over_length == pytest.approx(outer, abs=0.05)
    assert strip.laid.over_length - strip.laid.course_length == pytest.approx(94.25, abs=0.05)
    assert max(s.most_drawn for s in strip.laid.stretches) == pytest.approx(1 - 1 / ratio, abs=1e-4)
    assert cut_length(one, strip) == pytest.approx(outer + 2 * 25.4 + 20, abs=0.05), "and one repeat of its pattern"


def test_the_pointed_oval_of_200_by_100_with_lace_15_mm_inside():
    """Outer heading 463.65, inner 361.04, difference 102.61, tips that turn by 73.74° (computed)."""
    one = lace(width=15, shape="pointed ovals", each=True, repeat=200, rise=50)
    (strip,) = laid(one, "M 50 150 h 200")
    assert strip.laid.course_length == pytest.approx(463.65, abs=0.005)
    assert strip.laid.over_length == pytest.approx(361.04, abs=0.02)
    assert strip.laid.course_length - strip.laid.over_length == pytest.approx(102.61, abs=0.02)
    assert [abs(m.turn) for m in strip.laid.mitres] == pytest.approx([73.74, 73.74], abs=0.005)
    assert LineString(strip.laid.over.flatten()).bounds[::2] == pytest.approx((150 - 80.47, 150 + 80.47), abs=0.02)


@pytest.mark.parametrize(("sides", "difference"), [(3, 10.392), (4, 8.0), (6, 6.928), (8, 6.627)])
def test_polygons_of_mitred_lace(sides, difference):
    """Outer less inner heading of a regular polygon is 2n·tan(π/n) widths, nearing a ring's 2π (computed)."""
    corners = [(150 + 100 * math.cos(a), 150 + 100 * math.sin(a)) for a in np.arange(sides) * 2 * math.pi / sides]
    path = "M " + " L ".join(f"{x} {y}" for x, y in corners) + " Z"
    (strip,) = laid(lace(width=12), path)
    assert strip.laid.over_length - strip.laid.course_length == pytest.approx(difference * 12, abs=0.01)
    assert [abs(m.turn) for m in strip.laid.mitres] == pytest.approx([360 / sides] * sides)
    assert strip.laid.strip_length == pytest.approx(strip.laid.over_length, abs=0.01)


def test_a_square_corner_takes_two_widths_of_lace():
    """Flat edging round a square corner: two widths more at each ("Sewing Handicraft for Girls"; 2w·tan 45°)."""
    one = lace(width=20, allowance=0)
    (strip,) = laid(one, "M 0 0 H 300 V 300 H 0 Z")
    assert cut_length(one, strip) == pytest.approx(1200 + 4 * 40)


def test_strips_side_by_side_are_butted_heading_to_heading():
    one = lace(width=10, strips=3)
    three = laid(one, "M 20 200 C 100 120 200 280 280 200")
    (wide,) = laid(lace(width=30), "M 20 200 C 100 120 200 280 280 200")
    for inner, outer in itertools.pairwise(three):
        assert outer.laid.course_length == pytest.approx(inner.laid.over_length)
    assert sum(s.laid.region.area for s in three) == pytest.approx(wide.laid.region.area, rel=1e-3)
    assert three[-1].laid.over_length == pytest.approx(wide.laid.over_length, abs=0.1)
    done = on(one, "M 20 200 C 100 120 200 280 280 200")
    assert "3, together 30 mm wide" in {f.value for f in done.figures}
    assert sum(s.what.startswith("sewing thread") for s in done.supplies) == 2, "to the cloth, and to each other"
    assert len([line for line in done.lines if line.role == "trace"]) == 4


def test_how_much_is_drawn_up_where():
    """Pointed oval 200 x 100 mm, lace 15 mm inside, R 125 mm: 15/125 of the inner heading's way (computed)."""
    done = on(lace(width=15, shape="pointed ovals", each=True, repeat=200, rise=50), "M 50 150 h 200")
    told = {f.what: f.value for f in done.figures}
    assert told["oval 1: inner heading drawn up"] == "by up to 12.0% on 2 stretches of 231.8 mm"
    assert told["oval 1: headings"] == "outer 463.6 mm, inner 361 mm"
    assert told["oval 1: tightest inside radius"].startswith("110 mm; ")
    assert told["oval 1: lace to cut"] == "514.4 mm"


def test_alike_pieces_are_told_once():
    done = on(lace(shape="rings", repeat=100, width=6))
    assert {f.what for f in done.figures if "headings" in f.what} == {"11 rings, each: headings"}
    assert sum("rings, each" in s.text for s in done.sentences) == 1


def test_supplies_are_summed_over_all_strips():
    one = lace(shape="pointed ovals", width=8, strips=2, behind=True)
    (lace_,) = [s for s in on(one).supplies if s.what == "lace insertion, 8 mm"]
    assert lace_.quantity == pytest.approx(sum(cut_length(one, strip) for strip in laid(one)))
    assert any(s.what.startswith("stabiliser to trace") for s in on(one).supplies)
