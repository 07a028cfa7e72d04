"""Kinds of value in a piece or bench file: text or number in the worker's units, one plain value inside."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema

from festoon.errors import MeasureError
from festoon.measure import needle_text, parse_angle, parse_length, parse_thread


class Table(BaseModel):
    """A table of a piece or bench file: unknown words are refused, values never change."""

    model_config = ConfigDict(extra="forbid", frozen=True)


def _told(read: Any) -> Any:
    def checked(value: Any) -> Any:
        try:
            return read(value)
        except MeasureError as error:
            raise ValueError(str(error)) from error

    return checked


def _colour(value: str) -> str:
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", value):
        raise ValueError(f'"{value}" is not a colour. Write it as # and six hexadecimal digits, "#66845f".')
    return value.lower()


def _length_schema(text: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "description": text, "title": "length"})


Length = Annotated[float, BeforeValidator(_told(parse_length)), _length_schema("a length")]
"""mm inside; a number (mm) or text with a unit in the file."""

PositiveLength = Annotated[
    float, BeforeValidator(_told(parse_length)), Field(gt=0), _length_schema("a length above zero")
]
Angle = Annotated[float, BeforeValidator(_told(parse_angle)), WithJsonSchema({"type": "string", "title": "angle"})]
"""Degrees inside, clockwise; a number (degrees) or text such as '30°' or '1/8 turn' in the file."""

Colour = Annotated[str, AfterValidator(_colour)]
ThreadWeight = Annotated[
    float, BeforeValidator(_told(parse_thread)), WithJsonSchema({"type": "string", "title": "thread number"})
]
"""Tex inside; '40 wt', '120/2 den', 'tex 25', 'Nm 60' or '267 dtex' in the file."""

NeedleSize = Annotated[str, BeforeValidator(_told(needle_text))]
"""'75/11' inside; '75/11', '75' or 75 in the file."""

Spot = tuple[Length, Length]
"""x to the right and y down from the panel's left upper corner, mm inside."""
