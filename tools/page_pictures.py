"""`make pictures`, second part: the pictures of the page in README.md, taken from the real page in a real browser."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

ROOT = Path(__file__).parent.parent
PICTURES = ROOT / "docs" / "pictures"
EXAMPLES = ROOT / "examples"

sys.path.insert(0, str(ROOT))
from tests.browser.browser import ARGS, ready  # noqa: E402

DESK, PHONE = (1400, 900), (390, 844)


@dataclass(frozen=True)
class Shot:
    """One picture: its name, the stage, the window, the light, what must be there first, a script run before, and the
    example that it is of."""

    name: str
    stage: str
    size: tuple[int, int] = DESK
    light: str = "light"
    awaits: str = "main"
    first: str = ""
    example: str = "sea-holly-cushion"


NEEDLE_CHECK = (
    "[...document.querySelectorAll('.step-row')].find((row) => /needle at each cross/.test(row.textContent)).click()"
)

SHOTS = (
    Shot("page-lay-out", "lay-out", first="store.choose([store.parts.find((p) => /^sprig-4$/.test(p.name)).name])"),
    Shot("page-hoopings", "hoopings", first="store.look(3)"),
    Shot("page-proof", "proof", light="dark"),
    Shot("page-sheets", "sheets"),
    Shot("page-bench", "bench", size=PHONE, awaits=".step-row", first=NEEDLE_CHECK),
    Shot("page-gown", "lay-out", example="christening-gown"),
)


@contextmanager
def served(piece: Path, home: Path) -> Iterator[str]:
    """The address of the piece's page while it is served; settings and recent pieces lie in `home`."""
    command = [sys.executable, "-c", "from festoon.cli import main; main()", "open", str(piece), "--no-browser"]
    env = {**os.environ, "HOME": str(home), "XDG_CONFIG_HOME": str(home / "settings")}
    process = subprocess.Popen(command, env=env, stdout=subprocess.PIPE, text=True)
    try:
        assert process.stdout is not None
        found = re.search(r"http\S+", process.stdout.readline())
        assert found, "festoon open told no address"
        yield found.group()
    finally:
        process.terminate()
        process.wait()


def take(page: Page, shot: Shot, path: Path) -> None:
    """Go to the stage, wait until all is worked out and drawn, and take the picture."""
    page.evaluate("(stage) => { location.hash = stage; }", shot.stage)
    page.wait_for_function("(stage) => document.querySelector('festoon-app')?.stage?.id === stage", arg=shot.stage)
    page.wait_for_function(
        """() => { const { store, stage } = document.querySelector('festoon-app');
          const have = { hoopings: store.division, proof: store.found, sheets: store.files };
          return store.laid && !store.busy && (!stage.needs || have[stage.needs]); }""",
        timeout=120_000,
    )
    page.wait_for_selector(shot.awaits)
    if shot.first:
        page.evaluate(f"() => {{ const store = document.querySelector('festoon-app').store; {shot.first}; }}")
    page.wait_for_load_state("networkidle")
    page.wait_for_function(
        """() => document.fonts.status === 'loaded' && [...document.images].every((image) =>
          image.complete || image.getBoundingClientRect().top > window.innerHeight)"""
    )
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    page.screenshot(path=path)


def _one(browser: Browser, address: str, shot: Shot) -> None:
    size = {"width": shot.size[0], "height": shot.size[1]}
    page = browser.new_page(viewport=size, color_scheme=shot.light, reduced_motion="reduce")  # type: ignore[arg-type]
    page.goto(address)
    path = PICTURES / f"{shot.name}.png"
    take(page, shot, path)
    page.close()
    print(path.relative_to(ROOT), f"{path.stat().st_size // 1000} kB")


def main() -> None:
    """Take every picture anew."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        home = Path(folder)
        browser = playwright.chromium.launch(executable_path=ready(), args=[*ARGS])
        for example in dict.fromkeys(shot.example for shot in SHOTS):
            piece = home / example
            shutil.copytree(EXAMPLES / example, piece, ignore=shutil.ignore_patterns("made"))
            with served(piece, home) as address:
                for shot in SHOTS:
                    if shot.example == example:
                        _one(browser, address, shot)
        browser.close()


if __name__ == "__main__":
    main()
