"""Repeats fitted to a length: the count is rounded, the width never."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from festoon.errors import PieceError
from festoon.plane.segments import Floats

Parity = Literal["any", "odd", "even"]


@dataclass(frozen=True, slots=True)
class Repeats:
    """`count` repeats of `pitch` mm that fill a length exactly.

    stretch = pitch/nominal - 1, how much wider (or, below 0, narrower) than wished. closed tells whether the last
    one meets the first.
    """

    count: int
    pitch: float
    stretch: float
    closed: bool = False

    @property
    def marks(self) -> Floats:
        """Where repeats meet, mm along the length: count + 1 places on an open line, count on a closed one."""
        return np.arange(self.count if self.closed else self.count + 1, dtype=np.float64) * self.pitch


def fit_repeats(length: float, nominal: float, parity: Parity = "any", closed: bool = False) -> Repeats:
    """Repeats of about `nominal` mm that fill `length` mm: n = round(length/nominal), pitch = length/n.

    With a parity, the nearest count of that kind; of two equally near the larger. Source: four scallop tutorials
    (round the count, never the width). PieceError where a length is not greater than nothing.
    """
    for name, value in (("length to fill", length), ("width of a repeat", nominal)):
        if not (math.isfinite(value) and value > 0):
            raise PieceError(f"The {name} is {value:g} mm.", remedy="Give a length greater than nothing.")
    wish = length / nominal
    if not math.isfinite(wish):
        raise PieceError(f"A repeat of {nominal:g} mm is too small to count.", remedy="Give a wider repeat.")
    count = {
        "any": max(1, _nearest(wish)),
        "odd": max(1, 2 * _nearest((wish - 1) / 2) + 1),
        "even": max(2, 2 * _nearest(wish / 2)),
    }[parity]
    return Repeats(count, length / count, length / count / nominal - 1, closed)


def _nearest(x: float) -> int:
    return math.floor(x + 0.5)
