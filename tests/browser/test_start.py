"""The start in a real browser: a newcomer without files, motifs of her own, examples, earlier pieces; files dropped."""

from __future__ import annotations

import base64
import math
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from .conftest import EXAMPLES, PATIENCE, NewServer, NewWindow, Window

expect.set_options(timeout=PATIENCE)

SPRIG = EXAMPLES / "sea-holly-cushion" / "motifs" / "sprig.vp3"
CORNER = EXAMPLES / "tablecloth-hem" / "motifs" / "corner.vp3"


def begin(new_server: NewServer, new_window: NewWindow, **options: Any) -> Window:
    """A window at the start, as someone in Germany has it."""
    window = new_window(new_server(), **{"locale": "de-DE", **options})
    expect(window.page.get_by_role("heading", name="What would you like to sew?")).to_be_visible()
    expect(window.page.get_by_role("button", name="Lay out the cloth")).to_be_visible()
    return window


def home(window: Window) -> Path:
    """Where new pieces are kept."""
    told = window.context.request.get(f"http://127.0.0.1:{window.server.port}/api/start").json()
    return Path(told["home"])


def written(folder: Path) -> Any:
    return tomllib.loads((folder / "piece.toml").read_text("utf-8"))


def drop(window: Window, files: dict[str, bytes], at: tuple[float, float]) -> None:
    """Let files go over the page at this place of the screen."""
    coded = {name: base64.b64encode(data).decode() for name, data in files.items()}
    carried = window.page.evaluate_handle(
        """files => {
          const carried = new DataTransfer();
          for (const [name, coded] of Object.entries(files))
            carried.items.add(new File([Uint8Array.from(atob(coded), (c) => c.charCodeAt(0))], name));
          return carried;
        }""",
        coded,
    )
    where = {"dataTransfer": carried, "clientX": at[0], "clientY": at[1], "bubbles": True, "cancelable": True}
    window.page.dispatch_event("main", "dragover", where)
    expect(window.page.get_by_text("Let go, and your motifs are brought in.")).to_be_visible()
    window.page.dispatch_event("main", "drop", where)
    expect(window.page.get_by_text("Let go, and your motifs are brought in.")).to_be_hidden()


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_a_newcomer_without_files_lays_out_a_cloth(new_server: NewServer, new_window: NewWindow, size: Any) -> None:
    window = begin(new_server, new_window, size=size)
    page = window.page
    page.get_by_label("width of the cloth").fill("50 cm")
    page.get_by_label("what cloth").fill("blue linen")
    page.get_by_label("height of the field").fill("130")
    page.get_by_label("the machine's files").select_option("pes")
    page.get_by_role("checkbox", name="small sea-holly").check()
    page.get_by_label("name of the piece").fill("Garden cloth")
    page.get_by_role("button", name="Lay out the cloth").click()
    window.until("store => store.laid !== null && store.parts.length === 1")
    expect(page.get_by_role("link", name="Lay out")).to_have_attribute("aria-current", "step")
    told = written(home(window) / "garden-cloth")
    assert told["panel"] == [{"name": "cloth", "size": [500, 400], "cloth": "blue linen"}]
    assert (told["piece"]["units"], told["element"][0]["at"]) == ("mm", [250, 200])
    assert window.store("store => store.piece.hoops.map((hoop) => hoop.field)") == [[100, 130]]


def test_a_length_that_cannot_be_keeps_the_cloth_from_being_laid(new_server: NewServer, new_window: NewWindow) -> None:
    window = begin(new_server, new_window)
    page = window.page
    page.get_by_label("width of the cloth").fill("-5")
    page.keyboard.press("Tab")
    expect(page.get_by_text("It must be more than nothing.")).to_be_visible()
    page.get_by_role("button", name="Lay out the cloth").click()
    expect(page.get_by_label("width of the cloth")).to_be_focused()
    assert not home(window).exists()


