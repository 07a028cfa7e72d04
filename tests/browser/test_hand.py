"""The hand on the sheet in a real browser: choosing, dragging, turning, bending and pointing out."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import CDPSession
from shapely import LineString, Point

from .conftest import AtTable, NewWindow, Window

PIECE = """
[piece]
name = "Two leaves"

[[panel]]
name = "front"
size = [400, 300]

[panel.lines]
hem = "M 40 260 H 360"

[[element]]
kind = "join"
name = "stem"
from = "left"
to = "right"
bow = 0
thread = "leaf"

[[element]]
kind = "motif"
name = "left"
file = "motifs/sprig.vp3"
at = [100, 120]

[[element]]
kind = "motif"
name = "right"
file = "motifs/sprig.vp3"
at = [300, 120]

[[element]]
kind = "motif"
name = "lone"
file = "motifs/sprig.vp3"
at = [130, 220]
"""


@pytest.fixture
def window(small: Path, at_table: AtTable, new_window: NewWindow) -> Window:
    (small / "piece.toml").write_text(PIECE, encoding="utf-8")
    return new_window(at_table(small))


def elements(window: Window) -> dict[str, dict[str, Any]]:
    """What the piece file says of its elements, by name."""
    assert window.server.piece is not None
    text = (window.server.piece / "piece.toml").read_text(encoding="utf-8")
    return {e["name"]: e for e in tomllib.loads(text)["element"]}


def middle(window: Window, selector: str) -> tuple[float, float]:
    """The middle of what is drawn there, px."""
    box = window.page.locator(selector).bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag(window: Window, start: tuple[float, float], by: tuple[float, float]) -> None:
    mouse = window.page.mouse
    mouse.move(*start)
    mouse.down()
    mouse.move(start[0] + by[0] / 2, start[1] + by[1] / 2)
    mouse.move(start[0] + by[0], start[1] + by[1], steps=3)
    mouse.up()


def scale(window: Window) -> float:
    """px a mm."""
    return window.on_sheet(1, 0)[0] - window.on_sheet(0, 0)[0]


def pressed(window: Window) -> list[str]:
    """The parts that say of themselves that they are chosen."""
    marks = window.page.locator('[data-part][aria-pressed="true"]')
    return [str(name) for name in marks.evaluate_all("marks => marks.map((m) => m.dataset.part)")]


def test_a_motif_dragged_by_37_mm_is_found_there_in_the_piece_file(window: Window) -> None:
    window.page.keyboard.down("Alt")
    window.changed(lambda: drag(window, middle(window, '[data-part="lone"]'), (37 * scale(window), 0)))
    window.page.keyboard.up("Alt")
    assert elements(window)["lone"]["at"] == pytest.approx([167.0, 220.0], abs=0.11), "the pointer goes by whole pixels"


def test_a_drag_leans_to_another_motif_and_says_so_and_escape_puts_it_back(window: Window) -> None:
    page = window.page
    start = middle(window, '[data-part="lone"]')
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move(start[0] - 10, start[1] - 30)
    page.mouse.move(start[0] - 29.2 * scale(window), start[1] - 30)
    assert "in line with left" in page.locator(".slip").inner_text()
    page.keyboard.press("Escape")
    page.mouse.up()
    assert page.locator(".slip").count() == 0
    assert window.store("store => store.piece.undo") is None
    assert elements(window)["lone"]["at"] == [130, 220]


def test_two_are_chosen_and_dragged_as_one_with_one_undo(window: Window) -> None:
    page = window.page
    page.mouse.click(*middle(window, '[data-part="left"]'))
    page.keyboard.down("Shift")
    page.mouse.click(*middle(window, '[data-part="lone"]'))
    page.keyboard.up("Shift")
    assert sorted(pressed(window)) == ["left", "lone"]
    before = elements(window)
    window.changed(lambda: drag(window, middle(window, '[data-part="left"]'), (50, 40)))
    after = elements(window)
    moves = [[after[n]["at"][k] - before[n]["at"][k] for k in (0, 1)] for n in ("left", "lone")]
    assert moves[0] == pytest.approx(moves[1])
    assert math.hypot(*moves[0]) > 10
    assert after["right"] == before["right"]
    window.changed(lambda: page.get_by_role("button", name="Undo").click())
    assert elements(window) == before


def test_a_box_drawn_with_shift_chooses_all_that_lies_in_it(window: Window) -> None:
    page = window.page
    page.keyboard.down("Shift")
    start, end = window.on_sheet(20, 60), window.on_sheet(200, 290)
    drag(window, start, (end[0] - start[0], end[1] - start[1]))
    page.keyboard.up("Shift")
    assert sorted(pressed(window)) == ["left", "lone"]


def test_the_turning_handle_turns_by_whole_steps(window: Window) -> None:
    page = window.page
    page.mouse.click(*middle(window, '[data-part="lone"]'))
    about = window.on_sheet(130, 220)
    x, y = middle(window, '[data-handle="turn"]')
    far = math.hypot(x - about[0], y - about[1])
    page.mouse.move(x, y)
    page.mouse.down()
    for degrees in (10, 20, 33):
        turn = math.radians(degrees)
        page.mouse.move(about[0] + far * math.sin(turn), about[1] - far * math.cos(turn))
    assert "turned 35°" in page.locator(".slip").inner_text()
    window.changed(page.mouse.up)
    assert elements(window)["lone"]["turn"] == 35


def test_a_join_bent_by_its_handle_runs_where_it_was_dropped(window: Window) -> None:
    window.page.locator('[data-part="stem"]').focus()
    window.page.keyboard.press("Enter")
    (handle,) = window.store("store => store.piece.elements.find((e) => e.name === 'stem').handles")
    window.changed(lambda: drag(window, middle(window, '[data-handle="stem"]'), (0, 24 * scale(window))))
    bow = elements(window)["stem"]["bow"]
    assert abs(bow) == pytest.approx(24, abs=1)
    (after,) = window.store("store => store.piece.elements.find((e) => e.name === 'stem').handles")
    dropped = [handle["at"][k] + bow * handle["along"][k] for k in (0, 1)]
    assert after["at"] == pytest.approx(dropped, abs=1e-6)
    line = window.store("store => store.piece.elements.find((e) => e.name === 'stem').lines[0].points")
    assert LineString(line).distance(Point(dropped)) < 0.06, "the curve passes there, as exactly as its line is told"


def test_a_handle_keeps_the_focus_under_the_arrow_keys_and_escape_puts_a_drag_of_it_back(window: Window) -> None:
    page = window.page
    page.locator('[data-part="stem"]').focus()
    page.keyboard.press("Enter")
    page.locator('[data-handle="stem"]').focus()

    def steps() -> None:
        for _ in range(3):
            page.keyboard.press("Shift+ArrowDown")

    window.changed(steps)
    bow = elements(window)["stem"]["bow"]
    assert abs(bow) == pytest.approx(15, abs=0.5)
    start = middle(window, '[data-handle="stem"]')
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move(start[0], start[1] + 30, steps=3)
    assert "bow" in page.locator(".slip").inner_text()
    page.keyboard.press("Escape")
    page.mouse.move(start[0], start[1] + 60)
    page.mouse.up()
    assert middle(window, '[data-handle="stem"]') == pytest.approx(start)
    assert elements(window)["stem"]["bow"] == bow


def test_a_ring_is_widened_by_its_handle(small: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = new_window(at_table(small))
    radius = elements(window)["sprig"]["ring"]["radius"]
    window.page.mouse.click(*middle(window, '[data-part="sprig-1"]'))
    x, y = middle(window, '[data-handle="radius of the ring"]')
    place = window.on_sheet(200, 200)
    out = ((x - place[0]) / 10, (y - place[1]) / 10)
    window.changed(lambda: drag(window, (x, y), out))
    assert elements(window)["sprig"]["ring"]["radius"] == pytest.approx(1.1 * radius, abs=0.5)


def test_a_join_is_drawn_by_dragging_from_motif_to_motif(window: Window) -> None:
    page = window.page
    page.locator("festoon-drawer .entry", has_text="a join").first.click()
    assert window.store("store => store.picking.words.map((w) => w.wants)") == ["part", "part"]
    start, end = middle(window, '[data-part="lone"]'), middle(window, '[data-part="right"]')
    window.changed(lambda: drag(window, start, (end[0] - start[0], end[1] - start[1])))
    new = [e for name, e in elements(window).items() if name not in ("stem", "left", "right", "lone")]
    assert [(e["kind"], e["from"], e["to"]) for e in new] == [("join", "lone", "right")]
    assert window.store("store => store.picking") is None


def test_everything_is_done_by_keys_as_well(window: Window) -> None:
    page = window.page
    page.locator('[data-part="lone"]').focus()
    page.keyboard.press("Enter")

    def steps() -> None:
        page.keyboard.press("ArrowRight")
        page.keyboard.press("Shift+ArrowDown")

    window.changed(steps)
    assert elements(window)["lone"]["at"] == [130.5, 225]
    window.changed(lambda: page.keyboard.press("r"))
    assert elements(window)["lone"]["turn"] == 5
    window.changed(lambda: page.keyboard.press("m"))
    assert elements(window)["lone"]["mirror"] is True
    page.locator('[data-handle="turn"]').focus()
    window.changed(lambda: page.keyboard.press("ArrowLeft"))
    assert elements(window)["lone"]["turn"] == 4
    page.locator('[data-part="lone"]').focus()
    window.changed(lambda: page.keyboard.press("d"))
    assert len(elements(window)) == 5
    window.until("store => store.chosen.length === 1 && store.chosen[0] !== 'lone'")
    (copy,) = pressed(window)
    before = elements(window)[copy]["at"]
    window.changed(lambda: page.keyboard.press("ArrowRight"))
    assert elements(window)[copy]["at"] == [before[0] + 0.5, before[1]], "the keys go on with the copy"
    page.locator('[data-part="left"]').focus()
    page.keyboard.press("Shift+Enter")
    assert "left" in pressed(window)
    assert len(pressed(window)) == 2
    page.keyboard.press("Escape")
    assert pressed(window) == []
    page.keyboard.press("?")
    assert page.get_by_role("dialog", name="Keys").is_visible()


def test_two_fingers_bring_the_cloth_closer_and_carry_it(small: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = new_window(at_table(small), size="phone", has_touch=True)
    tools = window.context.new_cdp_session(window.page)
    x, y = middle(window, ".tissue")
    before, corner = scale(window), window.on_sheet(0, 0)
    held = ((x - corner[0]) / before, (y - corner[1]) / before)
    touched(tools, "touchStart", (x - 40, y), (x + 40, y))
    for far in (60, 80):
        touched(tools, "touchMove", (x - far + 20, y + 30), (x + far + 20, y + 30))
    touched(tools, "touchEnd")
    window.drawn()
    assert scale(window) == pytest.approx(2 * before, rel=0.01)
    assert window.on_sheet(*held) == pytest.approx((x + 20, y + 30), abs=2), "the cloth stays between the fingers"
    assert window.store("store => store.piece.undo") is None


def test_a_finger_that_rests_on_a_part_chooses_one_more(small: Path, at_table: AtTable, new_window: NewWindow) -> None:
    window = new_window(at_table(small), size="phone", has_touch=True)
    tools = window.context.new_cdp_session(window.page)
    window.page.touchscreen.tap(*middle(window, '[data-part="sprig-1"]'))
    assert pressed(window) == ["sprig-1"]
    touched(tools, "touchStart", middle(window, '[data-part="sprig-4"]'))
    window.until("store => store.chosen.length === 2")
    touched(tools, "touchEnd")
    assert sorted(pressed(window)) == ["sprig-1", "sprig-4"]


def touched(tools: CDPSession, kind: str, *fingers: tuple[float, float]) -> None:
    points = [{"x": x, "y": y, "id": n} for n, (x, y) in enumerate(fingers)]
    tools.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def test_a_finger_drags_a_part_and_on_the_cloth_moves_the_sheet(window: Window, new_window: NewWindow) -> None:
    phone = new_window(window.server, size="phone", has_touch=True)
    tools = phone.context.new_cdp_session(phone.page)
    x, y = middle(phone, '[data-part="lone"]')

    def slide(x: float, y: float) -> None:
        touched(tools, "touchStart", (x, y))
        touched(tools, "touchMove", (x + 20, y - 10))
        touched(tools, "touchMove", (x + 40, y - 30))
        touched(tools, "touchEnd")

    before = elements(window)["lone"]["at"]
    phone.changed(lambda: slide(x, y))
    after = elements(window)["lone"]["at"]
    assert [after[k] - before[k] for k in (0, 1)] == pytest.approx([40 / scale(phone), -30 / scale(phone)], abs=4)
    cloth = phone.on_sheet(250, 200)
    slide(*cloth)
    phone.drawn()
    assert phone.on_sheet(250, 200) == pytest.approx((cloth[0] + 40, cloth[1] - 30), abs=1)


def test_a_line_and_a_place_are_pointed_out_by_keys(window: Window) -> None:
    page = window.page
    page.locator("festoon-drawer .entry", has_text="a line of stitching").click()
    page.locator('[data-line="hem"]').focus()
    window.changed(lambda: page.keyboard.press("Enter"))
    assert [e["path"] for e in elements(window).values() if "path" in e] == ["hem"]
    page.locator("festoon-drawer .entry", has_text="a motif from a file").click()
    page.locator("festoon-drawer .entry", has_text="sprig").first.click()
    page.locator(".tissue").focus()
    window.changed(lambda: page.keyboard.press("Enter"))
    (new,) = [
        e for e in elements(window).values() if e["kind"] == "motif" and e["name"] not in ("left", "right", "lone")
    ]
    assert new["at"] == pytest.approx([200, 150], abs=0.2), "the middle of what is seen"
