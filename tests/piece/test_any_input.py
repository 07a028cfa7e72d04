"""Whatever is written in a piece file, it is read or refused in plain sentences."""

from __future__ import annotations

import re
import tempfile
import tomllib
from pathlib import Path
from typing import Any

import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from festoon.errors import PieceError
from festoon.piece import read_piece
from tests.piece.conftest import BENCH

GOOD = """
[piece]
name = "Wreath"
[[panel]]
name = "front"
size = ["40 cm", 300]
lines = { hem = "M 0 0 H 400" }
[hooping]
turn = [0, 45]
[[element]]
kind = "motif"
name = "sprig"
file = "motifs/sprig.vp3"
at = [10, "2 in"]
by = "centre"
ring = { count = 8, radius = 110 }
[[element]]
kind = "join"
name = "stem"
from = "sprig-1"
to = "sprig-2"
via = [[1, 2], [3, 4]]
leave = [0, 1]
"""

JARGON = re.compile(
    r"[Ii]nput|type=|_type|pydantic|None|tuple|dict|str\b|function|valid (string|number)|Traceback|\{|\}"
)
JUNK: st.SearchStrategy[Any] = st.recursive(
    st.one_of(
        st.booleans(),
        st.integers(-(10**20), 10**20),
        st.floats(),
        st.dates(),
        st.text("a1 mµ°#/.-\"'\n", max_size=5),
        st.sampled_from(["motif", "join", "3 furlongs", "front", "1/0", "..", "~/a.dst", "a" * 200]),
    ),
    lambda v: (
        st.lists(v, max_size=3) | st.dictionaries(st.sampled_from(["kind", "name", "count", "x y"]), v, max_size=2)
    ),
    max_leaves=4,
)


def places(value: Any) -> list[tuple[Any, Any]]:
    """Every table or list of a document with one of its keys."""
    keys = list(value) if isinstance(value, dict) else list(range(len(value))) if isinstance(value, list) else []
    return [(value, key) for key in keys] + [place for key in keys for place in places(value[key])]


def refused(text: str) -> str:
    """The sentences with which a piece is refused; '' where it is read."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "piece.toml").write_text(text, encoding="utf-8", newline="")
        (Path(folder) / "bench.toml").write_text(BENCH, encoding="utf-8")
        try:
            read_piece(Path(folder))
        except PieceError as error:
            return str(error)
    return ""


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture]
)
@given(st.data())
def test_anything_at_any_place(data: st.DataObject) -> None:
    document = tomllib.loads(GOOD)
    table, key = data.draw(st.sampled_from(places(document)))
    act = data.draw(st.sampled_from(["change", "take out", "add"]))
    if act == "take out":
        del table[key]
    else:
        table[key if act == "change" or isinstance(table, list) else "wrod"] = data.draw(JUNK)
    told = refused(tomlkit.dumps(document))
    for line in told.splitlines():
        assert re.match(r"piece\.toml, line \d+(, [^:]+)?: [a-z\[\"].*[.?]$", line), line
        assert not JARGON.search(line), line
    assert act != "add" or isinstance(table, list) or told or "wrod" in document["panel"][0].get("lines", {})


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(0, len(GOOD)), st.text("[]{}=\"'\\,.#\n\r\t a1\x00é", max_size=4))
def test_a_piece_file_broken_anywhere(at: int, put_in: str) -> None:
    told = refused(GOOD[:at] + put_in + GOOD[at + 1 :])
    assert all(line.startswith("piece.toml") for line in told.splitlines())
