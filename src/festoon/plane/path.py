"""Paths measured by arc length: cut, lengthened, placed, sampled; and the ways to make them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from festoon.errors import PieceError
from festoon.plane.pose import Points, Pose
from festoon.plane.segments import Arc, Bezier, Floats, Line, Point, Segment

MEETING = 1e-6
"""Ends nearer than this are one point, mm: a thousandth of what a needle can tell apart."""
CORNER = 20.0
"""A tangent that breaks by this many degrees or more makes a corner. Common practice."""


@dataclass(frozen=True)
class Path:
    """Segments end to end, travelled in order. s is the arc length from the start, mm.

    On an open path s outside 0..length stands for the nearer end; on a closed one it goes on round. Segments of no
    length are left out. PieceError where nothing is left, where segments do not meet, or a number is not finite.
    """

    segments: tuple[Segment, ...]

    def __post_init__(self) -> None:
        measured = [(g, g.length) for g in self.segments]
        if not all(math.isfinite(length) for _, length in measured):
            raise PieceError("A line has a point that is not a number.", remedy="Give every point as two lengths.")
        kept = tuple(g for g, length in measured if length > MEETING)
        if not kept:
            raise PieceError("A line has no length.", remedy="Give it at least two points that differ.")
        for a, b in itertools.pairwise(kept):
            gap = math.dist(a.end, b.start)
            if gap > 2 * MEETING * (1 + len(self.segments) - len(kept)):
                raise PieceError(
                    f"A line breaks: a gap of {gap:.3g} mm at ({a.end[0]:.2f}, {a.end[1]:.2f}).",
                    remedy="Let every part begin where the one before it ends.",
                )
        lengths = [length for _, length in measured if length > MEETING]
        object.__setattr__(self, "segments", kept)
        object.__setattr__(self, "_starts", np.concatenate([[0.0], np.cumsum(lengths)]))

    @property
    def length(self) -> float:
        """The whole arc length, mm."""
        return float(self._edges()[-1])

    @property
    def start(self) -> Points:
        """Where it begins, shape (2,), mm."""
        return np.array(self.segments[0].start)

    @property
    def end(self) -> Points:
        """Where it ends, shape (2,), mm."""
        return np.array(self.segments[-1].end)

    @property
    def closed(self) -> bool:
        """Whether it ends where it began."""
        return math.dist(self.segments[0].start, self.segments[-1].end) <= 2 * MEETING

    def at(self, s: float) -> Points:
        """The point at s, shape (2,), mm."""
        (p,) = self.points([s])
        return np.asarray(p)

    def points(self, s: ArrayLike) -> Points:
        """The points at s of shape (n,), as (n, 2), mm."""
        return self._each(s, lambda segment, t: segment.point(t))

    def tangents(self, s: ArrayLike) -> Points:
        """Unit vectors (n, 2) along the travel at s of shape (n,); at a corner that of the segment which begins."""
        return self._each(s, lambda segment, t: segment.tangent(t))

    def turns(self, s: ArrayLike) -> Floats:
        """Directions of travel (n,) in degrees, -180 to 180, 0 to the right and 90 down (clockwise as seen)."""
        t = self.tangents(s)
        return np.degrees(np.arctan2(t[:, 1], t[:, 0]))

    def reversed(self) -> Path:
        """The same path travelled the other way."""
        return Path(tuple(g.reversed() for g in self.segments[::-1]))

    def trimmed(self, s0: float, s1: float) -> Path:
        """The piece from s0 to s1, cut exactly. On a closed path it may go on over the start, once round at most.

        PieceError unless s0 < s1, and on an open path where the piece reaches beyond an end.
        """
        span, total = s1 - s0, self.length
        if not span > MEETING:
            raise PieceError(f"A piece of a line from {s0:.2f} to {s1:.2f} mm has no length.")
        if self.closed:
            s0 = s0 % total
            span = min(span, total)
            if s0 + span > total + MEETING:
                rest = s0 + span - total
                before = self._cut(s0, total) if total - s0 > MEETING else ()
                return Path(before + self._cut(0.0, rest))
        elif s0 < -MEETING or s1 > total + MEETING:
            raise PieceError(f"A piece from {s0:.2f} to {s1:.2f} mm reaches beyond a line of {total:.2f} mm.")
        return Path(self._cut(max(s0, 0.0), min(s0 + span, total)))

    def extended(self, before: float = 0.0, after: float = 0.0) -> Path:
        """The path made longer by straight pieces along its end tangents, mm. PieceError below zero."""
        if before < 0 or after < 0:
            raise PieceError("A line cannot be lengthened by less than nothing.", remedy="Trim it instead.")
        head, tail = self.tangents([0.0, self.length])
        a, b = self.start, self.end
        first = Line(_point(a - before * head), _point(a))
        last = Line(_point(b), _point(b + after * tail))
        return Path((first, *self.segments, last))

    def placed(self, pose: Pose) -> Path:
        """The path carried by a rigid pose."""
        return Path(tuple(g.placed(pose) for g in self.segments))

    def sample(self, step: float) -> Points:
        """(n, 2) points evenly spaced along the path, at most `step` mm apart, both ends included."""
        return self.points(self.stations(step))

    def stations(self, step: float) -> Floats:
        """The s of `sample`: from 0 to the length in equal steps of at most `step` mm."""
        if not step > 0:
            raise PieceError("Points along a line need a step greater than nothing.")
        n = max(1, math.ceil(self.length / step - 1e-9))
        return np.linspace(0.0, self.length, n + 1)

    def flatten(self, tolerance: float = 0.01) -> Points:
        """(n, 2) corners of a polyline nowhere farther than `tolerance` mm from the path, both ends included."""
        if not tolerance > 0:
            raise PieceError("A flattened line needs a tolerance greater than nothing.")
        parts = [self.start[None]]
        for g in self.segments:
            n = g.steps(tolerance)
            parts.append(g.point(np.arange(1, n + 1) / n) if n > 1 else np.array([g.end]))
        return np.concatenate(parts)

    def corners(self, min_turn: float = CORNER) -> tuple[float, ...]:
        """Every s where one segment meets the next with a turn of `min_turn` degrees or more; 0 where a closed path
        does so at its start. A cusp inside one Bézier is not looked for."""
        pairs = list(itertools.pairwise(self.segments))
        edges = self._edges()[1:-1].tolist()
        if self.closed:
            pairs.insert(0, (self.segments[-1], self.segments[0]))
            edges.insert(0, 0.0)
        return tuple(s for s, (a, b) in zip(edges, pairs, strict=True) if abs(_turn(a, b)) >= min_turn - 1e-9)

    def legs(self, min_turn: float = CORNER) -> tuple[Path, ...]:
        """The pieces between corners, in order; a closed path's begin at its first corner."""
        corners = self.corners(min_turn)
        if not corners:
            return (self,)
        cuts = [*corners, corners[0] + self.length] if self.closed else [0.0, *corners, self.length]
        return tuple(self.trimmed(a, b) for a, b in itertools.pairwise(cuts))

    def _edges(self) -> Floats:
        edges: Floats = self.__dict__["_starts"]
        return edges

    def _cut(self, s0: float, s1: float) -> tuple[Segment, ...]:
        edges = self._edges().tolist()
        out: list[Segment] = []
        for g, a, b in zip(self.segments, edges, edges[1:], strict=False):
            low, high = max(s0, a), min(s1, b)
            if high - low <= MEETING:
                continue
            if low <= a and high >= b:
                out.append(g)
            else:
                t0, t1 = g.t_at(np.array([low - a, high - a])).tolist()
                out.append(g.part(t0, t1))
        return tuple(out)

    def _each(self, s: ArrayLike, ask: Callable[[Segment, Floats], Points]) -> Points:
        edges, total = self._edges(), self.length
        want = np.asarray(s, dtype=np.float64).reshape(-1)
        if self.closed:
            want = np.where((want < 0) | (want > total), want % total, want)
        want = np.minimum(np.maximum(want, 0.0), total)
        which = np.minimum(np.searchsorted(edges, want, side="right") - 1, len(self.segments) - 1)
        out = np.empty((len(want), 2))
        for k in sorted(set(which.tolist())):
            here = which == k
            out[here] = ask(self.segments[k], self.segments[k].t_at(want[here] - edges[k]))
        return out


