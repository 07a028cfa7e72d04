"""A TOML text cut into its tables, so that one can be changed, moved or taken out and all others keep their bytes."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

from festoon.piece.locate import locate


@dataclass(frozen=True, slots=True)
class Section:
    """One table of the first level ([piece], [[element]]) with its inner tables and the remarks directly above it.

    `table` is its name; "" for what stands above the first of them. Inner tables ([[hooping.laid]]) that stand apart
    are a section of that name, too.
    """

    table: str
    text: str

    @property
    def data(self) -> dict[str, Any]:
        """The table's words. Raises ValueError where the text is no TOML by itself."""
        data = tomllib.loads(self.text)[self.table]
        table = data[0] if isinstance(data, list) else data
        if not isinstance(table, dict):
            raise ValueError("no table")
        return table

    @property
    def begun(self) -> bool:
        """Whether the text says anything of the table, as `piece = { name = "Runner" }` does above the first header."""
        return self.table in tomllib.loads(self.text)

    @property
    def headed(self) -> bool:
        """Whether the table has a header of its own; what stands in braces has none."""
        return any(line.lstrip().startswith("[") for line in self.text.splitlines())


def split(text: str) -> list[Section]:
    """Every section in order; their texts joined are `text`, which must be TOML."""
    lines = [line + "\n" for line in text.split("\n")]
    lines[-1] = lines[-1][:-1]
    starts: dict[int, str] = {}
    for path, number in locate(text).items():
        first_level = len(path) == 1 or (len(path) == 2 and isinstance(path[1], int))
        inner = len(path) == 3 and lines[number - 1].lstrip().startswith(f"[[{path[0]}.")
        if inner or (first_level and lines[number - 1].lstrip().startswith("[")):
            starts[remarks_above(lines, number - 1)] = str(path[0])
    ordered = sorted(starts)
    bounds = [b for a, b in pairwise([-1, *ordered]) if not _within(lines, a, b, starts)] + [len(lines)]
    head = Section("", "".join(lines[: bounds[0]]))
    rest = (Section(starts[a], "".join(lines[a:b])) for a, b in pairwise(bounds))
    return [head, *rest]


def _within(lines: list[str], before: int, at: int, starts: dict[int, str]) -> bool:
    """Whether the table that begins at a line is an inner one of that before it."""
    header = next(line for line in lines[at:] if line.lstrip().startswith("["))
    return starts.get(before) == starts[at] and header.lstrip().startswith(f"[[{starts[at]}.")


def remarks_above(lines: list[str], number: int) -> int:
    """The first of the lines of remarks directly above a line, or the line itself (all counted from 0)."""
    while number and lines[number - 1].lstrip().startswith("#"):
        number -= 1
    return number


def joined(sections: Iterable[Section]) -> str:
    """The text again."""
    return "".join(section.text for section in sections)


def places(sections: list[Section], table: str) -> list[int]:
    """Where the sections of this table stand among all."""
    return [n for n, section in enumerate(sections) if section.table == table]


def newline_of(text: str) -> str:
    """How the text ends its lines."""
    return "\r\n" if "\r\n" in text else "\n"


def inserted(sections: list[Section], at: int, section: Section) -> list[Section]:
    """The sections with one more, a blank line before and behind it."""
    end = newline_of(joined(sections) or section.text)
    before = [_parted(s, end) if n == at - 1 and s.text else s for n, s in enumerate(sections[:at])]
    after = sections[at:]
    own = _parted(section, end) if after else replace(section, text=section.text.rstrip() + end)
    return [*before, own, *after]


def without_remarks(section: Section) -> Section:
    """The section without what stands above its own first line."""
    lines = section.text.splitlines(keepends=True)
    first = next(n for n, line in enumerate(lines) if line.lstrip().startswith("["))
    return replace(section, text="".join(lines[first:]))


def _parted(section: Section, end: str) -> Section:
    """The section with a blank line at its end, where it has none."""
    text = section.text if section.text.endswith("\n") else section.text + end
    return replace(section, text=text if text.endswith(("\n\n", "\n\r\n")) else text + end)
