"""The move that carries marks from where they should be to where they were seen: least squares, never mirrored."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from festoon.plane.pose import Points, Pose


@dataclass(frozen=True, eq=False)
class Fit:
    """A move p -> shift + scale · R(turn) · p, and what it leaves over.

    pose: its turn and shift (never mirrored). residuals: (k, 2) mm, where each mark was seen less where the move
    carries it. scale: 1 unless it was fitted too.
    """

    pose: Pose
    residuals: NDArray[np.float64]
    scale: float = 1.0

    @property
    def square_sum(self) -> float:
        """Sum of the squared lengths of the residuals, mm²."""
        return float((self.residuals**2).sum())

    @property
    def rms(self) -> float:
        """Root mean square length of the residuals, mm."""
        return math.sqrt(self.square_sum / len(self.residuals))


def fit_rigid(at: ArrayLike, seen: ArrayLike) -> Fit:
    """The turn and shift that bring marks `at` (k, 2) nearest to where they were `seen` (k, 2), k at least 2.

    Least squares (Umeyama, IEEE Transactions on Pattern Analysis and Machine Intelligence 13(4), 1991, without its
    scale). In the plane his answer has a closed form: with both sets taken from their centroids, the turn is the angle
    whose tangent is the sum of cross products over the sum of dot products; it cannot become a mirror image, which the
    singular value decomposition has to be kept from. ValueError where the marks `at` all coincide or are fewer than
    two, or the shapes differ.
    """
    return _fit(at, seen, scaled=False)


def fit_scaled(at: ArrayLike, seen: ArrayLike) -> Fit:
    """The same with one scale for both axes found too (Umeyama 1991); ValueError as for `fit_rigid`.

    The scale is the length of (sum of dot products, sum of cross products) over the marks' sum of squares.
    """
    return _fit(at, seen, scaled=True)


def leave_one_out(at: ArrayLike, seen: ArrayLike) -> tuple[Fit, ...]:
    """`fit_rigid` without the first mark, without the second, and so on; k at least 3, else ValueError."""
    x, y = _pairs(at, seen)
    if len(x) < 3:
        raise ValueError(f"of {len(x)} marks none can be left out")
    return tuple(fit_rigid(np.delete(x, k, axis=0), np.delete(y, k, axis=0)) for k in range(len(x)))


def _fit(at: ArrayLike, seen: ArrayLike, *, scaled: bool) -> Fit:
    x, y = _pairs(at, seen)
    a, b = x - x.mean(axis=0), y - y.mean(axis=0)
    spread = float((a**2).sum())
    if math.sqrt(spread) <= 1e-9 * max(1.0, float(np.abs(x).max())):
        raise ValueError("the marks all stand on one point and cannot hold a turn")
    dot, cross = float((a * b).sum()), float((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum())
    turn = math.degrees(math.atan2(cross, dot))
    scale = math.hypot(dot, cross) / spread if scaled else 1.0
    turned = Pose(turn=turn)
    shift = y.mean(axis=0) - scale * turned.apply(x.mean(axis=0))
    return Fit(Pose(float(shift[0]), float(shift[1]), turn), y - scale * turned.apply(x) - shift, scale)


def _pairs(at: ArrayLike, seen: ArrayLike) -> tuple[Points, Points]:
    x, y = (np.asarray(p, dtype=np.float64).reshape(-1, 2) for p in (at, seen))
    if len(x) != len(y):
        raise ValueError(f"{len(x)} marks, but {len(y)} were seen")
    if len(x) < 2:
        raise ValueError(f"{len(x)} marks cannot hold a turn; two are the fewest")
    return x, y
