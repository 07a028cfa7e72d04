"""How far one cross errs by the rules of thumb, how far apart crosses stand, and what radius holds a known spread."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike
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


def covariance_radius(covariance: ArrayLike, confidence: float = CONFIDENCE) -> float:
    """Radius, mm, that holds a normal error of this covariance (2, 2) mm2 with probability `confidence`.

    Turned to its own axes it is two independent normals (for crosses alike, one along the line from their centroid and
    one across it: Fitzpatrick and West, IEEE Transactions on Medical Imaging 20(9), 2001), so its length follows a Hoyt
    distribution, inverted here exactly. ValueError for a confidence not between 0 and 1.
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
