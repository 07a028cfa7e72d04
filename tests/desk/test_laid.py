"""Hoopings of the worker's own written into the piece file: nothing else changes, and taken out nothing is left."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.desk import Desk, SetPiece, SetWord
from festoon.desk.apply import applied
from festoon.errors import PieceError

PIECE = (Path(__file__).parents[2] / "src" / "festoon" / "piece" / "starter" / "piece.toml").read_text("utf-8")
HERE = {"at": [200, 105.5], "turn": 0}
HELD = {"holds": ["sprig-1", "stem-2"]}


def laid(text: str, value: Any, word: str = "laid") -> str:
    return applied([SetPiece(table="hooping", word=word, value=value)], text, "")[0]


def test_each_is_a_table_below_the_words_of_hooping() -> None:
    after = laid(PIECE, [HERE, HELD])
    tables = '\n[[hooping.laid]]\nat = [200, 105.5]\nturn = 0\n\n[[hooping.laid]]\nholds = ["sprig-1", "stem-2"]\n'
    above, word, below = PIECE.partition(
        'turn = "quarter"                  # "square", "quarter", "free", or a list of angles\n'
    )
    assert after == above + word + tables + below


def test_one_that_changes_keeps_its_remarks_and_leaves_the_others_alone() -> None:
    before = laid(PIECE, [HERE, HELD, {"holds": ["sprig-5"]}])
    before = before.replace('holds = ["sprig-1", "stem-2"]', '# these two\nholds = [ "sprig-1", "stem-2" ]  # together')
    after = laid(before, [HERE, {**HELD, "turn": 90}, {"holds": ["sprig-5"]}])
    assert after == before.replace("# together\n", "# together\nturn = 90\n")


def test_those_that_stand_apart_are_brought_together() -> None:
    before = laid(PIECE, [HERE]) + '\n[[hooping.laid]]\nholds = ["sprig-5"]\n'
    assert laid(before, [HERE, HELD]) == laid(PIECE, [HERE, HELD]) + "\n"
    alone = PIECE + '\n# mine\n[[hooping.laid]]\nholds = ["sprig-5"]\n'
    assert laid(alone, [{"holds": ["sprig-5"]}, HERE]) == alone + "\n[[hooping.laid]]\nat = [200, 105.5]\nturn = 0\n"


def test_a_list_in_brackets_stays_in_brackets() -> None:
    before = PIECE.replace("[hooping]\n", "[hooping]\nlaid = [{ at = [1, 2] }]\n")
    after = laid(before, [{"at": [1, 2], "turn": 3}, {"at": [4, 5]}])
    assert after == before.replace("[{ at = [1, 2] }]", "[{ at = [1, 2], turn = 3 }, { at = [4, 5] }]")


def test_an_order_of_work_is_a_list_of_names() -> None:
    after = laid(PIECE, ["sprig-5", "stem-2"], word="order")
    assert 'list of angles\norder = ["sprig-5", "stem-2"]\n\n# What is sewn' in after
    assert laid(after, None, word="order") == PIECE


own = st.fixed_dictionaries(
    {"holds": st.lists(st.sampled_from(["sprig-1", "stem-2", "sprig"]), min_size=1, max_size=2)},
    optional={"at": st.just([12.5, 30]), "turn": st.sampled_from([0, 90]), "panel": st.just("front")},
)
several = st.lists(own, max_size=4)


@given(several, several, st.sampled_from(["\n", "\r\n"]))
def test_any_list_becomes_any_other_and_nothing_else_is_touched(
    first: list[dict[str, Any]], then: list[dict[str, Any]], end: str
) -> None:
    text = PIECE.replace("\n", end)
    there = laid(laid(text, first or None), then or None)
    assert tomllib.loads(there)["hooping"].get("laid", []) == then
    assert laid(there, None) == text


def test_a_new_name_is_carried_on(home: Path) -> None:
    desk = Desk(home)
    desk.change([SetPiece(table="hooping", word="laid", value=[HELD])], desk.revision)
    desk.change([SetWord(element="sprig", word="name", value="thistle")], desk.revision)
    assert desk.piece().file.hooping.laid[0].holds == ("thistle-1", "stem-2")


def test_undo_brings_back_every_byte(home: Path) -> None:
    desk = Desk(home)
    before = (home / "piece.toml").read_bytes()
    desk.change([SetPiece(table="hooping", word="laid", value=[HELD])], desk.revision)
    assert desk.piece().file.hooping.laid[0].holds == ("sprig-1", "stem-2")
    desk.undo(desk.revision)
    assert (home / "piece.toml").read_bytes() == before


@pytest.mark.parametrize("value", [[{"turn": 90}], [{"holds": []}], [{"at": [1, 2], "colour": 3}], [3]])
def test_what_is_no_hooping_is_refused_in_a_sentence(home: Path, value: Any) -> None:
    desk = Desk(home)
    with pytest.raises(PieceError, match=r"^piece.toml, line"):
        desk.change([SetPiece(table="hooping", word="laid", value=value)], desk.revision)