def polyline(points: ArrayLike, closed: bool = False) -> Path:
    """Straight lines through points (n, 2), and back to the first if `closed`."""
    p = _checked(points, 2)
    if closed:
        p = np.concatenate([p, p[:1]])
    pairs = [_point(q) for q in p]
    return Path(tuple(Line(a, b) for a, b in itertools.pairwise(pairs)))


def through(points: ArrayLike, closed: bool = False) -> Path:
    """A smooth curve through points (n, 2): the interpolating cubic spline, as Béziers.

    Its parameter grows with the square root of the chords (centripetal), so that it does not swing out where points
    stand unevenly; open ends are natural (no curvature), a closed curve is periodic. Curvature never jumps.
    """
    p = _checked(points, 3 if closed else 2)
    p = p[np.concatenate([[True], np.hypot(*np.diff(p, axis=0).T) > MEETING])]
    if closed:
        p = p[:-1] if math.dist(p[0], p[-1]) <= MEETING else p
        p = np.concatenate([p, p[:1]])
    if len(p) < (4 if closed else 2):
        raise PieceError("A curve needs more points that differ.", remedy="Give two for an open, three for a closed.")
    u = np.concatenate([[0.0], np.cumsum(np.sqrt(np.hypot(*np.diff(p, axis=0).T)))])
    from scipy.interpolate import CubicSpline  # half a second to load, and seldom needed

    speed = CubicSpline(u, p, bc_type="periodic" if closed else "natural")(u, 1)
    third = np.diff(u)[:, None] / 3
    handles = zip(p[:-1], p[:-1] + third * speed[:-1], p[1:] - third * speed[1:], p[1:], strict=True)
    return Path(tuple(Bezier(*(_point(q) for q in four)) for four in handles))


