"""Who else may come to the table: by a code, once, for some minutes, and no further than what lies open."""

from __future__ import annotations

import base64
import math
import socket
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import cv2
import httpx2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import FestoonError
from festoon.piece.start import new_piece
from festoon.web import network
from festoon.web.guard import TOKEN_HEADER
from festoon.web.network import own_addresses
from festoon.web.qr import blocks, picture
from festoon.web.sharing import (
    CODE_LENGTH,
    CODE_MINUTES,
    LETTERS,
    WITHIN,
    WRONG,
    Code,
    NotShared,
    Sharing,
    TooManyWrong,
    plain,
    way_in,
)

from .conftest import DOOR, Client, client_of, page_in

OTHER = "http://127.0.0.2:8123"
"""An address of this machine as other devices see it."""


class Clock:
    """A clock that is set by hand."""

    now = 1000.0

    def __call__(self) -> float:
        return self.now


def shared() -> tuple[Sharing, Clock]:
    clock = Clock()
    sharing = Sharing(["127.0.0.2", "127.0.0.3"], clock)
    sharing.begin()
    return sharing, clock


def code_of(sharing: Sharing) -> str:
    code = sharing.code
    assert code is not None
    return code.text


def test_a_code_lets_one_device_in_with_a_token_of_its_own() -> None:
    sharing, _ = shared()
    first = code_of(sharing)
    token = sharing.enter(first)
    assert sharing.knows(["x", token])
    assert not sharing.knows([first, ""])
    with pytest.raises(NotShared, match="lets nobody in"):
        sharing.enter(first)
    second = sharing.enter(code_of(sharing))
    assert sharing.knows([second])
    assert second != token
    assert sharing.devices == 2


def test_a_code_ends_after_its_minutes_and_another_is_shown() -> None:
    sharing, clock = shared()
    first = code_of(sharing)
    clock.now += 60 * CODE_MINUTES - 1
    code = sharing.code
    assert code is not None
    assert (code.text, sharing.minutes_left(code)) == (first, pytest.approx(1 / 60))
    clock.now += 1
    with pytest.raises(NotShared):
        sharing.enter(first)
    assert code_of(sharing) != first
    sharing.enter(code_of(sharing))


def test_after_too_many_wrong_codes_none_is_looked_at_for_a_while() -> None:
    sharing, clock = shared()
    for _ in range(WRONG):
        with pytest.raises(NotShared):
            sharing.enter("wrong")
        clock.now += 1
    with pytest.raises(TooManyWrong, match="Wait a minute"):
        sharing.enter(code_of(sharing))
    clock.now += WITHIN - WRONG - 0.5
    with pytest.raises(TooManyWrong):
        sharing.enter(code_of(sharing))
    clock.now += 1
    sharing.enter(code_of(sharing))


def test_a_year_of_guessing_gets_nowhere() -> None:
    """The figures that stand beside CODE_LENGTH (computed)."""
    codes = len(LETTERS) ** CODE_LENGTH
    assert codes == pytest.approx(8.5e11, rel=0.01)
    assert codes / (WRONG * CODE_MINUTES) == pytest.approx(8.5e9, rel=0.01)
    guesses = WRONG * 60 * 24 * 365 * 60 / WITHIN
    assert guesses == pytest.approx(5.3e6, rel=0.02)
    assert -math.expm1(guesses * math.log1p(-1 / codes)) == pytest.approx(6e-6, rel=0.05)


def test_ending_sends_everyone_away_and_lets_none_in_until_it_begins_again() -> None:
    sharing, _ = shared()
    last, token = code_of(sharing), None
    token = sharing.enter(last)
    sharing.end()
    assert (sharing.code, sharing.devices) == (None, 0)
    assert not sharing.knows([token])
    with pytest.raises(NotShared):
        sharing.enter("")
    assert sharing.enter(sharing.begin().text) != token


def test_codes_are_alike_in_kind_and_never_in_letters() -> None:
    sharing, _ = shared()
    codes = {sharing.begin().text for _ in range(200)}
    assert len(codes) == 200
    assert all(len(code) == CODE_LENGTH and set(code) <= set(LETTERS) for code in codes)
    assert set("il1o0") & set(LETTERS) == set()


@given(st.text(LETTERS, min_size=CODE_LENGTH, max_size=CODE_LENGTH), st.integers(0, CODE_LENGTH), st.booleans())
def test_a_code_may_be_typed_as_one_likes(code: str, gap: int, loud: bool) -> None:
    typed = f" {code[:gap]} -{code[gap:]}\t"
    assert plain(typed.upper() if loud else typed) == code
    assert plain(Code(code, 0.0).told) == code


@given(st.text(max_size=30))
def test_whatever_is_typed_is_refused_in_a_sentence(typed: str) -> None:
    sharing, _ = shared()
    with pytest.raises(NotShared):
        sharing.enter(typed)


@pytest.fixture
def sharing() -> Sharing:
    return shared()[0]


