"""Where a thing lies on a flat cloth: a rigid pose in the plane, mirrored or not."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Points = NDArray[np.float64]
"""An array of shape (n, 2), millimetres, x to the right and y down."""


@dataclass(frozen=True, slots=True)
class Pose:
    """A rigid pose: p -> (x, y) + R(turn) · M · p, with M = diag(-1, 1) if mirrored.

    `turn` is in degrees, clockwise as seen, because y points down. Mirroring happens first, in the thing's own
    left and right.

    >>> Pose(10, 0, 90).apply([[1, 0]]).round(9).tolist()
    [[10.0, 1.0]]
    """

    x: float = 0.0
    y: float = 0.0
    turn: float = 0.0
    mirrored: bool = False

    @property
    def matrix(self) -> NDArray[np.float64]:
        """The linear part, shape (2, 2): exact at whole quarter turns."""
        c, s = _cos_sin(self.turn)
        m = -1.0 if self.mirrored else 1.0
        return np.array([[c * m, -s], [s * m, c]])

    @property
    def shift(self) -> NDArray[np.float64]:
        """The place of the thing's origin, shape (2,), mm."""
        return np.array([self.x, self.y])

    def apply(self, points: ArrayLike) -> Points:
        """Carry points of shape (..., 2) from the thing's own axes to the cloth's."""
        p = np.asarray(points, dtype=np.float64)
        return p @ self.matrix.T + self.shift

    def carry(self, point: tuple[float, float]) -> tuple[float, float]:
        """The same for one point, many times as quickly."""
        c, s = _cos_sin(self.turn)
        x, y = (-point[0] if self.mirrored else point[0]), point[1]
        return self.x + c * x - s * y, self.y + s * x + c * y

    def after(self, first: Pose) -> Pose:
        """The pose that applies `first` and then this one."""
        x, y = self.carry((first.x, first.y))
        sign = -1.0 if self.mirrored else 1.0
        return Pose(x, y, self.turn + sign * first.turn, self.mirrored != first.mirrored)

    def inverse(self) -> Pose:
        """The pose that undoes this one."""
        turn = self.turn if self.mirrored else -self.turn
        back = Pose(0.0, 0.0, turn, self.mirrored)
        x, y = back.carry((-self.x, -self.y))
        return Pose(x, y, turn, self.mirrored)

    @property
    def affine(self) -> list[float]:
        """[a, b, d, e, xoff, yoff] as Shapely's affine_transform wants it."""
        m = self.matrix
        return [float(m[0, 0]), float(m[0, 1]), float(m[1, 0]), float(m[1, 1]), self.x, self.y]


def _cos_sin(turn: float) -> tuple[float, float]:
    quarter = turn / 90.0
    if quarter == round(quarter):
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarter) % 4]
    angle = math.radians(turn)
    return math.cos(angle), math.sin(angle)
