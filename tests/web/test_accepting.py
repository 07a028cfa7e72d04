"""Accepting a finding on the page: what was worked out is kept, and what cannot be accepted is refused."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from festoon.desk import AcceptFinding, SetWord
from festoon.web.accepting import carried
from festoon.web.answers import ProofTold

from .conftest import Client, worked

NOTE = "Tried on a scrap: it will do."


def proof(client: Client) -> dict[str, Any]:
    answer = client.get(f"{client.here}/proof")
    assert answer.status_code == 200, answer.text
    told: dict[str, Any] = answer.json()
    return told


def accepting(finding: dict[str, Any], **words: Any) -> dict[str, Any]:
    where = {"rule": finding["rule"], "panel": finding["where"]["panel"], "about": finding["about"]}
    return {"do": "accept", **where, "amount": finding["amount"]["value"], "note": NOTE, **words}


def change(client: Client, *edits: dict[str, Any]) -> Any:
    revision = client.get(f"{client.here}/piece").json()["revision"]
    return client.post(f"{client.here}/change", json={"revision": revision, "label": "", "edits": list(edits)})


@pytest.fixture
def gaps(folder: Path, client: Client) -> Client:
    """The starting piece with joins that end at their motifs' edge, proved: its meetings may gap."""
    piece = folder / "piece.toml"
    piece.write_text(piece.read_text("utf-8").replace('stitch = "satin"', 'tuck = 0\nstitch = "satin"', 1), "utf-8")
    assert worked(client, "proof")[-1][0] == "done"
    return client


def test_accepted_and_taken_back_without_working_it_out_anew(gaps: Client) -> None:
    before = proof(gaps)
    finding = before["findings"][0]
    assert (finding["verdict"], finding["rule"]) == ("look again", "gap")
    told = change(gaps, accepting(finding))
    assert told.status_code == 200, told.text
    after = proof(gaps)
    assert after["revision"] == told.json()["revision"] != before["revision"]
    marked = [f for f in after["findings"] if f["key"] == finding["key"]]
    assert {f["accepted"] for f in marked} == {NOTE}
    assert {f["accepted"] for f in after["findings"] if f["key"] != finding["key"]} == {""}
    assert after["findings"][-len(marked) :] == marked
    assert after["verdict"] == before["verdict"]
    picture = after["thickness"][0]["picture"]
    assert gaps.get(f"{gaps.here}/{picture}").status_code == 200
    back = {k: v for k, v in accepting(finding).items() if k not in ("amount", "note")}
    assert change(gaps, back).status_code == 200
    again = proof(gaps)
    assert sorted(f["key"] for f in again["findings"]) == sorted(f["key"] for f in before["findings"])
    assert {f["accepted"] for f in again["findings"]} == {""}


def test_it_reads_as_worked_out_anew(gaps: Client) -> None:
    change(gaps, accepting(proof(gaps)["findings"][0]))
    kept = proof(gaps)
    change(gaps, {"do": "piece", "table": "piece", "word": "name", "value": "another"})
    worked(gaps, "proof")
    anew = proof(gaps)
    told = [{(f["key"], f["where"]["told"], f["accepted"], f["lapsed"]) for f in p["findings"]} for p in (kept, anew)]
    assert told[0] == told[1]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ({"amount": 0.01}, "it is worse there than what would be accepted."),
        ({"rule": "too thick"}, "nothing of the kind was found there."),
        ({"about": ["sprig-1"]}, "nothing of the kind was found there."),
        ({"note": " "}, "the note has no words that can be printed."),
    ],
)
def test_what_cannot_be_accepted_is_refused(gaps: Client, folder: Path, words: dict[str, Any], sentence: str) -> None:
    before = (folder / "piece.toml").read_bytes()
    told = change(gaps, accepting(proof(gaps)["findings"][0], **words))
    assert told.status_code == 422
    assert sentence in told.json()["sentence"]
    assert (folder / "piece.toml").read_bytes() == before


def test_nothing_is_accepted_that_was_not_proved(client: Client) -> None:
    told = change(client, {"do": "accept", "rule": "gap", "amount": 1, "note": NOTE})
    assert told.status_code == 422
    assert "has not been proved" in told.json()["sentence"]


def test_what_will_not_work_is_never_accepted(folder: Path, client: Client) -> None:
    bench = folder / "bench.toml"
    bench.write_text(bench.read_text("utf-8").replace("[machine]\n", "[machine]\nmost_stitches = 700\n"), "utf-8")
    worked(client, "proof")
    finding = proof(client)["findings"][0]
    assert (finding["verdict"], finding["key"]) == ("will not work", "")
    told = change(client, accepting(finding))
    assert told.status_code == 422
    assert "this will not work, so it cannot be accepted." in told.json()["sentence"]
    assert finding["remedy"] in told.json()["sentence"]


def test_the_mend_that_is_offered_mends_it(gaps: Client) -> None:
    finding = proof(gaps)["findings"][0]
    (mend,) = finding["mends"]
    assert finding["remedy"] == f"{mend['told']}."
    change(gaps, {"do": "set", **{k: mend[k] for k in ("element", "word", "value")}})
    worked(gaps, "proof")
    assert [f for f in proof(gaps)["findings"] if f["key"] == finding["key"]] == []


def test_meetings_and_levels_are_told(gaps: Client) -> None:
    told = proof(gaps)
    for meeting in told["meetings"]:
        assert f"{meeting['parts'][0]} meets {meeting['parts'][1]}, hoopings " in meeting["told"]
        assert meeting["within"] in meeting["told"]
    assert [level["told"] for level in told["levels"]] == ["bare cloth", "1 layer", "2 layers", "3 layers", "4 or more"]
    assert told["unneeded"] == []


def test_any_other_change_is_worked_out_anew() -> None:
    proof = ProofTold(
        revision="a", verdict="sound", findings=[], told=[], meetings=[], thickness=[], levels=[], unneeded=[]
    )
    assert carried(proof, [SetWord(element="a", word="tuck", value=1)], "b") is None
    kept = carried(proof, [AcceptFinding(rule="gap")], "b")
    assert kept is not None
    assert kept.revision == "b"
