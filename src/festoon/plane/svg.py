"""Paths out of SVG path data (W3C SVG 2, chapter 9): 1 user unit is 1 mm, and y points down there as it does here."""

from __future__ import annotations

import math
import re

from fontTools.svgLib.path import parse_path

from festoon.errors import PieceError
from festoon.plane.path import Path
from festoon.plane.segments import Arc, Bezier, Line, Point, Segment

_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
"""Numbers that each command takes, or a multiple of it."""
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_FLAG = re.compile(r"[01]")
_GAP = re.compile(r"[ \t\r\n\f]*,?[ \t\r\n\f]*")
_SPACE = re.compile(r"[ \t\r\n\f]*")
_ROUND = 1e-9
"""Two radii that differ relatively by less are one circle's."""
_ELLIPSE_STEP = 22.5
"""Degrees of an ellipse that one Bézier stands for: off by less than 1e-7 of the radius (computed)."""


def from_svg(data: str) -> Path:
    """The one line that SVG path data draws, in mm.

    Circular arcs stay arcs, elliptical ones become Béziers (within 1e-7 of their radius), quadratic curves become
    cubic ones exactly. PieceError with the place where the data cannot be read, and where it draws no line or
    several.
    """
    pen = _Pen()
    try:
        parse_path(_tidied(data), pen)
    except (ValueError, OverflowError) as wrong:
        raise PieceError("The path data cannot be read.", remedy='Copy the d="..." of the path again.') from wrong
    if pen.lines != 1:
        what = f"The path data draws {pen.lines} separate lines." if pen.lines else "The path data draws no line."
        raise PieceError(what, remedy="Give the data of one line: one M at its start and no other.")
    return Path(tuple(pen.segments))


def _tidied(data: str) -> str:
    """The same data with single spaces and plain numbers, every command checked against the grammar."""
    out: list[str] = []
    at = _skip(_SPACE, data, 0)
    while at < len(data):
        letter = data[at]
        takes = _TAKES.get(letter.upper())
        if takes is None or (not out and letter not in "Mm"):
            raise _unreadable(data, at)
        numbers, at = _numbers(data, _skip(_SPACE, data, at + 1), letter.upper() == "A")
        if (len(numbers) % takes or not numbers) if takes else numbers:
            raise PieceError(
                f'In the path data, "{letter}" before character {at + 1} has {len(numbers)} numbers; '
                + (f"it takes {takes}, or that several times over." if takes else "it takes none.")
            )
        out.extend((letter, *numbers))
    return " ".join(out)


def _numbers(data: str, at: int, arc: bool) -> tuple[list[str], int]:
    found: list[str] = []
    while True:
        pattern = _FLAG if arc and len(found) % 7 in (3, 4) else _NUMBER
        after = _skip(_GAP, data, at) if found else at
        match = pattern.match(data, after)
        if match is None:
            return found, _skip(_SPACE, data, at)
        value = float(match.group())
        if not math.isfinite(value):
            raise _unreadable(data, after)
        found.append(match.group() if pattern is _FLAG else f"{value:.17g}")
        at = match.end()


def _skip(pattern: re.Pattern[str], data: str, at: int) -> int:
    match = pattern.match(data, at)
    return match.end() if match else at


def _unreadable(data: str, at: int) -> PieceError:
    what = f'"{data[at]}" at character {at + 1}' if at < len(data) else "its end"
    return PieceError(
        f"The path data cannot be read at {what}.",
        remedy="Path data begins with M and two numbers, then has commands out of M L H V C S Q T A Z with theirs.",
    )


class _Pen:
    """Keeps what fontTools reads (its segment pen protocol), arcs as they come."""

    def __init__(self) -> None:
        self.segments: list[Segment] = []
        self.lines = 0
        self._at: Point = (0.0, 0.0)
        self._begun = False

    def moveTo(self, pt: Point) -> None:
        self._at, self._begun = pt, False

    def lineTo(self, pt: Point) -> None:
        self._add((Line(self._at, pt),), pt)

    def curveTo(self, pt1: Point, pt2: Point, pt3: Point) -> None:
        self._add((Bezier(self._at, pt1, pt2, pt3),), pt3)

    def qCurveTo(self, control: Point, end: Point) -> None:
        a, b = ((p[0] + 2 / 3 * (control[0] - p[0]), p[1] + 2 / 3 * (control[1] - p[1])) for p in (self._at, end))
        self._add((Bezier(self._at, a, b, end),), end)

    def arcTo(self, rx: float, ry: float, turn: float, large: bool, sweep: bool, end: Point) -> None:
        self._add(_arc(self._at, rx, ry, turn, large, sweep, end), end)

    def closePath(self) -> None:
        self._begun = False

    def endPath(self) -> None:
        self._begun = False

    def _add(self, segments: tuple[Segment, ...], end: Point) -> None:
        self.lines += not self._begun
        self._begun = True
        self.segments.extend(segments)
        self._at = end


def _arc(start: Point, rx: float, ry: float, turn: float, large: bool, sweep: bool, end: Point) -> tuple[Segment, ...]:
    """Segments of an arc given by its end points (SVG 2, appendix B.2.4: centre parametrisation, radii scaled up)."""
    if start == end:
        return ()
    if rx == 0 or ry == 0:
        return (Line(start, end),)
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    hx, hy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x, y = (c * hx + s * hy) / rx, (c * hy - s * hx) / ry  # on the unit circle's scale
    size = x * x + y * y
    if size > 1:
        rx, ry, x, y, size = rx * math.sqrt(size), ry * math.sqrt(size), x / math.sqrt(size), y / math.sqrt(size), 1.0
    away = math.sqrt(max(0.0, 1 / size - 1)) * (-1.0 if large == sweep else 1.0)
    ux, uy = away * y, -away * x
    mid = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    centre = (mid[0] + c * rx * ux - s * ry * uy, mid[1] + s * rx * ux + c * ry * uy)
    first = math.degrees(math.atan2(y - uy, x - ux))
    swept = (math.degrees(math.atan2(-y - uy, -x - ux)) - first) % 360.0
    swept = swept if sweep else swept - 360.0
    if abs(rx - ry) <= _ROUND * max(rx, ry):
        return (Arc(centre, rx, first + turn, swept),)
    n = max(1, math.ceil(abs(swept) / _ELLIPSE_STEP - 1e-9))
    unit = [Arc((0.0, 0.0), 1.0, first + swept * i / n, swept / n) for i in range(n)]

    def carried(px: float, py: float) -> Point:
        return centre[0] + c * rx * px - s * ry * py, centre[1] + s * rx * px + c * ry * py

    return tuple(Bezier(*(carried(*p) for p in _controls(arc))) for arc in unit)


def _controls(arc: Arc) -> tuple[Point, Point, Point, Point]:
    """Control points of the usual cubic for a small arc of the unit circle: handles of 4/3·tan(sweep/4)."""
    k = 4 / 3 * math.tan(math.radians(arc.sweep) / 4)
    (ax, ay), (bx, by) = arc.start, arc.end
    return (ax, ay), (ax - k * ay, ay + k * ax), (bx + k * by, by - k * bx), (bx, by)
