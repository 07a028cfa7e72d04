"""Repeats set out: they always close, stand on their marks, and the middle of the line holds what was asked."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import PieceError
from festoon.plane import Path, circle, from_svg, polyline
from festoon.shaping.scallop import scallop
from festoon.shaping.set_out import set_out, strung

parities = st.sampled_from(["any", "odd", "even"])


@given(st.floats(40, 3000), st.floats(5, 300), parities)
def test_repeats_fill_a_straight_line_whatever_is_asked(length, nominal, parity):
    out = set_out(polyline([(0, 0), (length, 0)]), nominal, parity)
    assert sum(place.chord for place in out.places) == pytest.approx(length)
    assert parity == "any" or out.count % 2 == (parity == "odd")
    middles = [place.pose.x for place in out.places]
    on_middle = any(math.isclose(x, length / 2, abs_tol=1e-6) for x in middles)
    assert on_middle == (out.count % 2 == 1), "an odd count puts a round on the middle, an even one a point"


@given(st.floats(50, 500), st.floats(20, 150), parities)
def test_repeats_close_round_any_circle(radius, nominal, parity):
    out = set_out(circle((0, 0), radius), min(nominal, radius), parity)
    path = strung([scallop(p.chord, p.chord / 4) for p in out.places], out.places)
    assert path.closed
    assert len(path.corners(1)) == out.count
    assert out.worst.pitch * out.count == pytest.approx(2 * math.pi * radius)


def test_a_hem_of_2286_mm_takes_38_repeats_of_60():
    """2286 mm (two 45 in widths) at about 60 mm: 38 repeats of 60.158 mm, 0.26 % wider (computed)."""
    out = set_out(polyline([(0, 0), (2286, 0)]), 60)
    assert (out.count, round(out.worst.pitch, 3), round(out.worst.stretch, 4)) == (38, 60.158, 0.0026)


@given(parities)
def test_a_mark_falls_on_every_corner(parity):
    square = polyline([(0, 0), (300, 0), (300, 200), (0, 200)], closed=True)
    out = set_out(square, 55, parity)
    path = strung([scallop(p.chord, 10) for p in out.places], out.places)
    points = path.points(path.corners(1))
    for corner in square.points(square.corners()):
        assert np.hypot(*(points - corner).T).min() < 1e-6
    assert out.worst.stretch == max((s.stretch for s in out.stretches), key=abs)


def test_a_repeat_stands_upright_on_its_chord():
    line = from_svg("M 0 0 A 100 100 0 0 1 100 100")
    (first, second) = set_out(line, 80).places
    assert first.chord == pytest.approx(2 * 100 * math.sin(math.radians(22.5)))
    assert (first.pose.turn, second.pose.turn) == pytest.approx((22.5, 67.5))
    ends = first.pose.apply([[-first.chord / 2, 0], [first.chord / 2, 0]])
    assert np.allclose(ends, line.points([0, line.length / 2]))


def test_a_line_that_turns_back_within_a_repeat_is_refused():
    with pytest.raises(PieceError, match="turns back"):
        set_out(circle((0, 0), 20), 200)


def test_a_string_of_repeats_is_travelled_in_order():
    out = set_out(polyline([(0, 0), (100, 0)]), 25)
    path = strung([scallop(p.chord, 5) for p in out.places], out.places)
    assert isinstance(path, Path)
    assert path.start.tolist() == pytest.approx([0, 0])
    assert path.end.tolist() == pytest.approx([100, 0])
    assert len(path.segments) == 4
