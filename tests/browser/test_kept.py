"""Nothing is lost and nothing overwritten: what she does is in the piece file, whatever happens to page and server."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from .conftest import AtTable, NewServer, NewWindow, Window

LONE = """
[piece]
name = "One sprig"

[[panel]]
name = "front"
size = [400, 300]

[[element]]
kind = "motif"
name = "sprig"
file = "motifs/sprig.vp3"
at = [150, 150]
"""
CLOSE = 12.0
"""px a mm from which on the pointer, which goes by whole pixels, hits every tenth of a millimetre (computed)."""

NO_ANSWER = "Festoon does not answer"
LOST = (
    "ERR_CONNECTION_REFUSED",
    "ERR_CONNECTION_RESET",
    "ERR_INTERNET_DISCONNECTED",
    "ERR_INCOMPLETE_CHUNKED_ENCODING",
    "ERR_CONTENT_LENGTH_MISMATCH",
)
"""What the browser itself says on the console where nobody answers."""


POLICIES = ("connect-src", "script-src")
"""What of the page's policy keeps requests in and foreign scripts out."""


@pytest.fixture
def lone(small: Path) -> Path:
    """A piece with a single sprig."""
    (small / "piece.toml").write_text(LONE, "utf-8")
    return small


def sprig(piece: Path) -> dict[str, Any]:
    """What the piece file says of the sprig."""
    held: dict[str, Any] = tomllib.loads((piece / "piece.toml").read_text("utf-8"))
    return next(e for e in held["element"] if e["name"] == "sprig")


def turn(window: Window) -> None:
    """Turn the sprig by its key."""
    part = window.page.locator('[data-part="sprig"]')
    part.focus()
    part.press("Enter")
    part.press("r")


def trouble(window: Window) -> str:
    """What the page says stands in the way, once it says so."""
    return window.page.locator(".trouble").inner_text()


def test_a_drag_by_37_mm_is_37_0_in_the_file(lone: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = new_window(at_table(lone))
    page = window.page
    window.choose("sprig")
    while (scale := window.scale()) < CLOSE:
        page.get_by_role("button", name="Closer").click()
        window.drawn()
        assert window.scale() > scale
    x, y = (round(v) for v in window.on_sheet(150, 150))
    tissue = page.locator(".tissue").bounding_box()
    assert tissue is not None
    left = round(37 * scale) // 2  # to both sides of the middle, so that it stays on the sheet
    page.keyboard.down("Alt")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + left, y, steps=4)
    window.changed(page.mouse.up)
    assert sprig(lone)["at"][0] == pytest.approx(150 + left / scale, abs=0.06)
    x, y = (round(v) for v in window.on_sheet(*sprig(lone)["at"]))
    start = sprig(lone)["at"][0]
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - round(37 * scale), y, steps=4)
    window.changed(page.mouse.up)
    page.keyboard.up("Alt")
    assert sprig(lone)["at"] == [round(start - 37.0, 1), 150]


def test_undo_and_redo_outlive_the_server(lone: Path, new_server: NewServer, new_window: NewWindow) -> None:
    server = new_server(lone)
    window = new_window(server)
    window.expected(*LOST)
    page = window.page
    window.changed(lambda: turn(window))
    assert sprig(lone)["turn"] == 5
    server.kill()
    server.start()
    window.go(server)
    undo, redo = (page.get_by_role("button", name=name) for name in ("Undo", "Redo"))
    expect(undo).to_contain_text("turning sprig")
    window.changed(undo.click)
    assert "turn" not in sprig(lone)
    expect(undo).to_be_disabled()
    page.wait_for_load_state("networkidle")
    server.stop()
    server.start()
    window.go(server)
    expect(redo).to_contain_text("turning sprig")
    window.changed(redo.click)
    assert sprig(lone)["turn"] == 5


def test_two_windows_are_offered_a_clear_choice(lone: Path, new_server: NewServer, new_window: NewWindow) -> None:
    server = new_server(lone)
    here, there = new_window(server), new_window(server)
    there.expected("409")
    here.changed(lambda: turn(here))
    there.page.get_by_label("sprig, place down, in millimetres").fill("180")
    there.page.keyboard.press("Enter")
    both = there.page.get_by_role("button", name="Set mine on it as well")
    expect(both).to_be_visible()
    expect(there.page.get_by_role("button", name="Show the newer piece")).to_be_visible()
    assert sprig(lone)["turn"] == 5
    assert sprig(lone)["at"] == [150, 150], "nothing is overwritten before she has chosen"
    both.click()
    expect(there.page.get_by_role("button", name="Undo")).to_contain_text("moving sprig")
    assert (sprig(lone)["turn"], sprig(lone)["at"]) == (5, [150, 180])
    expect(there.page.locator(".trouble")).to_have_count(0)


