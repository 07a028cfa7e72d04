"""The server held against its own description: whatever it is asked, it answers as it says, and never by a fault.

Schemathesis makes requests from the OpenAPI description of every route, good and bad ones alike. Each has a share of
what is really there (the open piece, its revision, its elements, its files, its work), now all of it and now none, so
that the routes themselves are reached and not only their doors; that they were, answers of 200 or 204 prove.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import httpx2
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis import Case, GenerationMode, openapi
from schemathesis.checks import not_a_server_error
from schemathesis.core.result import Ok
from schemathesis.schemas import APIOperation
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from festoon.web.app import create_app
from festoon.web.guard import TOKEN_HEADER
from festoon.web.sharing import Sharing
from festoon.web.table import Table
from tests.truing.folder import new_row

from .conftest import DOOR, EXAMPLE, HOST, Client, begun, client_of, page_in, worked

Operation = APIOperation[Any, Any, Any, Any]
Request = Case[Any]

AS_IT_SAYS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]

TRIES = 8
"""Requests to each route, of good and of bad ones."""

FEW = {"/motifs": 3, "/work": 3}
"""Fewer where each begins a process of its own, by the end of the address."""

ALL = (1 << 16) - 1
"""Every word of a request as it should be."""

OTHERS_ONLY = "POST /api/share/enter"
"""What this machine itself may not ask: the door of other devices."""


@dataclass(frozen=True)
class Words:
    """What a request to a route may say so that it is done."""

    path: dict[str, Any]
    query: dict[str, Any]
    body: Any


def _operations() -> dict[str, Operation]:
    client = Client(create_app(Table(), DOOR), base_url=HOST, headers={TOKEN_HEADER: DOOR.token})
    found = openapi.from_dict(client.get("/api/openapi.json").json()).get_all_operations()
    return {one.ok().label: one.ok() for one in found if isinstance(one, Ok)}


OPERATIONS = _operations()
MOTIF = EXAMPLE / "motifs" / "sprig-small.vp3"


@pytest.fixture(scope="module")
def worked_out(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Client]:
    """A piece with everything worked out and one hooping trued, which stays as it is."""
    folder = tmp_path_factory.mktemp("contract")
    with client_of(new_row(folder / "row"), page_in(folder), replace(DOOR, sharing=Sharing(["127.0.0.2"]))) as client:
        assert worked(client, "sheets")[-1][0] == "done"
        trued = client.post(f"{client.here}/bench/true", json=_readings(client))
        assert trued.json()["file"], trued.text
        yield client


@pytest.fixture
def client(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Client]:
    """The starting piece, to be changed; what is begun anew lies in a home of the test's own."""
    (tmp_path / "home").mkdir()
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    with client_of(folder, page_in(tmp_path)) as client:
        yield client


@pytest.mark.parametrize("label", OPERATIONS)
def test_every_route_answers_as_it_says(label: str, client: Client, worked_out: Client) -> None:
    operation = OPERATIONS[label]
    asked = client if _changes(label) else worked_out
    words = _words(label, asked)
    answers: Counter[int] = Counter()

    for mode in _modes(operation):
        tries = next((n for end, n in FEW.items() if operation.path.endswith(end)), TRIES)

        @settings(max_examples=tries, derandomize=True, database=None, suppress_health_check=list(HealthCheck))
        @given(case=operation.as_strategy(mode), said=st.one_of(st.just(ALL), st.integers(0, ALL)))
        def ask(case: Request, said: int) -> None:
            _say(case, words, said if answers else ALL, asked)
            answer = _answer(asked, case)
            case.validate_response(answer, AS_IT_SAYS)
            answers[answer.status_code] += 1

        ask()
    assert (answers[200] + answers[204] > 0) == (label != OTHERS_ONLY), answers


def _modes(operation: Operation) -> list[GenerationMode]:
    """Good requests, and bad ones where a request can be bad: any text at all may stand in an address."""
    may_be_bad = operation.body or operation.query or "{number}" in operation.path
    return list(GenerationMode) if may_be_bad else [GenerationMode.POSITIVE]


def _changes(label: str) -> bool:
    """Whether the route changes the piece or the home."""
    return label.startswith(("POST /api/start", "DELETE /api/start")) or label.endswith(
        ("/change", "/undo", "/redo", "POST /api/pieces/{piece}/motifs")
    )


def _words(label: str, client: Client) -> Words:
    """What is really there, for one route; undo and redo are given something to do."""
    get, post = client.get, client.post
    start, piece = get("/api/start").json(), get(f"{client.here}/piece").json()
    element, example = piece["elements"][-1]["name"], start["examples"][0]["key"]
    edit = {"do": "copy", "element": element, "by": [1, 1]}
    change = {"revision": piece["revision"], "label": "copying it", "edits": [edit]}
    motif = get(f"{client.here}/motifs").json()[0]["file"]
    path = {"piece": client.here.rpartition("/")[2], "number": "1", "key": example}
    query = {"panel": piece["panels"][0]["name"], "file": motif, "name": MOTIF.name, "revision": piece["revision"]}
    body: dict[str, Any] = {"revision": piece["revision"]}
    if "start" in label:
        words = {"name": "Wreath", "motifs": [start["motifs"][0]["key"]]}
        body = {
            "example": example,
            "folder": str(Path(start["home"]).parent.parent / "piece"),
            **start["answers"],
            **words,
        }
    if "/api/start/motifs" in label:
        path["key"] = start["motifs"][0]["key"]
    if "/files/" in label:
        path["name"] = next(file["name"] for file in get(f"{client.here}/files").json()["files"] if file["pages"])
    if "/work/" in label:
        path["id"] = begun(client, "sheets")
    if "/bench/" in label:
        body = {**_readings(client), "ticks": get(f"{client.here}/bench").json()["ticks"], "steps": ["mark"]}
    if label.endswith("POST /api/pieces/{piece}/motifs"):
        return Words(path, query, MOTIF.read_bytes())
    if label.endswith("/change"):
        body = change
    if label.endswith(("/undo", "/redo")):
        after = post(f"{client.here}/change", json=change).json()["revision"]
        if label.endswith("/redo"):
            post(f"{client.here}/undo", json={"revision": after})
    return Words(path, query, body)


def _readings(client: Client) -> dict[str, Any]:
    """Every cross of the first hooping read half a millimetre to the right."""
    crosses = client.get(f"{client.here}/bench").json()["hoopings"][0]["crosses"]
    revision = client.get(f"{client.here}/piece").json()["revision"]
    return {"revision": revision, "hooping": 1, "readings": {cross["name"]: [0.5, 0] for cross in crosses}}


def _say(case: Request, words: Words, said: int, client: Client) -> None:
    """Put what is really there in the place of what was thought up, word by word as the bits of `said` have it."""
    if isinstance(words.body, bytes) and said & 1:
        case.body = words.body
    if isinstance(words.body, dict) and "revision" in words.body:
        words.body["revision"] = client.get(f"{client.here}/piece").json()["revision"]
    for thought_up, real in ((case.path_parameters, words.path), (case.query, words.query), (case.body, words.body)):
        if not isinstance(thought_up, dict):
            continue
        for bit, (word, value) in enumerate(real.items()):
            if word in thought_up and said >> bit & 1:
                thought_up[word] = value


def _answer(client: Client, case: Request) -> httpx2.Response:
    asked = case.as_transport_kwargs(base_url=HOST)
    words = {"params": asked["params"], "headers": asked["headers"]}
    return client.request(asked["method"], asked["url"], json=asked.get("json"), content=asked.get("data"), **words)
