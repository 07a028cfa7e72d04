"""Figures that are shown rounded up, so that none promises more than was reckoned."""

from __future__ import annotations

import math

ROUNDING = 1e-9
"""What a sum of floats may come out too high by without being rounded up for it (computed)."""


def tenths_up(number: float) -> float:
    """The number rounded up to a tenth.

    >>> tenths_up(0.61), tenths_up(0.6)
    (0.7, 0.6)
    """
    return math.ceil(number * 10 - ROUNDING) / 10


def show_metres(metres: float) -> str:
    """Metres to buy: up to a tenth below ten, and to a whole one above.

    >>> show_metres(0.31), show_metres(9.0), show_metres(42.2)
    ('0.4 m', '9 m', '43 m')
    """
    return f"{tenths_up(metres):g} m" if metres < 10 else f"{math.ceil(metres - ROUNDING)} m"


def show_minutes(minutes: float) -> str:
    """Minutes rounded up, with hours from an hour on.

    >>> show_minutes(14.2), show_minutes(60), show_minutes(95)
    ('15 minutes', '1 h', '1 h 35 min')
    """
    whole = math.ceil(minutes - ROUNDING)
    if whole < 60:
        return "1 minute" if whole == 1 else f"{whole} minutes"
    hours, rest = divmod(whole, 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"