def test_the_newer_piece_is_shown_and_hers_let_go(lone: Path, new_server: NewServer, new_window: NewWindow) -> None:
    server = new_server(lone)
    here, there = new_window(server), new_window(server)
    there.expected("409")
    here.changed(lambda: turn(here))
    turn(there)
    newer = there.page.get_by_role("button", name="Show the newer piece")
    there.changed(newer.click)
    assert there.revision() == here.revision()
    assert sprig(lone)["turn"] == 5
    there.changed(lambda: turn(there))
    assert sprig(lone)["turn"] == 10


def test_a_broken_file_dropped_is_told_in_a_sentence(lone: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = new_window(at_table(lone))
    window.expected("422")
    before = (lone / "piece.toml").read_bytes()
    x, y = window.on_sheet(200, 100)
    window.page.evaluate(
        """([x, y]) => {
          const held = new DataTransfer();
          held.items.add(new File(["This is no stitching."], "rose.dst"));
          const where = { clientX: x, clientY: y, bubbles: true, cancelable: true };
          document.querySelector(".tissue").dispatchEvent(new DragEvent("drop", { dataTransfer: held, ...where }));
        }""",
        [x, y],
    )
    told = trouble(window)
    assert "rose.dst" in told
    assert told.strip().split("\n")[0].endswith(".")
    assert (lone / "piece.toml").read_bytes() == before
    assert [path.name for path in (lone / "motifs").iterdir()] == ["sprig.vp3"]
    window.page.get_by_role("button", name="Put this note away").click()
    window.changed(lambda: turn(window))


def test_a_refused_number_leaves_the_sheet_as_it_was(lone: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = new_window(at_table(lone))
    window.expected("422")
    page = window.page
    before, picture = (lone / "piece.toml").read_bytes(), page.locator("festoon-sheet .tissue").screenshot()
    blank = page.get_by_label("sprig, place to the right, in millimetres")
    blank.fill("5")
    blank.press("Enter")
    expect(blank).to_have_attribute("aria-invalid", "true")
    expect(blank).to_have_value("5")
    expect(page.locator(".wrong")).to_contain_text("beyond the left edge")
    blank.blur()
    window.drawn()
    assert (lone / "piece.toml").read_bytes() == before
    assert page.locator("festoon-sheet .tissue").screenshot() == picture
    blank.focus()
    blank.press("Escape")
    expect(blank).to_have_value("150")
    expect(page.locator(".wrong")).to_have_count(0)


@pytest.mark.parametrize("gone", ["killed", "unreachable"])
def test_without_its_server_the_page_says_so_and_nothing_is_lost(
    lone: Path, new_server: NewServer, new_window: NewWindow, gone: str
) -> None:
    server = new_server(lone)
    window = new_window(server)
    window.expected(*LOST)
    window.changed(lambda: turn(window))
    if gone == "killed":
        server.kill()
    else:
        window.context.set_offline(True)
    turn(window)
    assert NO_ANSWER in trouble(window)
    assert sprig(lone)["turn"] == 5
    if gone == "killed":
        server.start()
        window.go(server)
    else:
        window.context.set_offline(False)
    expect(window.page.get_by_role("button", name="Undo")).to_contain_text("turning sprig")
    window.changed(lambda: turn(window))
    assert sprig(lone)["turn"] == 10
    expect(window.page.locator(".trouble")).to_have_count(0)


def test_long_work_can_be_stopped_and_begun_again(cushion: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = new_window(at_table(cushion))
    page = window.page
    page.locator('nav.stages a[href="#sheets"]').click()
    expect(page.get_by_role("progressbar")).to_be_visible()
    page.get_by_role("button", name="Stop", exact=True).click()
    again = page.get_by_role("button", name="Work it out")
    expect(again).to_be_visible()
    expect(page.locator(".trouble")).to_have_count(0)
    page.locator('nav.stages a[href="#lay-out"]').click()
    window.choose("sprig-1")
    expect(page.get_by_role("heading", level=1)).to_have_text("Sprig\u20111")
    window.stage("hoopings")
    assert window.store("store => store.division.hoopings.length") > 1


def test_the_page_stays_alive_while_work_is_done(cushion: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = new_window(at_table(cushion))
    page = window.page
    page.locator('nav.stages a[href="#proof"]').click()
    expect(page.get_by_role("progressbar")).to_be_visible()
    page.locator('nav.stages a[href="#lay-out"]').click()
    window.choose("sprig-1")
    window.changed(lambda: page.locator('[data-part="sprig-1"]').press("r"))
    assert sprig(cushion)["turn"] == 5


def test_what_leaves_the_machine_is_seen_and_stopped(lone: Path, at_table: AtTable, new_window: NewWindow) -> None:
    """Proves the watch that every test keeps: the page's policy lets nothing out, and the try is noticed."""
    window = new_window(at_table(lone))
    window.expected("left the machine", "Content Security Policy")
    page = window.page
    failed = page.evaluate("() => fetch('http://127.0.0.2:9/away').then(() => false, () => true)")
    page.evaluate(
        "() => document.body.append(Object.assign(document.createElement('script'), {textContent: 'window.in = 1'}))"
    )
    assert failed
    assert page.evaluate("() => window.in") is None
    assert all(any(word in told for told in window.wrong) for word in POLICIES)
    assert window.unexpected() == []
