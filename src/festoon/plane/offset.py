"""Parallel curves, for headings, edges and allowances."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike
from shapely import LinearRing, LineString, Polygon
from shapely import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry

from festoon.errors import PieceError
from festoon.plane.path import Path, polyline
from festoon.plane.pose import Points

TOLERANCE = 0.005
"""mm, how far a parallel curve may lie from the true one wherever the line's radius is 1 mm or more: a twentieth of
a machine's step of 0.1 mm."""
_SQUARE = 0.1
"""An end of a parallel this share of the distance beside its true place is there only because chords are not curves."""
MITRE_LIMIT = 10.0
"""A mitre longer than this many distances is cut off square. Common practice."""


def offset(
    line: Path | ArrayLike, distance: float, closed: bool = False, *, corners: Literal["round", "mitre"] = "mitre"
) -> Path:
    """The parallel curve `distance` mm to the right of travel as seen (y down); negative: to the left.

    line is a path or points (n, 2); points are closed to a ring if `closed` (a closed path is always a ring). The
    result is a polyline within `TOLERANCE` mm, travelled the same way, and begins nearest to where the line begins.
    Outer corners come to a point or are rounded. PieceError where nothing or more than one piece is left.
    """
    path = line if isinstance(line, Path) else polyline(line, closed)
    if not math.isfinite(distance):
        raise PieceError("The distance of a parallel line is not a number.")
    if distance == 0:
        return path
    fine = TOLERANCE / 2 / (1 + abs(distance))  # mitred chords stray by sagitta times distance / radius
    arc = math.acos(max(0.0, 1 - TOLERANCE / 2 / abs(distance)))
    style = {
        "quad_segs": max(1, math.ceil(math.pi / 4 / arc)),
        "join_style": corners,
        "mitre_limit": MITRE_LIMIT,
    }
    if not path.closed:
        # Shapely calls left what is right here, because its y points up.
        parallel = LineString(path.flatten(fine)).offset_curve(distance, **style)
        return polyline(_square_ends(_single(parallel, distance), path, distance))
    p = path.flatten(fine)
    area = Polygon(p)
    if not area.is_valid:
        raise PieceError("A closed line crosses itself, so it has no parallel.", remedy="Take the crossing out.")
    clockwise = LinearRing(p).is_ccw  # anticlockwise where y points up
    grown = area.buffer(-distance if clockwise else distance, **style)
    if grown.geom_type != "Polygon" or grown.is_empty:
        raise _lost(distance)
    return polyline(_begun_near(np.array(grown.exterior.coords), path.start, clockwise))


def _single(line: BaseGeometry, distance: float) -> Points:
    if line.geom_type != "LineString" or line.is_empty:
        raise _lost(distance)
    return np.array(line.coords)


def _square_ends(line: Points, path: Path, distance: float) -> Points:
    """The parallel with its ends square to the line's ends; ends that a tight turn has taken away stay as they are."""
    out = line.copy()
    for k, s in ((0, 0.0), (-1, path.length)):
        (tx, ty), p = path.tangents([s])[0].tolist(), path.points([s])[0]
        end = p + distance * np.array([-ty, tx])
        if math.dist(end, out[k]) <= _SQUARE * abs(distance):
            out[k] = end
    return out


def _begun_near(ring: Points, start: Points, clockwise: bool) -> Points:
    """A closed ring (first point repeated) turned the given way round, begun at its place nearest to `start`."""
    if LinearRing(ring).is_ccw != clockwise:
        ring = ring[::-1]
    around = polyline(ring)
    s = LineString(ring).project(ShapelyPoint(start))
    return around.trimmed(s, s + around.length).flatten(TOLERANCE)


def _lost(distance: float) -> PieceError:
    return PieceError(
        f"A parallel line {abs(distance):g} mm away is not one single line.",
        remedy="Choose a smaller distance, or smooth the line where it turns tightest.",
    )
