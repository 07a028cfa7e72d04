"""`festoon prove`, and what `festoon make` does about what it finds."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

from festoon.errors import ProofError
from festoon.make import make, plan, proved
from festoon.piece import read_piece
from festoon.piece.start import new_piece
from festoon.work import Amount, Finding
from festoon.work.findings import findings_json
from tests.whole.command import flat, run

ROOT = Path(__file__).parents[2]
WORDS = (
    *("verdict", "where", "figure", "limit", "reason", "remedy", "source"),
    *("rule", "about", "amount", "mends", "accepted", "lapsed"),
)
TOO_MANY = "Its file has more stitches than my machine takes. Found 1,008 stitches; the limit is 700 stitches."


@pytest.fixture
def sound(tmp_path: Path) -> Path:
    folder = tmp_path / "p"
    new_piece(folder)
    return folder


def with_machine(folder: Path, line: str) -> Path:
    bench = folder / "bench.toml"
    bench.write_text(bench.read_text("utf-8").replace("[machine]\n", f"[machine]\n{line}\n"), "utf-8")
    return folder


@pytest.fixture
def hopeless(sound: Path) -> Path:
    """The starting piece on a machine that takes 700 stitches; seven of its hoopings have more."""
    return with_machine(sound, "most_stitches = 700")


@pytest.fixture
def doubtful(sound: Path) -> Path:
    """The same with a needle too fine for its threads."""
    bench = sound / "bench.toml"
    bench.write_text(bench.read_text("utf-8").replace('size = "75/11"', 'size = "60/8"'), "utf-8")
    return sound


def test_a_sound_piece(sound: Path) -> None:
    told = run("prove", sound)
    assert told.exit_code == 0
    text = flat(told.stdout)
    assert text.startswith("Sprig wreath Sound: nothing was found")
    assert "places where hoopings meet; the least sure is predicted to meet within ±" in text
    assert "Draw every cross from the whole template before you begin: the least sure meeting (hoopings " in text
    assert "Thickest: " in text
    assert json.loads(run("prove", sound, "--json").stdout) == []
    assert sorted(p.name for p in sound.iterdir()) == ["bench.toml", "motifs", "piece.toml"]


def test_what_will_not_work(hopeless: Path) -> None:
    told = run("prove", hopeless / "piece.toml")
    assert told.exit_code == 1
    text = flat(told.stdout)
    assert f"Will not work: hooping 2: {TOO_MANY} Divide the piece more finely" in text
    assert text.count("Will not work: ") == 1
    assert "The same at six more places: hooping 3 (1,008 stitches); " in text
    assert "and three more." in text
    assert "(most_stitches in the bench file)" in text
    assert "Sound" not in text


def test_what_the_swatch_measured_is_used_and_said(sound: Path) -> None:
    assert "your own figures" not in run("prove", sound).stdout
    sizes = "a=60 b=60 c=29.4 d=29.8 e=59.7 f=5.9 p=0.5 q=0.6 r=0.4 s=0.5 t=0.6"
    assert run("swatch", sound, "--measured", sizes).exit_code == 0
    told = (
        "By your own figures, as measured: drawing a cross; stitching draws the cloth in along its stitches; stitching "
        "draws the cloth in across its stitches; the widest satin spacing that hides the cloth. The rest is assumed."
    )
    assert told in flat(run("prove", sound).stdout)
    assert "Widened by 2 % along and 0.53 % across their stitches, as measured" in flat(run("make", sound).stdout)


def test_looking_again_is_no_failure(doubtful: Path) -> None:
    told = run("prove", doubtful)
    assert told.exit_code == 0
    assert "Look again: thread " in told.stdout
    assert "Found 0.19 mm; the limit is 0.17 mm." in flat(told.stdout)


def test_json_holds_the_findings_and_nothing_else(hopeless: Path) -> None:
    told = run("prove", hopeless, "--json")
    assert told.exit_code == 1
    objects = json.loads(told.stdout)
    findings = proved(read_piece(hopeless)).proof.findings
    assert len(objects) == len(findings) == 7
    for one in objects:
        assert list(one) == list(WORDS)
        assert list(one["where"]) == ["panel", "at", "elements", "hooping", "told"]
    assert objects[0]["where"]["hooping"] == 2
    assert objects[0]["where"]["at"] is None
    assert tuple(as_finding(o) for o in objects) == tuple(replace(f, about=f.concerns) for f in findings)


def as_finding(one: dict[str, Any]) -> Finding:
    """The finding that a JSON object was made from."""
    where = one.pop("where")
    at = where["at"] and tuple(where["at"])
    return Finding(
        **(one | {"amount": Amount(**one["amount"]), "about": tuple(one["about"]), "mends": tuple(one["mends"])}),
        where=where["told"],
        panel=where["panel"],
        at=at,
        elements=tuple(where["elements"]),
        hooping=where["hooping"],
    )


def test_json_tells_a_place_to_the_thousandth() -> None:
    found = Finding("look again", "la «rose»", "It is so.", at=(1.00049, 2.0), elements=("a", "b"), panel="front")
    (one,) = json.loads(findings_json([found]))
    assert one["where"] == {
        "panel": "front",
        "at": [1.0, 2.0],
        "elements": ["a", "b"],
        "hooping": 0,
        "told": "la «rose»",
    }
    assert "«rose»" in findings_json([found])


def test_the_words_of_the_json_are_documented() -> None:
    page = (ROOT / "docs" / "records.md").read_text("utf-8")
    for word in (*WORDS, "told", "panel", "at", "elements", "hooping", "value", "unit", "least"):
        assert f"| `{word}` |" in page.split("## What the proof found", 1)[1]


def test_make_refuses_and_writes_nothing(hopeless: Path) -> None:
    told = run("make", hopeless)
    assert told.exit_code == 1
    text = flat(told.stderr)
    assert "this will not work, so nothing was written:" in text
    assert f"hooping 2: {TOO_MANY}" in text
    assert text.count(" stitches than my machine takes") == 1
    assert "The same at six more places: hooping 3 (1,008 stitches); " in text
    assert "say --anyway" in text
    assert "Traceback" not in told.output
    assert sorted(p.name for p in hopeless.iterdir()) == ["bench.toml", "motifs", "piece.toml"]


def test_a_refusal_keeps_what_was_made_before(sound: Path) -> None:
    _, out = make(sound)
    before = {p.name: p.read_bytes() for p in out.iterdir()}
    with pytest.raises(ProofError, match="will not work"):
        make(with_machine(sound, "most_stitches = 700"))
    assert {p.name: p.read_bytes() for p in out.iterdir()} == before


def sheet_text(pdf: Path) -> str:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return flat(" ".join(page.get_textpage().get_text_range() for page in document))
    finally:
        document.close()


def test_anyway_prints_and_writes(hopeless: Path) -> None:
    told = run("make", hopeless, "--anyway")
    assert told.exit_code == 0, told.output
    assert f"Will not work: hooping 2: {TOO_MANY}" in flat(told.stdout)
    text = sheet_text(hopeless / "made" / "work-sheet.pdf")
    assert "What was found" in text
    assert "Will not work: hooping 2: Its file has more stitches than my machine takes." in text
    assert text.count("Found 1,008 stitches; the limit is 700 stitches.") == 1
    assert "The same at six more places: hooping 3 (1,008 stitches); " in text


def test_make_tells_where_to_look_again(doubtful: Path) -> None:
    told = run("make", doubtful)
    assert told.exit_code == 0, told.output
    assert "Look again: thread " in told.stdout
    text = sheet_text(doubtful / "made" / "work-sheet.pdf")
    assert "What was found" in text
    assert "Look again: thread " in text
    assert "Will not work" not in text


NOTE = "Tried on a scrap: it sews well."


def accept_all(folder: Path) -> None:
    """Let every finding be, as they stand, in the piece file."""
    tables = [
        f"""
