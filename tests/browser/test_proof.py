"""The proof: findings shown, accepted and mended; the map, the meetings and the lens, by keyboard and by finger."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pypdfium2
import pytest

from .conftest import AtTable, NewWindow, Window

NOTE = "Tried on a scrap of the same linen."


@pytest.fixture
def gaps(small: Path) -> Path:
    """The starting piece with joins that end at their motifs' edge: its meetings may gap."""
    piece = small / "piece.toml"
    piece.write_text(piece.read_text("utf-8").replace('stitch = "satin"', 'tuck = 0\nstitch = "satin"', 1), "utf-8")
    return small


def proved(gaps: Path, at_table: AtTable, new_window: NewWindow) -> Window:
    window = new_window(at_table(gaps))
    window.stage("proof")
    return window


def shown(window: Window) -> tuple[float, float]:
    """The place in the middle of the sheet's window, mm."""
    x, y = window.page.evaluate(
        """() => {
          const { view, box } = document.querySelector('festoon-sheet');
          return [(box[0] / 2 - view.x) / view.scale, (box[1] / 2 - view.y) / view.scale];
        }"""
    )
    return x, y


def read(data: bytes) -> str:
    document = pypdfium2.PdfDocument(data)
    try:
        return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in document)
    finally:
        document.close()


def test_show_me_brings_the_sheet_to_the_place(gaps: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = proved(gaps, at_table, new_window)
    places = window.store("store => store.found.findings.map((finding) => finding.where.at)")
    for at in places[:2]:
        window.page.locator(".find button", has_text="Show me").first.click()
        window.drawn()
        assert shown(window) == pytest.approx(at, abs=0.01)
    assert window.page.locator(".find.chosen").count() == 1


def test_accepted_with_a_note_that_stands_in_the_file_and_on_the_sheet(
    gaps: Path, at_table: AtTable, new_window: NewWindow
) -> None:
    window = proved(gaps, at_table, new_window)
    page = window.page
    count = window.store("store => store.found.findings.length")
    assert page.locator(".do").count() == 1
    page.get_by_role("button", name="Accept it, with a note").first.click()
    page.keyboard.press("Enter")
    assert page.get_by_text("Write a word or two on why").is_visible()
    page.keyboard.type(NOTE)
    window.changed(lambda: page.keyboard.press("Enter"))
    window.until("store => store.found?.findings.every((finding) => finding.accepted)")
    accepted = tomllib.loads((gaps / "piece.toml").read_text("utf-8"))["accepted"]
    assert {one["note"] for one in accepted} == {NOTE}
    assert len(accepted) == count
    assert page.get_by_role("heading", name="Accepted by you").is_visible()
    assert page.get_by_text(f"“{NOTE}”").is_visible()
    page.wait_for_function("() => document.activeElement.matches('.take-back')")
    window.stage("sheets")
    for sheet in ("proof.pdf", "work-sheet.pdf"):
        assert f"Accepted by you: {NOTE}" in read(window.fetched(f"files/{sheet}"))
    window.stage("proof")
    window.changed(lambda: page.locator(".take-back").first.click())
    window.until("store => store.found?.findings.every((finding) => !finding.accepted)")
    assert "accepted" not in tomllib.loads((gaps / "piece.toml").read_text("utf-8"))


def test_the_remedy_is_one_press(gaps: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = proved(gaps, at_table, new_window)
    remedy = window.page.locator(".do")
    assert remedy.inner_text().startswith("Lengthen tuck to 0.")
    window.changed(remedy.click)
    window.settled()
    assert window.store("store => store.found.findings.length") == 0
    assert window.page.get_by_role("heading", name="All is sound").is_visible()


def test_every_meeting_is_told_by_keyboard(gaps: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = proved(gaps, at_table, new_window)
    meetings = window.store("store => store.found.meetings.map((meeting) => meeting.told)")
    for index in (0, len(meetings) - 1):
        window.page.locator(f"[data-meeting='{index}']").focus()
        window.drawn()
        assert window.page.locator(".meeting-told").inner_text().lower() == meetings[index].lower()
    window.page.keyboard.press("Escape")
    window.drawn()
    assert window.page.locator(".meeting-told").count() == 0


def inked(window: Window, canvas: str) -> None:
    """Wait until a canvas bears more than a few pixels of anything."""
    window.page.wait_for_function(
        """(canvas) => {
          const from = document.querySelector(canvas);
          if (!from?.width) return false;
          const to = document.createElement('canvas');
          Object.assign(to, { width: from.width, height: from.height });
          const context = to.getContext('2d');
          context.drawImage(from, 0, 0);
          return context.getImageData(0, 0, to.width, to.height).data.filter((v, k) => k % 4 === 3 && v).length > 1000;
        }""",
        arg=canvas,
    )


def test_map_or_thread_and_the_legend(gaps: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = proved(gaps, at_table, new_window)
    page = window.page
    inked(window, "festoon-thickness canvas")
    assert page.locator(".step").all_inner_texts() == ["1 layer", "2 layers", "3 layers", "4 or more"]
    page.get_by_text("Thread", exact=True).click()
    window.drawn()
    assert page.locator("festoon-thickness").count() == 0
    assert page.locator(".step").count() == 0


def test_the_lens_by_keyboard(gaps: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = proved(gaps, at_table, new_window)
    page = window.page
    page.locator("#lens-button").focus()
    page.keyboard.press("Enter")
    window.drawn()
    page.wait_for_function("() => document.activeElement.matches('.glass')")
    x, y = window.store("store => store.lens")
    scale = page.evaluate("() => document.querySelector('festoon-sheet').view.scale")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowDown")
    assert window.store("store => store.lens") == pytest.approx([x + 8 / scale, y + 48 / scale])
    assert page.evaluate("() => document.querySelector('festoon-sheet').view.scale") == scale
    page.keyboard.press("Escape")
    window.drawn()
    assert page.locator(".glass").count() == 0
    page.wait_for_function("() => document.activeElement.id === 'lens-button'")


def test_the_lens_shows_thread_and_map_and_follows_finger_and_mouse(
    gaps: Path, at_table: AtTable, new_window: NewWindow
) -> None:
    window = proved(gaps, at_table, new_window)
    page = window.page
    page.locator("#lens-button").click()
    window.drawn()
    inked(window, ".near-map")
    page.get_by_text("Thread", exact=True).click()
    window.drawn()
    inked(window, ".near-thread")
    before = window.store("store => store.lens")
    scale = page.evaluate("() => document.querySelector('festoon-sheet').view.scale")
    page.evaluate(
        """() => {
          const glass = document.querySelector('.glass');
          glass.setPointerCapture = () => {};
          const touch = { bubbles: true, pointerId: 7, pointerType: 'touch', clientY: 300, buttons: 1 };
          const press = (type, clientX) => glass.dispatchEvent(new PointerEvent(type, { ...touch, clientX }));
          press('pointerdown', 200);
          press('pointermove', 230);
          press('pointerup', 230);
        }"""
    )
    assert window.store("store => store.lens") == pytest.approx([before[0] + 30 / scale, before[1]])
    page.mouse.move(*window.on_sheet(120, 150))
    assert window.store("store => store.lens") == pytest.approx([120, 150], abs=0.5)
