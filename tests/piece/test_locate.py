"""Every path of a TOML text is found, at the line where it was written."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from festoon.piece.locate import KeyPath, line_of, locate


def paths(value: Any, path: KeyPath = ()) -> set[KeyPath]:
    """Every path of a read document, the root left out."""
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return {p for key, inner in pairs for p in {(*path, key), *paths(inner, (*path, key))}}


EVERY_SHAPE = '''# a comment = "not a key"
title = "x # not a comment"
odd = """
[not] = a header
quoted \\""" and ""\\
"""
edge = """five quotes"""""
literal = \'\'\'
key = 'no'
\'\'\'
when = 1979-05-27 07:32:00
a.b.c = 1
a.b."d e" = [1, 2]
'quo.ted' = { x = 1, y.z = [ { q = 1 }, { q = 2 } ] }
list = [ # one
  [1, 2],
  # between

  "]", '}', """
,""", {k = 3},
]

[ table . inner ]
word=1
[table]
other = true
[[many]]
name = "first"
[many.sub]
deep = 1
[[many.rows]]
n = 1
[[many.rows]]
n = 2
[[many]]
[[many.rows]]
n = [
]
'''


def test_every_shape_at_its_line() -> None:
    lines = locate(EVERY_SHAPE)
    expected: dict[KeyPath, int] = {
        ("title",): 2,
        ("odd",): 3,
        ("edge",): 7,
        ("literal",): 8,
        ("when",): 11,
        ("a",): 12,
        ("a", "b"): 12,
        ("a", "b", "c"): 12,
        ("a", "b", "d e"): 13,
        ("a", "b", "d e", 0): 13,
        ("a", "b", "d e", 1): 13,
        ("quo.ted",): 14,
        ("quo.ted", "x"): 14,
        ("quo.ted", "y"): 14,
        ("quo.ted", "y", "z"): 14,
        ("quo.ted", "y", "z", 0): 14,
        ("quo.ted", "y", "z", 0, "q"): 14,
        ("quo.ted", "y", "z", 1): 14,
        ("quo.ted", "y", "z", 1, "q"): 14,
        ("list",): 15,
        ("list", 0): 16,
        ("list", 0, 0): 16,
        ("list", 0, 1): 16,
        ("list", 1): 19,
        ("list", 2): 19,
        ("list", 3): 19,
        ("list", 4): 20,
        ("list", 4, "k"): 20,
        ("table",): 25,
        ("table", "inner"): 23,
        ("table", "inner", "word"): 24,
        ("table", "other"): 26,
        ("many",): 27,
        ("many", 0): 27,
        ("many", 0, "name"): 28,
        ("many", 0, "sub"): 29,
        ("many", 0, "sub", "deep"): 30,
        ("many", 0, "rows"): 31,
        ("many", 0, "rows", 0): 31,
        ("many", 0, "rows", 0, "n"): 32,
        ("many", 0, "rows", 1): 33,
        ("many", 0, "rows", 1, "n"): 34,
        ("many", 1): 35,
        ("many", 1, "rows"): 36,
        ("many", 1, "rows", 0): 36,
        ("many", 1, "rows", 0, "n"): 37,
    }
    assert lines == expected
    assert set(lines) == paths(tomllib.loads(EVERY_SHAPE))


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment", "a=1", "\ta = 1 # end", 'a = ""', "a = ''", "a = []"])
def test_small_texts(text: str) -> None:
    assert set(locate(text)) == paths(tomllib.loads(text))


def test_windows_line_ends_count_once() -> None:
    assert locate('a = 1\r\nb = """\r\nx"""\r\nc = 3\r\n') == {("a",): 1, ("b",): 2, ("c",): 4}


def test_line_of_the_nearest_table_round_a_missing_word() -> None:
    lines = locate("[a]\n[[b]]\nc = [1]")
    assert line_of(lines, ("b", 0, "c", 0)) == 3
    assert line_of(lines, ("b", 0, "name")) == 2
    assert line_of(lines, ("a", "x", 3)) == 1
    assert line_of(lines, ("z",)) == 1


class Writer:
    """Writes a value in shapes drawn at random and notes the line at which each path was begun."""

    def __init__(self, draw: Any) -> None:
        self.draw = draw
        self.text = ""
        self.lines: dict[KeyPath, int] = {}

    @property
    def line(self) -> int:
        return self.text.count("\n") + 1

    def put(self, *choices: str) -> None:
        self.text += self.draw(st.sampled_from(choices))

    def key(self, key: str) -> str:
        bare = key.isascii() and key.isalnum()
        quoted = '"' + "".join(f"\\u{ord(c):04x}" for c in key) + '"'
        return str(self.draw(st.sampled_from([key, quoted, f"'{key}'"] if bare else [quoted])))

    def value(self, value: Any, path: KeyPath) -> None:
        if isinstance(value, list):
            self.put("[", "[ ", "[\n", "[ # ] no\n\n")
            for i, item in enumerate(value):
                self.lines[(*path, i)] = self.line
                self.value(item, (*path, i))
                self.put(",", " , ", ",\n", " # , no\n,\n\t")
            self.put("]", " ]", "\n]")
        elif isinstance(value, dict):
            self.put("{", "{ ")
            for i, (key, inner) in enumerate(value.items()):
                self.put(", " if i else "")
                self.pair(key, inner, path)
            self.put("}", " }")
        elif isinstance(value, str):
            self.put(
                *(['"' + value.replace("\n", "\\n") + '"'] if "\n" in value else [f'"{value}"', f"'{value}'"]),
                f'"""{value}"""',
                f"'''{value}'''",
                f'"""\n{value}\\\n  """',
            )
        else:
            self.text += "true" if value is True else str(value)

    def pair(self, key: str, value: Any, path: KeyPath) -> None:
        self.lines[(*path, key)] = self.line
        self.put(self.key(key))
        self.put("=", " = ", "\t=")
        self.value(value, (*path, key))

    def table(self, table: dict[str, Any], path: KeyPath, names: tuple[str, ...]) -> None:
        """A table's own lines, then what may stand under headers of its own."""
        later = [k for k, v in table.items() if self.may_have_header(v) and self.draw(st.booleans())]
        for key, value in table.items():
            if key in later:
                continue
            self.put("", "\n", "# x = 1\n", "  ")
            if isinstance(value, dict) and value and self.draw(st.booleans()):
                self.dotted(key, value, path)
            else:
                self.pair(key, value, path)
                self.put("\n", " # [no]\n")
        for key in later:
            value = table[key]
            header = (*names, key)
            if isinstance(value, dict):
                self.header("[", header, (*path, key), "]")
                self.table(value, (*path, key), header)
            else:
                for i, item in enumerate(value):
                    self.lines.setdefault((*path, key), self.line)
                    self.header("[[", header, (*path, key, i), "]]")
                    self.table(item, (*path, key, i), header)

    def dotted(self, key: str, value: dict[str, Any], path: KeyPath) -> None:
        for inner, item in value.items():
            for own in ((*path, key), (*path, key, inner)):
                self.lines.setdefault(own, self.line)
            self.put(self.key(key))
            self.put(".", " . ")
            self.put(self.key(inner))
            self.put(" = ")
            self.value(item, (*path, key, inner))
            self.put("\n")

    def header(self, opened: str, names: tuple[str, ...], path: KeyPath, closed: str) -> None:
        self.lines[path] = self.line
        self.text += opened + ".".join(self.key(n) for n in names) + closed
        self.put("\n", " # comment\n\n")

    @staticmethod
    def may_have_header(value: Any) -> bool:
        return isinstance(value, dict) or (
            isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)
        )


KEYS = st.text('ab1. é"#=]', max_size=3)
SCALARS = st.one_of(st.integers(-99, 99), st.just(True), st.text("a[]{}#,=. \n", max_size=6))
VALUES: st.SearchStrategy[Any] = st.recursive(
    SCALARS, lambda v: st.lists(v, max_size=3) | st.dictionaries(KEYS, v, max_size=3), max_leaves=8
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data(), st.dictionaries(KEYS, VALUES | st.lists(st.dictionaries(KEYS, VALUES, max_size=3)), max_size=4))
def test_a_document_written_in_any_shape_is_found_line_for_line(data: st.DataObject, document: dict[str, Any]) -> None:
    writer = Writer(data.draw)
    writer.table(document, (), ())
    assert locate(writer.text) == writer.lines
    assert set(writer.lines) == paths(tomllib.loads(writer.text))
