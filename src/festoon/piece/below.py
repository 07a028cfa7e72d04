"""Words set below the last word of a TOML table, where a person would write them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tomlkit.items import Item, Table, Whitespace


def set_below(table: Any, new: Mapping[str, Item], ending: str) -> None:
    """Put new words, each with the line `ending`, above the blank line and the remarks that lead to what follows."""
    tail = _loose_end(table) if isinstance(table, Table) and new else []
    for word, item in new.items():
        item.trivia.trail = ending
        table.append(word, item)
    if tail:
        table.value.body.extend(tail)


def _loose_end(table: Table) -> list[Any]:
    """Taken from the table: all from the first blank line after its last word, which belongs to what follows it."""
    body = table.value.body
    last = max((k for k, (key, _) in enumerate(body) if key is not None), default=-1)
    start = next((k for k in range(last + 1, len(body)) if isinstance(body[k][1], Whitespace)), len(body))
    tail = body[start:]
    del body[start:]
    return tail
