"""A course cut into small smooth cells, each with the parallel that lies opposite."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from festoon.plane import Arc, Bezier, Line, Path, Points, Segment
from festoon.plane.path import MEETING
from festoon.plane.segments import Floats, Point

PARALLEL_ERROR = 0.002
"""mm, how far the cubics that stand for a Bézier's parallel may lie from it: a fiftieth of a machine's step."""
MOST_TURN = 90.0
"""Degrees that an arc's cell turns at most, so that it cannot lie over itself."""
_MOST_PIECES = 64
"""Into how many parts a Bézier is cut at most: only one with a cusp needs so many."""
_STEADY = 0.5
"""The least cosine between the directions at both ends of a Bézier's cell: it turns 60 degrees at most."""
_CHECKED = np.linspace(0.0, 1.0, 9)
"""Parameters at which a Bézier's parallel is asked whether any radius is left."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One smooth piece of the course without an inflection, from s0 to s1 mm along it, and the parallel opposite.

    first and last: the unit directions in which it sets out and comes in. A point of the parallel at t lies square
    across from the course's at t. tight: somewhere it has no radius left; the parallel then runs backwards there, and
    is None where nothing of it remains.
    """

    course: Segment
    over: Segment | None
    s0: float
    s1: float
    first: Point
    last: Point
    tight: bool

    def at(self, s: float) -> Point:
        """The point of the course at s, mm."""
        return pair(self.course.point(self.course.t_at(s - self.s0)))

    def foot(self, t: float) -> float:
        """The s of the course's point at t."""
        if isinstance(self.course, Bezier) and 0.0 < t < 1.0:
            return self.s0 + self.course.part(0.0, t).length
        return self.s0 + t * (self.s1 - self.s0)


def cells(course: Path, distance: float) -> list[Cell]:
    """The course's cells in order, with parallels `distance` mm to the right of travel (negative: to the left)."""
    out: list[Cell] = []
    s = 0.0
    for segment in course.segments:
        for piece in _pieces(segment, distance):
            length = piece.length
            first, last = _directions(piece, length)
            over, tight = _parallel(piece, first, distance)
            out.append(Cell(piece, over, s, s + length, first, last, tight))
            s += length
    return out


def square(along: Points, distance: float) -> Points:
    """The step from a course that travels along unit vectors (..., 2) to its parallel."""
    step: Points = distance * np.stack([-along[..., 1], along[..., 0]], axis=-1)
    return step


def _pieces(segment: Segment, distance: float) -> Iterator[Segment]:
    if isinstance(segment, Line):
        yield segment
    elif isinstance(segment, Arc):
        n = max(1, math.ceil(abs(segment.sweep) / MOST_TURN - 1e-9))
        for k in range(n):
            yield Arc(segment.centre, segment.radius, segment.start_angle + segment.sweep * k / n, segment.sweep / n)
    else:
        cuts = [0.0, *_inflections(segment), 1.0]
        for a, b in itertools.pairwise(cuts):
            part = segment if (a, b) == (0.0, 1.0) else segment.part(a, b)
            n = _needed(part, distance)
            yield from (part.part(k / n, (k + 1) / n) if n > 1 else part for k in range(n))


def _inflections(curve: Bezier) -> list[float]:
    """Parameters between 0 and 1 where B' x B'' changes sign: it is a quadratic, known from three places."""
    u = np.array([0.0, 0.5, 1.0])
    d = curve.derivative(u)
    bend = curve.curvature(u) * np.hypot(d[:, 0], d[:, 1]) ** 3
    first, middle, last = bend.tolist()
    roots = np.roots([2 * (first - 2 * middle + last), 4 * middle - 3 * first - last, first])
    inside = {float(r.real) for r in roots if abs(r.imag) < 1e-9 and 1e-6 < r.real < 1 - 1e-6}
    return sorted(inside)


def _needed(curve: Bezier, distance: float) -> int:
    """Into how many even parts a Bézier is cut so that cubics stand for their parallels."""
    n = 1
    while n < _MOST_PIECES:
        edges = np.arange(n + 1) / n
        ends, speeds = _carried(curve, edges, distance)
        inner = (edges[:-1, None] + np.array([0.25, 0.5, 0.75]) / n).ravel()
        true, _ = _carried(curve, inner, distance)
        v = np.array([0.25, 0.5, 0.75])[None, :, None]
        a, b, da, db = (x[:, None] for x in (ends[:-1], ends[1:], speeds[:-1] / n, speeds[1:] / n))
        near = (
            (1 + 2 * v) * (1 - v) ** 2 * a + v * (1 - v) ** 2 * da + v * v * (3 - 2 * v) * b - v * v * (1 - v) * db
        ).reshape(-1, 2)
        along = curve.tangent(edges)
        turned = (along[:-1] * along[1:]).sum(axis=1).min()
        aside = ((near - true) * square(curve.tangent(inner), 1.0)).sum(axis=1)
        if np.abs(aside).max() <= PARALLEL_ERROR and turned >= _STEADY:
            break
        n *= 2
    return n


def _carried(curve: Bezier, t: Floats, distance: float) -> tuple[Points, Points]:
    """Points and derivatives of the true parallel at t: p + d·n and p'·(1 - κd)."""
    p = curve.point(t) + square(curve.tangent(t), distance)
    return p, curve.derivative(t) * (1 - curve.curvature(t) * distance)[:, None]


def _directions(piece: Segment, length: float) -> tuple[Point, Point]:
    if isinstance(piece, Line):
        (ax, ay), (bx, by) = piece.start, piece.end
        along = (bx - ax) / length, (by - ay) / length
        return along, along
    first, last = piece.tangent(np.array([0.0, 1.0]))
    return pair(first), pair(last)


def _parallel(piece: Segment, first: Point, distance: float) -> tuple[Segment | None, bool]:
    if isinstance(piece, Line):
        (ax, ay), (bx, by), (tx, ty) = piece.start, piece.end, first
        dx, dy = -distance * ty, distance * tx
        return Line((ax + dx, ay + dy), (bx + dx, by + dy)), False
    if isinstance(piece, Arc):
        radius = piece.radius - math.copysign(distance, piece.sweep * distance)
        tight = radius <= MEETING
        angle = piece.start_angle + (180.0 if radius < 0 else 0.0)
        return (Arc(piece.centre, abs(radius), angle, piece.sweep) if abs(radius) > MEETING else None), tight
    ends, speeds = _carried(piece, np.array([0.0, 1.0]), distance)
    tight = bool((1 - piece.curvature(_CHECKED) * distance).min() <= 0)
    handles = ends + np.array([[1.0], [-1.0]]) / 3 * speeds
    over = Bezier(pair(ends[0]), pair(handles[0]), pair(handles[1]), pair(ends[1]))
    return (over if over.length > MEETING else None), tight


def pair(p: Points) -> Point:
    """A point (2,) as two numbers."""
    x, y = p.tolist()
    return float(x), float(y)
