"""Readings as the worker writes them: 'A=0.5 right 0.3 up' or 'A=0.5,-0.3', lengths in any unit."""

from __future__ import annotations

import re
from collections.abc import Sequence

from festoon.errors import FestoonError, MeasureError
from festoon.hooping import Hooping
from festoon.measure import parse_length
from festoon.truing.values import Reading
from festoon.truing.words import no_mark
from festoon.work.fields import quoted

SHAPE = 'Write it as "A=0.5 right 0.3 up", or as "A=0.5,-0.3": right and down in mm, or with a unit each.'

_SIDES = {
    "right": (0, 1.0),
    "left": (0, -1.0),
    "down": (1, 1.0),
    "below": (1, 1.0),
    "up": (1, -1.0),
    "above": (1, -1.0),
}
"""Each word's axis and sign."""

_SIDE = re.compile(rf"(?<![a-z])({'|'.join(_SIDES)})\b\s*(?:[,;]|and\b)?\s*", re.IGNORECASE)


def parse_pair(text: str) -> tuple[str, Reading]:
    """('A', (0.5, -0.3)) for 'A=0.5 right 0.3 up' and for 'A=0.5,-0.3'; mm, or with a unit each. Raises MeasureError.

    With words the order is free, and what is left out is 0. Without them it is right, then down, and a semicolon parts
    the two where decimals are written with commas.

    >>> parse_pair("a = 1/16 in above, 0.5 left"), parse_pair("B=0,5;-0,3")
    (('A', (-0.5, -1.5875)), ('B', (0.5, -0.3)))
    """
    name, _, rest = (part.strip() for part in text.partition("="))
    if not name or not rest:
        raise _no_reading(text, SHAPE)
    try:
        return name.upper(), _sided(rest, text) if _SIDE.search(rest) else _pair(rest, text)
    except FestoonError as error:
        raise error.at(f"mark {name}") from error


def _sided(rest: str, text: str) -> Reading:
    """The two from lengths that each have a word for their side."""
    *pieces, after = _SIDE.split(rest)
    if after:
        raise _no_reading(text, SHAPE)
    found: dict[int, float] = {}
    for length, word in zip(pieces[::2], pieces[1::2], strict=True):
        axis, sign = _SIDES[word.lower()]
        if axis in found:
            raise _no_reading(text, "Say once how far left or right it lies, and once how far up or down.")
        mm = parse_length(length.strip())
        if mm < 0:
            raise _no_reading(text, f'Leave out the minus: the word "{word}" says the side.')
        found[axis] = sign * mm + 0.0
    return found.get(0, 0.0), found.get(1, 0.0)


def _pair(rest: str, text: str) -> Reading:
    """The two from 'right, down'."""
    parts = rest.split(";" if ";" in rest else ",")
    if len(parts) != 2:
        commas = len(parts) == 4 and ";" not in rest
        raise _no_reading(text, 'With decimal commas, part the two by a semicolon: "A=0,5;-0,3".' if commas else SHAPE)
    right, down = (parse_length(part.strip()) for part in parts)
    return right, down


def _no_reading(text: str, remedy: str) -> MeasureError:
    return MeasureError(f"{quoted(text)} is no reading of a mark.", remedy=remedy)


def parse_readings(hooping: Hooping, read: Sequence[str], placed: Sequence[str]) -> dict[str, Reading]:
    """The readings of one hooping's marks, from how far off each was (`read`) or its place in the hoop (`placed`).

    A place is given from the middle of the field, right and down, and stands for the reading that leads there. Raises
    MeasureError for text that cannot be read or a mark given twice, HoopingError for a mark that is not there.
    """
    pairs = [(parse_pair(text), False) for text in read] + [(parse_pair(text), True) for text in placed]
    known = {m.name: hooping.field.inverse().apply(m.at) for m in hooping.marks}
    readings: dict[str, Reading] = {}
    for (name, (x, y)), is_place in pairs:
        if name in readings:
            raise MeasureError("it is given twice.", where=f"mark {name}", remedy="Give each mark once.")
        if name not in known:
            raise no_mark(hooping, name)
        u, v = known[name].tolist() if is_place else (0.0, 0.0)
        readings[name] = (x - u, y - v)
    return readings
