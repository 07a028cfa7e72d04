"""Angles: degrees inside, clockwise; degrees or turns in the worker's text."""

from __future__ import annotations

import re
from fractions import Fraction

from festoon.errors import MeasureError
from festoon.measure.number import NUMBER, finite, is_number, plain, read_number, unit_of

_DEGREES = {"deg": Fraction(1), "turn": Fraction(360)}
_SPELLINGS = {"deg": ("°", "º", "degree", "degrees", "degs"), "turn": ("turns",)}
_UNITS = {word: unit for unit, words in _SPELLINGS.items() for word in (unit, *words)}
_ACCEPTED = "° (or deg) and turn"
_ANGLE = re.compile(rf"([+-]?) ?({NUMBER}) ?([^0-9\s.,/+-]\S*)?")


def parse_angle(value: object) -> float:
    """The angle in degrees, as it was written: 450 stays 450.

    A number is degrees. Text is '30', '30°', '30 deg' or '1/8 turn'; a fraction must have its unit. Raises
    MeasureError.

    >>> parse_angle('1/8 turn'), parse_angle('-30°')
    (45.0, -30.0)
    """
    if is_number(value):
        return finite(value, "angle")
    if not isinstance(value, str):
        raise _unreadable(repr(value))
    text = plain(value, "angle")
    match = _ANGLE.fullmatch(text)
    if match is None:
        raise _unreadable(f'"{text}"')
    sign, number, word = match.groups()
    if word is None and "/" in number:
        raise MeasureError(f'"{text}" has no unit.', remedy=f'Write "{text} turn" or "{text} deg".')
    degrees = read_number(number, text) * _DEGREES[unit_of(word or "deg", _UNITS, _ACCEPTED, text)]
    return finite(float(-degrees if sign == "-" else degrees), "angle")


def _unreadable(told: str) -> MeasureError:
    return MeasureError(f"{told} is not an angle.", remedy='Write it as "30°", "30 deg" or "1/8 turn".')


def normal_turn(angle: float) -> float:
    """The same turn between 0 (with it) and 360 degrees (without it). Raises MeasureError where it is not finite.

    >>> normal_turn(-90), normal_turn(720)
    (270.0, 0.0)
    """
    turn = finite(angle, "angle") % 360.0
    return 0.0 if turn == 360.0 else turn  # a hair below nothing comes out of % as 360 itself
