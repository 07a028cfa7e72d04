"""The cut edge round an outline: each edge's own allowance, and corners."""

import math

import pytest
from shapely import Polygon

from festoon.errors import PieceError
from festoon.plane import circle, polyline
from festoon.shaping.allowance import Edge, cut_ring, outline_ring


def edges(points: list[tuple[float, float]], *allowances: float) -> list[Edge]:
    ends = zip(points, [*points[1:], points[0]], strict=True)
    return [Edge(polyline(pair), a) for pair, a in zip(ends, allowances, strict=True)]


SQUARE = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]


def test_a_square_with_one_allowance_is_the_larger_square() -> None:
    assert Polygon(cut_ring(edges(SQUARE, 10, 10, 10, 10))).area == pytest.approx(120**2)
    assert Polygon(outline_ring(edges(SQUARE, 10, 10, 10, 10))).area == pytest.approx(100**2)


def test_an_edge_without_allowance_is_left_where_it_is() -> None:
    assert Polygon(cut_ring(edges(SQUARE, 10, 20, 30, 0))).bounds == pytest.approx((0, -10, 120, 130))


def test_inner_corners_are_trimmed_where_the_cut_lines_cross() -> None:
    """An L: its cut is the L of outer sides 20 mm longer, worked on paper."""
    ell = [(0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (40.0, 40.0), (40.0, 100.0), (0.0, 100.0)]
    ring = Polygon(cut_ring(edges(ell, *[10.0] * 6)))
    assert ring.is_valid
    assert ring.area == pytest.approx(120 * 60 + 60 * 60)


def test_a_circle_has_a_circle_round_it() -> None:
    assert Polygon(cut_ring([Edge(circle((0, 0), 50), 10)])).area == pytest.approx(math.pi * 60**2, rel=1e-3)


def test_an_edge_shorter_than_its_allowances_take_is_refused() -> None:
    notch = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (45.0, 30.0), (45.0, 0.0), (100.0, 0.0), (100.0, 90.0), (0.0, 90.0)]
    with pytest.raises(PieceError, match="too short or too tightly curved for its allowance"):
        cut_ring(edges(notch, *[10.0] * 8))
