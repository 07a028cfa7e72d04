"""Where in a TOML text each key and each item of a list stands, so that an error can name its line.

tomllib gives values without places; this scanner gives places without values. It trusts its text: only what tomllib
has accepted is handed to it.
"""

from __future__ import annotations

import bisect
import itertools
import re
import tomllib

KeyPath = tuple[str | int, ...]
"""The way to a value: keys of tables and places in lists, ('element', 2, 'at', 1)."""

_BLANK = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_STRING = re.compile(
    r'"""(?:\\[\s\S]|(?!""")[^\\])*"{3,5}'
    r"|'''(?:(?!''')[\s\S])*'{3,5}"
    r'|"(?:\\.|[^"\\])*"'
    r"|'[^']*'"
)
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_SCALAR = re.compile(r"[^,\]}#\n]+")
_GAP = re.compile(r"[ \t]*")


def locate(text: str) -> dict[KeyPath, int]:
    """The line, from 1, of every key path of a well-formed TOML text.

    A table stands at its header, or where it is first named if it has none; a list of tables at the first of them; an
    item of a list where the item begins. The keys are exactly the paths of `tomllib.loads(text)`.

    >>> locate('[[panel]]\\nname = "front"\\nsize = [\\n  120,\\n  80,\\n]\\n')[("panel", 0, "size", 1)]
    5
    """
    scanner = _Scanner(text.replace("\r\n", "\n"))
    scanner.document()
    return scanner.lines


def line_of(lines: dict[KeyPath, int], path: KeyPath) -> int:
    """The line of `path`, or of the nearest table or list round it that the text has; 1 where there is none."""
    return next((lines[path[:n]] for n in range(len(path), 0, -1) if path[:n] in lines), 1)


class _Scanner:
    """One pass over the text. Every method takes a position and gives the position behind what it has read."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.ends = [m.start() for m in re.finditer("\n", text)]
        self.lines: dict[KeyPath, int] = {}
        self.counts: dict[KeyPath, int] = {}

    def document(self) -> None:
        table: KeyPath = ()
        at = self.past(_BLANK, 0)
        while at < len(self.text):
            if self.text[at] == "[":
                at, table = self.header(at)
            else:
                at = self.pair(at, table)
            at = self.past(_BLANK, at)

    def header(self, at: int) -> tuple[int, KeyPath]:
        """[a.b] or [[a.b]]: a list of tables on the way stands for its last table."""
        brackets = 2 if self.text.startswith("[[", at) else 1
        line = self.line(at)
        at, keys = self.dotted(at + brackets)
        path: KeyPath = ()
        for key in keys[:-1]:
            path = self.last((*path, key))
            self.lines.setdefault(path, line)
        path = (*path, keys[-1])
        if brackets == 2:
            number = self.counts.get(path, 0)
            self.counts[path] = number + 1
            self.lines.setdefault(path, line)
            path = (*path, number)
        self.lines[path] = line
        return at + brackets, path

    def last(self, path: KeyPath) -> KeyPath:
        return (*path, self.counts[path] - 1) if path in self.counts else path

    def pair(self, at: int, table: KeyPath) -> int:
        """a.b = value."""
        line = self.line(at)
        at, keys = self.dotted(at)
        for n in range(1, len(keys) + 1):
            self.lines.setdefault((*table, *keys[:n]), line)
        return self.value(self.past(_GAP, at + 1), (*table, *keys))

    def dotted(self, at: int) -> tuple[int, list[str]]:
        """The parts of a key; the position is that of the '=' or ']' behind them."""
        keys = []
        while True:
            at = self.past(_GAP, at)
            match = _BARE_KEY.match(self.text, at) or _STRING.match(self.text, at)
            token = match.group() if match else ""
            keys.append(tomllib.loads(f"key = {token}")["key"] if token[0] in "\"'" else token)
            at = self.past(_GAP, at + len(token))
            if self.text[at] != ".":
                return at, keys
            at += 1

    def value(self, at: int, path: KeyPath) -> int:
        first = self.text[at]
        if first == "[":
            return self.array(at + 1, path)
        if first == "{":
            return self.inline(at + 1, path)
        return self.past(_STRING if first in "\"'" else _SCALAR, at)

    def array(self, at: int, path: KeyPath) -> int:
        for number in itertools.count():
            at = self.past(_BLANK, at)
            if self.text[at] == "]":
                break
            self.lines[(*path, number)] = self.line(at)
            at = self.comma(self.value(at, (*path, number)))
        return at + 1

    def inline(self, at: int, path: KeyPath) -> int:
        at = self.past(_BLANK, at)
        while self.text[at] != "}":
            at = self.past(_BLANK, self.comma(self.pair(at, path)))
        return at + 1

    def comma(self, at: int) -> int:
        at = self.past(_BLANK, at)
        return at + 1 if self.text[at] == "," else at

    def past(self, pattern: re.Pattern[str], at: int) -> int:
        match = pattern.match(self.text, at)
        return match.end() if match else at

    def line(self, at: int) -> int:
        return bisect.bisect_left(self.ends, at) + 1
