"""Figures that are shown rounded up, so that none promises more than was reckoned."""

from __future__ import annotations

import math
from fractions import Fraction

from festoon.measure.length import Units

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


def show_bought(mm: float, system: Units = "mm") -> str:
    """A length to buy or cut, rounded up: whole mm below a metre, inches to an eighth below a yard, then metres as
    `show_metres` has them, or yards to an eighth (shops sell by the eighth of a yard; common practice) and from ten on
    whole ones.

    >>> show_bought(419.2), show_bought(1134), show_bought(419.2, "inch"), show_bought(1134, "inch")
    ('420 mm', '1.2 m', '16 5/8 in', '1 1/4 yd')
    """
    if system == "mm":
        return f"{math.ceil(mm - ROUNDING)} mm" if mm < 1000 else show_metres(mm / 1000)
    inches = mm / 25.4
    if inches < 36:
        return f"{_eighths_up(inches)} in"
    yards = inches / 36
    return f"{_eighths_up(yards)} yd" if yards < 10 else f"{math.ceil(yards - ROUNDING)} yd"


def _eighths_up(number: float) -> str:
    whole, eighths = divmod(math.ceil(number * 8 - ROUNDING), 8)
    return " ".join(
        filter(None, (f"{whole}" if whole or not eighths else "", f"{Fraction(eighths, 8)}" if eighths else ""))
    )


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
