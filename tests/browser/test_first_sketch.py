"""The first sketch: what is shown while the scripts are still on their way lies where the sheet lies afterwards."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from playwright.sync_api import Browser, Page, Route, expect

from .conftest import PATIENCE, SIZES, Light, Server, Size

COOL = 4
"""Steps (of 256) by which blue is more than red where the example's flowers are, which reach farthest: paper, cloth and
lines are warmer by day and by evening."""

WITHIN = 1
"""px by which the two may lie apart: the blur at a thread's edge."""

SKETCHED = "() => document.querySelector('.first-sketch canvas') !== null"
PAINTED = """() => {
  const thread = document.querySelector('festoon-sheet')?.thread;
  return thread?.under.shown && thread.job === null && thread.frame === 0;
}"""


def flowers(page: Page, sheet: str) -> tuple[int, int, int, int]:
    """Left, top, right and bottom of the flowers within the sheet's window, px of the page."""
    shown = cv2.imdecode(np.frombuffer(page.screenshot(), np.uint8), cv2.IMREAD_COLOR)
    assert shown is not None
    cool = shown[..., 0].astype(int) - shown[..., 2] >= COOL  # blue comes first
    frame = page.locator(sheet).bounding_box()
    assert frame is not None
    left, top = int(frame["x"]), int(frame["y"])
    rows, columns = np.nonzero(cool[top : int(top + frame["height"]), left : int(left + frame["width"])])
    assert rows.size > 1000, "they are to be seen"
    return left + int(columns.min()), top + int(rows.min()), left + int(columns.max()), top + int(rows.max())


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("size", ["desk", "phone"])
def test_the_sketch_lies_where_the_sheets_own_thread_lies_and_gives_way_to_it(
    looked_at: Server, browser: Browser, size: Size, light: Light
) -> None:
    width, height = SIZES[size]
    with browser.new_context(viewport={"width": width, "height": height}, color_scheme=light) as context:
        page = context.new_page()
        page.set_default_timeout(PATIENCE)
        wrong: list[str] = []
        page.on("console", lambda message: wrong.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: wrong.append(str(error)))
        held: list[Route] = []
        page.route("**/app.js", lambda route: held.append(route))
        page.goto(looked_at.address, wait_until="commit")
        page.wait_for_function(SKETCHED)
        assert page.locator(".first-sketch").get_attribute("aria-hidden") == "true"
        assert page.locator("festoon-app > *").count() == 0, "nothing of the page is there yet"
        sketched = flowers(page, ".first-sketch .tissue")

        held[0].continue_()
        page.wait_for_function(PAINTED)
        assert page.locator(".first-sketch").count() == 0
        assert page.locator(".tissue > canvas").count() == 3, "the sheet's own layers and no sketch"
        painted = flowers(page, "festoon-sheet .tissue")
        assert np.abs(np.subtract(sketched, painted)).max() <= WITHIN, (sketched, painted)
        assert not wrong


def test_other_stages_are_not_sketched(looked_at: Server, browser: Browser) -> None:
    with browser.new_context() as context:
        page = context.new_page()
        page.set_default_timeout(PATIENCE)
        page.route("**/app.js", lambda route: None)
        with page.expect_response("**/stitches?*") as told:
            page.goto(looked_at.address + "#hoopings", wait_until="commit")
        told.value.finished()
        page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
        assert page.locator(".first-sketch").count() == 0


def test_where_the_stitching_does_not_come_its_sentence_is_shown(looked_at: Server, browser: Browser) -> None:
    with browser.new_context() as context:
        page = context.new_page()
        page.set_default_timeout(PATIENCE)
        wrong: list[str] = []
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.route(
            "**/stitches?*", lambda route: route.fulfill(status=422, json={"sentence": "The stitching is lost."})
        )
        page.goto(looked_at.address, wait_until="commit")
        expect(page.get_by_role("alert")).to_contain_text("The stitching is lost.")
        assert not wrong
        assert page.locator(".first-sketch").count() == 0
