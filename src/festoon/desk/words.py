"""One word of one table set, taken out or added; every other word keeps its spelling."""

from __future__ import annotations

import copy
import itertools
from collections.abc import MutableMapping
from dataclasses import replace
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, InlineTable, Item, SingleKey

from festoon.desk.sections import Section, newline_of, remarks_above
from festoon.errors import PieceError
from festoon.piece.below import set_below
from festoon.piece.locate import locate
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

    A table takes the words given and loses the others. A list of tables is written, and kept, as inner tables with a
    header each, unless it stands in brackets already. Raises PieceError where the text cannot be changed so.
    """
    if len(words) == 1 and _as_tables(section, words[0], value):
        return _with_tables(section, words[0], value or [])
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


def _as_tables(section: Section, word: str, value: Any) -> bool:
    try:
        if word in section.data:
            return bool(_headers(section, word))
    except (ValueError, LookupError):  # told below
        return False
    return section.headed and isinstance(value, list) and bool(value) and all(isinstance(one, dict) for one in value)


def _headers(section: Section, word: str) -> list[int]:
    """The lines, from 0, of the headers of a list of inner tables."""
    lines = section.text.split("\n")
    found = (n - 1 for way, n in locate(section.text).items() if way[:2] == (section.table, word) and len(way) == 3)
    return [n for n in sorted(found) if lines[n].lstrip().startswith("[[")]


def _with_tables(section: Section, word: str, wanted: list[dict[str, Any]]) -> Section:
    """The section with these inner tables: those that stay keep every byte, those that change theirs elsewhere."""
    end = newline_of(section.text)
    lines = section.text.splitlines(keepends=True)
    starts = [remarks_above(lines, n) for n in _headers(section, word)]
    texts = ["".join(lines[a:b]) for a, b in itertools.pairwise([0, *starts, len(lines)])]
    head, own = texts[0], texts[1:]
    had = section.data.get(word, [])
    same = sum(1 for _ in itertools.takewhile(lambda pair: _same(*pair), zip(had, wanted, strict=False)))
    left, more = had[same:], wanted[same:]
    last = sum(1 for _ in itertools.takewhile(lambda pair: _same(*pair), zip(left[::-1], more[::-1], strict=False)))
    changing = own[same : len(own) - last]
    changed = [
        _inner_table(section.table, word, one, changing[k] if k < len(changing) else "", end)
        for k, one in enumerate(more[: len(more) - last])
    ]
    kept = [*([head] if head.strip() else []), *own[:same], *changed, *own[len(own) - last :]]
    tail = section.text[len(section.text.rstrip()) :]
    apart = [text if text.endswith(end * 2) else text.rstrip() + end * 2 for text in kept]
    return replace(section, text="".join(apart).rstrip() + (tail or end))


def _inner_table(table: str, word: str, wanted: dict[str, Any], text: str, end: str) -> str:
    """One of the inner tables, changed from its old text or written anew."""
    if not text:
        words = (f"{spelt_key(w)} = {spelt(value)}{end}" for w, value in wanted.items())
        return f"[[{table}.{word}]]{end}{''.join(words)}"
    lines = text.splitlines(keepends=True)
    at = next(n for n, line in enumerate(lines) if line.lstrip().startswith("["))
    inner = Section(word, f"[[{word}]]{end}" + "".join(lines[at + 1 :]))
    for w in [*(w for w in inner.data if w not in wanted), *wanted]:
        inner = with_word(inner, [w], wanted.get(w))
    return "".join(lines[: at + 1]) + inner.text.partition("\n")[2]


def _set(table: Any, words: list[str], value: Any, end: str) -> None:
    word, *rest = words
    if len(rest) == 1 and isinstance(table.get(word), Array):
        _replace(table[word], _place(table[word], rest[0]), value, end)
    elif rest and word in table:
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


def _place(items: Any, word: str) -> int:
    """The place in a list that a word counts, from 0."""
    if not (word.isdecimal() and int(word) < len(items)):
        raise PieceError(f"there is no {quoted(word)} in a list of {len(items)}.", remedy="Give it its whole value.")
    return int(word)


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
        if isinstance(table, list) and word == way[-1]:
            table[_place(table, last)] = value
            return
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