@pytest.fixture
def owner(sharing: Sharing, folder: Path, tmp_path: Path) -> Iterator[Client]:
    with client_of(folder, page_in(tmp_path), replace(DOOR, sharing=sharing)) as client:
        yield client


def device(owner: Client, address: str = OTHER) -> Client:
    """Another device, which nobody let in yet."""
    client = Client(owner.app, base_url=address, follow_redirects=False)
    client.here = owner.here
    return client


def let_in(owner: Client, sharing: Sharing) -> Client:
    client = device(owner)
    answer = client.post("/api/share/enter", json={"code": code_of(sharing)}, headers={"origin": OTHER})
    assert answer.status_code == 200, answer.text
    assert answer.json() == {"piece": owner.here.rpartition("/")[2]}
    return client


def test_a_device_that_typed_the_code_works_with_the_piece(owner: Client, sharing: Sharing) -> None:
    guest = device(owner)
    assert (guest.get("/").status_code, guest.get("/").headers["location"]) == (303, "/share/")
    assert guest.get(f"{guest.here}/piece").status_code == 401
    guest = let_in(owner, sharing)
    assert guest.get("/").status_code == 200
    piece = guest.get(f"{guest.here}/piece").json()
    edits = [{"do": "set", "element": "sprig", "word": "turn", "value": 5}]
    asked = {"revision": piece["revision"], "label": "turning", "edits": edits}
    changed = guest.post(f"{guest.here}/change", json=asked, headers={"origin": OTHER})
    assert changed.status_code == 200
    assert owner.get(f"{owner.here}/piece").json()["undo"] == "turning"
    assert guest.get("/api/techniques").status_code == 200


def test_its_cookie_is_no_scripts_and_no_other_pages(owner: Client, sharing: Sharing) -> None:
    answer = device(owner).post("/api/share/enter", json={"code": code_of(sharing)})
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith("festoon-8123=")
    assert "HttpOnly" in cookie
    assert "SameSite=strict" in cookie
    assert DOOR.token not in cookie


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/api/share"),
        ("POST", "/api/share/code"),
        ("DELETE", "/api/share/devices"),
        ("GET", "/api/start"),
        ("POST", "/api/start/new"),
        ("POST", "/api/start/open"),
        ("GET", "/api/openapi.json"),
        ("GET", "/api/pieces/0123456789ab/piece"),
        ("GET", "/api/pieces//piece"),
    ],
)
def test_a_device_makes_no_codes_begins_no_pieces_and_opens_no_others(
    owner: Client, sharing: Sharing, method: str, path: str
) -> None:
    refused = let_in(owner, sharing).request(method, path)
    assert refused.status_code == 403
    assert "shared from" in refused.json()["sentence"]


def test_a_piece_that_is_only_remembered_stays_closed_to_devices(
    owner: Client, sharing: Sharing, tmp_path: Path
) -> None:
    new_piece(tmp_path / "another")
    with client_of(tmp_path / "another", tmp_path / "none") as elsewhere:
        here = elsewhere.here
    guest = let_in(owner, sharing)
    assert guest.get(f"{here}/piece").status_code == 403
    assert owner.get(f"{here}/piece").status_code == 200
    assert guest.get(f"{here}/piece").status_code == 200, "the owner has opened it now"


def test_the_owners_token_opens_nothing_over_the_network(owner: Client) -> None:
    far = device(owner)
    assert far.get(f"{owner.here}/piece", headers={TOKEN_HEADER: DOOR.token}).status_code == 401
    assert far.get(f"/?token={DOOR.token}").headers["location"] == "/share/"


@pytest.mark.parametrize("host", ["evil.example:8123", "127.0.0.3:8123", "127.0.0.2", "127.0.0.2:80", "[::1]:8123"])
def test_only_the_address_it_arrived_at_is_a_name_of_this_machine(owner: Client, sharing: Sharing, host: str) -> None:
    guest = let_in(owner, sharing)
    for path in ("/", "/api/share/enter", f"{guest.here}/piece"):
        assert guest.get(path, headers={"host": host}).status_code == 403


def test_other_pages_are_refused(owner: Client, sharing: Sharing) -> None:
    guest = let_in(owner, sharing)
    for origin in ("http://evil.example", "http://127.0.0.3:8123", "null"):
        asked = {"code": code_of(sharing)}
        assert guest.post("/api/share/enter", json=asked, headers={"origin": origin}).status_code == 403
    assert guest.get(f"{guest.here}/piece", headers={"sec-fetch-site": "same-site"}).status_code == 403


def test_without_share_no_other_address_is_answered(client: Client) -> None:
    far = device(client)
    assert far.get("/").status_code == 403
    assert far.post("/api/share/enter", json={"code": "k7mpx2qd"}).status_code == 403
    assert client.get("/api/share").json()["shared"] is False
    refused = client.post("/api/share/code")
    assert refused.status_code == 403
    assert "festoon open --share" in refused.json()["sentence"]