def test_motifs_of_her_own_come_in_as_one_change(new_server: NewServer, new_window: NewWindow) -> None:
    window = begin(new_server, new_window)
    page = window.page
    page.get_by_label("My own stitch files").set_input_files([SPRIG, CORNER])
    drop(window, {"torn.dst": SPRIG.read_bytes()[:99], "unwanted.dst": b""}, (400, 400))
    page.get_by_role("button", name="Leave out unwanted.dst").click()
    window.expected("422")
    page.get_by_role("button", name="Lay out the cloth").click()
    window.until("store => store.parts.length === 2")
    expect(page.get_by_role("alert")).to_contain_text("torn.dst")
    assert [e["name"] for e in written(home(window) / "my-piece")["element"]] == ["sprig", "corner"]
    assert sorted(p.name for p in (home(window) / "my-piece" / "motifs").iterdir()) == ["corner.vp3", "sprig.vp3"]
    window.changed(lambda: page.get_by_role("button", name="Undo bringing in sprig and corner").click())
    assert "element" not in written(home(window) / "my-piece")
    window.stage("hoopings")
    expect(page.get_by_text("Nothing to sew, so no hoopings.").first).to_be_visible()


def test_files_dropped_on_the_cloth_lie_where_they_were_let_go(
    small: Path, new_server: NewServer, new_window: NewWindow
) -> None:
    window = new_window(new_server(small))
    drop(window, {"Corner 7.vp3": CORNER.read_bytes()}, window.on_sheet(120, 85))
    window.until("store => store.piece.elements.some((e) => e.name === 'Corner 7')")
    laid = written(small)["element"][-1]
    pixel = 1 / window.store("() => document.querySelector('festoon-sheet').view.scale")
    assert math.dist(laid["at"], (120, 85)) < 1.5 * pixel  # a pointer stands on whole pixels, each way
    assert window.store("store => store.chosen") == ["Corner 7"]
    window.expected("422")
    drop(window, {"torn.pes": b"nothing", "b.vp3": SPRIG.read_bytes()}, window.on_sheet(120, 85))
    window.until("store => store.piece.elements.some((e) => e.name === 'b')")
    expect(window.page.get_by_role("alert")).to_contain_text("torn.pes")
    window.stage("sheets")
    drop(window, {"c.vp3": SPRIG.read_bytes()}, (200, 300))
    window.until("store => store.piece.elements.some((e) => e.name === 'c')")
    expect(window.page.get_by_role("link", name="Lay out")).to_have_attribute("aria-current", "step")


def test_an_example_is_taken_and_left_by_keyboard_alone(new_server: NewServer, new_window: NewWindow) -> None:
    window = begin(new_server, new_window)
    page = window.page
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Go to the work")).to_be_focused()
    example = page.get_by_role("button", name="Flax hem")
    for _ in range(8):
        page.keyboard.press("Tab")
        if example.evaluate("it => it === document.activeElement"):
            break
    page.keyboard.press("Enter")
    window.until("store => store.piece?.name === 'Flax hem' && store.laid !== null")
    page.get_by_role("link", name="Festoon").focus()
    page.keyboard.press("Enter")
    kept = page.get_by_role("link", name="Flax hem, 2").or_(page.get_by_role("link", name="in " + str(home(window))))
    expect(kept).to_be_visible()
    assert (home(window) / "flax-hem" / "piece.toml").is_file()


def test_an_earlier_piece_is_opened_again_or_forgotten(
    small: Path, new_server: NewServer, new_window: NewWindow
) -> None:
    server = new_server(small)
    window = new_window(server, "start")
    page = window.page
    page.get_by_role("link", name="Sprig wreath").last.click()
    window.until("store => store.laid !== null")
    shutil.move(small, small.with_name("elsewhere"))
    page.get_by_role("link", name="Festoon").click()
    expect(page.get_by_text("It no longer lies in")).to_be_visible()
    page.get_by_role("button", name="Forget it").click()
    expect(page.get_by_text("Nothing has been kept on this computer yet.")).to_be_visible()
    window.expected("422")
    page.get_by_label("A piece in a folder").fill("elsewhere")
    page.get_by_role("button", name="Open it").click()
    expect(page.get_by_role("alert")).to_contain_text("does not say where the folder lies")
    page.get_by_label("A piece in a folder").fill(str(small.with_name("elsewhere")))
    page.get_by_role("button", name="Open it").click()
    window.until("store => store.laid !== null && store.trouble === null")
    assert page.url.endswith("#lay-out")


def test_a_piece_that_cannot_be_read_leads_to_the_start(
    small: Path, new_server: NewServer, new_window: NewWindow
) -> None:
    server = new_server(small)
    new_window(server)
    (small / "piece.toml").write_text("[piece", "utf-8")
    server.piece = None  # there is nothing to wait for
    window = new_window(server)
    window.expected("422")
    expect(window.page.get_by_role("alert")).to_contain_text("piece.toml, line 1")
    expect(window.page.get_by_role("heading", name="What would you like to sew?")).to_be_visible()
