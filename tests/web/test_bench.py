"""Beside the machine: steps and ticks over the server, and the corrected file equal to that of `festoon true`."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import pytest
from typer.testing import CliRunner

from festoon.cli import app
from festoon.make import make
from festoon.piece import read_piece
from festoon.supplies import count
from festoon.truing import judged
from tests.truing.folder import new_row
from tests.web.conftest import Client, Done, client_of, page_in, worked


@pytest.fixture
def row(tmp_path: Path) -> Path:
    return new_row(tmp_path / "row")


@pytest.fixture
def bench(row: Path, tmp_path: Path) -> Iterator[Client]:
    with client_of(row, page_in(tmp_path)) as client:
        worked(client, "sheets")
        yield client


def told(client: Client) -> Any:
    answer = client.get(f"{client.here}/bench")
    assert answer.status_code == 200, answer.text
    return answer.json()


def asked(client: Client, way: str, **words: Any) -> Any:
    revision = client.get(f"{client.here}/piece").json()["revision"]
    return client.post(f"{client.here}/bench/{way}", json={"revision": revision, **words})


def ticked(client: Client, hooping: int, *steps: str, done: bool = True) -> Any:
    answer = asked(client, "tick", ticks=told(client)["ticks"], hooping=hooping, steps=steps, done=done)
    assert answer.status_code == 200, answer.text
    return answer.json()


def readings(client: Client, hooping: int, off: tuple[float, float] = (0.5, -0.3)) -> dict[str, tuple[float, float]]:
    """Every cross of a hooping read alike."""
    return {c["name"]: off for c in told(client)["hoopings"][hooping - 1]["crosses"]}


def changed(client: Client, edit: dict[str, Any]) -> None:
    revision = client.get(f"{client.here}/piece").json()["revision"]
    answer = client.post(f"{client.here}/change", json={"revision": revision, "label": "a change", "edits": [edit]})
    assert answer.status_code == 200, answer.text
    worked(client, "sheets")


def done_steps(bench: Any, hooping: int) -> list[str]:
    return [s["name"] for s in bench["hoopings"][hooping - 1]["steps"] if s["done"]]


def snapshot(folder: Path) -> dict[str, bytes]:
    """Everything that `festoon make` and `festoon true` write."""
    kept = [*folder.glob("made/*"), *folder.glob("*.json")]
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(kept)}


def test_before_the_files_are_made_ready_it_says_so(client: Client) -> None:
    answer = client.get(f"{client.here}/bench")
    assert answer.status_code == 404
    assert answer.json()["sentence"].startswith("the hoopings have not been made ready for the machine.")


def test_every_hooping_with_its_steps_and_minutes(done: Done) -> None:
    bench, made = told(done.client), done.made
    taken = count(made.division, made.layout.piece.bench).minutes
    record = json.loads(made.files["hoopings.json"])["hoopings"]
    assert [h["number"] for h in bench["hoopings"]] == [h.number for h in made.division.hoopings]
    for h, entry, minutes in zip(bench["hoopings"], record, taken, strict=True):
        assert h["minutes_left"] == pytest.approx(minutes.total, abs=0.01)
        assert [[c["name"], c["in_hoop"]] for c in h["crosses"]] == [[m["name"], m["in_hoop"]] for m in entry["marks"]]
        assert (h["file"], h["hoop"]["field"]) == (entry["file"], entry["field"])
        assert [s["kind"] for s in h["steps"] if s["kind"] != "sew"][-5:] == ["mark", "hoop", "thread", "check", "out"]
        assert [s["thread"]["colour"] for s in h["steps"] if s["kind"] == "sew"] == [t["colour"] for t in h["threads"]]
    assert bench["hoopings"][0]["steps"][0]["cautions"][0]["text"].startswith("Needle: keep hands clear")
    assert bench["minutes_left"] == pytest.approx(sum(m.total for m in taken), abs=0.1)


def test_the_cloth_in_the_hoop_ends_at_its_edge_or_at_the_ring(bench: Client) -> None:
    for h in told(bench)["hoopings"]:
        ring = np.array(h["hoop"]["inner"]) / 2
        cloth = np.array(h["cloth"])
        assert (np.abs(cloth) <= ring + 1e-6).all()
        assert (np.abs(cloth).max(axis=0) == pytest.approx(ring, abs=1e-6)) or len(cloth) > 3


def test_lengths_are_told_in_the_piece_s_units(bench: Client, tmp_path: Path) -> None:
    assert "in (" not in told(bench)["hoopings"][0]["steps"][1]["told"][0]
    (tmp_path / "inches").mkdir()
    with client_of(new_row(tmp_path / "inches" / "row", "inch"), page_in(tmp_path / "inches")) as client:
        worked(client, "sheets")
        assert "in (" in told(client)["hoopings"][0]["steps"][1]["told"][0]
        verdict = asked(client, "judge", hooping=1, readings=readings(client, 1)).json()
    assert verdict["short"] == "The cloth lies 0.02 in right and 0.012 in up."


def test_ticks_are_kept_beyond_the_server(bench: Client, row: Path, tmp_path: Path) -> None:
    before = told(bench)["minutes_left"]
    after = ticked(bench, 2, "care", "mark", "hoop")
    assert after["minutes_left"] == pytest.approx(before - 8)  # the time that hooping takes by the bench
    assert done_steps(after, 2) == [s for s in ("care", "mark", "hoop") if s in done_steps(after, 2)]
    (tmp_path / "again").mkdir()
    with client_of(row, page_in(tmp_path / "again")) as again:
        worked(again, "sheets")
        now = told(again)
    assert (now["hooping"], now["hoopings"]) == (2, after["hoopings"])
    assert json.loads((row / "progress.json").read_text("utf-8"))["hooping"] == 2


def test_when_all_of_a_hooping_is_done_the_work_goes_on_to_the_next(bench: Client) -> None:
    steps = [s["name"] for s in told(bench)["hoopings"][0]["steps"]]
    assert ticked(bench, 1, *steps[:-1])["hooping"] == 1
    assert ticked(bench, 1, steps[-1])["hooping"] == 2
    assert ticked(bench, 1, steps[-1], done=False)["hooping"] == 1


def test_two_devices_do_not_write_over_each_other(bench: Client, row: Path) -> None:
    seen = told(bench)["ticks"]
    ticked(bench, 1, "care")
    before = (row / "progress.json").read_bytes()
    answer = asked(bench, "tick", ticks=seen, hooping=1, steps=["mark"])
    assert answer.status_code == 409
    assert answer.json()["sentence"].startswith("steps were ticked on another device meanwhile.")
    assert (row / "progress.json").read_bytes() == before


def test_what_is_not_there_is_told(bench: Client) -> None:
    ticks = told(bench)["ticks"]
    answer = asked(bench, "tick", ticks=ticks, hooping=1, steps=["fly"])
    assert (answer.status_code, answer.json()["sentence"][:32]) == (422, "hooping 1 has no step “fly”. Loa")
    for way, more in (("tick", {"ticks": ticks, "steps": []}), ("judge", {"readings": {}}), ("true", {"readings": {}})):
        answer = asked(bench, way, hooping=9, **more)
        assert (answer.status_code, answer.json()["sentence"]) == (422, "there is no hooping 9. They are 1 to 3.")
    for name in ("corrected", "sewing.png", "sewn.png"):
        assert bench.get(f"{bench.here}/bench/9/{name}").status_code == 422
    assert bench.get(f"{bench.here}/bench/1/corrected").status_code == 404


def test_ticks_that_cannot_be_understood_are_told(bench: Client, row: Path) -> None:
    (row / "progress.json").write_text("{", "utf-8")
    answer = bench.get(f"{bench.here}/bench")
    assert answer.status_code == 422
    assert "the ticks in it cannot be understood." in answer.json()["sentence"]


def test_readings_are_judged_and_nothing_is_written(bench: Client, row: Path) -> None:
    before, read = snapshot(row), readings(bench, 1)
    answer = asked(bench, "judge", hooping=1, readings=read)
    assert answer.status_code == 200, answer.text
    piece = read_piece(row)
    (row.parent / "elsewhere").mkdir()
    made, _ = make(row, row.parent / "elsewhere" / "made")
    truing = judged(piece, made.division.hoopings[0], read, "mm")
    verdict = answer.json()
    assert (verdict["verdict"], verdict["judged"], verdict["usable"]) == ("sound", "sound", True)
    assert verdict["told"] == list(truing.sentences)
    assert verdict["short"] == "The cloth lies 0.5 mm right and 0.3 mm up."
    assert snapshot(row) == before == {}


def test_one_reading_is_too_few(bench: Client) -> None:
    first = dict([next(iter(readings(bench, 1).items()))])
    answer = asked(bench, "judge", hooping=1, readings=first)
    assert answer.status_code == 422
    assert "one reading cannot tell a turn from a shift." in answer.json()["sentence"]


@pytest.mark.parametrize("reading", [[1e400, 0], ["far", 0], [0], [2000, 0]])
def test_no_number_is_no_reading(bench: Client, reading: Any) -> None:
    body = json.dumps({"revision": "x", "hooping": 1, "readings": {"A": reading}})
    answer = bench.post(f"{bench.here}/bench/judge", content=body, headers={"content-type": "application/json"})
    assert answer.status_code == 422


def by_the_command_line(row: Path, hooping: int, read: dict[str, tuple[float, float]]) -> dict[str, bytes]:
    """What `festoon make` and `festoon true` write for the same piece."""
    copy = Path(shutil.copytree(row, row.parent / "by-hand", ignore=shutil.ignore_patterns(".history", "made")))
    make(copy)
    words = [word for name, (x, y) in read.items() for word in ("--read", f"{name}={x},{y}")]
    done = CliRunner().invoke(app, ["true", str(copy), str(hooping), *words])
    assert done.exit_code == 0, done.output
    return snapshot(copy)


def test_the_corrected_file_is_that_of_the_command_line(bench: Client, row: Path) -> None:
    read = readings(bench, 1)
    expected = by_the_command_line(row, 1, read)
    answer = asked(bench, "true", hooping=1, readings=read).json()
    assert (answer["usable"], answer["file"]) == (True, "hooping-01-trued.dst")
    assert (
        answer["made"] == "The files in the piece's folder “made” were not there yet, so all of them were made first."
    )
    assert any(s.startswith("Sew hooping-01-trued.dst in place of hooping-01.dst") for s in answer["told"])
    assert "made/hooping-01-trued.dst" in expected
    assert snapshot(row) == expected
    download = bench.get(f"{bench.here}/bench/1/corrected")
    assert download.content == expected["made/hooping-01-trued.dst"]
    assert 'filename="hooping-01-trued.dst"' in download.headers["content-disposition"]
    trued = told(bench)["hoopings"][0]["trued"]
    assert trued == {"file": "hooping-01-trued.dst", "readings": {n: list(off) for n, off in read.items()}}
    assert asked(bench, "true", hooping=2, readings=readings(bench, 2)).json()["made"] == ""


def test_files_older_than_the_piece_are_made_anew(bench: Client, row: Path) -> None:
    make(row)
    (row / "made" / "hooping-02.dst").write_bytes(b"of an older piece")
    answer = asked(bench, "true", hooping=1, readings=readings(bench, 1)).json()
    assert answer["made"].startswith("The files in the piece's folder “made” were older than the piece")
    assert snapshot(row)["made/hooping-02.dst"] != b"of an older piece"


def test_hooping_again_is_advised_and_nothing_written(bench: Client, row: Path) -> None:
    make(row)
    before = snapshot(row)
    answer = asked(bench, "true", hooping=1, readings=readings(bench, 1, (7.0, 0.0))).json()
    assert (answer["verdict"], answer["judged"], answer["usable"]) == ("hoop again", "will not work", False)
    assert answer["file"] is None
    assert answer["short"] == "Too far off: hoop again, moving the cloth 7 mm left."
    assert answer["told"][-1] == "Nothing was written."
    assert snapshot(row) == before


def test_laps_lengthened_by_the_command_line_are_not_written_over(bench: Client, row: Path) -> None:
    make(row)
    record = row / "made" / "hoopings.json"
    held = json.loads(record.read_text("utf-8"))
    held["lengthened"] = [{"element": None, "word": "overlap", "from": 1.0, "to": 2.0}]
    record.write_text(json.dumps(held), "utf-8")
    before = snapshot(row)
    answer = asked(bench, "true", hooping=1, readings=readings(bench, 1))
    assert answer.status_code == 422
    assert "its laps lengthened" in answer.json()["sentence"]
    assert snapshot(row) == before


def moved(client: Client, name: str, x: float) -> None:
    changed(client, {"do": "set", "element": name, "word": "at", "value": [x, 80]})


def test_ticks_do_not_count_for_other_stitches(bench: Client, row: Path) -> None:
    ticked(bench, 2, "mark", "hoop")
    seen = asked(bench, "judge", hooping=2, readings=readings(bench, 2)).json()
    assert seen["usable"]
    revision = bench.get(f"{bench.here}/piece").json()["revision"]
    moved(bench, "patch 2", 129)
    now = told(bench)
    assert done_steps(now, 2) == []
    assert now["hoopings"][1]["note"].startswith("Steps of hooping 2 were ticked, last “Hoop cloth, the crosses as in")
    body = {"revision": revision, "ticks": now["ticks"], "hooping": 2, "steps": ["mark"]}
    assert bench.post(f"{bench.here}/bench/tick", json=body).status_code == 409
    moved(bench, "patch 2", 128)
    assert done_steps(told(bench), 2) == ["mark", "hoop"]


def test_what_will_not_work_is_not_made(row: Path, tmp_path: Path) -> None:
    text = (row / "piece.toml").read_text("utf-8")
    extra = '[[element]]\nkind = "motif"\nname = "over {n}"\nfile = "motifs/patch.dst"\nat = [70, 80]\n'
    (row / "piece.toml").write_text(text + "".join(extra.format(n=n) for n in range(12)), "utf-8")
    with client_of(row, page_in(tmp_path)) as client:
        worked(client, "sheets")
        refused = told(client)["refused"]
        answer = asked(client, "true", hooping=1, readings=readings(client, 1))
    assert refused
    assert answer.status_code == 422
    assert answer.json()["sentence"].startswith("proof: this will not work, so nothing was made:")
    assert not (row / "made").exists()


def picture(client: Client, hooping: int, name: str) -> Any:
    answer = client.get(f"{client.here}/bench/{hooping}/{name}.png")
    assert answer.headers["content-type"] == "image/png"
    return cv2.imdecode(np.frombuffer(answer.content, np.uint8), cv2.IMREAD_UNCHANGED)


def test_the_picture_shows_the_hoop_s_inside_and_what_was_sewn_before(bench: Client) -> None:
    """The inner ring is 130 mm: 8 pixels a mm. The first hooping finds nothing sewn; the second touches the first."""
    assert picture(bench, 1, "sewing").shape == (1040, 1040, 4)
    assert not picture(bench, 1, "sewn").any()
    assert picture(bench, 1, "sewing")[..., 3].any()
    assert picture(bench, 2, "sewn")[..., 3].any()
