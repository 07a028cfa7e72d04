"""The three pieces that paths are made of: straight lines, circular arcs and cubic Béziers.

Each knows its length and its point and tangent at a parameter t from 0 to 1, finds t for an arc length, and can be
cut, turned round and placed without loss.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from festoon.plane.pose import Points, Pose

Point = tuple[float, float]
Floats = NDArray[np.float64]

LENGTH_ERROR = 1e-12
"""Relative error allowed to the length of a Bézier, against the length of its control polygon."""
_DEEPEST = 48
"""Halvings of a Bézier's parameter while its length is summed; a cusp needs the most."""
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_STILL = 1e-12
"""A speed below this share of the control polygon's length has no direction of its own."""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line from `start` to `end`, mm."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Its length, mm."""
        return math.dist(self.start, self.end)

    def point(self, t: ArrayLike) -> Points:
        """Points of shape (..., 2) at t of any shape."""
        u = np.asarray(t, dtype=np.float64)[..., None]
        p: Points = (1 - u) * np.array(self.start) + u * np.array(self.end)
        return p

    def tangent(self, t: ArrayLike) -> Points:
        """Unit vectors of shape (..., 2) along the direction of travel."""
        along = np.subtract(self.end, self.start) / (self.length or 1.0)
        return np.broadcast_to(along, (*np.shape(t), 2)).copy()

    def curvature(self, t: ArrayLike) -> Floats:
        """None: zeros of t's shape."""
        return np.zeros(np.shape(t))

    def t_at(self, s: ArrayLike) -> Floats:
        """The parameter at arc length s, mm."""
        return np.asarray(s, dtype=np.float64) / (self.length or 1.0)

    def part(self, t0: float, t1: float) -> Line:
        """The piece from t0 to t1."""
        return Line(_pair(self.point(t0)), _pair(self.point(t1)))

    def reversed(self) -> Line:
        """The same line travelled the other way."""
        return Line(self.end, self.start)

    def placed(self, pose: Pose) -> Line:
        """The line carried by a pose."""
        return Line(pose.carry(self.start), pose.carry(self.end))

    def steps(self, tolerance: float) -> int:
        """How many chords stand for it within `tolerance` mm."""
        return 1


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc, mm and degrees: angles are measured from the x axis, positive clockwise as seen (y is down).

    It begins at centre + radius·(cos, sin)(start_angle) and goes on by `sweep`.
    """

    centre: Point
    radius: float
    start_angle: float
    sweep: float

    @property
    def start(self) -> Point:
        """Where it begins, mm."""
        return self._at(self.start_angle)

    @property
    def end(self) -> Point:
        """Where it ends, mm."""
        return self._at(self.start_angle + self.sweep)

    @property
    def length(self) -> float:
        """Its length, radius times the sweep in radians, mm."""
        return self.radius * math.radians(abs(self.sweep))

    def point(self, t: ArrayLike) -> Points:
        """Points of shape (..., 2) at t of any shape."""
        a = self._angle(t)
        p = np.empty((*a.shape, 2))
        p[..., 0] = self.centre[0] + self.radius * np.cos(a)
        p[..., 1] = self.centre[1] + self.radius * np.sin(a)
        return p

    def tangent(self, t: ArrayLike) -> Points:
        """Unit vectors of shape (..., 2) along the direction of travel."""
        a, sign = self._angle(t), math.copysign(1.0, self.sweep)
        along = np.empty((*a.shape, 2))
        along[..., 0] = -sign * np.sin(a)
        along[..., 1] = sign * np.cos(a)
        return along

    def curvature(self, t: ArrayLike) -> Floats:
        """1/radius in t's shape, 1/mm; above 0 where it turns to the right, clockwise as seen."""
        return np.full(np.shape(t), math.copysign(1.0, self.sweep) / self.radius)

    def t_at(self, s: ArrayLike) -> Floats:
        """The parameter at arc length s, mm."""
        return np.asarray(s, dtype=np.float64) / (self.length or 1.0)

    def part(self, t0: float, t1: float) -> Arc:
        """The piece from t0 to t1."""
        return Arc(self.centre, self.radius, self.start_angle + t0 * self.sweep, (t1 - t0) * self.sweep)

    def reversed(self) -> Arc:
        """The same arc travelled the other way."""
        return Arc(self.centre, self.radius, self.start_angle + self.sweep, -self.sweep)

    def placed(self, pose: Pose) -> Arc:
        """The arc carried by a pose; a mirroring turns its sweep round."""
        start = 180.0 - self.start_angle if pose.mirrored else self.start_angle
        sweep = -self.sweep if pose.mirrored else self.sweep
        return Arc(pose.carry(self.centre), self.radius, start + pose.turn, sweep)

    def steps(self, tolerance: float) -> int:
        """How many chords stand for it with a sagitta of at most `tolerance` mm: r(1 - cos(step/2))."""
        step = 2 * math.acos(max(math.cos(math.pi / 4), 1 - tolerance / self.radius))
        return max(1, math.ceil(math.radians(abs(self.sweep)) / step - 1e-9))

    def _at(self, angle: float) -> Point:
        a = math.radians(angle)
        return self.centre[0] + self.radius * math.cos(a), self.centre[1] + self.radius * math.sin(a)

    def _angle(self, t: ArrayLike) -> Floats:
        return np.radians(self.start_angle + np.asarray(t, dtype=np.float64) * self.sweep)


