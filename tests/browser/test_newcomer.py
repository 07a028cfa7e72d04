"""The whole way of somebody who has never seen it: from the empty table to the first hooping at the machine."""

from __future__ import annotations

import re
import tomllib
import zipfile
from pathlib import Path

import pytest
from playwright.sync_api import expect

from .conftest import NewServer, NewWindow, Size


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_a_wreath_from_the_empty_table_to_the_machine(new_server: NewServer, new_window: NewWindow, size: Size) -> None:
    window = new_window(new_server(), size=size, has_touch=size == "phone")
    page = window.page

    expect(page.get_by_role("heading", name="What would you like to sew?")).to_be_visible()
    page.get_by_role("checkbox", name="small sea-holly").check()
    page.get_by_label("name of the piece").fill("First wreath")
    page.get_by_role("button", name="Lay out the cloth").click()
    window.until("store => store.laid !== null && store.parts.length === 1")

    name = window.store("store => store.parts[0].name")
    window.choose(name)
    window.changed(page.get_by_role("button", name="Set it in a ring").click)
    count = window.store("store => store.parts.length")
    assert count > 2
    page.get_by_role("button", name="joins from one to the next").click()
    window.changed(lambda: page.locator("[data-part]").first.press("Enter"))
    assert sorted(window.store("store => store.piece.elements.map((one) => one.kind)")) == ["join", "motif"]

    window.stage("hoopings")
    hoopings = window.store("store => store.division.hoopings.length")
    expect(page.locator(".frame")).to_have_count(hoopings)
    window.stage("proof")
    assert window.store("store => store.found.findings.filter((one) => one.verdict === 'will not work')") == []

    window.stage("sheets")
    with page.expect_download() as taking:
        page.get_by_role("link", name=re.compile("Download everything")).click()
    with zipfile.ZipFile(taking.value.path()) as archive:
        names = archive.namelist()
        assert archive.testzip() is None
    assert sum(one.startswith("hooping-") for one in names) == hoopings
    assert {"hoopings.json", "proof.pdf", "templates.pdf", "work-sheet.pdf"} <= set(names)

    window.stage("bench")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Hooping 1")
    window.server.stop()

    (piece,) = Path(window.server.settings["HOME"]).glob("Festoon/*/piece.toml")
    assert tomllib.loads(piece.read_text("utf-8"))["piece"]["name"] == "First wreath"
