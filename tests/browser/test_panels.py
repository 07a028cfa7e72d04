"""Pieces of several panels: one is shown, the others are a choice away, and nothing of one lies on another."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import expect

from .conftest import AtTable, NewWindow

PIECE = """
[piece]
name = "Front and pocket"

[[panel]]
name = "front"
size = [400, 300]

[[panel]]
name = "pocket"
size = [160, 180]

[[element]]
kind = "motif"
name = "large"
panel = "front"
file = "motifs/sprig.vp3"
at = [200, 150]

[[element]]
kind = "motif"
name = "little"
panel = "pocket"
file = "motifs/sprig.vp3"
at = [80, 90]
"""


@pytest.fixture
def two(small: Path) -> Path:
    (small / "piece.toml").write_text(PIECE, "utf-8")
    return small


def test_each_panel_shows_what_is_its_own(two: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = new_window(at_table(two))
    page = window.page
    parts, words = page.locator("[data-part]"), page.locator(".cloth-words")
    front, pocket = (page.get_by_role("button", name=name, exact=True) for name in ("front", "pocket"))
    expect(front).to_have_attribute("aria-pressed", "true")
    expect(words).to_contain_text("400 mm by 300 mm")
    expect(parts).to_have_count(1)
    expect(parts).to_have_attribute("data-part", "large")
    pocket.click()
    expect(pocket).to_have_attribute("aria-pressed", "true")
    expect(words).to_contain_text("160 mm by 180 mm")
    expect(parts).to_have_attribute("data-part", "little")
    window.choose("little")
    window.changed(lambda: parts.press("r"))
    expect(pocket).to_have_attribute("aria-pressed", "true")
    text = (two / "piece.toml").read_text("utf-8")
    assert text.count("turn = 5") == 1
    assert "turn = 5" in text.partition('name = "little"')[2]


def test_a_hooping_that_is_looked_at_brings_its_panel(two: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = new_window(at_table(two))
    window.stage("hoopings")
    page = window.page
    told = {h["record"]["panel"]: h["record"]["number"] for h in window.store("store => store.division.hoopings")}
    assert set(told) == {"front", "pocket"}
    for panel, number in told.items():
        page.locator(f"button.hoop-row >> text='{number}'").first.click()
        window.until("(store, panel) => store.panel === panel", panel)
        expect(page.locator(f"[data-hooping='{number}']").first).to_be_visible()
