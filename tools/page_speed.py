"""How quickly the page answers, measured over its own server as a browser would: part of `make bench`."""

from __future__ import annotations

import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import httpx2
from playwright.sync_api import sync_playwright

from festoon.hooping import divide
from festoon.layout import lay_out
from festoon.piece import read_piece

ROOT = Path(__file__).parent.parent
EXAMPLE = ROOT / "examples" / "sea-holly-cushion"

sys.path.insert(0, str(ROOT))
from tests.browser.browser import ARGS, found  # noqa: E402

DROPS = 9
"""Times that the wreath is set down elsewhere; the first is not counted."""

WINDOWS = 8
"""Windows in which the first picture is waited for; the first is not counted."""

IDLE = 3.0
"""Seconds without a request before memory is looked at."""

SHOWN = """async () => {
  const frame = () => new Promise((done) => requestAnimationFrame(done));
  const after = async (there) => {
    while (!there()) await frame();
    await frame();
    return performance.now();
  };
  const painted = () => document.querySelector("festoon-sheet")?.thread?.under.shown;
  const sketched = () => document.querySelector(".first-sketch canvas") || painted();
  return [await after(sketched), await after(painted)];
}"""
"""ms from the beginning of the navigation until the whole wreath is sketched in thread, and until it is painted so: a
frame after it was drawn, so that it was on the screen. Where no sketch was seen, both are the painted one's."""

PAINTED = """async () => {
  await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  return [performance.now()];
}"""


@dataclass(frozen=True)
class Drops:
    """Medians, s: from a drop until the layout and its stitches are back, and until the hoopings are; `alone`: laying
    the piece out and dividing it in one process with nothing kept, as `festoon make` does."""

    layout: float
    hoopings: float
    layout_alone: float
    hoopings_alone: float


@dataclass(frozen=True)
class Idle:
    """MB of memory that the server's processes have for themselves, with their share of what others use as well."""

    server: float
    helpers: float


@dataclass(frozen=True)
class Pictures:
    """Seconds from the address to the picture: the example in thread, first sketched and then painted by WebGL, and the
    plain page where codes are typed."""

    sketch: float
    whole: float
    plain: float


@contextmanager
def served(piece: Path, home: Path) -> Iterator[tuple[str, int]]:
    """The piece's page served; gives its address and the server's process."""
    environment = {**os.environ, "HOME": str(home), "XDG_CONFIG_HOME": str(home / "settings")}
    command = [sys.executable, "-m", "festoon", "open", str(piece), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as server:
        try:
            assert server.stdout is not None
            yield server.stdout.readline().strip(), server.pid
        finally:
            server.terminate()


@contextmanager
def example_served() -> Iterator[tuple[str, int]]:
    """A copy of the example, served."""
    with tempfile.TemporaryDirectory() as folder:
        piece = Path(folder) / "piece"
        shutil.copytree(EXAMPLE, piece, ignore=shutil.ignore_patterns("made", ".*"))
        with served(piece, Path(folder)) as found:
            yield found


def drops() -> Drops:
    """The example's wreath is set down again and again, each time at another place."""
    laid, divided = [], []
    with example_served() as (address, _), httpx2.Client(timeout=60, trust_env=False) as page:
        page.get(address)
        key = parse_qs(urlsplit(address).query)["piece"][0]
        here = f"http://{urlsplit(address).netloc}/api/pieces/{key}"
        revision = page.get(f"{here}/piece").json()["revision"]
        for n in range(DROPS):
            edit = {"do": "set", "element": "sprig", "word": "at", "value": [200 + n % 5, 201 + n]}
            begun = time.perf_counter()
            answer = page.post(f"{here}/change", json={"revision": revision, "label": "moving", "edits": [edit]})
            answer.raise_for_status()
            revision = answer.json()["revision"]
            page.get(f"{here}/stitches", params={"revision": revision}).raise_for_status()
            laid.append(time.perf_counter() - begun)
            id = page.post(f"{here}/work", json={"what": "hoopings", "revision": revision}).json()["id"]
            page.get(f"{here}/work/{id}/events").raise_for_status()
            page.get(f"{here}/hoopings").raise_for_status()
            divided.append(time.perf_counter() - begun)
    alone = [_alone() for _ in range(3)]
    return Drops(
        statistics.median(laid[1:]),
        statistics.median(divided[1:]),
        statistics.median(a for a, _ in alone),
        statistics.median(b for _, b in alone),
    )


def _alone() -> tuple[float, float]:
    begun = time.perf_counter()
    layout = lay_out(read_piece(EXAMPLE))
    laid = time.perf_counter()
    divide(layout)
    return laid - begun, time.perf_counter() - begun


def idle_memory() -> Idle | str:
    """The server's processes when the example has been shown and all is still; why not, where that cannot be known."""
    if not sys.platform.startswith("linux"):
        return "memory is told by Linux alone (proc(5), smaps_rollup)"
    with example_served() as (address, pid), httpx2.Client(timeout=60, trust_env=False) as page:
        page.get(address)
        key = parse_qs(urlsplit(address).query)["piece"][0]
        for what in ("piece", "stitches"):
            page.get(f"http://{urlsplit(address).netloc}/api/pieces/{key}/{what}").raise_for_status()
        _wait_until_still(pid)
        server, *others = [_own_share(p) for p in [pid, *_children(pid)]]
    return Idle(server, sum(others))


def _wait_until_still(pid: int) -> None:
    """Until none of its processes has used the processor for a while."""
    before = -1.0
    while (now := sum(map(_used, [pid, *_children(pid)]))) != before:
        before = now
        time.sleep(IDLE)


def _children(pid: int) -> list[int]:
    return [int(p) for p in Path(f"/proc/{pid}/task/{pid}/children").read_text("ascii").split()]


def _used(pid: int) -> float:
    """Seconds at the processor, to a tenth."""
    words = Path(f"/proc/{pid}/stat").read_text("utf-8").rpartition(")")[2].split()
    return round((int(words[11]) + int(words[12])) / os.sysconf("SC_CLK_TCK"), 1)


def _own_share(pid: int) -> float:
    """MB: what is its own, and its part of what it shares (Pss)."""
    told = Path(f"/proc/{pid}/smaps_rollup").read_text("ascii")
    share = re.search(r"^Pss:\s+(\d+) kB", told, re.MULTILINE)
    assert share is not None
    return int(share[1]) / 1024


def first_picture() -> Pictures | str:
    """In fresh windows, with the server and the browser running; why not, where there is no browser."""
    way = found()
    if way is None:
        return "no Chromium was found"
    with example_served() as (address, _), sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=way, args=list(ARGS))

        def seconds(url: str, script: str) -> list[float]:
            taken = []
            for _ in range(WINDOWS):
                page = browser.new_context(viewport={"width": 1400, "height": 900}).new_page()
                page.goto(url, wait_until="commit")
                taken.append([ms / 1000 for ms in page.evaluate(script)])
                page.context.close()
            return [statistics.median(one) for one in zip(*taken[1:], strict=True)]

        sketch, whole = seconds(address, SHOWN)
        (plain,) = seconds(f"http://{urlsplit(address).netloc}/share/", PAINTED)
        browser.close()
    return Pictures(sketch, whole, plain)
