"""How a place in a piece or bench file, and a value that stands there, are called in a sentence."""

from __future__ import annotations

from typing import Any

from festoon.piece.document import Document
from festoon.piece.locate import KeyPath
from festoon.techniques import TECHNIQUES
from festoon.work.fields import MOST_SHOWN, quoted

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def value_at(data: Any, path: KeyPath) -> Any:
    """The value at a path of the file; None where there is none."""
    for key in path:
        in_list = isinstance(data, list) and isinstance(key, int) and key < len(data)
        if not in_list and not (isinstance(data, dict) and key in data):
            return None
        data = data[key]
    return data


def place_of(document: Document, path: KeyPath) -> str:
    """'piece.toml, line 14, motif "sprig"' for a path inside an element, panel, hoop or table."""
    where = document.place(path)
    if len(path) > 1 and isinstance(path[1], int):
        return f"{where}, {item_name(str(path[0]), path[1], value_at(document.data, path[:2]))}"
    return f"{where}, [{path[0]}]" if len(path) > 1 else where


def item_name(word: str, number: int, item: Any) -> str:
    """'motif "sprig"', 'panel 2': one table of a list of tables, by its name or its number from 0."""
    own = item if isinstance(item, dict) else {}
    kind, name = own.get("kind"), own.get("name")
    noun = kind if word == "element" and isinstance(kind, str) and kind in TECHNIQUES else word
    return f"{noun} {shown(name)}" if isinstance(name, str) and name.strip() else f"{word} {number + 1}"


def subject(path: KeyPath) -> str:
    """'"width"', '"row.count"', 'the second value of "at"': a place inside its table; '' for the table itself."""
    own = path[2:] if len(path) > 1 and isinstance(path[1], int) else path[1:] if len(path) > 1 else path
    words: list[str] = []
    for n, key in enumerate(own):
        if isinstance(key, int):
            whole = quoted(".".join(words))
            for number in own[n:]:
                whole = f"the {_ordinal(int(number))} value of {whole}"
            return whole
        words.append(key)
    return quoted(".".join(words)) if words else ""


def shown(value: Any) -> str:
    """A value as it may be written in the file, cut short where it is long.

    >>> shown([True, "a", 1.5])
    '[true, "a", 1.5]'
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, list | tuple):
        text = f"[{', '.join(shown(v) for v in value)}]"
        return text if len(text) <= MOST_SHOWN else f"a list of {len(value)}"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, int) and abs(value) >= 10**MOST_SHOWN:
        return "a number of more digits than can be used"
    return str(value)


def _ordinal(number: int) -> str:
    return _ORDINALS[number] if number < len(_ORDINALS) else f"{number + 1}th"
