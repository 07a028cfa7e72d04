"""Long work: its course, its end, its results, and that it can be stopped."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import time
import zipfile
from contextlib import suppress
from pathlib import Path

import cv2
import numpy as np
import pytest

from festoon.web.process import Hands, Limits, Running
from festoon.work.findings import findings_json

from .conftest import Client, Done, events_of, worked


def test_work_tells_how_it_goes(done: Done) -> None:
    ways = [way for way, _ in done.course]
    assert ways[-1] == "done"
    assert set(ways[:-1]) == {"progress"}
    assert "proving that it will work" in [sentence for _, sentence in done.course]


def test_files_are_those_of_the_command_line(done: Done) -> None:
    client = done.client
    told = client.get(f"{client.here}/files").json()
    assert {f["name"]: f["size"] for f in told["files"]} == {n: len(d) for n, d in done.made.files.items()}
    for name, data in done.made.files.items():
        answer = client.get(f"{client.here}/files/{name}")
        assert answer.content == data, name
        framed = "frame-ancestors 'self'" in answer.headers["content-security-policy"]
        assert framed == name.endswith(".pdf")
    assert client.get(f"{client.here}/files/..%2fpiece.toml").status_code == 404


def test_the_archive_holds_them_all_and_never_differs(done: Done) -> None:
    first, second = (done.client.get(f"{done.client.here}/files.zip").content for _ in range(2))
    assert first == second
    with zipfile.ZipFile(io.BytesIO(first)) as archive:
        assert {n: archive.read(n) for n in archive.namelist()} == done.made.files


def test_hoopings_and_proof_are_told(done: Done) -> None:
    client = done.client
    told = client.get(f"{client.here}/hoopings").json()
    assert told["record"] == json.loads(done.made.files["hoopings.json"])
    assert told["headline"] == done.made.division.headline
    assert [[b["name"] for b in h["blocks"]] for h in told["hoopings"]] == [
        [b.name for b in h.blocks] for h in done.made.division.hoopings
    ]
    assert told["minutes"] == pytest.approx(done.made.supplies.total_minutes, abs=0.01)
    proof = client.get(f"{client.here}/proof").json()
    assert proof["findings"] == json.loads(findings_json(done.made.proof.findings))
    assert len(proof["meetings"]) == len(done.made.proof.meetings) > 0
    assert np.allclose(proof["meetings"][0]["covariance"], done.made.proof.meetings[0].covariance)
    picture = proof["thickness"][0]
    drawn = client.get(f"{client.here}/{picture['picture']}").content
    pixels = cv2.imdecode(np.frombuffer(drawn, np.uint8), cv2.IMREAD_COLOR)
    assert pixels is not None
    assert pixels.shape[1] / pixels.shape[0] == pytest.approx(picture["size"][0] / picture["size"][1], abs=0.01)
    assert client.get(f"{client.here}/proof/thickness.png?panel=no").status_code == 404


def test_what_is_known_is_not_worked_out_again(done: Done) -> None:
    assert worked(done.client, "proof") == [("done", "")]
    assert worked(done.client, "sheets") == [("done", "")]


def test_results_belong_to_the_piece_as_it_stands(client: Client) -> None:
    assert client.get(f"{client.here}/hoopings").status_code == 404
    assert worked(client, "hoopings")[-1][0] == "done"
    first = client.get(f"{client.here}/hoopings").json()
    assert client.get(f"{client.here}/proof").status_code == client.get(f"{client.here}/files").status_code == 404
    edit = {"do": "piece", "table": "piece", "word": "name", "value": "Other"}
    other = client.post(f"{client.here}/change", json={"revision": first["revision"], "edits": [edit]}).json()
    assert client.get(f"{client.here}/hoopings").status_code == 404
    client.post(f"{client.here}/undo", json={"revision": other["revision"]})
    assert client.get(f"{client.here}/hoopings").json() == first


def test_work_can_be_stopped_and_the_page_lives_on(client: Client) -> None:
    revision = client.get(f"{client.here}/piece").json()["revision"]
    asked = {"what": "sheets", "revision": revision}
    id = client.post(f"{client.here}/work", json=asked).json()["id"]
    assert client.post(f"{client.here}/work", json=asked).json()["id"] == id
    assert client.delete(f"{client.here}/work/{id}").status_code == 204
    assert events_of(client, id)[-1] == ("stopped", "")
    assert client.delete(f"{client.here}/work/{id}").status_code == 204
    assert client.get(f"{client.here}/files").status_code == 404
    assert client.get(f"{client.here}/work/none/events").status_code == 422
    assert worked(client, "hoopings")[-1][0] == "done"


def test_what_fails_says_why(client: Client, folder: Path) -> None:
    piece = client.get(f"{client.here}/piece").json()
    edit = {"do": "bench", "path": "hoop.0.field", "value": [1, 1]}
    small = client.post(f"{client.here}/change", json={"revision": piece["revision"], "edits": [edit]})
    assert small.status_code == 200, small.text
    way, sentence = worked(client, "hoopings")[-1]
    assert way == "failed"
    assert "field" in sentence


def sleeps(argument: float, tell: object) -> None:
    time.sleep(argument)


def spins(argument: object, tell: object) -> None:
    while True:
        pass


def hoards(argument: int, tell: object) -> int:
    return len(bytearray(argument))


def numbered(argument: object, tell: object) -> int:
    return os.getpid()


def test_a_process_ends_at_its_limits() -> None:
    too_long = list(Running().told(sleeps, 60.0, patience=0.2))
    spun = list(Running(Limits(1, 1000)).told(spins, None, patience=30))
    assert [way for way, _ in too_long + spun] == ["failed", "failed"]
    limited = Running(Limits(9, 100))
    assert list(limited.told(hoards, 1000, patience=30)) == [("done", 1000)]
    assert list(limited.told(hoards, 1000, patience=30)) == [("done", 1000)]
    assert limited.lives
    assert next(limited.told(hoards, 1 << 30, patience=30))[0] == "failed"
    assert not limited.lives


def process_of(running: Running) -> int:
    ((way, number),) = running.told(numbered, None, patience=30)
    assert way == "done"
    return int(number)


def alive(number: int) -> bool:
    with suppress(ProcessLookupError):
        os.kill(number, 0)
        return True
    return False


@pytest.mark.skipif(sys.platform == "win32", reason="processes are counted otherwise there")
def test_a_process_waits_for_the_next_task_and_then_ends() -> None:
    hands = Hands(wait=0.3)
    first = hands.take()
    number = process_of(first)
    hands.give_back(first)
    again = hands.take()
    assert process_of(again) == number
    other = hands.take()
    second = process_of(other)
    assert second != number
    hands.give_back(again)
    hands.give_back(other)
    assert (alive(number), alive(second)) == (True, False), "one waits, not two"
    ended = time.monotonic() + 20
    while alive(number) and time.monotonic() < ended:
        time.sleep(0.05)
    assert not alive(number)
    fresh = hands.take()
    assert process_of(fresh) not in {number, second}
    fresh.stop()
    hands.give_back(fresh)
    last = hands.take()
    assert last is not fresh, "what was stopped does not come back"
    hands.give_back(last)
    hands.close()
    assert not last.lives


def test_one_process_does_one_thing_after_another_and_not_what_was_stopped(client: Client) -> None:
    """Divided twice and stopped once; what comes after is as good as new."""
    assert worked(client, "hoopings")[-1][0] == "done"
    first = client.get(f"{client.here}/hoopings").json()
    edit = {"do": "piece", "table": "piece", "word": "name", "value": "Other"}
    other = client.post(f"{client.here}/change", json={"revision": first["revision"], "edits": [edit]}).json()
    asked = {"what": "hoopings", "revision": other["revision"]}
    id = client.post(f"{client.here}/work", json=asked).json()["id"]
    assert client.delete(f"{client.here}/work/{id}").status_code == 204
    assert events_of(client, id)[-1] == ("stopped", "")
    assert worked(client, "hoopings")[-1][0] == "done"
    again = client.get(f"{client.here}/hoopings").json()
    assert again["revision"] == other["revision"]
    assert again["hoopings"] == first["hoopings"]


@pytest.mark.parametrize(
    ("module", "without"),
    [
        ("festoon.web.serving", {"scipy", "typst"}),
        ("festoon.web.tasks", {"fastapi", "starlette", "uvicorn"}),
    ],
)
def test_each_process_loads_only_what_it_works_with(module: str, without: set[str]) -> None:
    """So that both stay small: the server lays out, the process beside it divides, proves and sets sheets."""
    run = f"import sys, {module}; print(*{{m.partition('.')[0] for m in sys.modules}})"
    loaded = subprocess.run([sys.executable, "-c", run], capture_output=True, text=True, check=True).stdout.split()
    assert "festoon" in loaded
    assert without & set(loaded) == set()
