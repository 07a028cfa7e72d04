"""Accepting a finding writes one table, and every other byte stays."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from festoon.errors import PieceError
from tests.desk.test_apply import change, text

ACCEPT = {
    "do": "accept",
    "rule": "too thick",
    "panel": "front",
    "about": ["sprig-1", "stem-1"],
    "amount": 3.2,
    "note": "The heart “stands” out.",
}


def accepted(home: Path) -> list[dict[str, Any]]:
    return tomllib.loads(text(home)).get("accepted", [])


def test_it_stands_at_the_end_and_nothing_else_is_touched(home: Path) -> None:
    before = text(home)
    after = change(home, ACCEPT)
    assert after.startswith(before.rstrip("\n"))
    assert accepted(home) == [{k: v for k, v in ACCEPT.items() if k != "do"}]


def test_taken_back_the_text_is_as_before(home: Path) -> None:
    before = text(home)
    change(home, ACCEPT)
    after = change(home, {k: v for k, v in ACCEPT.items() if k not in ("amount", "note")})
    assert after.rstrip("\n") == before.rstrip("\n")


def test_once_more_is_one_acceptance_with_the_newer_note(home: Path) -> None:
    change(home, ACCEPT)
    change(home, {**ACCEPT, "about": ["stem-1", "sprig-1"], "amount": 3.4, "note": "Still so."})
    assert [(a["amount"], a["note"]) for a in accepted(home)] == [(3.4, "Still so.")]
    change(home, {**ACCEPT, "rule": "gap"})
    assert [a["rule"] for a in accepted(home)] == ["too thick", "gap"]


def test_what_is_not_accepted_cannot_be_taken_back(home: Path) -> None:
    before = text(home)
    with pytest.raises(PieceError, match=r'nothing of "gap" is accepted there\. Look at the piece as it is now\.'):
        change(home, {"do": "accept", "rule": "gap", "panel": "front"})
    assert text(home) == before


@pytest.mark.parametrize("note", ["", "  ", "\u0007"])
def test_a_note_has_words(home: Path, note: str) -> None:
    before = text(home)
    with pytest.raises(PieceError, match="the note has no words that can be printed"):
        change(home, {**ACCEPT, "note": note})
    assert text(home) == before


def test_the_names_follow_where_an_element_or_a_panel_is_named_anew(home: Path) -> None:
    change(home, ACCEPT)
    change(home, {"do": "set", "element": "sprig", "word": "name", "value": "flower"})
    assert accepted(home)[0]["about"] == ["flower-1", "stem-1"]
    change(home, {"do": "panel", "panel": "front", "word": "name", "value": "cushion"})
    assert accepted(home)[0]["panel"] == "cushion"


def test_a_thread_of_the_same_name_stays(home: Path) -> None:
    change(home, {**ACCEPT, "panel": "", "about": ["sprig"]})
    change(home, {"do": "set", "element": "sprig", "word": "name", "value": "flower"})
    assert accepted(home)[0]["about"] == ["sprig"]
