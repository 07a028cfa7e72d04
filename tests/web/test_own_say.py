"""What the page is told of the worker's own hoopings: as the piece file says them, what they cost, what cannot be."""

from pathlib import Path

import pytest

from festoon.hooping import divide
from festoon.layout import lay_out
from festoon.piece import read_piece
from festoon.supplies import own_say, own_say_told

from .conftest import Client, worked

LAID = [{"at": ["20 cm", 95.5], "turn": 0}, {"holds": ["sprig-3"]}, {"holds": ["sprig-99"]}]


def change(client: Client, **words: object) -> None:
    revision = client.get(f"{client.here}/piece").json()["revision"]
    edits = [{"do": "piece", "table": "hooping", "word": word, "value": value} for word, value in words.items()]
    answer = client.post(f"{client.here}/change", json={"revision": revision, "label": "laying", "edits": edits})
    assert answer.status_code == 200, answer.text


def test_it_is_told_as_it_stands_in_the_file(client: Client) -> None:
    assert client.get(f"{client.here}/piece").json()["dividing"] == {"turn": "quarter", "laid": [], "order": []}
    change(client, laid=LAID, order=["sprig-5"], turn=[0, "1/4 turn"])
    told = client.get(f"{client.here}/piece").json()["dividing"]
    assert told == {"turn": [0.0, 90.0], "laid": LAID, "order": ["sprig-5"]}


def test_its_cost_and_what_cannot_be_are_told(client: Client, folder: Path) -> None:
    assert worked(client, "hoopings")[-1][0] == "done"
    plain = client.get(f"{client.here}/hoopings").json()
    assert (plain["own_say"], plain["findings"]) == (None, [])
    assert {h["laid"] for h in plain["hoopings"]} == {None}

    change(client, laid=LAID)
    assert worked(client, "hoopings")[-1][0] == "done"
    told = client.get(f"{client.here}/hoopings").json()
    piece = read_piece(folder)
    division = divide(lay_out(piece))
    say = own_say(division, piece.bench.machine)
    assert say is not None
    assert told["own_say"]["sentence"] == own_say_told(say, "mm")
    assert (told["own_say"]["kept"], told["own_say"]["hoopings"]) == (2, division.count - plain["record"]["count"])
    assert told["own_say"]["minutes"] == pytest.approx(told["minutes"] - plain["minutes"], abs=0.02)
    assert [h["laid"] for h in told["hoopings"]] == [h.laid for h in division.hoopings]
    (finding,) = told["findings"]
    assert finding["reason"] == 'Nothing called "sprig-99" is sewn on front.'
    assert worked(client, "proof")[-1][0] == "done"
    assert finding in client.get(f"{client.here}/proof").json()["findings"]
