"""Readings as the worker writes them: 'A=0.5,-0.3', lengths in any unit."""

from __future__ import annotations

from collections.abc import Sequence

from festoon.errors import FestoonError, MeasureError
from festoon.hooping import Hooping
from festoon.measure import parse_length
from festoon.truing.values import Reading
from festoon.truing.words import no_mark
from festoon.work.fields import quoted

SHAPE = 'Write it as "A=0.5,-0.3": right and down in mm, or with a unit each ("A=1/16 in,-0.5 mm").'


def parse_pair(text: str) -> tuple[str, tuple[float, float]]:
    """('A', (0.5, -0.3)) for 'A=0.5,-0.3'; two lengths in mm, or with a unit each. Raises MeasureError.

    A semicolon parts the two where decimals are written with commas.

    >>> parse_pair("A = 1/16 in, -0.5"), parse_pair("B=0,5;-0,3")
    (('A', (1.5875, -0.5)), ('B', (0.5, -0.3)))
    """
    name, sign, rest = (part.strip() for part in text.partition("="))
    parts = rest.split(";" if ";" in rest else ",")
    if not sign or not name or len(parts) != 2:
        commas = len(parts) == 4 and ";" not in rest
        remedy = f"With decimal commas, part the two by a semicolon: {name}=0,5;-0,3." if commas else SHAPE
        raise MeasureError(f"{quoted(text)} is no reading of a mark.", remedy=remedy)
    try:
        x, y = (parse_length(part.strip()) for part in parts)
    except FestoonError as error:
        raise error.at(f"mark {name}") from error
    return name, (x, y)


def parse_readings(hooping: Hooping, read: Sequence[str], placed: Sequence[str]) -> dict[str, Reading]:
    """The readings of one hooping's marks, from how far off each was (`read`) or its place in the hoop (`placed`).

    A place is given from the middle of the field, right and down, and stands for the reading that leads there. Raises
    MeasureError for text that cannot be read or a mark given twice, HoopingError for a place of a mark that is not there.
    """
    pairs = [(parse_pair(text), False) for text in read] + [(parse_pair(text), True) for text in placed]
    known = {m.name: hooping.field.inverse().apply(m.at) for m in hooping.marks}
    readings: dict[str, Reading] = {}
    for (name, (x, y)), is_place in pairs:
        if name in readings:
            raise MeasureError("it is given twice.", where=f"mark {name}", remedy="Give each mark once.")
        if is_place and name not in known:
            raise no_mark(hooping, name)
        u, v = known[name].tolist() if is_place else (0.0, 0.0)
        readings[name] = (x - u, y - v)
    return readings
