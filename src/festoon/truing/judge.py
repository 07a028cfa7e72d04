"""Whether readings agree with each other: a stretch of the cloth, a misread mark, or neither.

Every cross errs alike, by a normal error of standard deviation s = FLE/√2 along each axis. Then the residuals' sum of
squares over s² follows, to first order, a chi-square distribution with as many degrees of freedom as readings less
what was fitted: 2k - 3 for a rigid move of k marks (so that its mean square is (1 - 3/(2k)) FLE²: Sibson 1979, from
memory; checked by simulation), 2k - 4 with a scale, 2k - 5 with one mark left out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from numpy.typing import ArrayLike
from scipy.special import chdtrc

from festoon.registration import Fit, fit_rigid, fit_scaled, leave_one_out

DOUBT = 0.01
"""Share of sound readings that may be called unsound by each question (common practice)."""

STRETCH_MOST = 0.03
"""A change of scale beyond this is no stretch of cloth in a hoop, which comes to 0.3 to 1 % (common practice)."""

FINEST = 0.1 / math.sqrt(6.0)
"""mm rms of a reading told to a tenth of a millimetre: no assumed error may be finer (computed)."""

STRETCH_FREES, MARK_FREES = 1, 2
"""Numbers that a stretch, and a mark left out, add to the fit."""


@dataclass(frozen=True, eq=False)
class Judgement:
    """What the readings say of each other.

    rigid and scaled: the two fits. stretched: the scale differs from 1 by more than the readings' error explains, and
    explains what else would not agree. suspects: indices of the marks of which any one, left out, lets the others
    agree. agree: whether the readings agree as they stand, or with the stretch.
    """

    rigid: Fit
    scaled: Fit
    stretched: bool
    suspects: tuple[int, ...]
    agree: bool


def judge(at: ArrayLike, seen: ArrayLike, fle: float) -> Judgement:
    """Judge marks `at` (k, 2) seen at `seen` (k, 2), k at least 2, each erring by `fle` mm rms.

    Of a stretch and a misread mark that explain the readings alike, the one that takes fewer numbers to explain them is
    believed (Akaike's criterion). By two marks all that is left over is how far apart they lie.
    """
    rigid, scaled = fit_rigid(at, seen), fit_scaled(at, seen)
    k = len(rigid.residuals)
    free = 2 * k - 3
    variance = max(fle, FINEST) ** 2 / 2.0
    whole, with_scale = rigid.square_sum / variance, scaled.square_sum / variance
    odd_scale = _doubtful(whole - with_scale, STRETCH_FREES)
    if not odd_scale and not _doubtful(whole, free):
        return Judgement(rigid, scaled, False, (), True)
    stretch = odd_scale and abs(scaled.scale - 1.0) <= STRETCH_MOST
    if k == 2:
        return Judgement(rigid, scaled, stretch, (), stretch)
    stretch = stretch and not _doubtful(with_scale, free - STRETCH_FREES)
    without = [fit.square_sum / variance for fit in leave_one_out(at, seen)]
    suspects = tuple(
        n for n, w in enumerate(without) if not _doubtful(w, free - MARK_FREES) and _doubtful(whole - w, MARK_FREES)
    )
    if stretch and (not suspects or with_scale + 2 * STRETCH_FREES <= min(without) + 2 * MARK_FREES):
        return Judgement(rigid, scaled, True, (), True)
    return Judgement(rigid, scaled, False, suspects, False)


def _doubtful(squares: float, free: int) -> bool:
    """Whether chance brings a chi-square this large less often than DOUBT."""
    return bool(chdtrc(free, max(0.0, squares)) < DOUBT)
