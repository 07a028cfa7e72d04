"""Lengths: millimetres inside; metric and inches with fractions in the worker's text."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal

from festoon.errors import MeasureError
from festoon.measure.number import NUMBER, finite, is_number, plain, read_number, unit_of

Units = Literal["mm", "inch"]
"""In which lengths are shown."""

MM_PER_INCH = 25.4
"""Exact: the international inch of 1959."""

_MM = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
    "yd": Fraction(9144, 10),
}
_SPELLINGS = {
    "mm": ("millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("metre", "metres", "meter", "meters"),
    "in": ("inch", "inches", '"', "″", "”", "''"),
    "ft": ("foot", "feet", "'", "′", "’"),
    "yd": ("yard", "yards"),
}
_UNITS = {word: unit for unit, words in _SPELLINGS.items() for word in (unit, *words)}
_ACCEPTED = "mm, cm, m, in, ft and yd"

_WORD = r"[^0-9\s.,/+-][^0-9\s,/+-]*"
_ONE = re.compile(rf"({NUMBER}) ?({_WORD})?")
_TWO = re.compile(rf"({NUMBER}) ?({_WORD}) ?({NUMBER}) ?({_WORD})")


def parse_length(value: object) -> float:
    """The length in mm.

    A number (int or float) is mm. Text is a number with a unit, or without one and then mm: '42', '42 mm', '4.2 cm',
    '1,5 cm', '0.5 m', '1 5/8 in', '1⅝"', '2 ft 3 in', '-3 mm'. A fraction must have its unit, since '5/8' alone
    nearly always means inches. Raises MeasureError.

    >>> parse_length('1 5/8 in'), parse_length('4,2 cm'), parse_length(-3)
    (41.275, 42.0, -3.0)
    """
    if is_number(value):
        return finite(value, "length")
    if not isinstance(value, str):
        raise _unreadable(repr(value))
    text = plain(value, "length")
    unsigned = text.lstrip("+-").lstrip()
    sign = text[: len(text) - len(unsigned)].strip()
    if len(sign) > 1:
        raise _unreadable(f'"{text}"')
    mm = _unsigned(unsigned, text)
    return finite(float(-mm if sign == "-" else mm), "length")


def _unsigned(text: str, told: str) -> Fraction:
    if one := _ONE.fullmatch(text):
        number, word = one.groups()
        if word is None and "/" in number:
            raise MeasureError(f'"{told}" has no unit.', remedy=f'Write "{told} in" for inches, or another unit.')
        return read_number(number, told) * _MM[unit_of(word or "mm", _UNITS, _ACCEPTED, told)]
    if two := _TWO.fullmatch(text):
        feet, foot_word, inches, inch_word = two.groups()
        units = [unit_of(w, _UNITS, _ACCEPTED, told) for w in (foot_word, inch_word)]
        if units == ["ft", "in"]:
            return read_number(feet, told) * _MM["ft"] + read_number(inches, told) * _MM["in"]
    raise _unreadable(f'"{told}"')


def _unreadable(told: str) -> MeasureError:
    return MeasureError(f"{told} is not a length.", remedy=f'Write it as "42 mm" or "1 5/8 in"; units are {_ACCEPTED}.')


def show_length(mm: float, system: Units = "mm", *, places: int = 1, denominator: int = 16) -> str:
    """`mm` as text: '42.5 mm' to `places` decimals, or '1 5/8 in' to the nearest 1/`denominator` inch.

    Zeros at the end of decimals are left off and fractions are in lowest terms. Ties go to the even neighbour. The
    rounding is exact, so a hair under an inch is '1 in'. Raises MeasureError where `mm` is not finite.

    >>> show_length(42.0), show_length(41.3, 'inch'), show_length(25.3999, 'inch'), show_length(-0.01)
    ('42 mm', '1 5/8 in', '1 in', '0 mm')
    """
    exact = Fraction(finite(mm, "length"))
    if system == "mm":
        steps = round(exact * 10**places)
        decimals = f"{abs(steps):0{places + 1}d}"
        whole, part = decimals[: len(decimals) - places], decimals[len(decimals) - places :].rstrip("0")
        return f"{'-' if steps < 0 else ''}{whole}{'.' if part else ''}{part} mm"
    steps = round(exact / _MM["in"] * denominator)
    whole_inches, rest = divmod(abs(steps), denominator)
    fraction = f"{Fraction(rest, denominator)}" if rest else ""
    told = " ".join(filter(None, (f"{whole_inches}" if whole_inches or not rest else "", fraction)))
    return f"{'-' if steps < 0 else ''}{told} in"


def fine(mm: float, units: Units, places: int = 1) -> str:
    """A small length: 'a few tenths' matter, so inches have three decimals.

    >>> fine(0.3, "mm"), fine(0.3, "inch"), fine(7.0, "inch")
    ('0.3 mm', '0.012 in', '0.276 in')
    """
    if units == "mm":
        return show_length(mm, places=places)
    return f"{round(mm / MM_PER_INCH, 3):.3f}".rstrip("0").rstrip(".") + " in"


def show_place(mm: float, system: Units = "mm") -> str:
    """A distance to mark from. In inches with the millimetres beside it, since a 1/32 in is coarse for a cross.

    >>> show_place(41.3), show_place(41.3, "inch")
    ('41.3 mm', '1 5/8 in (41.3 mm)')
    """
    return show_length(mm) if system == "mm" else f"{show_length(mm, 'inch', denominator=32)} ({show_length(mm)})"
