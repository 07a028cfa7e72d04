"""How long the page's frames take with 200 000 stitches on the sheet, measured in a real browser.

`python -m tools.page_frames` prints them; `page_frames()` gives them. The intervals are those from one animation
frame to the next, while the pointer drags one motif, then a whole ring, then moves the sheet, and while the wheel
brings it closer.
"""

from __future__ import annotations

import itertools
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Page, sync_playwright
from tests.browser.browser import ARGS, ready

EXAMPLE = Path(__file__).parent.parent / "examples" / "sea-holly-cushion"
RINGS = (("outer", 24, 350), ("inner", 16, 230), ("heart", 9, 110))
"""Name, count and radius of the rings of sprigs: with one in their midst and the stems 200 000 stitches and more."""

STEPS = 90
"""Moves of the pointer in one trial."""


@dataclass(frozen=True)
class Frames:
    """ms from one frame to the next: the median, what 19 of 20 keep to, and the longest."""

    median: float
    most: float
    longest: float

    def __str__(self) -> str:
        return f"median {self.median:5.1f} ms, 19 of 20 within {self.most:5.1f} ms, longest {self.longest:5.1f} ms"


@dataclass(frozen=True)
class PageFrames:
    """What was measured, by what was done, on how many stitches, and by what WebGL was drawn."""

    frames: dict[str, Frames]
    stitches: int
    drawn_by: str


def large_piece(folder: Path) -> Path:
    """A piece of more than 200 000 stitches, made of the example's sprigs, in a folder that is not there yet."""
    shutil.copytree(EXAMPLE, folder, ignore=shutil.ignore_patterns("made", ".*", "*.py"))
    sprig = '[[element]]\nkind = "motif"\nname = "{}"\nfile = "motifs/sprig.vp3"\nat = [450, 450]\n'
    rings = "".join(
        f"{sprig.format(n)}ring = {{ count = {count}, radius = {radius} }}\n\n" for n, count, radius in RINGS
    )
    stem = (
        '[[element]]\nkind = "join"\nname = "stem"\nthrough = "outer"\nclosed = true\nbow = -3.9\nthread = "stem"\n\n'
    )
    head = '[piece]\nname = "Frames"\n\n[[panel]]\nname = "front"\nsize = [900, 900]\n\n'
    (folder / "piece.toml").write_text(head + stem + rings + sprig.format("lone"), encoding="utf-8")
    return folder


def page_frames() -> PageFrames:
    """Opens such a piece in the browser and measures. Needs a browser, as the tests do."""
    with (
        tempfile.TemporaryDirectory() as folder,
        _served(large_piece(Path(folder) / "piece"), Path(folder)) as address,
        sync_playwright() as playwright,
    ):
        browser = playwright.chromium.launch(executable_path=ready(), args=list(ARGS))
        page = browser.new_page(viewport={"width": 1400, "height": 900})
        page.goto(address)
        _still(page)
        measured = {
            "dragging one motif": _dragged(page, "lone"),
            "dragging a ring of nine": _dragged(page, "heart-1"),
            "dragging a ring of twenty-four": _dragged(page, "outer-1"),
            "moving the sheet": _moved(page),
            "bringing it closer": _closer(page),
        }
        stitches = page.evaluate("document.querySelector('festoon-app').store.laid.count")
        drawn_by = page.evaluate(DRAWN_BY)
        browser.close()
    return PageFrames(measured, int(stitches), str(drawn_by))


DRAWN_BY = """() => {
  const gl = document.createElement("canvas").getContext("webgl2");
  const told = gl?.getExtension("WEBGL_debug_renderer_info");
  return told ? gl.getParameter(told.UNMASKED_RENDERER_WEBGL) : "no WebGL";
}"""

LISTEN = """() => {
  window.frames_ = [];
  const next = (now) => { window.frames_.push(now); window.listening_ = requestAnimationFrame(next); };
  window.listening_ = requestAnimationFrame(next);
}"""

HEARD = "() => { cancelAnimationFrame(window.listening_); return window.frames_; }"

STILL = """() => {
  const thread = document.querySelector("festoon-sheet")?.thread;
  return thread && thread.under.shown && !thread.frame;
}"""


@contextmanager
def _served(piece: Path, home: Path) -> Iterator[str]:
    environment = {**os.environ, "HOME": str(home), "XDG_CONFIG_HOME": str(home / "settings")}
    command = [sys.executable, "-m", "festoon", "open", str(piece), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as server:
        try:
            assert server.stdout is not None
            found = re.search(r"http\S+", server.stdout.readline())
            assert found is not None
            yield found.group()
        finally:
            server.terminate()


def _still(page: Page) -> None:
    """Waits until everything is drawn."""
    page.wait_for_function(STILL)
    page.wait_for_timeout(300)
    page.wait_for_function(STILL)


def _measured(page: Page, act: Callable[[], None]) -> Frames:
    page.evaluate(LISTEN)
    act()
    times = page.evaluate(HEARD)
    steps = sorted(b - a for a, b in itertools.pairwise(times))
    return Frames(statistics.median(steps), steps[int(0.95 * (len(steps) - 1))], steps[-1])


def _strokes(page: Page, x: float, y: float) -> None:
    for n in range(STEPS):
        page.mouse.move(x + 1.5 * (n % 60), y + (n % 40))


def _dragged(page: Page, part: str) -> Frames:
    box = page.locator(f'[data-part="{part}"]').bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    frames = _measured(page, lambda: _strokes(page, x, y))
    page.keyboard.press("Escape")
    page.mouse.up()
    _still(page)
    return frames


def _moved(page: Page) -> Frames:
    box = page.locator(".tissue").bounding_box()
    assert box is not None
    x, y = box["x"] + 60, box["y"] + 60
    page.mouse.move(x, y)
    page.mouse.down()
    frames = _measured(page, lambda: _strokes(page, x, y))
    page.mouse.up()
    _still(page)
    return frames


def _closer(page: Page) -> Frames:
    box = page.locator(".tissue").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)

    def act() -> None:
        for n in range(STEPS):
            page.mouse.wheel(0, -100 if n < STEPS / 2 else 100)
            page.wait_for_timeout(10)

    frames = _measured(page, act)
    _still(page)
    return frames


if __name__ == "__main__":
    found = page_frames()
    print(f"{found.stitches} stitches on the sheet, WebGL by {found.drawn_by}")
    for what, frames in found.frames.items():
        print(f"{what:34s}{frames}")
