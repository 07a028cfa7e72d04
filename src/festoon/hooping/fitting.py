"""Whether points fit the sewing field, at which turns, and where its middle may then lie.

A field of w x h mm at turn t holds points whose extents along its own two axes are at most w and h.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull, QhullError

from festoon.plane.pose import Points

FIT = 1e-6
"""mm by which points may pass the field's edge: only to absorb rounding in the arithmetic."""


@dataclass(frozen=True, slots=True)
class Turns:
    """How the hoop may lie: a list of angles (degrees), or any angle at all."""

    angles: tuple[float, ...] = (0.0,)
    free: bool = False

    def for_field(self, size: tuple[float, float]) -> Turns:
        """The same without angles that give a square or half-turned field twice."""
        period = 90.0 if size[0] == size[1] else 180.0
        return Turns(tuple(sorted({a % period for a in self.angles})), self.free)


def hull_corners(points: Points) -> Points:
    """Corners of the convex hull, (k, 2), in order round it; flat or tiny sets give their extreme points."""
    try:
        if len(points) > 2:
            return points[ConvexHull(points).vertices]
    except QhullError:
        pass
    unique = np.unique(points, axis=0)
    if len(unique) > 1:
        along = unique - unique.mean(axis=0)
        place = along @ np.linalg.svd(along, full_matrices=False)[2][0]
        return unique[[int(place.argmin()), int(place.argmax())]]
    return unique


def extents(points: Points, angles: NDArray[np.float64]) -> NDArray[np.float64]:
    """(a, 2) width and height of points (n, 2) along the axes of a field at each of `angles` (a,) degrees."""
    t = np.radians(angles)
    across = np.stack([np.cos(t), np.sin(t)], axis=1) @ points.T
    down = np.stack([-np.sin(t), np.cos(t)], axis=1) @ points.T
    return np.stack([np.ptp(across, axis=1), np.ptp(down, axis=1)], axis=1)


def fitting_angles(points: Points, size: tuple[float, float], turns: Turns) -> NDArray[np.float64]:
    """Angles (degrees) among those allowed at which the points fit, best first; empty where none does.

    For free turns every feasible angle lies in an interval whose ends are either directions of hull edges (the
    rotating calipers of the set: between two of them the width is one arch of a sinusoid) or angles at which an
    extent just equals the field; those ends and round numbers are tried, so the answer is exact: none found, none
    exists. Angles that are whole multiples of 15, 5 or 1 degree come before others, small ones first.
    """
    tried = np.array(turns.for_field(size).angles) if not turns.free else _critical_angles(points, size)
    if not len(tried):
        return tried
    fit = (extents(points, tried) <= np.array(size) + FIT).all(axis=1)
    return _plainest_first(tried[fit])


def fits(points: Points, size: tuple[float, float], turns: Turns) -> bool:
    """Whether the points fit the field at some allowed angle."""
    return len(fitting_angles(hull_corners(points), size, turns)) > 0


def _critical_angles(points: Points, size: tuple[float, float]) -> NDArray[np.float64]:
    period = 90.0 if size[0] == size[1] else 180.0
    hull = hull_corners(points)
    edges = np.roll(hull, -1, axis=0) - hull
    bearings = np.degrees(np.arctan2(edges[:, 1], edges[:, 0]))
    breaks = np.unique(np.concatenate([bearings % 90.0, (bearings + 90.0) % 90.0, [0.0]]))
    breaks = np.unique(np.concatenate([breaks, breaks + 90.0])) if period == 180.0 else breaks
    middles = (breaks + np.append(breaks[1:], period)) / 2
    just = []
    for k, limit in enumerate(size):
        d = _spans(hull, middles + 90.0 * k)
        reach = np.hypot(d[:, 0], d[:, 1])
        over = reach > limit
        lean = np.degrees(np.arctan2(d[over, 1], d[over, 0])) - 90.0 * k
        swing = np.degrees(np.arccos(np.clip(limit / reach[over], -1.0, 1.0)))
        just.extend([(lean + swing) % period, (lean - swing) % period])
    return np.unique(np.concatenate([np.arange(0.0, period, 1.0), breaks, *just]))


def _spans(hull: Points, angles: NDArray[np.float64]) -> NDArray[np.float64]:
    """(a, 2) from the hindmost to the foremost corner along each angle."""
    t = np.radians(angles)
    along = np.stack([np.cos(t), np.sin(t)], axis=1) @ hull.T
    span: NDArray[np.float64] = hull[along.argmax(axis=1)] - hull[along.argmin(axis=1)]
    return span


def _plainest_first(angles: NDArray[np.float64]) -> NDArray[np.float64]:
    rank = np.select([angles % step == 0 for step in (90.0, 15.0, 5.0, 1.0)], [0, 1, 2, 3], default=4)
    return angles[np.lexsort([angles, rank])]