@dataclass(frozen=True, slots=True)
class Bezier:
    """A cubic Bézier curve with its four control points, mm."""

    p0: Point
    p1: Point
    p2: Point
    p3: Point

    @property
    def start(self) -> Point:
        """Where it begins, mm."""
        return self.p0

    @property
    def end(self) -> Point:
        """Where it ends, mm."""
        return self.p3

    @property
    def length(self) -> float:
        """Its length by Gauss quadrature on halved intervals, mm; relative error `LENGTH_ERROR`."""
        return float(_table(self)[1][-1])

    def point(self, t: ArrayLike) -> Points:
        """Points of shape (..., 2) at t of any shape."""
        u = np.asarray(t, dtype=np.float64)[..., None]
        p0, p1, p2, p3 = self._controls()
        v = 1 - u
        p: Points = v**3 * p0 + 3 * v * v * u * p1 + 3 * v * u * u * p2 + u**3 * p3
        return p

    def tangent(self, t: ArrayLike) -> Points:
        """Unit vectors of shape (..., 2) along the direction of travel, also where a control point is doubled."""
        u = np.asarray(t, dtype=np.float64)
        d = self.derivative(u)
        still = np.hypot(d[..., 0], d[..., 1]) <= _STILL * (self._polygon() or 1.0)
        if still.any():
            d = np.where(still[..., None], self._creep(u), d)
        along: Points = d / np.where(still, 1.0, np.hypot(d[..., 0], d[..., 1]))[..., None]
        return along

    def derivative(self, t: ArrayLike) -> Points:
        """d point / d t, shape (..., 2)."""
        u = np.asarray(t, dtype=np.float64)[..., None]
        p0, p1, p2, p3 = self._controls()
        v = 1 - u
        d: Points = 3 * (v * v * (p1 - p0) + 2 * v * u * (p2 - p1) + u * u * (p3 - p2))
        return d

    def curvature(self, t: ArrayLike) -> Floats:
        """(B' x B'')/|B'|³ in t's shape, 1/mm; above 0 where it turns to the right. Without bound at a cusp."""
        u = np.asarray(t, dtype=np.float64)
        d = self.derivative(u)
        p0, p1, p2, p3 = self._controls()
        second = 6 * ((1 - u)[..., None] * (p2 - 2 * p1 + p0) + u[..., None] * (p3 - 2 * p2 + p1))
        speed = np.maximum(np.hypot(d[..., 0], d[..., 1]), _STILL * (self._polygon() or 1.0))
        bend: Floats = (d[..., 0] * second[..., 1] - d[..., 1] * second[..., 0]) / speed**3
        return bend

    def t_at(self, s: ArrayLike) -> Floats:
        """The parameter at arc length s, by Newton's rule kept inside a shrinking bracket (to 1e-11 of the length)."""
        edges, sums = _table(self)
        want = np.clip(np.asarray(s, dtype=np.float64), 0.0, sums[-1])
        k = np.clip(np.searchsorted(sums, want, side="right") - 1, 0, len(edges) - 2)
        start, base = edges[k], sums[k]
        low, high = start.copy(), edges[k + 1].copy()
        span = np.maximum(sums[k + 1] - base, 1e-300)
        t = low + (high - low) * (want - base) / span
        for _ in range(60):
            miss = base + _arc(self, start, t) - want
            done = np.abs(miss) <= 1e-11 * float(sums[-1])
            if done.all():
                break
            low, high = np.where(miss < 0, t, low), np.where(miss > 0, t, high)
            d = self.derivative(t)
            step = t - miss / np.maximum(np.hypot(d[..., 0], d[..., 1]), 1e-300)
            t = np.where(done, t, np.where((step > low) & (step < high), step, (low + high) / 2))
        return t

    def part(self, t0: float, t1: float) -> Bezier:
        """The piece from t0 to t1 (blossoming, exact)."""
        return Bezier(*(_pair(self._blossom(a, b, c)) for a, b, c in _blossoms(t0, t1)))

    def reversed(self) -> Bezier:
        """The same curve travelled the other way."""
        return Bezier(self.p3, self.p2, self.p1, self.p0)

    def placed(self, pose: Pose) -> Bezier:
        """The curve carried by a pose."""
        return Bezier(*(_pair(p) for p in pose.apply(self._controls())))

    def steps(self, tolerance: float) -> int:
        """How many chords, even in t, stand for it within `tolerance` mm: √(3/4·m/tolerance), m the largest second
        difference of the control points (the bound h²/8·max|B''| for a chord of a curve)."""
        p0, p1, p2, p3 = self._controls()
        bend = max(math.hypot(*(p0 - 2 * p1 + p2)), math.hypot(*(p1 - 2 * p2 + p3)))
        return max(1, math.ceil(math.sqrt(0.75 * bend / tolerance)))

    def _controls(self) -> Points:
        return np.array([self.p0, self.p1, self.p2, self.p3], dtype=np.float64)

    def _polygon(self) -> float:
        return math.dist(self.p0, self.p1) + math.dist(self.p1, self.p2) + math.dist(self.p2, self.p3)

    def _blossom(self, a: float, b: float, c: float) -> Points:
        p = self._controls()
        for t in (a, b, c):
            p = (1 - t) * p[:-1] + t * p[1:]
        return p.reshape(2)

    def _creep(self, t: Floats) -> Points:
        """Unit directions where the curve stands still: towards the next control point that differs."""
        p = self._controls()
        ahead = _first_direction(p)
        behind = -_first_direction(p[::-1])
        inside = _unit(self.derivative(t + np.where(t < 0.5, 1e-6, -1e-6)))
        return np.where((t <= 0)[..., None], ahead, np.where((t >= 1)[..., None], behind, inside))


