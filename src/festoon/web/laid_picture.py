"""Lace, ribbon, cloth and lines drawn onto a picture of the drawer's: what of a technique is not stitching."""

from __future__ import annotations

from collections.abc import Iterable

import cv2
import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Geometry

from festoon.stitches.portrait import Picture
from festoon.work import Area, Line

FACES = {"lace": (255, 253, 247, 255), "ribbon": (233, 220, 198, 255), "cloth": (239, 232, 217, 255)}
"""Red, green, blue and alpha of what is laid on the cloth."""

EDGE = (125, 111, 84, 255)
"""Of its edge, of lace's net and of every line."""

NET, NET_LINE, EDGE_LINE = 2.6, 0.16, 0.35
"""mm from thread to thread of lace's net, and how wide it and an edge are drawn (by eye)."""

_BITS = 4
_ONE = 1 << _BITS


def draw_areas(
    canvas: Picture, areas: Iterable[Area], px_per_mm: float, origin: tuple[float, float] = (0.0, 0.0)
) -> None:
    """Draw areas onto a canvas (h, w, 4) whose corner lies at `origin`, mm, in place: filled, lace netted, edged."""

    def px(line: Geometry) -> NDArray[np.int32]:
        return _px(line, px_per_mm, origin)

    for area in areas:
        rings = [px(ring) for p in shapely.get_parts(area.region) for ring in (p.exterior, *p.interiors)]
        cv2.fillPoly(canvas, rings, FACES[area.material], cv2.LINE_AA, _BITS)
        if area.material == "lace":
            for thread in _net(area.region):
                cv2.polylines(canvas, [px(thread)], False, EDGE, _wide(NET_LINE, px_per_mm), cv2.LINE_AA, _BITS)
        cv2.polylines(canvas, rings, True, EDGE, _wide(EDGE_LINE, px_per_mm), cv2.LINE_AA, _BITS)


def draw_lines(canvas: Picture, lines: Iterable[Line], px_per_mm: float) -> None:
    """Draw a technique's lines onto such a canvas, in place."""
    for line in lines:
        points = _px(shapely.linestrings(line.points), px_per_mm, (0.0, 0.0))
        cv2.polylines(canvas, [points], line.closed, EDGE, _wide(EDGE_LINE, px_per_mm), cv2.LINE_AA, _BITS)


def _net(region: Geometry) -> list[Geometry]:
    """Threads at 45 degrees both ways over a region, as lines within it."""
    left, top, right, bottom = region.bounds
    high = bottom - top
    starts = np.arange(left - high, right + high, NET)
    down = [[(x, top), (x + high, bottom)] for x in starts]
    up = [[(x, bottom), (x + high, top)] for x in starts]
    within = shapely.intersection(shapely.multilinestrings(down + up), region)
    return [g for g in shapely.get_parts(within) if g.geom_type == "LineString"]


def _wide(mm: float, px_per_mm: float) -> int:
    return max(1, round(mm * px_per_mm))


def _px(line: Geometry, px_per_mm: float, origin: tuple[float, float]) -> NDArray[np.int32]:
    points = shapely.get_coordinates(line) - origin
    return np.asarray(np.rint((points * px_per_mm - 0.5) * _ONE), dtype=np.int32)
