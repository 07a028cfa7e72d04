"""Where a straight line or an arc crosses another, in closed form. Source: any handbook of geometry."""

from __future__ import annotations

import math

from festoon.plane.segments import Arc, Line, Point

_ON = 1e-9
"""Of a segment: so far past its end a crossing still counts as on it."""


def crossing(a: Line | Arc, b: Line | Arc) -> tuple[float, float] | None:
    """Parameters (ta, tb), 0 to 1, of the crossing that comes first going back along a and on along b; None without.

    Lines that run alike and circles about one centre are said not to cross.
    """
    found = [(ta, tb) for p in _points(a, b) if (ta := _at(a, p)) is not None and (tb := _at(b, p)) is not None]
    return min(found, key=lambda t: (1 - t[0]) * a.length + t[1] * b.length, default=None)


def _points(a: Line | Arc, b: Line | Arc) -> list[Point]:
    """Where the whole lines and circles meet."""
    if isinstance(a, Line) and isinstance(b, Line):
        return _lines(a, b)
    if isinstance(a, Line) and isinstance(b, Arc):
        return _line_and_circle(a, b)
    if isinstance(a, Arc) and isinstance(b, Arc):
        return _circles(a, b)
    return _points(b, a)


def _lines(a: Line, b: Line) -> list[Point]:
    (ux, uy), (vx, vy) = _way(a), _way(b)
    cross = ux * vy - uy * vx
    if abs(cross) <= 1e-12:
        return []
    dx, dy = b.start[0] - a.start[0], b.start[1] - a.start[1]
    s = (dx * vy - dy * vx) / cross
    return [(a.start[0] + s * ux, a.start[1] + s * uy)]


def _line_and_circle(line: Line, arc: Arc) -> list[Point]:
    """Half a chord lies √(r² - d²) to either side of the foot of the perpendicular, d mm from the centre."""
    ux, uy = _way(line)
    dx, dy = arc.centre[0] - line.start[0], arc.centre[1] - line.start[1]
    foot, off = dx * ux + dy * uy, dx * uy - dy * ux
    if abs(off) > arc.radius:
        return []
    half = math.sqrt(arc.radius**2 - off**2)
    return [(line.start[0] + s * ux, line.start[1] + s * uy) for s in (foot - half, foot + half)]


def _circles(a: Arc, b: Arc) -> list[Point]:
    """The common chord lies (d² + r² - R²)/2d from the first centre, square to the line of centres."""
    dx, dy = b.centre[0] - a.centre[0], b.centre[1] - a.centre[1]
    d = math.hypot(dx, dy)
    if d <= 1e-9:
        return []
    along = (d * d + a.radius**2 - b.radius**2) / (2 * d)
    if abs(along) > a.radius:
        return []
    half = math.sqrt(a.radius**2 - along**2)
    ux, uy = dx / d, dy / d
    return [(a.centre[0] + along * ux - side * uy, a.centre[1] + along * uy + side * ux) for side in (-half, half)]


def _way(line: Line) -> Point:
    length = line.length or 1.0
    return (line.end[0] - line.start[0]) / length, (line.end[1] - line.start[1]) / length


def _at(segment: Line | Arc, p: Point) -> float | None:
    """The parameter of a point that lies on the segment's whole line or circle; None beyond its ends."""
    if isinstance(segment, Line):
        ux, uy = _way(segment)
        t = ((p[0] - segment.start[0]) * ux + (p[1] - segment.start[1]) * uy) / (segment.length or 1.0)
    else:
        way = math.copysign(1.0, segment.sweep)
        angle = math.degrees(math.atan2(p[1] - segment.centre[1], p[0] - segment.centre[0]))
        gone = (way * (angle - segment.start_angle)) % 360.0
        gone = gone - 360.0 if gone > 360.0 * (1 - _ON) else gone
        t = gone / abs(segment.sweep)
    return min(max(t, 0.0), 1.0) if -_ON <= t <= 1 + _ON else None
