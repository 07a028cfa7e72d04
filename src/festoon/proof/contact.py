"""Where two stitched areas meet, over which line, and how far they overlap there."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Geometry, Point, Polygon
from shapely.ops import nearest_points

from festoon.hooping.blocks import OVER

Vector = NDArray[np.float64]
"""Shape (2,)."""

CLOSED = 0.3
"""mm; pieces of an overlap that lie within twice this of each other are one (common practice: such gaps are unseen)."""

COLUMN_LENGTH = 4.0
"""A column is at least so many times as long as wide (common practice)."""

COLUMN_BEND = 1.5
"""A column is at most so many times as long as the way from end to end (computed: a little under half a circle)."""

SQUARISH = 1.5
"""An overlap less elongated than this tells nothing of the line along which two areas meet (common practice)."""

LOCAL = 3.0
"""mm about a column's end in which its direction is read, or two widths of it where that is more (common practice)."""


@dataclass(frozen=True, eq=False)
class Contact:
    """at (2,) on the panel; across, unit vector from the first area to the second; lap, mm, below 0 for a distance.

    is_end: whether one of the two is a column that ends here.
    """

    at: Vector
    across: Vector
    lap: float
    is_end: bool


def contact(first: Geometry, second: Geometry) -> Contact:
    """Where two stitched areas (mm on the panel, neither empty) meet.

    They overlap along a line, the long side of the smallest rectangle about their overlap (its largest piece), and
    `lap` is the overlap's mean width over that line. Where a column ends on the other, it is the column's own
    direction that counts, since only along it can the two part. Areas that do not overlap meet midway between their
    nearest stretches.
    """
    overlap = _largest(first.intersection(second))
    apart = 0.0 if overlap.area > 0 else first.distance(second)
    places = (overlap, overlap) if overlap.area > 0 else (_facing(first, second, apart), _facing(second, first, apart))
    at = (_xy(places[0].centroid) + _xy(places[1].centroid)) / 2
    ends = ((1.0, _end(second, places[1])), (-1.0, _end(first, places[0])))
    for sign, end in ends:
        if end is not None:
            inward, disc = end
            return Contact(at, sign * inward, _depth(overlap, inward, disc) if overlap.area > 0 else -apart, True)
    towards = _xy(second.centroid) - _xy(first.centroid)
    if overlap.area > 0:
        across = _short_way(overlap, towards)
        return Contact(at, across, overlap.area / _extent(overlap, _perp(across)), False)
    a, b = (_xy(p) for p in nearest_points(first, second))
    return Contact(at, _unit(b - a if apart > 0 else towards), 0.0 - apart, False)


def _facing(area: Geometry, other: Geometry, apart: float) -> Geometry:
    """The stretch of an area that lies as near to the other as its nearest point, give or take CLOSED."""
    strip = _largest(area.intersection(other.buffer(apart + CLOSED)))
    return nearest_points(area, other)[0] if strip.is_empty else strip


def _largest(area: Geometry) -> Geometry:
    """The largest piece of an area once its smallest gaps are closed; empty where it is too small to count."""
    if area.area <= OVER:
        return Polygon()
    closed = shapely.buffer(shapely.buffer(area, CLOSED, quad_segs=4), -CLOSED, quad_segs=4)
    return max(shapely.get_parts(closed), key=lambda g: g.area)


def _end(column: Geometry, place: Geometry) -> tuple[Vector, Geometry] | None:
    """The direction from a column's end inwards, and the disc where it is read; None where none ends at `place`."""
    shape = _outer(column)
    tips, width = _tips(shape), _mean_width(shape)
    if tips is None:
        return None
    touched = [tip.distance(place) <= width for tip in tips]
    if sum(touched) != 1:
        return None
    far = tips[touched.index(False)]
    crossing = nearest_points(place, far)[0]
    disc = crossing.buffer(max(LOCAL, 2 * width))
    way = _long_way(_largest(shape.intersection(disc)))
    return (way if way @ (_xy(far) - _xy(crossing)) >= 0 else -way), disc


def _outer(region: Geometry) -> Polygon:
    """The largest piece of an area, its smallest gaps closed and its holes filled."""
    return Polygon(shapely.get_exterior_ring(_largest(region)))


def _mean_width(shape: Polygon) -> float:
    return 2 * shape.area / shape.length if shape.length else 0.0


def _tips(shape: Polygon) -> tuple[Point, Point] | None:
    """The two ends of a column, the farthest apart of its corners; None for a shape that is no column."""
    corners = shapely.get_coordinates(shape.convex_hull)
    if len(corners) < 3:
        return None
    squares = ((corners[:, None] - corners[None]) ** 2).sum(axis=-1)
    i, j = np.unravel_index(int(squares.argmax()), squares.shape)
    length = shape.length / 2
    if length > COLUMN_BEND * math.sqrt(squares.max()) or length < (COLUMN_LENGTH + 1) * _mean_width(shape):
        return None
    return Point(corners[i]), Point(corners[j])


def _depth(overlap: Geometry, way: Vector, disc: Geometry) -> float:
    """Mean depth of an overlap along a column that goes `way`: its area by its breadth within the disc."""
    return float(overlap.area / _extent(overlap.intersection(disc), _perp(way)))


def _short_way(overlap: Geometry, towards: Vector) -> Vector:
    """Unit vector over the line along which two areas overlap, on the side of `towards`."""
    long, (length, width) = _long_way(overlap), _sides(overlap)
    short = _perp(long)
    if length < SQUARISH * width and abs(long @ towards) > abs(short @ towards):
        short = long
    return short if short @ towards >= 0 else -short


def _box(shape: Geometry) -> tuple[Vector, Vector]:
    """The sides of the smallest rectangle about a shape, as vectors."""
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(shape))
    return corners[1] - corners[0], corners[2] - corners[1]


def _sides(shape: Geometry) -> tuple[float, float]:
    """Length and width of that rectangle, mm."""
    a, b = sorted((math.hypot(*side) for side in _box(shape)), reverse=True)
    return a, b


def _long_way(shape: Geometry) -> Vector:
    return _unit(max(_box(shape), key=lambda side: math.hypot(*side)))


def _extent(shape: Geometry, way: Vector) -> float:
    return float(np.ptp(shapely.get_coordinates(shape) @ way))


def _xy(point: Point) -> Vector:
    return np.array([point.x, point.y])


def _unit(vector: Vector) -> Vector:
    length = math.hypot(*vector)
    return vector / length if length > 0 else np.array([1.0, 0.0])


def _perp(vector: Vector) -> Vector:
    return np.array([-vector[1], vector[0]])