def test_the_machine_itself_cannot_take_its_own_code(owner: Client, sharing: Sharing) -> None:
    assert owner.post("/api/share/enter", json={"code": code_of(sharing)}).status_code == 403
    assert sharing.devices == 0


def test_wrong_codes_are_told_in_sentences(owner: Client) -> None:
    far = device(owner)
    for _ in range(WRONG):
        refused = far.post("/api/share/enter", json={"code": "wrong"})
        assert (refused.status_code, "lets nobody in" in refused.json()["sentence"]) == (403, True)
    refused = far.post("/api/share/enter", json={"code": "wrong"})
    assert (refused.status_code, "Wait a minute" in refused.json()["sentence"]) == (429, True)


def test_the_owner_sees_the_code_and_ends_it_for_all(owner: Client, sharing: Sharing) -> None:
    told = owner.get("/api/share").json()
    assert (told["address"], told["others"]) == (OTHER, ["http://127.0.0.3:8123"])
    assert plain(told["code"]) == code_of(sharing)
    assert 0 < told["minutes"] <= CODE_MINUTES
    guest = let_in(owner, sharing)
    assert owner.get("/api/share").json()["devices"] == 1
    ended = owner.delete("/api/share/devices").json()
    assert (ended["code"], ended["picture"], ended["devices"]) == (None, "", 0)
    assert guest.get(f"{guest.here}/piece").status_code == 401
    assert owner.post("/api/share/code").json()["code"]


def decoded(png: bytes) -> str:
    """What a camera reads in the picture."""
    grey = cv2.imdecode(np.frombuffer(png, np.uint8), cv2.IMREAD_GRAYSCALE)
    assert grey is not None
    return cv2.QRCodeDetectorAruco().detectAndDecode(grey)[0]


def test_the_picture_holds_the_way_in(owner: Client, sharing: Sharing) -> None:
    told = owner.get("/api/share", params={"piece": "0a1b2c3d4e5f"}).json()
    kind, _, data = told["picture"].partition(",")
    assert kind == "data:image/png;base64"
    assert decoded(base64.b64decode(data)) == f"{OTHER}/share/?piece=0a1b2c3d4e5f#{code_of(sharing)}"


@given(st.text(LETTERS, min_size=CODE_LENGTH, max_size=CODE_LENGTH), st.ip_addresses(v=4), st.integers(1024, 65535))
def test_every_picture_can_be_read_and_the_terminal_shows_the_same(code: str, address: object, port: int) -> None:
    way = way_in(str(address), port, Code(code, 0.0))
    assert decoded(base64.b64decode(picture(way).partition(",")[2])) == way
    rows = [[{" ": (1, 1), "▀": (0, 1), "▄": (1, 0), "█": (0, 0)}[c] for c in line] for line in blocks(way).split("\n")]
    dark = np.array([[cell[half] for cell in row] for row in rows for half in (0, 1)], np.uint8)
    drawn = np.kron(255 * (1 - dark), np.ones((8, 8), np.uint8)).astype(np.uint8)
    assert cv2.QRCodeDetectorAruco().detectAndDecode(cv2.copyMakeBorder(drawn, 32, 32, 32, 32, 0, value=255))[0] == way


def test_a_machine_in_no_network_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(network.ifaddr, "get_adapters", list)
    with pytest.raises(FestoonError, match="in no network"):
        own_addresses()


def test_own_addresses_are_never_loopback() -> None:
    try:
        found = own_addresses()
    except FestoonError:
        pytest.skip("this machine is in no network")
    assert not [a for a in found if a.startswith("127.")]


SERVE = "import sys; from pathlib import Path; from festoon.web.serving import serve; " + (
    "serve(Path(sys.argv[1]), 0, lambda told: print(told, flush=True), browser=False, share=('127.0.0.2',))"
)


@pytest.mark.skipif(sys.platform == "darwin", reason="there 127.0.0.1 is the only address of its kind")
def test_it_listens_at_the_shared_address_and_prints_how_to_come_in(folder: Path) -> None:
    words = [sys.executable, "-c", SERVE, str(folder)]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        try:
            address = process.stdout.readline().strip()
            port = int(address.split(":")[2].partition("/")[0])
            told = []
            while not told or "encrypted" not in told[-1]:
                told.append(process.stdout.readline())
            line = next(t for t in told if "type" in t)
            code = line.rpartition("type ")[2].strip(" .\n")
            with httpx2.Client(base_url=f"http://127.0.0.2:{port}", timeout=60, trust_env=False) as guest:
                assert guest.get("/").headers["location"] == "/share/"
                assert guest.get("/share/").status_code == 200
                key = guest.post("/api/share/enter", json={"code": code}).json()["piece"]
                assert guest.get(f"/api/pieces/{key}/piece").status_code == 200
                assert guest.post("/api/share/enter", json={"code": code}).status_code == 403
            with socket.socket() as closed:
                closed.settimeout(5)
                assert closed.connect_ex(("127.0.0.3", port)) != 0
        finally:
            process.kill()
        assert process.stderr is not None
        assert process.stderr.read() == ""
