"""Puffing between two lines: the cloth that it fills, and how full each of its edges gets."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from shapely import Geometry, LineString, MultiPolygon, Polygon, make_valid, union_all

from festoon.plane import Path

FINE = 0.01
"""mm, how far the outline of puffed cloth may lie from its lines."""

LOOKED_AT = 33
"""Places at which the two lines' distance is looked at (own choice)."""


@dataclass(frozen=True, eq=False)
class Puffed:
    """Cloth gathered between two lines travelled the same way, mm. closes: whether their ends meet their beginnings."""

    upper: Path
    lower: Path
    closes: bool

    @property
    def middle(self) -> float:
        """Length halfway between the two lines: exact for straight and ring-shaped puffing (geometry)."""
        return (self.upper.length + self.lower.length) / 2

    @property
    def shorter(self) -> float:
        """The shorter line's length."""
        return min(self.upper.length, self.lower.length)

    @property
    def longer(self) -> float:
        """The longer line's length."""
        return max(self.upper.length, self.lower.length)

    @property
    def crossed(self) -> bool:
        """Whether the two lines meet anywhere but at their ends, so that nothing lies between them there."""
        a, b = (LineString(line.flatten(FINE)) for line in (self.upper, self.lower))
        return bool(a.crosses(b) or a.overlaps(b) or a.equals(b))

    @property
    def region(self) -> Geometry:
        """What lies between the two lines."""
        a, b = self.upper.flatten(FINE), self.lower.flatten(FINE)
        if self.upper.closed and self.lower.closed:
            return _surfaces(make_valid(Polygon(a)).symmetric_difference(make_valid(Polygon(b))))
        return _surfaces(make_valid(Polygon(np.concatenate([a, b[::-1]]))))

    @property
    def width(self) -> float:
        """The greatest distance between the two lines, at like shares of both, mm."""
        shares = np.linspace(0.0, 1.0, LOOKED_AT)
        apart = self.lower.points(shares * self.lower.length) - self.upper.points(shares * self.upper.length)
        return float(np.hypot(apart[:, 0], apart[:, 1]).max())


def between(upper: Path, lower: Path, closes: bool) -> Puffed:
    """Puffing between two lines; the lower is turned about where it runs the other way."""
    if not (upper.closed and lower.closed):
        same = math.dist(upper.start, lower.start) + math.dist(upper.end, lower.end)
        crossed = math.dist(upper.start, lower.end) + math.dist(upper.end, lower.start)
        turn = crossed < same
    else:
        turn = _clockwise(upper) != _clockwise(lower)
    return Puffed(upper, lower.reversed() if turn else lower, closes)


def _clockwise(ring: Path) -> bool:
    x, y = ring.flatten(FINE).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) > 0


def _surfaces(shape: Geometry) -> Geometry:
    """The surfaces of a shape, without its lines and points."""
    if isinstance(shape, Polygon | MultiPolygon):
        return shape
    return union_all([g for g in getattr(shape, "geoms", ()) if isinstance(g, Polygon | MultiPolygon)])
