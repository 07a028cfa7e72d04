"""Hoopings of the worker's own on the command line: what they cost, and what of them cannot be kept."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from festoon.piece.start import new_piece
from tests.whole.command import flat, run

LAID = """
[[hooping.laid]]
holds = ["sprig-1"]

[[hooping.laid]]
holds = ["stem-1"]

[[hooping.laid]]
holds = ["sprig-12"]
"""


@pytest.fixture
def laid(tmp_path: Path) -> Path:
    new_piece(tmp_path / "p")
    with (tmp_path / "p" / "piece.toml").open("a", encoding="utf-8") as file:
        file.write(LAID)
    return tmp_path / "p"


def test_make_and_prove_tell_the_cost_and_what_cannot_be_kept(laid: Path) -> None:
    made, proved = run("make", laid), run("prove", laid)
    assert (made.exit_code, proved.exit_code) == (0, 0)
    for told in (made, proved):
        assert "Your own say costs " in flat(told.stdout)
        assert (
            'Look again: the hooping that you laid for sprig-12: Nothing called "sprig-12" is sewn on front.'
            in flat(told.stdout)
        )
    record = json.loads((laid / "made" / "hoopings.json").read_text("utf-8"))
    assert sum(h["laid"] for h in record["hoopings"]) == 2


def test_a_hooping_that_says_nothing_is_told_with_its_line(tmp_path: Path) -> None:
    new_piece(tmp_path / "p")
    file = tmp_path / "p" / "piece.toml"
    lines = len(file.read_text("utf-8").splitlines())
    file.write_text(file.read_text("utf-8") + "\n[[hooping.laid]]\nturn = 90\n", encoding="utf-8")
    told = run("prove", tmp_path / "p")
    assert told.exit_code == 1
    assert flat(told.stderr) == (
        f'! piece.toml, line {lines + 2}, [hooping]: the first value of "laid": it says neither where it lies nor what '
        'it holds. Give it "at", "holds" or both.'
    )
