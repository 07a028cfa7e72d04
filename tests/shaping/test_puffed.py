"""Puffing between two lines: lengths, the cloth it fills, lines that run against each other or cross."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.plane import circle, from_svg
from festoon.shaping.puffed import between

RADII = st.floats(20.0, 400.0)


@given(RADII, st.floats(1.0, 19.0))
def test_a_ring_fills_what_lies_between_its_circles_and_its_edges_are_as_its_radii(outer, width):
    inner = outer - width
    ring = between(circle((0, 0), outer), circle((0, 0), inner), True)
    assert ring.longer / ring.shorter == pytest.approx(outer / inner)
    assert ring.middle == pytest.approx(2 * math.pi * (outer - width / 2))
    assert ring.region.area == pytest.approx(math.pi * (outer**2 - inner**2), rel=0.01)
    assert ring.width == pytest.approx(width)
    assert not ring.crossed


@pytest.mark.parametrize("lower", ["M 0 40 H 240", "M 240 40 H 0"])
def test_the_lower_line_is_turned_about_where_it_runs_the_other_way(lower):
    one = between(from_svg("M 20 0 H 200"), from_svg(lower), False)
    assert one.lower.start.tolist() == [0, 40]
    assert one.region.area == pytest.approx(40 * (180 + 240) / 2)
    assert (one.shorter, one.longer, one.middle) == (180, 240, 210)
    assert one.width == pytest.approx(math.hypot(40, 40))


@pytest.mark.parametrize("start", [-90.0, 30.0])
def test_a_ring_drawn_the_other_way_round_is_turned_too(start):
    ring = between(circle((0, 0), 50), circle((0, 0), 40, start).reversed(), True)
    (x, y), (tx, ty) = ring.lower.at(0.5).tolist(), ring.lower.tangents([0.5])[0].tolist()
    assert x * ty - y * tx > 0, "clockwise as seen, like the upper one"


def test_lines_that_cross_or_coincide_are_told():
    assert between(from_svg("M 0 0 L 100 40"), from_svg("M 0 40 L 100 0"), False).crossed
    assert between(from_svg("M 0 0 H 100"), from_svg("M 0 0 H 100"), False).crossed
    assert not between(from_svg("M 0 0 L 100 40"), from_svg("M 0 20 L 100 60"), False).crossed
