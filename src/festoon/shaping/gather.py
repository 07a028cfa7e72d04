"""Gathers: how much strip lies on every stretch of a course, fuller round outward curves and points.

A strip laid beside a course lies flat where its outer edge is as long as the parallel there: (R + w)/R round a curve of
radius R (geometry). At an outward corner it goes round the point in a fan, or is mitred.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from festoon.plane.segments import Floats
from festoon.shaping.band import LEVEL, Band

STEP = 5.0
"""mm between the places of a course at which its strip is counted up, where it curves (own choice)."""

RIGHT_ANGLE = math.pi / 2


def lie_flat(radius: float, width: float) -> float:
    """The least fullness with which a strip lies flat round the outside of a curve: (R + w)/R. mm.

    >>> round(lie_flat(150, 20), 3)
    1.133
    """
    return (radius + width) / radius


def least_at_point(width: float, turn: float) -> float:
    """The least length let in at an outward corner of `turn` degrees, so that the outer edge goes round in a fan: w·φ,
    φ in radians (geometry). mm."""
    return width * math.radians(turn)


def flat_at_point(width: float, turn: float) -> float:
    """The length let in at an outward corner of `turn` degrees: 2w·tan(φ/2) as for a mitre, two widths at a square
    corner; at sharper ones two widths to each right angle, since edging fans out there. mm.

    Source: geometry; 'Sewing Handicraft for Girls' and 'School Needlework' (two widths at a square corner).

    >>> round(flat_at_point(20, 90), 9), round(flat_at_point(20, 45), 3), flat_at_point(20, 180)
    (40.0, 16.569, 80.0)
    """
    phi = math.radians(turn)
    return 2 * width * (math.tan(phi / 2) if phi < RIGHT_ANGLE else phi / RIGHT_ANGLE)


@dataclass(frozen=True, slots=True)
class Point:
    """An outward corner of a course: its place along it, mm, its turn in degrees, what is let in there, and within
    what stretch of the course, mm."""

    s: float
    turn: float
    extra: float
    begin: float
    end: float


@dataclass(frozen=True, eq=False)
class Gathers:
    """The strip that lies from a course's beginning up to each of its places. mm.

    at: places along the course (n,), from 0 to its length; strip: what lies up to there (n,), straight in between.
    needs: fullness with which the strip would just lie flat on each of the n - 1 stretches. points: the outward
    corners; inward: how many corners turn inwards, where the strip lies over itself.
    """

    at: Floats
    strip: Floats
    needs: Floats
    points: tuple[Point, ...]
    inward: int

    @property
    def length(self) -> float:
        """The whole strip, without allowances."""
        return float(self.strip[-1])

    @property
    def needed(self) -> float:
        """The most fullness that an outward curve of the course needs to lie flat; 1 where none curves outward."""
        return float(self.needs.max(initial=1.0))

    @property
    def fullest(self) -> float:
        """The least fullness that an inward curve of the course leaves: its outer edge is so much shorter there."""
        return float(self.needs.min(initial=1.0))

    def strip_at(self, s: float) -> float:
        """How much strip lies up to a place of the course."""
        return float(np.interp(s, self.at, self.strip))

    def tightest(self) -> float:
        """The place of the course that needs most fullness."""
        k = int(np.argmax(self.needs))
        return float(self.at[k] + self.at[k + 1]) / 2

    def marks(self, parts: int = 4) -> tuple[tuple[float, float], ...]:
        """(place on the course, place on the strip) of the marks that divide the course evenly, without its ends."""
        every = (self.at[-1] * k / parts for k in range(1, parts))
        return tuple((float(s), self.strip_at(s)) for s in every)


def gathers(laid: Band, fullness: float, at_curves: float | None = None, at_points: float | None = None) -> Gathers:
    """The strip of a band's width gathered onto its course.

    fullness: strip to course. at_curves: the same on outward curves, where it is greater; None: what lies flat there.
    at_points: mm let in at each outward corner, from one width before it to one after; None: what lies flat.
    """
    at, needs = _needs(laid)
    steps = np.diff(at)
    round_curves = needs if at_curves is None else np.where(needs > 1 + LEVEL, at_curves, 0.0)
    even = np.concatenate([[0.0], np.cumsum(steps * np.maximum(fullness, round_curves))])
    points = tuple(_points(laid, at_points))
    places = np.array([s for p in points for s in _edges(p, laid)])
    every = np.unique(np.concatenate([at, places[(places > 0) & (places < at[-1])]]))
    strip = np.interp(every, at, even) + sum((_let_in(p, every, laid) for p in points), np.zeros(len(every)))
    which = np.clip(np.searchsorted(at, (every[:-1] + every[1:]) / 2) - 1, 0, len(needs) - 1)
    return Gathers(every, strip, needs[which], points, _corners(laid) - len(points))


def _needs(laid: Band) -> tuple[Floats, Floats]:
    """Places along the course, and between them the length of the other edge to that of the course."""
    length, first = laid.course.length, laid.laid.first
    shifted = np.where(laid.bend.knots + first > length, laid.bend.knots + first - length, laid.bend.knots + first)
    even = np.linspace(0.0, length, max(1, math.ceil(length / STEP)) + 1)
    at = np.unique(np.concatenate([even, shifted[(shifted > 0) & (shifted < length)]]))
    from_first = at - first
    around = laid.bend.over(np.array([length]))[0]
    before = from_first < 0
    over = laid.bend.over(np.where(before, from_first + length, from_first)) - np.where(before, around, 0.0)
    return at, np.maximum(np.diff(over), 0.0) / np.diff(at)


def _points(laid: Band, at_points: float | None) -> list[Point]:
    length, first = laid.course.length, laid.laid.first
    reach = min(laid.width, length / 2)
    found = []
    for joint in laid.laid.joints:
        if not (joint.mitred and joint.outside):
            continue
        s, turn = (joint.leaves + first) % length, abs(math.degrees(joint.turn))
        begin, end = (s - reach, s + reach) if laid.laid.around else (max(0.0, s - reach), min(length, s + reach))
        found.append(Point(s, turn, flat_at_point(laid.width, turn) if at_points is None else at_points, begin, end))
    return sorted(found, key=lambda p: p.s)


def _edges(point: Point, laid: Band) -> tuple[float, float]:
    length = laid.course.length
    return point.begin % length, point.end % length


def _let_in(point: Point, at: Floats, laid: Band) -> Floats:
    """What is let in at a point up to each place; a window that reaches beyond a closed course's beginning goes on."""
    length = laid.course.length
    total = np.zeros(len(at))
    for turn in (-length, 0.0, length):
        begin, end = point.begin + turn, point.end + turn
        total += np.clip(at, begin, end) - np.clip(0.0, begin, end)
    share: Floats = point.extra * total / (point.end - point.begin)
    return share


def _corners(laid: Band) -> int:
    """How many corners the course has between its ends, or all round."""
    return len([s for s in laid.course.corners() if s > 0 or laid.laid.around])
