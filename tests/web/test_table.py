"""Many pieces at one table: each by its key, opened once, nothing of one in another; the pieces remembered."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from festoon.errors import FestoonError
from festoon.piece.read import shared_bench
from festoon.piece.start import new_piece
from festoon.web.app import create_app
from festoon.web.guard import TOKEN_HEADER
from festoon.web.recent import MOST, forget, recent, remember
from festoon.web.table import Table, UnknownPiece, home_of, key_of

from .conftest import DOOR, HOST, Client, worked


@pytest.fixture(autouse=True)
def config(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Settings of this test alone."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    return shared_bench().parent


@pytest.fixture
def other(tmp_path: Path) -> Path:
    new_piece(tmp_path / "other")
    return tmp_path / "other"


@pytest.fixture
def two(folder: Path, other: Path, tmp_path: Path) -> Iterator[tuple[Client, Client]]:
    """Two pieces, each as its own page sees it, at one server."""
    table = Table()
    app = create_app(table, DOOR, tmp_path / "none")
    clients = [Client(app, base_url=HOST, headers={TOKEN_HEADER: DOOR.token}) for _ in range(2)]
    for client, home in zip(clients, (folder, other), strict=True):
        client.here = f"/api/pieces/{table.open(home)}"
    with clients[0]:
        yield clients[0], clients[1]


def test_pieces_do_not_mix(two: tuple[Client, Client], other: Path) -> None:
    first, second = two
    before = second.get(f"{second.here}/piece").json()
    revision = first.get(f"{first.here}/piece").json()["revision"]
    edit = {"do": "piece", "table": "piece", "word": "name", "value": "Another"}
    told = first.post(f"{first.here}/change", json={"revision": revision, "edits": [edit]}).json()
    assert told["name"] == "Another"
    assert second.get(f"{second.here}/piece").json() == before
    undone = first.post(f"{first.here}/undo", json={"revision": told["revision"]}).json()
    assert undone["revision"] == before["revision"]  # two alike
    assert worked(first, "hoopings")[-1][0] == "done"
    assert first.get(f"{first.here}/hoopings").status_code == 200
    assert second.get(f"{second.here}/hoopings").status_code == 404  # although the pieces are alike
    id = first.post(f"{first.here}/work", json={"what": "proof", "revision": revision}).json()["id"]
    assert second.delete(f"{second.here}/work/{id}").status_code == 422
    assert not first.post(f"{first.here}/undo", json={"revision": revision}).is_success
    assert not (other / ".history" / "0").exists()


def test_a_key_is_stable_and_belongs_to_the_folder(folder: Path, tmp_path: Path) -> None:
    link = tmp_path / "link"
    link.symlink_to(folder, target_is_directory=True)
    ways = (folder, folder / "piece.toml", tmp_path / "link", folder / ".." / folder.name)
    keys = {Table().open(way) for way in ways}
    assert keys == {key_of(home_of(folder))}
    table = Table()
    assert table.opened(table.open(folder)) is table.opened(table.open(link))


def test_a_piece_opened_before_is_known_to_the_next_server(folder: Path, tmp_path: Path) -> None:
    key = Table().open(folder)
    with TestClient(create_app(Table(), DOOR, tmp_path), base_url=HOST, headers={TOKEN_HEADER: DOOR.token}) as client:
        assert client.get(f"/api/pieces/{key}/piece").status_code == 200
        for unknown in ("0" * 12, "..", "%2e%2e", key[:-1], "a" * 9000):
            answer = client.get(f"/api/pieces/{unknown}/piece")
            assert answer.status_code == 404, unknown
            assert answer.json()["sentence"]
        shutil.rmtree(folder)
        answer = client.get(f"/api/pieces/{key}/piece")
    assert answer.status_code == 422
    assert str(folder) in answer.json()["sentence"]


def test_pieces_are_remembered_newest_first_each_once(folder: Path, other: Path) -> None:
    table = Table()
    for home in (folder, other, folder):
        table.open(home)
    assert [(r.folder, r.name) for r in recent()] == [(folder, "Sprig wreath"), (other, "Sprig wreath")]
    assert table.first is None  # nothing lay on it when the server began
    assert Table(folder).first == key_of(folder)
    forget(folder)
    assert [r.folder for r in recent()] == [other]
    for n in range(MOST + 5):
        remember(Path(f"/piece-{n}"), "x")
    assert len(recent()) == MOST
    assert recent()[0].folder == Path(f"/piece-{MOST + 4}")


@pytest.mark.parametrize("spoilt", [b"", b"{", b"[1]", b'{"a": 1}', b'[{"folder": "/x"}]', b"\xff", b"null"])
def test_a_spoilt_list_is_an_empty_one(config: Path, folder: Path, spoilt: bytes) -> None:
    config.mkdir(parents=True)
    (config / "recent.json").write_bytes(spoilt)
    assert recent() == ()
    Table().open(folder)
    assert [r.folder for r in recent()] == [folder]
    assert json.loads((config / "recent.json").read_text("utf-8"))[0]["name"] == "Sprig wreath"


def test_settings_that_cannot_be_written_stop_no_work(config: Path, folder: Path) -> None:
    config.parent.write_text("a file where the folder should be", "utf-8")
    table = Table()
    assert table.opened(table.open(folder)).told().name == "Sprig wreath"
    assert recent() == ()


def test_what_cannot_be_opened_is_told_and_not_remembered(folder: Path, tmp_path: Path) -> None:
    (folder / "piece.toml").write_text("[piece", "utf-8")
    loop = tmp_path / "loop"
    loop.symlink_to(loop)
    wrong = {folder: "line 1", tmp_path: "holds no piece", loop: "no such folder", tmp_path / "x": "no such folder"}
    for home, told in wrong.items():
        with pytest.raises(FestoonError, match=told):
            Table().open(home)
    with pytest.raises(UnknownPiece):
        Table().forget("0" * 12)
    assert recent() == ()
