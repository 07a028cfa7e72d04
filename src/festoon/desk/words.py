"""One word of one table set, taken out or added; every other word keeps its spelling."""

from __future__ import annotations

import copy
from collections.abc import MutableMapping
from dataclasses import replace
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, InlineTable, Item, SingleKey

from festoon.desk.sections import Section, newline_of
from festoon.errors import PieceError
from festoon.piece.below import set_below
from festoon.work.fields import quoted


def spelt(value: Any) -> str:
    """A value as it is written in a piece file. Raises PieceError for what TOML cannot hold.

    >>> spelt({"count": 8, "at": [37.0, "8 cm"], "follow": True})
    '{ count = 8, at = [37.0, "8 cm"], follow = true }'
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return tomlkit.item(value).as_string()
    if isinstance(value, list):
        return f"[{', '.join(map(spelt, value))}]"
    if isinstance(value, dict):
        words = ", ".join(f"{spelt_key(word)} = {spelt(inner)}" for word, inner in value.items())
        return f"{{ {words} }}" if words else "{}"
    if value is None or value != value or value in (float("inf"), float("-inf")):
        raise PieceError("a list or table holds an empty value.", remedy="Leave it out, or give it a number or text.")
    return repr(value)


def spelt_key(word: str) -> str:
    """A word as it stands before its =, in quotes where it must be."""
    return SingleKey(word).as_string()


def with_word(section: Section, words: list[str], value: Any) -> Section:
    """The section with the word at this way given a value (JSON), or taken out where that is None.

    A table takes the words given and loses the others. Raises PieceError where the text cannot be changed so.
    """
    end = newline_of(section.text)
    text = section.text if section.text.endswith("\n") else section.text + end
    try:
        document: Any = tomlkit.parse(text)
        wanted = copy.deepcopy(section.data)
        _set_plain(wanted, words, value)
        table = document[section.table]
        _set(table[0] if isinstance(table, AoT) else table, words, value, end)
        changed = replace(section, text=document.as_string())
        done = _same(changed.data, wanted)
    except (TOMLKitError, ValueError, LookupError, TypeError):
        done = False
    if not done:
        raise PieceError(
            f"{quoted('.'.join(words))} is written here in a way that cannot be changed word by word.",
            remedy="Change it in a text editor.",
        )
    return section if _same(section.data, wanted) else changed


def _set(table: Any, words: list[str], value: Any, end: str) -> None:
    word, *rest = words
    if rest and word in table:
        _set(_inner(table, word), rest, value, end)
    elif value is None:
        if word in table and not rest:
            del table[word]
    elif word in table:
        _replace(table, word, value, end)
    else:
        for inner in reversed(rest):
            value = {inner: value}
        _append(table, word, value, end)


def _inner(table: Any, word: str) -> Any:
    if not isinstance(table[word], MutableMapping):
        raise PieceError(f"{quoted(word)} is no table.", remedy="Give it its whole value.")
    return table[word]


def _replace(table: Any, word: Any, value: Any, end: str) -> None:
    """What is there gives way only where it differs."""
    old = table[word]
    if isinstance(old, MutableMapping) and isinstance(value, dict):
        for gone in [w for w in old if w not in value]:
            del old[gone]
        for inner, new in value.items():
            _set(old, [inner], new, end)
    elif isinstance(old, Array) and isinstance(value, list) and len(old) == len(value):
        for n, new in enumerate(value):
            _replace(old, n, new, end)
    elif not _same(old.unwrap() if isinstance(old, Item) else old, value):
        table[word] = tomlkit.value(spelt(value))


def _append(table: Any, word: str, value: Any, end: str) -> None:
    item: Item = tomlkit.value(spelt(value))
    if isinstance(table, InlineTable):
        table.append(word, item)
    else:
        set_below(table, {word: item}, end)


def _set_plain(table: dict[str, Any], words: list[str], value: Any) -> None:
    *way, last = words
    for word in way:
        if word not in table and value is None:
            return
        table = table.setdefault(word, {})
        if not isinstance(table, dict):
            raise PieceError(f"{quoted(word)} is no table.", remedy="Give it its whole value.")
    if value is None:
        table.pop(last, None)
    else:
        table[last] = value


def _same(one: Any, other: Any) -> bool:
    """Equal in kind, too: 1 is neither true nor 1.0."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(_same(one[k], other[k]) for k in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    return type(one) is type(other) and one == other
