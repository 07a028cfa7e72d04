"""Cautions as the typesetter wants them, and rows set out in two columns."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from festoon.work import Caution

Row = dict[str, str]


def cautions_told(cautions: Iterable[Caution]) -> list[Row]:
    """Each caution once, with its source."""
    return [{"text": c.text, "source": c.source} for c in dict.fromkeys(cautions)]


def length(caution: Row) -> int:
    """How long a caution is in print, characters."""
    return len(caution["text"] + caution["source"])


def halves(rows: list[Row], weight: Callable[[Row], int]) -> list[list[Row]]:
    """The rows in two columns about as long as each other, the first the longer; no name of a stage ends one."""
    whole, so_far = sum(map(weight, rows)), 0
    for k, row in enumerate(rows):
        so_far += weight(row)
        if 2 * so_far >= whole and row.get("number", "-"):
            return [rows[: k + 1], rows[k + 1 :]]
    return [rows, []]
