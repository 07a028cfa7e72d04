"""Only this machine's own page is let in."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from festoon.web import app as application
from festoon.web.guard import MOST_BYTES, MOST_MOTIF_BYTES, TOKEN_HEADER

from .conftest import DOOR, HOST, client_of


def test_no_call_without_the_token(client: TestClient) -> None:
    for token in ("", "another", DOOR.token[:-1]):
        refused = client.get("/api/piece", headers={TOKEN_HEADER: token})
        assert refused.status_code == 401
        assert "token" in refused.json()["sentence"]
    for path in ("/api/openapi.json", "/api/nothing", "/api/files.zip"):
        assert client.get(path, headers={TOKEN_HEADER: ""}).status_code == 401


def test_the_address_lets_the_browser_in_by_a_cookie_of_its_own(client: TestClient) -> None:
    client.headers.pop(TOKEN_HEADER)
    assert client.get("/?token=wrong").status_code == 200
    assert not client.cookies
    entered = client.get(f"/?token={DOOR.token}")
    cookie = entered.headers["set-cookie"]
    assert (entered.status_code, entered.headers["location"]) == (303, "/")
    assert "HttpOnly" in cookie
    assert "SameSite=strict" in cookie
    assert cookie.startswith("festoon-8123=")
    assert entered.headers["cache-control"] == "no-store"
    assert client.get("/api/piece").status_code == 200
    assert client.get("/api/piece", headers={"cookie": "festoon-8123=x; ="}).status_code == 401


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8123", "127.0.0.1", "127.0.0.1:1", "localhost", ""])
def test_other_names_of_this_machine_are_refused(client: TestClient, host: str) -> None:
    for path in ("/", "/api/piece"):
        assert client.get(path, headers={"host": host}).status_code == 403


def test_localhost_is_a_name_of_this_machine(client: TestClient) -> None:
    own = {"host": "localhost:8123", "origin": "http://localhost:8123"}
    assert client.get("/api/piece", headers=own).status_code == 200


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://127.0.0.1:8123", "http://127.0.0.1:9"])
def test_other_pages_are_refused(client: TestClient, origin: str) -> None:
    revision = client.get("/api/piece", headers={"origin": HOST}).json()["revision"]
    asked = {"revision": revision}
    assert client.post("/api/undo", json=asked, headers={"origin": origin}).status_code == 403


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_pages_of_other_ports_cannot_use_the_cookie(client: TestClient, site: str) -> None:
    assert client.get("/api/piece", headers={"sec-fetch-site": site}).status_code == 403
    assert client.get("/", headers={"sec-fetch-site": site}).status_code == 200


@pytest.mark.parametrize(
    "path", ["/../secret.txt", "/%2e%2e/secret.txt", "/..%2fsecret.txt", "/a/../../secret.txt", "/..%5csecret.txt"]
)
def test_no_path_leads_out_of_the_page(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 404
    assert b"not for" not in answer.content


def test_the_page_comes_with_its_policy(client: TestClient) -> None:
    for path, kind in (("/", "text/html"), ("/app.js", "text/javascript"), ("/api/piece", "application/json")):
        answer = client.get(path)
        policy = answer.headers["content-security-policy"]
        assert answer.headers["content-type"].startswith(kind)
        assert "default-src 'none'" in policy
        assert "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["referrer-policy"] == "no-referrer"
    assert client.get("/api/piece").headers["cache-control"] == "no-store"
    refused = client.get("/api/piece", headers={TOKEN_HEADER: ""})
    assert "default-src 'none'" in refused.headers["content-security-policy"]


def test_too_much_at_once_is_refused(client: TestClient) -> None:
    assert client.post("/api/change", content=b" " * (MOST_BYTES + 1)).status_code == 413
    assert client.post("/api/change", content=iter([b" " * MOST_BYTES, b" "])).status_code == 413
    assert client.post("/api/change", content=b"", headers={"content-length": "-1"}).status_code == 413
    much = client.post("/api/motifs", params={"name": "a.dst"}, content=b" " * (MOST_MOTIF_BYTES + 1))
    assert much.status_code == 413
    assert much.json()["sentence"]


def test_a_fault_of_our_own_is_a_sentence(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def faulty(self: object) -> None:
        raise ZeroDivisionError("secret words")

    monkeypatch.setattr(application.Opened, "told", faulty)
    with client_of(folder, tmp_path / "none") as client:
        answer = client.get("/api/piece")
    assert answer.status_code == 500
    assert "fault in Festoon" in answer.json()["sentence"]
    assert "secret" not in answer.text
    assert "secret" not in "".join(capsys.readouterr())
