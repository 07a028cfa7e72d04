"""Numbers as workers write them: decimal point or comma, whole and fraction, one-character fractions, units."""

from __future__ import annotations

import difflib
import math
import re
import unicodedata
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import TypeGuard

from festoon.errors import MeasureError

LONGEST = 60
"""Characters; a longer text is no measure, and reading it could take long. Ours."""

_FRACTION = r"(?:[0-9]+[ -])?[0-9]+ ?/ ?[0-9]+"
_DECIMAL = r"[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+"
NUMBER = rf"(?:{_FRACTION}|{_DECIMAL})"
"""Pattern of one unsigned number in text from `plain`."""

_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


def plain(value: str, what: str) -> str:
    """`value` with one-character fractions opened ('1⅝' -> '1 5/8'), one kind of minus and slash, single spaces.

    `what` names the measure in the errors ('length'). Raises MeasureError where nothing is left, or too much, or the
    text says infinity.
    """
    opened = "".join(_opened(c) for c in value[: LONGEST + 1])
    text = " ".join(opened.replace("\N{FRACTION SLASH}", "/").replace("\N{MINUS SIGN}", "-").split())
    if not text:
        raise MeasureError(f"the {what} is empty.", remedy="Write it, or leave the line out.")
    if text.casefold().lstrip("+- ") in ("inf", "infinity", "nan"):
        raise _not_finite(what)
    if len(value) > LONGEST:
        raise MeasureError(f'"{value[:20]}..." is too long for the {what}.', remedy="Write one only.")
    return text


def _opened(character: str) -> str:
    if unicodedata.decomposition(character).startswith("<fraction>"):
        return " " + unicodedata.normalize("NFKC", character)
    return character


def read_number(text: str, told: str) -> Fraction:
    """The exact value of one unsigned number that fits NUMBER; `told` is the worker's text, for the errors."""
    if "/" in text:
        *whole, top, bottom = (int(n) for n in re.findall("[0-9]+", text))
        if bottom == 0:
            raise MeasureError(f'"{told}" divides by zero.', remedy="Give the fraction a number above zero below.")
        return sum(whole) + Fraction(top, bottom)
    if _THOUSANDS.fullmatch(text):
        as_whole, as_decimal = text.replace(",", ""), text.replace(",", ".")
        raise MeasureError(
            f'"{told}" can be read as {as_whole} or as {as_decimal}.', remedy=f"Write {as_whole} or {as_decimal}."
        )
    return Fraction(text.replace(",", "."))


def finite(value: float, what: str) -> float:
    """`value` as a float; MeasureError where it is infinite or no number."""
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise _not_finite(what)
    return number


def _not_finite(what: str) -> MeasureError:
    return MeasureError(f"the {what} is not a finite number.", remedy="Write it in plain digits.")


def is_number(value: object) -> TypeGuard[float]:
    """True for int and float; a bool is no number here."""
    return isinstance(value, int | float) and not isinstance(value, bool)


def unit_of(word: str, units: Mapping[str, str], accepted: str, told: str) -> str:
    """The unit that `word` names in `units` (by small letters), without regard to capitals or a full stop after it.

    Raises MeasureError that names the strange word, the nearest right one and, in `accepted`, all of them.
    """
    small = word.casefold().removesuffix(".")
    if small in units:
        return units[small]
    near = nearest(small, units)
    guess = f'Did you mean "{near}"? ' if near else ""
    raise MeasureError(f'"{word}" in "{told}" is not a unit known here.', remedy=f"{guess}The units are {accepted}.")


def nearest(word: str, words: Iterable[str]) -> str:
    """The one of `words` that looks most like `word`, one as long before others; '' where none does."""
    near = difflib.get_close_matches(word, list(words), cutoff=0.5)
    return next((w for w in near if len(w) == len(word)), near[0] if near else "")
