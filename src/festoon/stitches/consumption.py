"""Thread that a lockstitch takes, by its geometry, whoever sews it: a stitch file or the sewing machine."""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Lengths = TypeVar("Lengths", float, NDArray[np.float64])

THICKNESS = 0.3
"""mm of cloth and what lies with it, where it was not measured. Common practice."""

WASTE = 0.15
"""Share added to thread for what is lost. Source: apparel teaching pages and a thread maker's technical bulletin
'Thread consumption': 10 to 20 %."""


def sewn(length: Lengths, thickness: float = THICKNESS) -> Lengths:
    """mm of both threads together in a stitch from hole to hole `length` mm apart through `thickness` mm of cloth:
    2·(L + T), whatever the tension.

    The lockstitch's rectangle, C301 = 2 + 2·T·S (three textile calculation pages; along a slanting stitch computed).

    >>> round(sewn(2.5, 0.6) / 2.5, 2)
    2.48
    """
    return 2 * (length + thickness)
