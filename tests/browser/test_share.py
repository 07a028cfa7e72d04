"""The work taken to another device: the picture scanned, the code typed, everyone sent away again."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import cv2
import numpy as np
import pytest
from playwright.sync_api import Page, expect

from .conftest import STORE, NewServer, NewWindow, Server, Window

FAR = "127.0.0.2"
"""An address of this machine as other devices see it; nothing leaves the machine."""

SERVE = (
    "import sys; from pathlib import Path; from festoon.web.serving import serve; "
    f"serve(Path(sys.argv[1]), 0, lambda told: print(told, flush=True), browser=False, share=('{FAR}',))"
)

pytestmark = pytest.mark.skipif(sys.platform == "darwin", reason="there 127.0.0.1 is the only address of its kind")


class Shared(Server):
    """A server that other devices may come to."""

    def start(self) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-c", SERVE, str(self.piece)],
            env={**os.environ, "HOME": str(self._home), "XDG_CONFIG_HOME": str(self._home / "settings")},
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self._process.stdout is not None
        self.address = self._process.stdout.readline().strip()
        self.port = int(self.address.split(":")[2].partition("/")[0])


@pytest.fixture
def server(small: Path, tmp_path: Path) -> Iterator[Server]:
    (tmp_path / "home").mkdir()
    server = Shared(small, tmp_path / "home")
    yield server
    server.kill()


def opened_panel(window: Window) -> Page:
    window.page.get_by_role("button", name="Share").click()
    return window.page


def scanned(page: Page) -> str:
    """What a camera reads on the screen."""
    picture = np.frombuffer(page.locator(".way-in img").screenshot(), np.uint8)
    grey = cv2.imdecode(picture, cv2.IMREAD_GRAYSCALE)
    assert grey is not None
    return cv2.QRCodeDetectorAruco().detectAndDecode(grey)[0]


def other_device(window: Window, address: str) -> Page:
    """A page of a device of its own, which fails where anything is asked of another machine."""
    assert window.context.browser is not None
    page = window.context.browser.new_context(viewport={"width": 390, "height": 844}).new_page()
    page.route(lambda url: f"//{FAR}:" not in url, lambda route: route.abort())
    page.goto(address)
    return page


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("size", ["desk", "phone"])
def test_a_scanned_picture_leads_to_the_piece(server: Server, new_window: NewWindow, size: str, light: str) -> None:
    owner = new_window(server, size=size, light=light)
    page = opened_panel(owner)
    expect(page.get_by_text("No other device is in.")).to_be_visible()
    way = scanned(page)
    assert way.startswith(f"http://{FAR}:{server.port}/share/?piece=")
    guest = other_device(owner, way)
    guest.wait_for_function(f"() => {STORE}?.laid")
    assert guest.url == f"http://{FAR}:{server.port}/?piece={server.here.rpartition('/')[2]}"
    assert guest.evaluate(f"{STORE}.piece.name") == owner.piece()["name"]
    expect(guest.get_by_role("button", name="Share")).to_have_count(0)
    expect(page.get_by_text("One device is in.")).to_be_visible()
    assert scanned(page) != way, "the next code shows by itself"


def test_a_typed_code_leads_there_and_ending_sends_everyone_away(server: Server, new_window: NewWindow) -> None:
    owner = new_window(server)
    page = opened_panel(owner)
    code = page.locator(".way-in .code").inner_text()
    address = page.locator(".way-in .address").inner_text()
    guest = other_device(owner, f"http://{address}")
    guest.get_by_label("Type the code").fill("nonsense")
    guest.keyboard.press("Enter")
    expect(guest.get_by_role("alert")).to_contain_text("This code lets nobody in.")
    guest.get_by_label("Type the code").fill(code.upper().replace("-", " "))
    guest.get_by_role("button", name="Come in").click()
    guest.wait_for_function(f"() => {STORE}?.laid")
    page.get_by_role("button", name="End sharing").click()
    expect(page.get_by_text("Sharing has ended")).to_be_visible()
    guest.reload()
    expect(guest.get_by_role("heading", name="Come to the table")).to_be_visible()
    page.get_by_role("button", name="Show a code").click()
    expect(page.locator(".way-in .code")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="Share")).to_be_focused()


def test_where_it_is_not_shared_the_panel_tells_how(new_server: NewServer, small: Path, new_window: NewWindow) -> None:
    page = opened_panel(new_window(new_server(small)))
    expect(page.get_by_role("dialog")).to_contain_text("festoon open --share")
    page.get_by_role("button", name="Close", exact=True).click()
    expect(page.get_by_role("dialog")).to_have_count(0)
