"""Paths carried by any affine map, and written as SVG path data."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from festoon.plane.path import Path
from festoon.plane.segments import Arc, Bezier, Line, Point, Segment

Matrix = tuple[float, float, float, float, float, float]
"""a b c d e f of SVG: x' = a·x + c·y + e, y' = b·x + d·y + f."""

_ROUND = 1e-9
"""A map that stretches one way by less than this share more than another still makes circles of circles."""

_BEZIER = 22.5
"""Degrees of an ellipse that one Bézier stands for: off by less than 1e-7 of the radius (computed)."""

_WRITTEN = 120.0
"""Degrees of an arc written at once: SVG path data gives an arc by its ends, which tell nothing of a whole circle."""


def carried(path: Path, matrix: Matrix) -> Path:
    """The path under an affine map: exact, but for arcs that become parts of ellipses (within 1e-7 of their radius)."""
    return Path(tuple(g for segment in path.segments for g in _carried(segment, matrix)))


def _carried(segment: Segment, matrix: Matrix) -> tuple[Segment, ...]:
    a, b, c, d, e, f = matrix

    def to(p: Point) -> Point:
        return a * p[0] + c * p[1] + e, b * p[0] + d * p[1] + f

    if isinstance(segment, Line):
        return (Line(to(segment.start), to(segment.end)),)
    if isinstance(segment, Bezier):
        return (Bezier(to(segment.p0), to(segment.p1), to(segment.p2), to(segment.p3)),)
    side = 1.0 if a * d - b * c > 0 else -1.0  # -1 where it mirrors
    if math.hypot(a - side * d, b + side * c) <= _ROUND * math.hypot(a, b):
        centre = to(segment.centre)
        (x, y), radius = to(segment.start), segment.radius * math.hypot(a, b)
        first = math.degrees(math.atan2(y - centre[1], x - centre[0]))
        return (Arc(centre, radius, first, side * segment.sweep),)
    return tuple(Bezier(*(to(p) for p in _controls(part))) for part in _parts(segment, _BEZIER))


def _parts(arc: Arc, most: float) -> Iterator[Arc]:
    """An arc in equal parts of at most so many degrees."""
    n = max(1, math.ceil(abs(arc.sweep) / most - 1e-9))
    return (arc.part(k / n, (k + 1) / n) for k in range(n))


def _controls(arc: Arc) -> tuple[Point, Point, Point, Point]:
    """Control points of the usual cubic for a small arc: handles of 4/3·tan(sweep/4) radii."""
    reach = 4 / 3 * math.tan(math.radians(abs(arc.sweep)) / 4) * arc.radius
    (x0, y0), (x3, y3) = arc.start, arc.end
    (u0, v0), (u3, v3) = arc.tangent(np.array([0.0, 1.0])).tolist()
    return (x0, y0), (x0 + reach * u0, y0 + reach * v0), (x3 - reach * u3, y3 - reach * v3), (x3, y3)


def to_svg(path: Path) -> str:
    """SVG path data that draws the path: what `from_svg` reads back.

    >>> from festoon.plane import polyline
    >>> to_svg(polyline([(0, 0), (40, 0.5)]))
    'M 0.0 0.0 L 40.0 0.5'
    """
    said = [_numbers("M", path.segments[0].start)]
    for segment in path.segments:
        if isinstance(segment, Line):
            said.append(_numbers("L", segment.end))
        elif isinstance(segment, Bezier):
            said.append(_numbers("C", segment.p1, segment.p2, segment.p3))
        else:
            for arc in _parts(segment, _WRITTEN):
                said.append(_numbers("A", (arc.radius, arc.radius)) + f" 0 0 {int(arc.sweep > 0)} ")
                said[-1] += _numbers("", arc.end)
    return " ".join(said) + (" Z" if path.closed else "")


def _numbers(letter: str, *points: Point) -> str:
    return " ".join([*([letter] if letter else []), *(repr(float(v)) for p in points for v in p)])