def arc_through(start: ArrayLike, end: ArrayLike, bow: float) -> Path:
    """The circular arc from start to end whose middle stands `bow` mm to the right of travel (negative: left).

    R = (c²/4 + h²)/(2h) for chord c and sagitta h = bow; no bow gives the straight line. PieceError where the ends
    are one point.
    """
    a, b = _checked(np.array([start, end]), 2)
    chord = math.dist(a, b)
    if chord <= MEETING:
        raise PieceError("An arc's two ends are one point.", remedy="Use a circle, or move one end.")
    if not math.isfinite(bow):
        raise PieceError("An arc's depth is not a number.")
    if abs(bow) <= MEETING:
        return Path((Line(_point(a), _point(b)),))
    radius = (chord * chord / 4 + bow * bow) / (2 * bow)
    right = np.array([-(b - a)[1], (b - a)[0]]) / chord
    centre = (a + b) / 2 + right * (bow - radius)
    angle = math.degrees(math.atan2(*(a - centre)[::-1]))
    return Path((Arc(_point(centre), abs(radius), angle, -math.degrees(4 * math.atan(2 * bow / chord))),))


def circle(centre: ArrayLike, radius: float, start_angle: float = -90.0) -> Path:
    """A whole circle, clockwise as seen, beginning at `start_angle` degrees (-90: at the top)."""
    (c,) = _checked(np.array([centre]), 1)
    if not (math.isfinite(radius) and radius > 0):
        raise PieceError("A circle needs a radius greater than nothing.")
    return Path((Arc(_point(c), float(radius), start_angle, 360.0),))


def _turn(a: Segment, b: Segment) -> float:
    (ax, ay), (bx, by) = a.tangent(1.0).tolist(), b.tangent(0.0).tolist()
    return math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by))


def _checked(points: ArrayLike, least: int) -> Points:
    p = np.asarray(points, dtype=np.float64)
    if p.ndim != 2 or p.shape[1] != 2 or len(p) < least:
        raise PieceError(f"A line needs at least {least} points of two lengths each.")
    if not np.isfinite(p).all():
        raise PieceError("A line has a point that is not a number.", remedy="Give every point as two lengths.")
    return p


def _point(p: Points) -> Point:
    x, y = p.tolist()
    return float(x), float(y)
