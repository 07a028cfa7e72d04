"""A piece on the table, served within the test; one run through all long work, shared by those who only look."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from festoon.make import Made, plan
from festoon.piece import read_piece
from festoon.piece.start import new_piece
from festoon.web.app import create_app
from festoon.web.guard import TOKEN_HEADER, Door
from festoon.web.table import Table

EXAMPLE = Path(__file__).parents[2] / "examples" / "sea-holly-cushion"
DOOR = Door(8123, "a-token-that-nobody-guesses")
HOST = "http://127.0.0.1:8123"


def page_in(folder: Path) -> Path:
    page = folder / "page"
    page.mkdir()
    (page / "index.html").write_text("<!doctype html><title>Festoon</title>", "utf-8")
    (page / "app.js").write_text("export {};", "utf-8")
    (folder / "secret.txt").write_text("not for the browser", "utf-8")
    return page


class Client(TestClient):
    """A browser at the page; here: where everything of its piece lies."""

    here: str


def client_of(folder: Path, page: Path, door: Door = DOOR) -> Client:
    table = Table(folder)
    client = Client(
        create_app(table, door, page),
        base_url=HOST,
        headers={TOKEN_HEADER: DOOR.token},
        follow_redirects=False,
    )
    client.here = f"/api/pieces/{table.first}"
    return client


@pytest.fixture(autouse=True, scope="session")
def settings(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """No test reads or writes the settings of whoever runs it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CONFIG_HOME", str(tmp_path_factory.mktemp("settings")))
        yield


def events_of(client: Client, id: str) -> list[tuple[str, str]]:
    """All of a job's course, to its end."""
    answer = client.get(f"{client.here}/work/{id}/events")
    assert answer.headers["content-type"].startswith("text/event-stream")
    told = [block.split("\n") for block in answer.text.strip().split("\n\n")]
    return [(way.removeprefix("event: "), json.loads(data.removeprefix("data: "))["sentence"]) for way, data in told]


def begun(client: Client, what: str) -> str:
    """Begin work; gives its name."""
    revision = client.get(f"{client.here}/piece").json()["revision"]
    answer = client.post(f"{client.here}/work", json={"what": what, "revision": revision})
    assert answer.status_code == 200, answer.text
    return str(answer.json()["id"])


def worked(client: Client, what: str) -> list[tuple[str, str]]:
    """Have work done to its end; gives its course."""
    return events_of(client, begun(client, what))


@dataclass(frozen=True)
class Done:
    """The example served with everything worked out, the course of that, and the same from the command line's job."""

    client: Client
    course: list[tuple[str, str]]
    made: Made


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The starting piece, to be changed."""
    new_piece(tmp_path / "piece")
    return tmp_path / "piece"


@pytest.fixture
def client(folder: Path, tmp_path: Path) -> Iterator[Client]:
    with client_of(folder, page_in(tmp_path)) as client:
        yield client


@pytest.fixture(scope="session")
def example(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the example, not to be changed."""
    folder = tmp_path_factory.mktemp("example") / "cushion"
    shutil.copytree(EXAMPLE, folder)
    return folder


@pytest.fixture(scope="session")
def done(example: Path) -> Iterator[Done]:
    with client_of(example, page_in(example.parent)) as client:
        id = begun(client, "sheets")
        made = plan(read_piece(example))  # meanwhile
        yield Done(client, events_of(client, id), made)


def sprig(piece: Any) -> Any:
    return next(e for e in piece["elements"] if e["name"] == "sprig")
