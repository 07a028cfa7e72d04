"""Sheets: what is shown is what will print."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from playwright.sync_api import expect

from .conftest import AtTable, NewWindow, Server


def test_every_page_is_shown_at_the_papers_own_proportion(looked_at: Server, new_window: NewWindow) -> None:
    window = new_window(looked_at)
    window.stage("sheets")
    window.page.get_by_role("button", name=re.compile("Look at them.*Templates")).click()
    pages = window.page.locator(".leaf-of-paper img")
    told = next(f for f in window.store("store => store.files.files") if f["name"] == "templates.pdf")
    assert pages.count() == len(told["pages"])
    first = pages.first
    expect(first).to_have_js_property("complete", True)
    width, height = first.evaluate("image => [image.naturalWidth, image.naturalHeight]")
    assert width / height == pytest.approx(told["pages"][0][0] / told["pages"][0][1], rel=0.002)
    box = first.bounding_box()
    assert box is not None
    assert box["width"] / box["height"] == pytest.approx(width / height, rel=0.01)


def test_printing_hands_the_whole_sheet_to_the_browser(looked_at: Server, new_window: NewWindow) -> None:
    window = new_window(looked_at)
    window.stage("sheets")
    with window.page.expect_response(lambda answer: answer.url.endswith("/files/work-sheet.pdf")) as sent:
        window.page.get_by_role("button", name=re.compile("Print.*Work sheet")).click()
    assert sent.value.headers["content-type"] == "application/pdf"
    assert window.page.locator("iframe.printing").count() == 1


def test_other_paper_is_written_into_the_piece_and_drawn_on(
    small: Path, at_table: AtTable, new_window: NewWindow
) -> None:
    window = new_window(at_table(small))
    window.stage("sheets")
    window.changed(lambda: window.page.get_by_role("radio", name="Letter").check())
    window.settled()
    assert tomllib.loads((small / "piece.toml").read_text("utf-8"))["piece"]["paper"] == "Letter"
    sizes = {tuple(sorted(p)) for f in window.store("store => store.files.files") for p in f["pages"]}
    assert sizes == {(215.9, 279.4)}  # ANSI/ASME Y14.1, size A
    expect(window.page.locator(".leaf-of-paper figcaption").first).to_contain_text("215.9 mm by 279.4 mm")
    window.changed(lambda: window.page.get_by_role("button", name="Undo").click())
    assert tomllib.loads((small / "piece.toml").read_text("utf-8"))["piece"].get("paper", "A4") == "A4"
