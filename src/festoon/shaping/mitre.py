"""The corners of a band of lace, where it is folded and mitred."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from shapely import LineString, get_coordinates
from shapely import Point as ShapelyPoint

from festoon.plane import Bezier, Segment
from festoon.plane.segments import Floats, Point
from festoon.shaping.cells import pair
from festoon.shaping.crossing import crossing

MITRE_LIMIT = 10.0
"""A mitre that reaches further than this many widths from its corner is no mitre any more. Common practice."""
_COARSE = 0.02
"""mm, how finely headings are flattened to find where they meet, before the place is reckoned exactly."""
_EXACT = 1e-10
"""mm between two headings at the place where they meet."""
_BEYOND = 1e-9
"""Of a segment: so far past its end a meeting still counts as on it."""


@dataclass(frozen=True, eq=False)
class Mitre:
    """One corner of a band: the lace is folded along the line from `at` to `over`. mm and degrees.

    turn is positive where the course turns to the right of travel (clockwise as seen). fold is how much lace the fold
    takes away, measured along the unshaped strip: 2w·tan(turn/2) between straight legs (geometry; old school texts of
    sewing allow the same two widths at a square corner). inside: the course's corner is the inner one, so that the
    other heading runs on to the mitre and the fold is lace to be added; where it is not, the other heading is trimmed
    back to the mitre, and the fold lies in the length that the course measures already.
    """

    at: Point
    over: Point
    turn: float
    fold: float
    inside: bool


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where one chain of segments meets another: at parameter ta of a[ia] and tb of b[ib]."""

    ia: int
    ta: float
    ib: int
    tb: float


def turn_between(a: Point, b: Point) -> float:
    """Radians from direction a to b, above 0 to the right (clockwise as seen)."""
    return math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])


def mitre_point(at: Point, arrives: Point, leaves: Point, distance: float) -> Point:
    """Where the parallels of two straight legs through the corner `at` meet: at + d·(n1 + n2)/(1 + n1·n2).

    arrives, leaves: unit directions of travel. No further than `MITRE_LIMIT` distances away. Source: geometry.
    """
    (ax, ay), (bx, by) = arrives, leaves
    squared = (1.0 + ax * bx + ay * by) / 2  # cos²(φ/2)
    if squared * MITRE_LIMIT**2 >= 1.0:
        scale = distance / (2 * squared)
        x, y = -scale * (ay + by), scale * (ax + bx)
    else:
        inward = turn_between(arrives, leaves) * distance > 0
        scale = MITRE_LIMIT * abs(distance) / math.hypot(bx - ax, by - ay) * (1.0 if inward else -1.0)
        x, y = scale * (bx - ax), scale * (by - ay)
    return at[0] + x, at[1] + y


def meeting(a: Sequence[Segment], b: Sequence[Segment]) -> Meeting | None:
    """Where chain a, followed back from its end, and chain b, followed from its beginning, first meet."""
    last, first = a[-1], b[0]
    if not isinstance(last, Bezier) and not isinstance(first, Bezier):
        exact = crossing(last, first)
        if exact is not None:
            return Meeting(len(a) - 1, exact[0], 0, exact[1])
    count = 1
    while True:  # nearly always on the first few, and sooner found there
        met = _meeting(a[-count:], b[:count])
        if met is not None:
            before = max(len(a) - count, 0)
            return Meeting(met.ia + before, met.ta, met.ib, met.tb)
        if count >= max(len(a), len(b)):
            return None
        count *= 2


def _meeting(a: Sequence[Segment], b: Sequence[Segment]) -> Meeting | None:
    one, two = _Chain(a), _Chain(b)
    for p in _nearest_first(one, two):
        (ia, ta), (ib, tb) = one.near(p), two.near(p)
        exact = refined(a, ia, ta, b, ib, tb)
        if exact is not None:
            return exact
    return None


def refined(a: Sequence[Segment], ia: int, ta: float, b: Sequence[Segment], ib: int, tb: float) -> Meeting | None:
    """A meeting near the one given, by Newton's rule, which steps over to the next segment past an end."""
    for _ in range(25):
        miss = b[ib].point(tb) - a[ia].point(ta)
        if math.hypot(*miss) <= _EXACT:
            inside = -_BEYOND <= ta <= 1 + _BEYOND and -_BEYOND <= tb <= 1 + _BEYOND
            return Meeting(ia, min(max(ta, 0.0), 1.0), ib, min(max(tb, 0.0), 1.0)) if inside else None
        va, vb = _speed(a[ia], ta), _speed(b[ib], tb)
        cross = va[0] * vb[1] - va[1] * vb[0]
        if abs(cross) <= 1e-14 * math.hypot(*va) * math.hypot(*vb):
            return None
        ta += (miss[0] * vb[1] - miss[1] * vb[0]) / cross
        tb += (miss[0] * va[1] - miss[1] * va[0]) / cross
        ia, ta = _stepped(ia, ta, len(a))
        ib, tb = _stepped(ib, tb, len(b))
    return None


def _stepped(i: int, t: float, count: int) -> tuple[int, float]:
    if t > 1 + _BEYOND and i + 1 < count:
        return i + 1, 0.0
    if t < -_BEYOND and i > 0:
        return i - 1, 1.0
    return i, min(max(t, -1.0), 2.0)


def _speed(segment: Segment, t: float) -> tuple[float, float]:
    v = segment.derivative(t) if isinstance(segment, Bezier) else segment.tangent(t) * segment.length
    return pair(v)


class _Chain:
    """Segments end to end as a polyline that remembers which segment each chord stands for."""

    def __init__(self, segments: Sequence[Segment]) -> None:
        steps = [g.steps(_COARSE) for g in segments]
        points = [segments[0].point(np.zeros(1))]
        points += [g.point(np.arange(1, n + 1) / n) for g, n in zip(segments, steps, strict=True)]
        self.line = LineString(np.concatenate(points))
        self._which = np.repeat(np.arange(len(segments)), steps)
        self._first = np.concatenate([np.arange(n) / n for n in steps])
        self._share = 1.0 / np.repeat(steps, steps)
        self.along: Floats = np.concatenate(
            [[0.0], np.cumsum(np.hypot(*np.diff(get_coordinates(self.line), axis=0).T))]
        )

    def near(self, p: ShapelyPoint) -> tuple[int, float]:
        """The segment and its parameter at the chain's place nearest to p."""
        s = self.line.project(p)
        k = min(max(int(np.searchsorted(self.along, s, side="right")) - 1, 0), len(self._which) - 1)
        chord = float(self.along[k + 1] - self.along[k]) or 1.0
        return int(self._which[k]), float(self._first[k] + self._share[k] * (s - self.along[k]) / chord)


def _nearest_first(a: _Chain, b: _Chain) -> list[ShapelyPoint]:
    found = [ShapelyPoint(p) for p in get_coordinates(a.line.intersection(b.line))]
    return sorted(found, key=lambda p: a.along[-1] - a.line.project(p) + b.line.project(p))
