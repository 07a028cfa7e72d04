"""A TOML file read: its values, the line of each, and plain sentences where it is not TOML."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from festoon.errors import PieceError
from festoon.piece.locate import KeyPath, line_of, locate

_PLACE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")

_SENTENCES: tuple[tuple[str, str, str], ...] = (
    ("Expected '=' after a key", "a word here has no = and value behind it.", 'Write it as: word = "value".'),
    (
        "Expected newline or end of document after",
        "there is more on the line than one value.",
        'A length with its unit stands in quotes ("40 mm"), and every word has a line of its own.',
    ),
    ("Expected ']' at the end", "the table's name is not closed.", "Write it as [piece]."),
    ("Expected ']]' at the end", "the table's name is not closed.", "Write it with two brackets: [[panel]]."),
    (
        "Invalid value",
        "this is no value.",
        'Text and lengths with a unit stand in quotes: "40 mm".',
    ),
    ("Unclosed array", "a list is not closed.", "Put a comma between its values and a ] at its end."),
    ("Unclosed inline table", "a { is not closed.", "Put a comma between its words and a } at its end, on one line."),
    ("Unterminated string", "a text is begun and never closed.", 'Put a " at its end.'),
    ("Expected \"'", "a text is begun with ' and never closed.", "Put a ' at its end."),
    ("Illegal character '\\n'", "a text is not closed on its own line.", 'Put a " at its end.'),
    ("Found invalid character '\\n'", "a text is not closed on its own line.", "Put a ' at its end."),
    ("Found invalid character", "there is a character here that no text file should hold.", "Delete it."),
    ("Illegal character", "there is a character here that no text file should hold.", "Delete it."),
    (
        "Unescaped '\\' in a string",
        "a \\ in a text means something else here.",
        "Write / between folder and file, or put the text in single quotes.",
    ),
    ("Invalid hex value", "a \\ in a text means something else here.", "Write / instead of \\."),
    ("Escaped character", "a \\ in a text means something else here.", "Write / instead of \\."),
    ("Invalid date or datetime", "this is no date of the calendar.", "Put it in quotes if it is meant as text."),
    ("Cannot overwrite a value", "this word has been given a value already.", "Keep one of the two."),
    ("Duplicate inline table key", "this word has been given a value already.", "Keep one of the two."),
    (
        "Cannot declare",
        "this table stands in the file already.",
        "Where several are allowed, write every one with two brackets: [[panel]], [[element]].",
    ),
    ("Cannot mutate", "this table is written in two places.", "Put all its words in one of them."),
    ("Cannot redefine", "this table is written in two places.", "Put all its words in one of them."),
    (
        "Invalid initial character for a key",
        "a word is expected here.",
        "A word is made of letters, digits, - and _; anything else stands in quotes.",
    ),
    ("Exceeds the limit", "a number in it has more digits than can be used.", "Write it shorter."),
    (
        "Invalid statement",
        "this line is neither a word with its value nor a table's name.",
        'Write word = "value", [table], or # before a remark.',
    ),
)
"""How the reader's complaint begins, and what to say instead."""


@dataclass(frozen=True, eq=False)
class Document:
    """A TOML file: the name that errors give it, its values, and the line of each."""

    name: str
    data: dict[str, Any]
    lines: dict[KeyPath, int]

    def place(self, path: KeyPath) -> str:
        """'piece.toml, line 14'."""
        return f"{self.name}, line {line_of(self.lines, path)}"


def read_document(path: Path, name: str) -> Document:
    """Read a TOML file, called `name` in errors. Raises PieceError for a file that cannot be read or is not TOML."""
    return document_of(_bytes(path, name), name)


def document_of(data: bytes, name: str) -> Document:
    """The same of a file's bytes."""
    text = _text(data, name)
    try:
        return Document(name, tomllib.loads(text), locate(text))
    except RecursionError:
        raise PieceError("brackets stand within brackets too deep to follow.", where=name) from None
    except ValueError as error:
        raise _not_toml(str(error), text, name) from None


def _bytes(path: Path, name: str) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError:
        what, remedy = "there is no such file.", "Look whether its name is spelt so."
    except IsADirectoryError:
        what, remedy = "this is a folder, and should be a file.", "Move the folder elsewhere."
    except PermissionError:
        what, remedy = "you are not allowed to read it.", "Ask whoever owns the file for leave to read it."
    except OSError as error:
        what, remedy = f"it cannot be read ({error.strerror}).", "Look whether its disk or stick is still there."
    raise PieceError(what, where=name, remedy=remedy)


def _text(data: bytes, name: str) -> str:
    try:
        return data.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise PieceError(
            "the file is not saved as UTF-8 text.",
            where=f"{name}, line {line}",
            remedy="Open it in a text editor and save it with the encoding UTF-8.",
        ) from None


def _not_toml(complaint: str, text: str, name: str) -> PieceError:
    place = _PLACE.search(complaint)
    line = place.group(1) if place else None
    where = f"{name}, line {line or len(text.splitlines()) or 1}" if place else name
    for beginning, what, remedy in _SENTENCES:
        if complaint.startswith(beginning):
            return PieceError(what, where=where, remedy=remedy)
    return PieceError("this cannot be understood.", where=where, remedy="Compare the line with those round it.")
