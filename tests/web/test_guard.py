"""Only this machine's own page is let in."""

from __future__ import annotations

from pathlib import Path

import pytest

from festoon.web.guard import MOST_BYTES, MOST_MOTIF_BYTES, TOKEN_HEADER
from festoon.web.opened import Opened

from .conftest import DOOR, HOST, Client, client_of


def test_no_call_without_the_token(client: Client) -> None:
    for token in ("", "another", DOOR.token[:-1]):
        refused = client.get(f"{client.here}/piece", headers={TOKEN_HEADER: token})
        assert refused.status_code == 401
        assert "token" in refused.json()["sentence"]
    for path in ("/api/openapi.json", "/api/nothing", f"{client.here}/files.zip"):
        assert client.get(path, headers={TOKEN_HEADER: ""}).status_code == 401


def test_the_address_lets_the_browser_in_by_a_cookie_of_its_own(client: Client) -> None:
    client.headers.pop(TOKEN_HEADER)
    assert client.get("/?token=wrong").status_code == 200
    assert not client.cookies
    entered = client.get(f"/?token={DOOR.token}")
    cookie = entered.headers["set-cookie"]
    assert (entered.status_code, entered.headers["location"]) == (303, "/#start")
    led = client.get(DOOR.address("0a1b2c")).headers["location"]
    astray = client.get(f"{DOOR.address()}&piece=//evil.example")
    assert (led, astray.headers["location"]) == ("/?piece=0a1b2c", "/#start")
    assert "HttpOnly" in cookie
    assert "SameSite=strict" in cookie
    assert cookie.startswith("festoon-8123=")
    assert entered.headers["cache-control"] == "no-store"
    assert client.get(f"{client.here}/piece").status_code == 200
    assert client.get(f"{client.here}/piece", headers={"cookie": "festoon-8123=x; ="}).status_code == 401


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8123", "127.0.0.1", "127.0.0.1:1", "localhost", ""])
def test_other_names_of_this_machine_are_refused(client: Client, host: str) -> None:
    for path in ("/", f"{client.here}/piece"):
        assert client.get(path, headers={"host": host}).status_code == 403


def test_localhost_is_a_name_of_this_machine(client: Client) -> None:
    own = {"host": "localhost:8123", "origin": "http://localhost:8123"}
    assert client.get(f"{client.here}/piece", headers=own).status_code == 200


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://127.0.0.1:8123", "http://127.0.0.1:9"])
def test_other_pages_are_refused(client: Client, origin: str) -> None:
    revision = client.get(f"{client.here}/piece", headers={"origin": HOST}).json()["revision"]
    asked = {"revision": revision}
    assert client.post(f"{client.here}/undo", json=asked, headers={"origin": origin}).status_code == 403


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_pages_of_other_ports_cannot_use_the_cookie(client: Client, site: str) -> None:
    assert client.get(f"{client.here}/piece", headers={"sec-fetch-site": site}).status_code == 403
    assert client.get("/", headers={"sec-fetch-site": site}).status_code == 200


@pytest.mark.parametrize(
    "path", ["/../secret.txt", "/%2e%2e/secret.txt", "/..%2fsecret.txt", "/a/../../secret.txt", "/..%5csecret.txt"]
)
def test_no_path_leads_out_of_the_page(client: Client, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 404
    assert b"not for" not in answer.content


def test_the_page_comes_with_its_policy(client: Client) -> None:
    kinds = {"/": "text/html", "/app.js": "text/javascript", f"{client.here}/piece": "application/json"}
    for path, kind in kinds.items():
        answer = client.get(path)
        policy = answer.headers["content-security-policy"]
        assert answer.headers["content-type"].startswith(kind)
        assert "default-src 'none'" in policy
        assert "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["referrer-policy"] == "no-referrer"
    assert client.get(f"{client.here}/piece").headers["cache-control"] == "no-store"
    refused = client.get(f"{client.here}/piece", headers={TOKEN_HEADER: ""})
    assert "default-src 'none'" in refused.headers["content-security-policy"]


def test_too_much_at_once_is_refused(client: Client) -> None:
    assert client.post(f"{client.here}/change", content=b" " * (MOST_BYTES + 1)).status_code == 413
    assert client.post(f"{client.here}/change", content=iter([b" " * MOST_BYTES, b" "])).status_code == 413
    assert client.post(f"{client.here}/change", content=b"", headers={"content-length": "-1"}).status_code == 413
    much = client.post(f"{client.here}/motifs", params={"name": "a.dst"}, content=b" " * (MOST_MOTIF_BYTES + 1))
    assert much.status_code == 413
    assert much.json()["sentence"]


def test_a_fault_of_our_own_is_a_sentence(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def faulty(self: object) -> None:
        raise ZeroDivisionError("secret words")

    monkeypatch.setattr(Opened, "told", faulty)
    with client_of(folder, tmp_path / "none") as client:
        answer = client.get(f"{client.here}/piece")
    assert answer.status_code == 500
    assert "fault in Festoon" in answer.json()["sentence"]
    assert "secret" not in answer.text
    assert "secret" not in "".join(capsys.readouterr())
