"""The stitched area holds all that is stitched, and little else."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings

from festoon.stitches import Act, Stitching, Thread, empty, from_points, outlines_by_thread, stitched_region, traced
from tests.stitches.making import LETTER_F, stitchings

TOLERANCE = 0.15


def satin(length: float, width: float, spacing: float = 0.4) -> Stitching:
    """A zigzag along x, `width` tall, `spacing` between lines of one side."""
    n = round(length / spacing * 2) + 1
    x = np.linspace(0, length, n)
    return from_points(np.stack([x, np.where(np.arange(n) % 2, width, 0.0)], axis=1), Thread())


@settings(max_examples=30)
@given(stitchings(far=20))
def test_every_penetration_is_inside(s: Stitching) -> None:
    region = stitched_region(s)
    assert region.is_valid
    assert shapely.contains_xy(region.buffer(0.05), s.holes).all()


def test_a_single_line_is_as_wide_as_its_thread() -> None:
    region = stitched_region(from_points([[0, 0], [20, 0]], Thread()), 0.4)
    left, top, right, bottom = region.bounds
    assert (left, right) == pytest.approx((-0.2, 20.2), abs=TOLERANCE)
    assert (top, bottom) == pytest.approx((-0.2, 0.2), abs=TOLERANCE)
    assert region.geom_type == "Polygon"


def test_a_slanting_line_lies_where_it_should() -> None:
    line = shapely.LineString([(1.23, 4.56), (31.0, 17.0)])
    region = stitched_region(from_points(list(line.coords), Thread()))
    assert region.hausdorff_distance(line.buffer(0.2)) <= TOLERANCE


@pytest.mark.parametrize("spacing", [0.3, 0.4, 0.5, 0.8])
def test_satin_closes(spacing: float) -> None:
    region = stitched_region(satin(20, 5, spacing))
    assert region.geom_type == "Polygon"
    assert len(region.interiors) == 0
    assert region.area == pytest.approx(20.4 * 5.4, rel=0.06)


def test_a_ring_keeps_its_hole() -> None:
    turns = np.linspace(0, 2 * math.pi, 401)
    r = np.where(np.arange(401) % 2, 6.0, 9.0)
    region = stitched_region(from_points(np.stack([r * np.cos(turns), r * np.sin(turns)], axis=1), Thread()))
    assert region.geom_type == "Polygon"
    assert len(region.interiors) == 1
    assert region.area == pytest.approx(math.pi * (9.2**2 - 5.8**2), rel=0.05)
    assert not region.contains(shapely.Point(0, 0))


def test_moves_are_not_stitched() -> None:
    s = Stitching([[0, 0], [5, 0], [15, 0], [15, 0], [20, 0]], [0, 0, Act.MOVE, 0, 0], [0] * 5, (Thread(),))
    region = stitched_region(s)
    assert region.geom_type == "MultiPolygon"
    assert not region.intersects(shapely.Point(10, 0))


def test_lone_penetrations_and_nothing() -> None:
    assert stitched_region(empty()).is_empty
    dot = stitched_region(from_points([[3, 4]], Thread()))
    assert dot.contains(shapely.Point(3, 4))
    assert dot.area < 0.5


def test_by_thread() -> None:
    found = outlines_by_thread(LETTER_F)
    assert [index for index, _ in found] == [0, 1]
    assert found[1][1].bounds == pytest.approx((-0.2, -8.2, 6.2, -7.8), abs=TOLERANCE)
    union = shapely.union_all([region for _, region in found])
    assert union.symmetric_difference(stitched_region(LETTER_F)).area < 0.6


@settings(max_examples=30)
@given(stitchings(far=20))
def test_what_is_traced_once_is_the_same(s: Stitching) -> None:
    for _ in range(2):
        region, outlines = traced(s)
        assert shapely.equals_exact(region, stitched_region(s))
        assert region.wkb == stitched_region(s).wkb
        assert [(k, area.wkb) for k, area in outlines] == [(k, area.wkb) for k, area in outlines_by_thread(s)]
