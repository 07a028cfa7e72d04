"""SVG path data (W3C SVG 2, chapter 9)."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import PieceError
from festoon.plane import Arc, Bezier, Line, from_svg


@pytest.mark.parametrize(
    ("data", "end", "length"),
    [
        ("M 10 20 L 40 60", (40, 60), 50),
        ("m10,20l30,40", (40, 60), 50),
        ("M10-20 40 20", (40, 20), 50),
        ("M0 0H30V40", (30, 40), 70),
        ("M0 0h30v40z", (0, 0), 120),
        ("M.5.5L10.5.5", (10.5, 0.5), 10),
        ("M 0 0 L 1e1 0 2.5E+1,0", (25, 0), 25),
        ("M 007 0 L 08 0", (8, 0), 1),  # the grammar allows leading noughts
        ("M 0 0 L 5. 0", (5, 0), 5),
        ("M\n0\t0\r\nL 5 0 ", (5, 0), 5),
        ("M0 0A5 5 0 0110 0", (10, 0), 5 * math.pi),  # flags need no gap
        ("M0 0A5 5\n0 0\n1 10 0", (10, 0), 5 * math.pi),
        ("M0 0A1 1 0 0 1 10 0", (10, 0), 5 * math.pi),  # radii too small are scaled up (B.2.5)
        ("M0 0A0 5 0 0 1 10 0", (10, 0), 10),  # a radius of nothing draws a line (9.5.1)
        ("M10 0A10 10 0 0 1 0 10", (0, 10), 5 * math.pi),
        ("M10 0A10 10 0 1 0 0 10", (0, 10), 15 * math.pi),
        ("M0 0 A5 5 0 0 1 0 0 L3 4", (3, 4), 5),
        ("M5 5 M0 0 L3 4", (3, 4), 5),
    ],
)
def test_read(data, end, length):
    path = from_svg(data)
    assert path.end == pytest.approx(end)
    assert path.length == pytest.approx(length)


def test_sweep_flag_is_clockwise_as_seen():
    """9.5.1: with sweep-flag 1 the arc runs the way angles grow, which is clockwise as y points down."""
    (arc,) = from_svg("M-10 0 A10 10 0 0 1 10 0").segments
    assert isinstance(arc, Arc)
    assert (arc.radius, arc.sweep) == pytest.approx((10, 180))
    assert from_svg("M-10 0 A10 10 0 0 1 10 0").at(5 * math.pi) == pytest.approx([0, -10], abs=1e-9)


def test_turned_ellipse():
    path = from_svg("M0 -20 A20 10 90 0 1 0 20")  # half an ellipse, long axis upright, to the right
    assert path.at(path.length / 2) == pytest.approx([10, 0], abs=1e-5)
    assert all(isinstance(g, Bezier) for g in path.segments)


def test_quadratic_is_raised_exactly():
    (curve,) = from_svg("M0 0 Q10 20 20 0").segments
    assert curve.point(0.25) == pytest.approx([5, 7.5])  # 2·¾·¼·(10, 20) + 1/16·(20, 0)
    assert from_svg("M0 0Q5 10 10 0T20 0").at(1e9) == pytest.approx([20, 0])


def test_smooth_cubic_reflects_its_handle():
    path = from_svg("M0 0C0 5 5 10 10 10S20 5 20 0")
    assert path.segments[1].p1 == pytest.approx((15, 10))
    assert path.corners(0.01) == ()


@given(st.lists(st.tuples(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4)), min_size=2, max_size=6, unique=True))
def test_lines_come_back_exactly(points):
    kept = [p for k, p in enumerate(points) if k == 0 or math.dist(p, points[k - 1]) > 1e-3]
    if len(kept) < 2:
        return
    path = from_svg("M" + " L".join(f"{x!r},{y!r}" for x, y in kept))
    assert path.segments == tuple(Line(a, b) for a, b in itertools.pairwise(kept))


@pytest.mark.parametrize(
    "data",
    [
        "",
        "   ",
        "hello",
        "10 20 L 3 4",
        "L 3 4",
        "M 1",
        "M 1 2",
        "M 1 2 L",
        "M 1 2 L 3",
        "M 1 2 L 3 x",
        "M 1 2 L 3 4,",
        "M 1,,2 L 3 4",
        "M ,1 2 L 3 4",
        "M 1 2 C 3 4 5 6 7",
        "M 1 2 A 5 5 0 2 0 7 7",
        "M 1 2 A 5 5 0 1 7 7",
        "M 1 2 A",
        "M 1 2 L 3 4 Z 5",
        "M 1 2 L 1e999 4",
        "M 1 2 L nan 4",
        "M 1 2 L 3 4 M 5 6 L 7 8",
        "M 1 2 L 3 4 Z L 7 8",
        "M 1 2 L 1 2",
        "M 1 2 L 3 4 % 5",
        "M 1 2 L 3 4 Ж",
    ],
)
def test_bad_data_is_told_plainly(data):
    with pytest.raises(PieceError) as told:
        from_svg(data)
    assert str(told.value)[0].isupper()
    assert str(told.value).endswith(".")


@given(st.text(alphabet="MmLlHhVvCcSsQqTtAaZz0123456789.,-+eE \n", max_size=30))
def test_anything_is_a_path_or_a_piece_error(data):
    try:
        path = from_svg("M0 0" + data)
    except PieceError:
        return
    assert path.length > 0