[[accepted]]
rule = {json.dumps(one["rule"])}
panel = {json.dumps(one["where"]["panel"])}
about = {json.dumps(one["about"])}
amount = {one["amount"]["value"]}
note = {json.dumps(NOTE)}
"""
        for one in json.loads(run("prove", folder, "--json").stdout)
    ]
    piece = folder / "piece.toml"
    piece.write_text(piece.read_text("utf-8") + "".join(dict.fromkeys(tables)), "utf-8")


def test_what_is_accepted_is_told_apart_and_stands_on_both_sheets_with_its_note(doubtful: Path) -> None:
    files = {p.name: p.read_bytes() for p in make(doubtful)[1].iterdir()}
    accept_all(doubtful)
    told = run("prove", doubtful)
    assert told.exit_code == 0
    assert "Look again" not in told.stdout
    assert f"Accepted by you: {NOTE}" in flat(told.stdout)
    assert {one["accepted"] for one in json.loads(run("prove", doubtful, "--json").stdout)} == {NOTE}
    made, out = make(doubtful)
    assert made.proof.verdict == "look again"
    for sheet in ("proof.pdf", "work-sheet.pdf"):
        text = sheet_text(out / sheet)
        assert "Accepted by you" in text
        assert f"Accepted by you: {NOTE}" in text
        assert "Look again:" not in text
    assert "you have accepted." in sheet_text(out / "proof.pdf")
    for name, before in files.items():
        if name not in ("proof.pdf", "work-sheet.pdf"):
            assert (out / name).read_bytes() == before


def test_what_will_not_work_cannot_be_accepted_away(hopeless: Path) -> None:
    accept_all(hopeless)
    told = run("prove", hopeless)
    assert told.exit_code == 1
    assert "You accepted this once; as things are now it will not work." in flat(told.stdout)
    assert run("make", hopeless).exit_code == 1


def test_an_acceptance_that_nothing_needs_is_told_and_kept(sound: Path) -> None:
    piece = sound / "piece.toml"
    piece.write_text(
        piece.read_text("utf-8") + f'\n[[accepted]]\nrule = "gap"\npanel = "front"\namount = 0.1\nnote = "{NOTE}"\n',
        "utf-8",
    )
    before = piece.read_bytes()
    text = flat(run("prove", sound).stdout)
    assert "Sound: nothing was found" in text
    assert f"Not needed now: you accepted “gap” on front ({NOTE})" in text
    assert piece.read_bytes() == before


def test_the_placing_error_is_told_in_the_units_of_the_piece(sound: Path) -> None:
    assert re.search(r"A B C D +0\.\d mm", run("make", sound).stdout)
    piece = sound / "piece.toml"
    piece.write_text(piece.read_text("utf-8").replace('units = "mm"', 'units = "inch"'), "utf-8")
    told = run("make", sound).stdout
    assert re.search(r"A B C D +0\.\d\d in", told)
    assert not re.search(r"\d mm", told)


def test_nothing_is_printed_where_nothing_was_found(sound: Path) -> None:
    made, out = make(sound)
    assert made.findings == ()
    assert "What was found" not in sheet_text(out / "work-sheet.pdf")


def test_planning_refuses_nothing(hopeless: Path) -> None:
    made = plan(read_piece(hopeless))
    assert made.proof.verdict == "will not work"
    assert made.findings == made.proof.findings
    assert made.files
