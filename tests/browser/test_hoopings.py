"""Hoopings on the page: a block held, a field dragged; what it costs is told at once, and all of it can be undone."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from playwright.sync_api import expect

from .conftest import AtTable, NewWindow, Window

DIVIDED = "store => store.division !== null && store.division.revision === store.piece.revision && store.busy === null"


def laid(piece: Path) -> list[dict[str, object]]:
    found = tomllib.loads((piece / "piece.toml").read_text("utf-8"))["hooping"].get("laid", [])
    assert isinstance(found, list)
    return found


def divided(window: Window) -> None:
    window.until(DIVIDED)
    window.drawn()


def test_a_block_is_held_its_cost_is_told_and_undo_takes_it_back(
    at_table: AtTable, new_window: NewWindow, cushion: Path
) -> None:
    before = (cushion / "piece.toml").read_bytes()
    window = new_window(at_table(cushion))
    window.stage("hoopings")
    ledger = window.page.get_by_role("region", name="Ledger")
    expect(ledger.get_by_role("heading", level=1)).to_have_text("Nine hoopings")
    hold = ledger.get_by_role("button", name=re.compile("^Hold it here: sprig-"))
    name = (hold.get_attribute("aria-label") or "").removeprefix("Hold it here: ")
    window.changed(hold.click)
    divided(window)
    assert laid(cushion) == [{"holds": [name]}]
    expect(ledger.get_by_role("status")).to_contain_text("Your own say costs nothing.")
    expect(ledger.get_by_role("button", name=f"Let it go: {name}")).to_be_focused()

    apart = ledger.get_by_role("button", name=re.compile(r"^Hold it here: stem-")).first
    other = (apart.get_attribute("aria-label") or "").removeprefix("Hold it here: ")
    window.changed(apart.click)
    divided(window)
    assert laid(cushion) == [{"holds": [name, other]}]

    for _ in range(2):
        window.changed(window.page.get_by_role("button", name="Undo").click)
    divided(window)
    assert (cushion / "piece.toml").read_bytes() == before
    expect(ledger.get_by_role("status")).to_be_empty()


def test_what_costs_a_hooping_says_so_in_the_ledger(at_table: AtTable, new_window: NewWindow, cushion: Path) -> None:
    """A field laid round stems alone takes a hooping that the nine sprigs, one a field, leave no room for."""
    text = (cushion / "piece.toml").read_text("utf-8")
    own = '\n[[hooping.laid]]\nat = [200, 95]\nholds = ["sprig-1"]\n\n[[hooping.laid]]\nat = [200, 105]\n'
    (cushion / "piece.toml").write_text(text + own, "utf-8")
    window = new_window(at_table(cushion))
    window.stage("hoopings")
    ledger = window.page.get_by_role("region", name="Ledger")
    expect(ledger).to_contain_text("Ten hoopings; your own say costs one: without it nine would do")
    expect(ledger.get_by_role("status")).to_contain_text("Your own say costs one hooping")
    window.changed(ledger.get_by_role("button", name="Let all of mine go").click)
    divided(window)
    assert (cushion / "piece.toml").read_text("utf-8").rstrip() == text.rstrip()


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_a_frame_is_dragged_and_found_in_the_piece_file(
    at_table: AtTable, new_window: NewWindow, cushion: Path, size: str
) -> None:
    window = new_window(at_table(cushion), size=size)
    window.stage("hoopings")
    number = window.store("store => store.division.hoopings.find((h) => h.blocks.length === 1).record.number")
    window.page.locator(".hoop-row").nth(number - 1).click()
    record = window.store(f"store => store.division.hoopings[{number - 1}].record")
    window.page.locator("festoon-sheet").scroll_into_view_if_needed()
    x, y = record["centre"]
    half = record["field"][1] / 2
    grip = window.on_sheet(x - record["field"][0] / 4, y + half)
    there = window.on_sheet(x - record["field"][0] / 4 + 6, y + half - 4)
    mouse = window.page.mouse
    mouse.move(*grip)
    mouse.down()
    mouse.move(*there, steps=5)
    expect(window.page.locator(".slip")).to_contain_text(f"The middle of hooping {number}:")
    window.changed(mouse.up)
    divided(window)
    (own,) = laid(cushion)
    at = own["at"]
    assert isinstance(at, list)
    assert abs(at[0] - (x + 6)) < 1
    assert abs(at[1] - (y - 4)) < 1
    assert all(value * 2 == round(value * 2) for value in at), "to half a millimetre"
    assert window.store("store => store.division.hoopings.find((h) => h.laid === 0).record.centre") == at
    assert window.piece()["undo"] == f"moving hooping {number}"


def test_numbers_are_reached_and_fields_moved_by_keys(at_table: AtTable, new_window: NewWindow, cushion: Path) -> None:
    window = new_window(at_table(cushion))
    window.stage("hoopings")
    page = window.page
    page.locator(".tissue").focus()
    for number in (1, 2):
        page.keyboard.press("Tab")
        expect(page.get_by_role("button", name=re.compile(f"^Hooping {number} of 9: "))).to_be_focused()
    page.keyboard.press("Enter")
    window.until("store => store.hooping === 2")
    x, y = window.store("store => store.division.hoopings[1].record.centre")

    def moved() -> None:
        page.keyboard.press("ArrowRight")
        page.keyboard.press("Shift+ArrowUp")

    window.changed(moved)
    divided(window)
    assert laid(cushion) == [{"at": [x + 0.5, y - 5], "turn": 0}]