Segment = Line | Arc | Bezier


@functools.lru_cache(maxsize=4096)
def _table(curve: Bezier) -> tuple[Floats, Floats]:
    """Edges of parameter intervals on which 16 Gauss points suffice, and the arc length up to each."""
    edges, sums = [0.0], [0.0]
    pieces = np.array([0.0, *_slowest(curve), 1.0])
    arcs = _arc(curve, pieces[:-1], pieces[1:])
    waiting = [
        (a, b, arc, 0) for a, b, arc in zip(pieces[:-1].tolist(), pieces[1:].tolist(), arcs.tolist(), strict=True)
    ][::-1]
    allowed = LENGTH_ERROR * curve._polygon()
    while waiting:
        a, b, whole, depth = waiting.pop()
        m = (a + b) / 2
        left, right = _arc(curve, np.array([a, m]), np.array([m, b])).tolist()
        if abs(left + right - whole) <= allowed or depth >= _DEEPEST:
            edges.extend((m, b))
            sums.extend((sums[-1] + left, sums[-1] + left + right))
        else:
            waiting.extend(((m, b, right, depth + 1), (a, m, left, depth + 1)))
    return np.array(edges), np.array(sums)


def _slowest(curve: Bezier) -> list[float]:
    """Parameters where the speed may be least: at a cusp it has a kink, and quadrature across one can seem to agree."""
    p0, p1, p2, p3 = curve._controls()
    first, second = p1 - p0, p2 - p1
    square, slope = p3 - p2 - second - (second - first), 2 * (second - first)  # the derivative is a quadratic in t
    turning = [2 * square @ square, 3 * square @ slope, slope @ slope + 2 * square @ first, slope @ first]
    roots = np.roots(turning) if np.isfinite(turning).all() else np.zeros(0)
    inside = {float(r.real) for r in roots if abs(r.imag) < 1e-6 and 0.0 < r.real < 1.0}
    return sorted(inside)


def _arc(curve: Bezier, a: Floats, b: Floats) -> Floats:
    """Arc length from a to b by 16 Gauss points, for a and b of one shape."""
    half = (b - a) / 2
    t = (a + b)[..., None] / 2 + half[..., None] * _NODES
    d = curve.derivative(t)
    total: Floats = half * (np.hypot(d[..., 0], d[..., 1]) @ _WEIGHTS)
    return total


def _blossoms(t0: float, t1: float) -> tuple[tuple[float, float, float], ...]:
    return (t0, t0, t0), (t0, t0, t1), (t0, t1, t1), (t1, t1, t1)


def _first_direction(points: Points) -> Points:
    away = points[1:] - points[0]
    far = np.hypot(away[:, 0], away[:, 1])
    k = int(np.argmax(far > _STILL * (far.max() or 1.0)))
    return _unit(away[k])


def _unit(v: Points) -> Points:
    size: Floats = np.hypot(v[..., 0], v[..., 1])[..., None]
    u: Points = np.divide(v, size, out=np.zeros_like(v), where=size > 0)
    return u


def _pair(p: ArrayLike) -> Point:
    x, y = np.asarray(p, dtype=np.float64).tolist()
    return float(x), float(y)
