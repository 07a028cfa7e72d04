"""What may stand at a place of a piece or bench file, in plain words, read off the models."""

from __future__ import annotations

import types
from collections.abc import Iterator
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, WithJsonSchema
from pydantic.fields import FieldInfo

from festoon.piece.near import listed

_NOUNS = {
    "length": ("a length", "lengths", " mm"),
    "angle": ("an angle", "angles", "°"),
    "thread number": ("a thread number", "thread numbers", ""),
    "needle size": ("a needle size", "needle sizes", ""),
    "colour": ("a colour", "colours", ""),
    "motif file": ("a file of the piece's folder in quotes", "files of the piece's folder in quotes", ""),
    "pattern file": ("an SVG file of the piece's folder in quotes", "SVG files of the piece's folder in quotes", ""),
    "part": ("text in quotes", "texts in quotes", ""),
    "element": ("text in quotes", "texts in quotes", ""),
    "line": ("text in quotes", "texts in quotes", ""),
    "thread": ("text in quotes", "texts in quotes", ""),
    bool: ("true or false", "values true or false", ""),
    int: ("a whole number", "whole numbers", ""),
    float: ("a number", "numbers", ""),
    str: ("text in quotes", "texts in quotes", ""),
}
"""One of a kind, several, and the unit of its bounds."""

_COUNTS = {2: "two", 3: "three", 4: "four"}


def field_type(field: FieldInfo) -> Any:
    """A field's type with everything that its own Field says of it."""
    return Annotated[field.annotation, *field.metadata] if field.metadata else field.annotation


def words_of(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """Every word that a table may have, in the order of its model."""
    return {field.alias or name: field for name, field in model.model_fields.items()}


def bare(kind: Any) -> tuple[Any, tuple[Any, ...]]:
    """A type without its remarks, and the remarks."""
    remarks: list[Any] = []
    while get_origin(kind) is Annotated:
        kind, *more = get_args(kind)
        for remark in more:
            remarks.extend(remark.metadata if isinstance(remark, FieldInfo) else [remark])
    return kind, tuple(remarks)


def branches(kind: Any) -> tuple[Any, ...]:
    """The types of which any may stand there; None left out."""
    kind, remarks = bare(kind)
    members = [m for m in get_args(kind) if m is not type(None)] if _is_union(kind) else None
    if members is None:
        return (Annotated[kind, *remarks] if remarks else kind,)
    own = remarks if len(members) == 1 else ()
    return tuple(b for member in members for b in branches(Annotated[member, *own] if own else member))


def _is_union(kind: Any) -> bool:
    return get_origin(kind) in (Union, types.UnionType)


def model_of(kind: Any) -> type[BaseModel] | None:
    """The table's model, where a table is what may stand there."""
    kind = bare(kind)[0]
    return kind if isinstance(kind, type) and issubclass(kind, BaseModel) else None


def item_of(kind: Any) -> Any:
    """The type of the items of a list of any length; None where it is no such list."""
    kind = bare(kind)[0]
    args = get_args(kind)
    return args[0] if get_origin(kind) is tuple and len(args) == 2 and args[1] is Ellipsis else None


def inside(kind: Any, key: str | int) -> Any:
    """The type of what stands under `key` in a table or list of this type; None where nothing may."""
    base, _ = bare(branches(kind)[0])
    model, args = model_of(base), get_args(base)
    if model is not None:
        field = words_of(model).get(str(key)) or model.model_fields.get(str(key))
        return field_type(field) if field else None
    if get_origin(base) is dict:
        return args[1]
    if get_origin(base) is tuple and isinstance(key, int):
        return args[0] if args[-1] is Ellipsis else args[key] if key < len(args) else None
    return None


def kind_of_measure(kind: Any) -> str | None:
    """'length', 'angle', 'colour' and so on, as work/fields.py names it; None for plain numbers and text."""
    schemas = (r.json_schema or {} for r in bare(branches(kind)[0])[1] if isinstance(r, WithJsonSchema))
    return next((schema.get("title") for schema in schemas), None)


def plain_type(kind: Any) -> str:
    """The type in plain words.

    >>> plain_type(Literal["square", "quarter"] | int)
    '"square", "quarter" or a whole number'
    >>> plain_type(tuple[int, int])
    'two whole numbers'
    """
    return listed(dict.fromkeys(told for branch in branches(kind) for told in _told(branch)))


def _told(branch: Any) -> Iterator[str]:
    kind = bare(branch)[0]
    origin = get_origin(kind)
    if origin is Literal:
        yield from (f'"{choice}"' for choice in get_args(kind))
    elif origin is tuple and item_of(branch) is not None:
        yield f"a list of {_noun(item_of(branch), 1)}"
    elif origin is tuple:
        args = get_args(kind)
        yield f"{_COUNTS[len(args)]} {_noun(args[0], 1)}"
    elif origin is dict:
        yield f"a table of names, each with {_noun(get_args(kind)[1], 0)}"
    elif model_of(branch) is not None:
        yield "a table"
    else:
        yield _noun(branch, 0)


def _noun(kind: Any, several: int) -> str:
    if len(branches(kind)) > 1 or model_of(kind) is not None:
        return "tables" if several else "a table"
    base, remarks = bare(kind)
    if get_origin(base) is tuple:
        return f"pairs of {_noun(get_args(base)[0], 1)}"
    nouns = _NOUNS[kind_of_measure(kind) or base]
    return nouns[several] + _bounds(remarks, nouns[2])


def _bounds(remarks: tuple[Any, ...], unit: str) -> str:
    gt, ge, le, least = (
        next((getattr(r, name) for r in remarks if getattr(r, name, None) is not None), None)
        for name in ("gt", "ge", "le", "min_length")
    )
    if least is not None:
        return ", not empty"
    if ge is not None and le is not None:
        return f" from {ge:g} to {le:g}{unit}"
    above = f" above {gt:g}{unit if gt else ''}" if gt is not None else ""
    low = f" of {ge:g}{unit if ge else ''} or more" if ge is not None else above
    return f"{low}{',' if low else ''} at most {le:g}{unit}" if le is not None else low
