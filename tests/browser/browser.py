"""The browser that the page is tried in: one that is there, or else one that is fetched.

`python -m tests.browser.browser` finds or fetches it and says where it lies. Looked for in this order: what the
environment variable FESTOON_BROWSER names, a Chromium on PATH, Playwright's own. Fetched where none is there: by apt
where that may be used (as root on Debian and its kin), else Playwright's own.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

NAMED = "FESTOON_BROWSER"
"""The environment variable that names the browser to use."""

ON_PATH = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome", "chrome")
"""What a Chromium is called, the most likely first."""

APT = (("apt-get", "-qq", "update"), ("apt-get", "-qq", "install", "-y", "--no-install-recommends", "chromium"))
OWN = ((sys.executable, "-m", "playwright", "install", "chromium"),)

ARGS = ("--no-sandbox", "--enable-unsafe-swiftshader", "--force-color-profile=srgb")
"""A browser run as root cannot have a sandbox; without a graphics card, WebGL is reckoned by the processor; and colours
are the same whatever the screen."""


class NoBrowser(RuntimeError):
    """There is no browser that can be used, in a sentence."""


def found() -> Path | None:
    """The browser that is there; None where there is none. Raises NoBrowser where the one that was named is missing."""
    if named := os.environ.get(NAMED):
        if not (way := shutil.which(named)):
            raise NoBrowser(f"{NAMED} names {named}, which cannot be run. Name a Chromium, or leave it unset.")
        return Path(way)
    ways = (shutil.which(name) for name in ON_PATH)
    return next((Path(way) for way in ways if way), None) or _own()


def ready() -> Path:
    """The browser, fetched if need be. Raises NoBrowser."""
    way = found()
    if way is None and os.geteuid() == 0 and shutil.which("apt-get"):
        way = found() if _done(APT) else None
    if way is None:
        way = found() if _done(OWN) else None
    if way is None:
        raise NoBrowser(f"No Chromium is here, and none could be fetched. Install one, or name it in {NAMED}.")
    if not _done([(str(way), "--version")]):
        raise NoBrowser(f"{way} does not run. Install a Chromium that does, and name it in {NAMED}.")
    return way


def _own() -> Path | None:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        way = Path(playwright.chromium.executable_path)
    return way if way.exists() else None


def _done(orders: Sequence[Sequence[str]]) -> bool:
    """Whether every one of the orders was carried out; what they have to say goes to the terminal where they fail."""
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for order in orders:
        done = subprocess.run(order, env=quiet, capture_output=True, text=True, check=False)
        if done.returncode:
            print(done.stdout, done.stderr, file=sys.stderr)
            return False
    return True


if __name__ == "__main__":
    try:
        print(f"The page is tried in {ready()}.")
    except NoBrowser as error:
        raise SystemExit(str(error)) from None
