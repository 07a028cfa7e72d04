"""Pieces of several panels: one is shown, the others are a choice away, and nothing of one lies on another."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

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


def test_a_panel_becomes_a_skirt_that_closes(two: Path, at_table: AtTable, new_window: NewWindow) -> None:
    """Cut flared from the cloth that it has, its seams sewn to each other; the rest of the file stays as it was."""
    head, _, rest = PIECE.partition("[[element]]")
    (two / "piece.toml").write_text(f"{head}[[element]]{rest.partition('[[element]]')[2]}", "utf-8")
    window = new_window(at_table(two))
    page = window.page

    def panel() -> dict[str, Any]:
        first: dict[str, Any] = tomllib.loads((two / "piece.toml").read_text("utf-8"))["panel"][0]
        return first

    shape = page.get_by_role("combobox", name="panel front, shape")
    expect(shape).to_have_value("rectangle")
    window.changed(lambda: shape.select_option("flared"))
    assert panel() == {
        "name": "front",
        "size": [400, 300],
        "flared": {"waist_radius": 106, "hem_radius": 320, "angle": 60},
    }
    hem = page.get_by_role("textbox", name="panel front, hem, in millimetres").first
    hem.fill("300")
    window.changed(lambda: hem.press("Enter"))
    assert panel()["flared"]["hem_radius"] == 300
    page.get_by_text("Its edges, and who wears it").click()
    window.changed(lambda: page.get_by_role("combobox", name="panel front, closes").select_option("yes"))
    assert panel()["closes"] is True
    assert window.store("store => store.piece.panels[0].loops") == ["hem", "waist"]
    window.expected("422")
    shape.select_option("circle")
    expect(page.get_by_role("alert")).to_contain_text("closes on itself already")
    assert panel()["flared"]["hem_radius"] == 300


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
