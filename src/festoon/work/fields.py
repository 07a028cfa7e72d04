"""Kinds of value in a piece or bench file: text or number in the worker's units, one plain value inside."""

from __future__ import annotations

import re
from pathlib import PurePosixPath, PureWindowsPath
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema

from festoon.errors import MeasureError
from festoon.measure import needle_text, parse_angle, parse_length, parse_thread

LONGEST = 100_000.0
"""mm; a longer length in a piece file is a slip of the pen (own choice)."""

MOST_SHOWN = 40
"""Characters of the worker's own text that a sentence shows (own choice)."""


class Table(BaseModel):
    """A table of a piece or bench file: unknown words are refused, values never change."""

    model_config = ConfigDict(extra="forbid", frozen=True)


def quoted(text: str) -> str:
    """Text of the worker's as it is shown in a sentence: on one line, in quotes, cut short where it is long.

    >>> quoted("linen\\nwhite")
    '"linen white"'
    """
    line = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return f'"{line}"' if len(line) <= MOST_SHOWN else f'"{line[:MOST_SHOWN]}..."'


def _told(read: Any) -> Any:
    def checked(value: Any) -> Any:
        try:
            return read(value)
        except MeasureError as error:
            raise ValueError(str(error)) from error

    return checked


def _length(value: Any) -> float:
    length = parse_length(value)
    if abs(length) > LONGEST:
        raise MeasureError(f"{value} is longer than {LONGEST / 1000:g} m.", remedy="Look at its unit.")
    return length


def _colour(value: str) -> str:
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", value):
        raise ValueError(f'{quoted(value)} is not a colour. Write it as # and six hexadecimal digits, "#66845f".')
    return value.lower()


def _own_file(value: str, folder: str, like: str) -> str:
    """A file of the piece's folder, / between folders. Raises ValueError for one elsewhere."""
    windows = PureWindowsPath(value)
    elsewhere = f'Copy it into {folder} and write "{folder}/...".'
    if windows.drive or windows.root or value.startswith("~"):
        raise ValueError(f"{quoted(value)} lies outside the piece's folder. {elsewhere}")
    if ".." in windows.parts:
        raise ValueError(f"{quoted(value)} leads out of the piece's folder. {elsewhere}")
    if not windows.name or any(ord(c) < 32 for c in value):
        raise ValueError(f'{quoted(value)} names no file. Write it as "{folder}/{like}".')
    return PurePosixPath(*windows.parts).as_posix()


def _motif_file(value: str) -> str:
    return _own_file(value, "motifs", "sprig.vp3")


def _pattern_file(value: str) -> str:
    file = _own_file(value, "patterns", "yoke.svg")
    if not file.lower().endswith(".svg"):
        raise ValueError(f'{quoted(value)} is no SVG file. Save the pattern as one: "patterns/yoke.svg".')
    return file


def _length_schema(text: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "description": text, "title": "length"})


Length = Annotated[float, BeforeValidator(_told(_length)), _length_schema("a length")]
"""mm inside; a number (mm) or text with a unit in the file."""

PositiveLength = Annotated[float, BeforeValidator(_told(_length)), Field(gt=0), _length_schema("a length above zero")]
Angle = Annotated[float, BeforeValidator(_told(parse_angle)), WithJsonSchema({"type": "string", "title": "angle"})]
"""Degrees inside, clockwise; a number (degrees) or text such as '30°' or '1/8 turn' in the file."""

Colour = Annotated[str, AfterValidator(_colour), WithJsonSchema({"type": "string", "title": "colour"})]
ThreadWeight = Annotated[
    float, BeforeValidator(_told(parse_thread)), WithJsonSchema({"type": "string", "title": "thread number"})
]
"""Tex inside; '40 wt', '120/2 den', 'tex 25', 'Nm 60' or '267 dtex' in the file."""

NeedleSize = Annotated[
    str, BeforeValidator(_told(needle_text)), WithJsonSchema({"type": "string", "title": "needle size"})
]
"""'75/11' inside; '75/11', '75' or 75 in the file."""

MotifFile = Annotated[str, AfterValidator(_motif_file), WithJsonSchema({"type": "string", "title": "motif file"})]
"""A stitch file in the piece's folder, 'motifs/sprig.vp3': never outside it, / between folders inside."""

PatternFile = Annotated[str, AfterValidator(_pattern_file), WithJsonSchema({"type": "string", "title": "pattern file"})]
"""An SVG file in the piece's folder, 'patterns/yoke.svg': never outside it."""

PartName = Annotated[str, WithJsonSchema({"type": "string", "title": "part"})]
"""A part that stands on the same panel: an element of one part, or a repeat, 'sprig-3'."""

ElementName = Annotated[str, WithJsonSchema({"type": "string", "title": "element"})]
"""An element on the same panel, with all its parts."""

LineName = Annotated[str, WithJsonSchema({"type": "string", "title": "line"})]
"""A named line of the panel, or SVG path data in mm."""

ThreadName = Annotated[str, WithJsonSchema({"type": "string", "title": "thread"})]
"""A thread of the bench."""

Spot = tuple[Length, Length]
"""x to the right and y down from the panel's left upper corner, mm inside."""
