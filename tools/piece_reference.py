"""Writes docs/piece-file.md from the models: every table and every word of piece.toml and bench.toml.

Run it after a change to a model or a technique: python tools/piece_reference.py
"""

from __future__ import annotations

import inspect
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from festoon.files import write_whole
from festoon.piece import Bench, PieceFile
from festoon.piece.place import shown
from festoon.piece.words import branches, field_type, item_of, kind_of_measure, model_of, plain_type, words_of
from festoon.techniques import TECHNIQUES, ElementBase

PAGE = Path(__file__).parent.parent / "docs" / "piece-file.md"

INTRODUCTION = """\
# The piece file

A piece is a folder. `piece.toml` says what is sewn and where, `bench.toml` what you have to sew it with, and `motifs/`
holds the stitch files. Copy the folder to a stick, mail it, open it on another computer: nothing in it points outside.
Where a piece has no `bench.toml` of its own, the one in your settings folder serves.

`festoon new my-piece` writes a small piece that can be made at once; [its two files](#an-example) stand at the end of
this page.

This page is made from the program itself by `tools/piece_reference.py`.

## How values are written

Both files are TOML: a table begins with its name in brackets, and below it every word stands on a line of its own with
= and its value. A table with two pairs of brackets, `[[panel]]`, may stand several times. A table inside another is
written in braces on one line, `ring = { count = 8, radius = 110 }`. What follows a # is a remark.

| value | written |
| --- | --- |
| a length | a number of millimetres, or text with a unit: `42`, `"42 mm"`, `"4.2 cm"`, `"1 5/8 in"`, `"1 yd"` |
| an angle | a number of degrees, clockwise as seen, or text: `30`, `"30°"`, `"1/8 turn"` |
| a place | two lengths in brackets, right and down from the panel's left upper corner: `[120, "8 cm"]` |
| a thread number | `"40 wt"`, `"120/2 den"`, `"tex 25"`, `"Nm 60"`, `"267 dtex"` |
| a needle size | `"75/11"`, `"90"` |
| a colour | # and six hexadecimal digits in quotes: `"#66845f"` |
| a motif file | its way from the piece's folder, with / between folders: `"motifs/sprig.vp3"` |
| text | in quotes: `"natural linen"` |

Names of panels and elements are made of letters, digits, spaces, - and _. Each has a name of its own; repeats of an
element are called `sprig-1`, `sprig-2` and so on, in their order.
"""


def reference() -> str:
    """The whole page."""
    return "\n".join(
        [
            INTRODUCTION,
            "## piece.toml\n",
            *_file(PieceFile),
            *(line for technique in TECHNIQUES.values() for line in _technique(technique.model)),
            "## bench.toml\n",
            *_file(Bench),
            "## An example\n",
            *_example("piece.toml"),
            *_example("bench.toml"),
        ]
    )


def _file(model: type[BaseModel]) -> Iterator[str]:
    for word, field in words_of(model).items():
        kind = field_type(field)
        several = item_of(kind) is not None
        yield f"### {f'[[{word}]]' if several else f'[{word}]'}\n"
        yield f"{field.description} {'Must be given.' if field.is_required() else 'May be left out.'}\n"
        inner = item_of(kind) if several else kind
        if len(branches(inner)) > 1:
            yield "What an element is, its `kind` says. Every element has these words:\n"
            yield from _words(words_of(ElementBase))
        else:
            yield from _tables(model_of(inner))


def _technique(model: type[BaseModel]) -> Iterator[str]:
    words = words_of(model)
    yield f"#### kind = {plain_type(field_type(words['kind']))}\n"
    yield f"{inspect.getdoc(model)}\n"
    common = {*words_of(ElementBase), "kind"}
    own = {word: field for word, field in words.items() if word not in common}
    yield from _words(own)
    yield from _inner(own)


def _tables(model: type[BaseModel] | None) -> Iterator[str]:
    words = words_of(model) if model else {}
    yield from _words(words)
    yield from _inner(words)


def _inner(words: dict[str, FieldInfo]) -> Iterator[str]:
    for word, field in words.items():
        for model in filter(None, (model_of(item_of(branch) or branch) for branch in branches(field_type(field)))):
            yield f"In `{word}`: {inspect.getdoc(model)}\n"
            yield from _tables(model)


def _words(words: dict[str, FieldInfo]) -> Iterator[str]:
    yield "| word | is | left out | meaning |"
    yield "| --- | --- | --- | --- |"
    for word, field in words.items():
        cells = (f"`{word}`", plain_type(field_type(field)), _default(field), field.description or "")
        yield f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in cells)} |"
    yield ""


def _default(field: FieldInfo) -> str:
    if field.is_required():
        return "must be given"
    value = field.get_default(call_default_factory=True)
    if value is None or isinstance(value, BaseModel) or value in ((), {}, ""):
        return "–"
    return _measured(value, kind_of_measure(field_type(field)))


def _measured(value: Any, measure: str | None) -> str:
    if measure == "length":
        return f"{value:g} mm"
    if measure == "angle":
        return f"{value:g}°"
    if measure == "thread number":
        return f"tex {value:.3g}"
    return f"{value:g}" if isinstance(value, float) else shown(value)


def _example(name: str) -> Iterator[str]:
    text = (files("festoon.piece") / "starter" / name).read_text(encoding="utf-8")
    yield f"`{name}`:\n"
    yield f"```toml\n{text}```\n"


if __name__ == "__main__":
    write_whole(PAGE, reference().encode())
