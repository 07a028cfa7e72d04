"""How far a stitch will land from its place, foretold from where the crosses stand.

The crosses are brought to their places by a turn and a shift found by least squares. Every cross errs alike and
equally in all directions, by `fle` (the root mean square of its distance from where it should be); what follows holds
to first order, for errors much smaller than the distance between the crosses.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import brentq
from scipy.special import chndtr, ndtri

from festoon.plane.pose import Points

CONFIDENCE = 0.95
"""Share of hoopings that the radius holds unless asked otherwise (common practice)."""


THIN = 1e-4
"""Share of the wider spread below which the narrower adds nothing to a radius that could be told (computed)."""

MARKING = 0.5
"""mm rms, drawing a cross from a template (common practice; measure your own)."""

READING = 0.4
"""mm rms, setting the needle over a cross (common practice; measure your own)."""

SEATING = 0.2
"""mm rms, the hoop's seat in its carrier (common practice: 0.1 to 0.2)."""


def fiducial_error(marking: float, reading: float, seating: float) -> float:
    """Rms error of one cross, mm: drawing it, setting the needle over it, and the hoop's seat, all rms in mm.

    Independent errors add by their squares (computed: 0.5, 0.4 and 0.2 give 0.671). ValueError below zero.
    """
    if min(marking, reading, seating) < 0:
        raise ValueError(f"errors below zero: {marking}, {reading}, {seating}")
    return math.hypot(marking, reading, seating)


def target_error(marks: ArrayLike, targets: ArrayLike, fle: float) -> NDArray[np.float64]:
    """Rms error (n,), mm, at each of targets (n, D) when marks (k, D) hold a thing; D is 2 or 3, k at least D.

    TRE² = FLE²/k · (1 + 1/D · the sum of d²/f²), with one term for each axis about which the thing can turn, where d
    is the target's distance from that axis and f the marks' rms distance from it. In space these are the marks' three
    principal axes; in the plane only the one that stands upright on the marks' centroid. FLE is a cross's rms error in
    all D directions together. Source: Fitzpatrick, West and Maurer, IEEE Transactions on Medical Imaging 17(5), 1998
    (from memory; checked by simulation in both dimensions). ValueError where the marks all coincide, in space where
    they lie on one line, or where they are fewer than two.
    """
    centroid, spread, count = lever(marks)
    around = np.asarray(marks, dtype=np.float64).reshape(count, -1) - centroid
    dimensions = around.shape[1]
    out = np.asarray(targets, dtype=np.float64).reshape(-1, dimensions) - centroid
    if dimensions == 2:
        turning = np.einsum("ij,ij->i", out, out) / spread**2
    else:
        squares, axes = np.linalg.eigh(around.T @ around / count)
        levers = squares.sum() - squares
        if levers.min() <= 1e-12 * squares.sum():
            raise ValueError("the marks all stand on one line and cannot hold a turn")
        turning = ((out @ axes) ** 2 @ (1.0 - np.eye(dimensions)) / levers).sum(axis=1)
    error: NDArray[np.float64] = fle * np.sqrt((1.0 + turning / dimensions) / count)
    return error


def rotation_error(marks: ArrayLike, fle: float) -> float:
    """Standard deviation of the hooping's turn, degrees: (FLE/√2)/(f·√k) radians (computed).

    marks (k, 2) mm. ValueError where the marks all coincide or are fewer than two.
    """
    _, spread, count = lever(marks)
    return math.degrees(fle / math.sqrt(2.0 * count) / spread)


def expected_radius(marks: ArrayLike, target: ArrayLike, fle: float, confidence: float = CONFIDENCE) -> float:
    """Radius, mm, that holds the error at target (2,) with probability `confidence`.

    The error is two independent normals, s/√k along the line from the marks' centroid and s/√k·√(1 + d²/f²) across
    it, s = FLE/√2 (Fitzpatrick and West, IEEE Transactions on Medical Imaging 20(9), 2001), so its length follows a
    Hoyt distribution, inverted here exactly. ValueError for degenerate marks or a confidence not between 0 and 1.
    """
    centroid, spread, count = lever(marks)
    distance = float(np.hypot(*(np.asarray(target, dtype=np.float64) - centroid)))
    along = fle / math.sqrt(2.0 * count)
    return _radius(along, along * math.hypot(1.0, distance / spread), confidence)


def covariance_radius(covariance: ArrayLike, confidence: float = CONFIDENCE) -> float:
    """Radius, mm, that holds a normal error of this covariance (2, 2) mm2 with probability `confidence`.

    Turned to its own axes it is two independent normals, so its length follows a Hoyt distribution as for
    `expected_radius`. ValueError for a confidence not between 0 and 1.
    """
    narrow, wide = np.sqrt(np.maximum(np.linalg.eigvalsh(np.asarray(covariance, dtype=np.float64)), 0.0)).tolist()
    return _radius(narrow, wide, confidence)


def _radius(narrow: float, wide: float, confidence: float) -> float:
    """Radius that holds two independent normals of these standard deviations with probability `confidence`."""
    if not 0.0 < confidence < 1.0:
        raise ValueError(f"a confidence lies between 0 and 1, not at {confidence}")
    if wide == 0.0:
        return 0.0
    if narrow <= THIN * wide:
        return wide * float(ndtri((1.0 + confidence) / 2.0))
    highest = wide * math.sqrt(-2.0 * math.log1p(-confidence))  # were both as wide as the wider
    return float(brentq(lambda r: _held(r, narrow, wide) - confidence, 0.0, highest * (1.0 + 1e-9), xtol=1e-12))


def _held(radius: float, narrow: float, wide: float) -> float:
    """Probability that two independent normals of these standard deviations fall within `radius`.

    Q(a, b) - Q(b, a) with Marcum's Q of order one, one less the non-central chi-square of two degrees
    of freedom (Paris, 'Nakagami-q (Hoyt) distribution function', Electronics Letters 45(4), 2009, from memory; checked
    by numerical integration).
    """
    a = radius / 2.0 * (1.0 / narrow + 1.0 / wide)
    b = radius / 2.0 * (1.0 / narrow - 1.0 / wide)
    return float(chndtr(a * a, 2.0, b * b) - chndtr(b * b, 2.0, a * a))


def lever(marks: ArrayLike) -> tuple[Points, float, int]:
    """The centroid (D,) of marks (k, D), their rms distance from it, and how many they are."""
    p = np.asarray(marks, dtype=np.float64)
    p = p if p.ndim == 2 else p.reshape(-1, 2)
    if len(p) < 2:
        raise ValueError(f"{len(p)} marks cannot hold a turn; two are the fewest")
    centroid = p.mean(axis=0)
    spread = float(np.sqrt(((p - centroid) ** 2).sum(axis=1).mean()))
    if spread <= 1e-9 * max(1.0, float(np.abs(p).max())):
        raise ValueError("the marks all stand on one point and cannot hold a turn")
    return centroid, spread, len(p)
