"""How far stitching will land from its place, and in which direction, to first order.

A hooping is brought to its crosses by a turn and a shift found by least squares. Where cross i errs by e_i, a point x
of the hooping errs by the sum of L_i(x) e_i (`influence`), so covariances of the crosses carry over to points, and
errors that two hoopings share cancel as far as they move both alike. Crosses may err unequally, and more in one
direction than in another. Errors are small against the distance between the crosses. Arrays hold mm and mm2 on the
panel's axes.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from festoon.plane.pose import Points
from festoon.registration.model import PlacingModel
from festoon.registration.predict import lever

Matrices = NDArray[np.float64]
"""Matrices of shape (..., 2, 2)."""

SPREAD_OF_DRAW = 0.5
"""Share of the draw-in that is taken as its standard deviation (common practice)."""


def round_covariance(rms: float) -> Matrices:
    """(2, 2) mm2 of an error alike in all directions whose distance has this root mean square, mm."""
    return rms**2 / 2.0 * np.eye(2)


def influence(marks: ArrayLike, targets: ArrayLike) -> Matrices:
    """(n, k, 2, 2): by which matrix an error of each of marks (k, 2) moves each of targets (n, 2).

    With J(p) = [I | perp(p - centroid)] it is J(x) A J(m_i)^T, A = (sum of J(m_i)^T J(m_i))^-1, which comes to
    I/k + perp(x - centroid) perp(m_i - centroid)^T / (k f²), f the marks' rms distance from their centroid
    (computed). ValueError where the marks all coincide or are fewer than two.
    """
    centroid, spread, count = lever(marks)
    here, there = _perp(_points(targets) - centroid), _perp(_points(marks) - centroid)
    turned = np.einsum("na,kb->nkab", here, there) / (count * spread**2)
    return np.asarray(turned + np.eye(2) / count)


def target_covariance(marks: ArrayLike, targets: ArrayLike, covariances: ArrayLike) -> Matrices:
    """(n, 2, 2) mm2 of the error at targets (n, 2) where each of marks (k, 2) errs by its own of covariances (k, 2, 2).

    A single (2, 2) serves all marks. For errors alike in all directions
    its trace is FLE²/k · (1 + ½·d²/f²) (Fitzpatrick, West and Maurer, IEEE Transactions on Medical Imaging 17(5), 1998,
    from memory; checked by simulation).
    ValueError where the marks all coincide or are fewer than two.
    """
    moves = influence(marks, targets)
    each = np.broadcast_to(np.asarray(covariances, dtype=np.float64), (moves.shape[1], 2, 2))
    return _even(np.einsum("nkab,kbc,nkdc->nad", moves, each, moves, optimize=True))


def own_covariance(
    model: PlacingModel, centre: ArrayLike, targets: ArrayLike, direction: ArrayLike, reach: ArrayLike
) -> Matrices:
    """(n, 2, 2) mm2 of what a hooping adds of its own at targets (n, 2), whatever its marks.

    That is the model's shift, its turn about the field's middle `centre` (2,), and the draw-in: cloth at `reach` (2,)
    or (n, 2) mm from the middle of the block is drawn towards it, in proportion to the reach along and across
    `direction` (2,), a unit vector along the block's stitches.
    """
    lean = _perp(_points(targets) - np.asarray(centre, dtype=np.float64)) * math.radians(model.turn)
    along = np.asarray(direction, dtype=np.float64)
    far = np.broadcast_to(np.asarray(reach, dtype=np.float64), lean.shape)
    drawn = sum(
        _outer(SPREAD_OF_DRAW * share * (far @ way)[:, None] * way)
        for share, way in ((model.drawn_along, along), (model.drawn_across, _perp(along)))
    )
    return _even(round_covariance(model.shift) + _outer(lean) + drawn)


def stitch_covariance(
    model: PlacingModel,
    marks: ArrayLike,
    centre: ArrayLike,
    targets: ArrayLike,
    direction: ArrayLike,
    reach: ArrayLike,
) -> Matrices:
    """(n, 2, 2) mm2 of where stitching lands: the crosses' errors and `own_covariance`, which see for the arguments."""
    return target_covariance(marks, targets, round_covariance(model.cross)) + own_covariance(
        model, centre, targets, direction, reach
    )


def relative_covariance(
    first: ArrayLike, second: ArrayLike, targets: ArrayLike, drawing: ArrayLike, lining_up: ArrayLike
) -> Matrices:
    """(n, 2, 2) mm2 of how far a second hooping misses the first at targets (n, 2).

    first (k, 2) and second (l, 2) are their marks, each list without repeats; a place in both is one cross on the
    cloth. `drawing` (2, 2) is the covariance of drawing a cross, which moves both hoopings that use it, `lining_up`
    (2, 2) that of all that happens anew in each hooping. ValueError where the marks of one all coincide or are fewer
    than two.
    """
    drawn, anew = np.asarray(drawing, dtype=np.float64), np.asarray(lining_up, dtype=np.float64)
    apart = target_covariance(first, targets, drawn + anew) + target_covariance(second, targets, drawn + anew)
    i, j = np.nonzero((_points(first)[:, None] == _points(second)[None]).all(axis=-1))
    common = np.einsum("nkab,bc,nkdc->nad", influence(first, targets)[:, i], drawn, influence(second, targets)[:, j])
    return _even(apart - common - common.swapaxes(-1, -2))


def carried_covariance(chain: ArrayLike) -> Matrices:
    """(..., 2, 2) mm2 at the end of a chain (m, ..., 2, 2) of steps.

    Where a hooping is lined up on what the one before sewed or marked, its error comes on top of all errors before
    it. Steps err independently, so their covariances add up: after m equal steps the spread is √m times one step's.
    """
    return np.asarray(np.asarray(chain, dtype=np.float64).sum(axis=0))


def _points(points: ArrayLike) -> Points:
    return np.asarray(points, dtype=np.float64).reshape(-1, 2)


def _perp(vectors: Points) -> Points:
    """Vectors (..., 2) a quarter turn on: how points move when all turns about the origin."""
    return np.stack([-vectors[..., 1], vectors[..., 0]], axis=-1)


def _outer(vectors: Points) -> Matrices:
    return np.asarray(np.einsum("na,nb->nab", vectors, vectors))


def _even(matrices: Matrices) -> Matrices:
    """Freed of what rounding makes unsymmetric."""
    return np.asarray((matrices + matrices.swapaxes(-1, -2)) / 2.0)
