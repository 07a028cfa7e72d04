"""Screenshots compared by structure: every region lies where the piece says, whatever the letters look like.

The method: regions are computed from what the server tells (the cloth, the outlines of the parts, the ring of a hoop)
and carried onto the screen by the sheet's own scale; in the screenshot they are looked for by colour alone. Cloth is
measured by intersection over union of its rectangle, thread by the share of the outlines' area that is covered and by
how little lies elsewhere, frames by the share of their line that is drawn in wood, paper by its share of the ledger.
"""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np
import numpy.typing as npt
import pytest

from .conftest import Light, NewWindow, Server, Size, Window

Picture = npt.NDArray[np.uint8]
Mask = npt.NDArray[np.bool_]

SAME = 14
"""Steps of a colour's channel (of 256) within which two are the same: weave and shading lie within (measured)."""

THREAD = 28
"""Steps by which thread differs from cloth in one channel at least."""

EDGE = 5
"""px at the rim of the cloth where its cut line is drawn."""

AWAY = 1.5
"""mm round an outline that thread may still be seen in: its width, its shadow and the screen's own blur."""


def picture(window: Window) -> Picture:
    """What the window shows, (rows, columns, 3), red green blue."""
    window.page.mouse.move(2, 2)  # nothing is pointed at
    window.drawn()
    shown = cv2.imdecode(np.frombuffer(window.page.screenshot(), np.uint8), cv2.IMREAD_COLOR)
    assert shown is not None
    return np.asarray(cv2.cvtColor(shown, cv2.COLOR_BGR2RGB), np.uint8)


def token(window: Window, name: str) -> npt.NDArray[np.int16]:
    """A colour of the page, as it is now."""
    told = window.page.evaluate(
        """(name) => {
          const one = document.body.appendChild(document.createElement('i'));
          one.style.color = `var(--${name})`;
          const context = document.createElement('canvas').getContext('2d');
          context.fillStyle = getComputedStyle(one).color;
          context.fillRect(0, 0, 1, 1);
          one.remove();
          return [...context.getImageData(0, 0, 1, 1).data].slice(0, 3);
        }""",
        name,
    )
    return np.array(told, np.int16)


def like(shown: Picture, colour: npt.NDArray[np.int16], within: int = SAME) -> Mask:
    """Where the picture has this colour."""
    return np.asarray((np.abs(shown.astype(np.int16) - colour) <= within).all(axis=2))


def filled(window: Window, shape: tuple[int, ...], rings: list[list[list[float]]]) -> Mask:
    """Where closed rings on the cloth, mm, lie on the screen (even-odd)."""
    mask = np.zeros(shape[:2], np.uint8)
    x, y = window.on_sheet(0, 0)
    scale = window.scale()
    cv2.fillPoly(mask, [np.round(np.array(ring) * scale + (x, y)).astype(np.int32) for ring in rings], 1)
    return mask.astype(bool)


def overlap(one: Mask, other: Mask) -> float:
    """Intersection over union."""
    return float((one & other).sum() / max(1, (one | other).sum()))


def box(mask: Mask) -> Mask:
    """The rectangle round the largest piece of a mask, small gaps closed."""
    closed = cv2.morphologyEx(mask.astype(np.uint8), cv2.MORPH_CLOSE, np.ones((9, 9), np.uint8))
    _, _, stats, _ = cv2.connectedComponentsWithStats(closed)
    x, y, w, h, _ = stats[1 + int(np.argmax(stats[1:, cv2.CC_STAT_AREA]))]
    found = np.zeros_like(mask)
    found[y : y + h, x : x + w] = True
    return found


def grown(mask: Mask, by: int) -> Mask:
    """A mask with everything within so many px of it."""
    return np.asarray(cv2.dilate(mask.astype(np.uint8), np.ones((2 * by + 1, 2 * by + 1), np.uint8)).astype(bool))


def opened(mask: Mask) -> Mask:
    """A mask without whatever is thinner than three px: lines and letters."""
    return np.asarray(cv2.morphologyEx(mask.astype(np.uint8), cv2.MORPH_OPEN, np.ones((3, 3), np.uint8)).astype(bool))


def cloth(window: Window, shown: Picture) -> Mask:
    """Where the cloth should lie."""
    width, height = window.store("store => store.cloth.size")
    return filled(window, shown.shape, [[[0, 0], [width, 0], [width, height], [0, height]]])


def seen(window: Window, mask: Mask) -> Mask:
    """The part of a mask that lies on the sheet, within the window."""
    frame = window.page.locator(".tissue").bounding_box()
    assert frame is not None
    left, top = max(0, round(frame["x"])), max(0, round(frame["y"]))
    kept = np.zeros_like(mask)
    kept[top : round(frame["y"] + frame["height"]), left : round(frame["x"] + frame["width"])] = True
    return np.asarray(mask & kept)


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("size", ["desk", "phone"])
def test_cloth_and_thread_lie_where_the_piece_says(
    looked_at: Server, new_window: NewWindow, size: Size, light: Light
) -> None:
    window = new_window(looked_at, size=size, light=light, reduced_motion="reduce")
    window.page.locator("festoon-sheet").scroll_into_view_if_needed()
    shown = picture(window)
    on_cloth = like(shown, token(window, "cloth"))
    where = seen(window, cloth(window, shown))
    assert where.sum() > 20_000
    assert overlap(box(seen(window, on_cloth)), where) > 0.93

    outlines = seen(window, filled(window, shown.shape, _rings(window)))
    near = grown(outlines, int(np.ceil(AWAY * window.scale())))
    thread = opened(~grown(~where, EDGE) & ~like(shown, token(window, "cloth"), THREAD))
    covered, strayed = (thread & outlines).sum() / outlines.sum(), (thread & ~near).sum() / thread.sum()
    assert covered > 0.5
    assert strayed < 0.05
    assert shown[where & on_cloth].mean() > shown[~where].mean() - 60, "the cloth is among the brightest things"


def test_the_chosen_hoop_is_drawn_in_wood_round_its_field(looked_at: Server, new_window: NewWindow) -> None:
    window = new_window(looked_at, reduced_motion="reduce")
    window.stage("hoopings")
    told = window.store("store => store.division.hoopings.map((h) => h.record)")
    assert window.page.locator(".frame").count() == len(told) > 1
    for record in told[:3]:
        window.page.locator(f".tag[data-hooping='{record['number']}']").press("Enter")
        window.until("(store, number) => store.hooping === number", record["number"])
        shown = picture(window)
        wood = like(shown, token(window, "hoop-wood"), 24)
        ring = seen(window, _ring(window, shown, record))
        assert (wood & ring).sum() / ring.sum() > 0.75
        assert ring.sum() > 1000


def test_every_stage_has_its_sheet_and_its_ledger_side_by_side_or_below(
    looked_at: Server, new_window: NewWindow
) -> None:
    for size in ("desk", "phone"):
        window = new_window(looked_at, size=size, reduced_motion="reduce")
        for stage in ("lay-out", "hoopings", "proof", "sheets"):
            window.stage(stage)
            sheet, ledger = (
                window.page.locator(one).bounding_box() for one in (".sheet:not([hidden])", "section.ledger")
            )
            assert sheet is not None
            assert ledger is not None
            if size == "desk":
                assert sheet["x"] + sheet["width"] <= ledger["x"]
                assert sheet["width"] > 0.4 * 1400
                shown = picture(window)
                page = shown[int(ledger["y"]) : 900, int(ledger["x"]) : int(ledger["x"] + ledger["width"])]
                paper = like(page, token(window, "ledger")) | like(page, token(window, "pen-wash"))
                assert 0.5 < paper.mean() < 0.99, "paper, with something written on it"
            else:
                assert sheet["y"] + sheet["height"] <= ledger["y"] + 1
                assert sheet["width"] > 0.85 * 390


def _rings(window: Window) -> list[list[list[float]]]:
    rings: list[list[list[float]]] = window.store("store => store.parts.flatMap((part) => part.outline)")
    return rings


def _ring(window: Window, shown: Picture, record: dict[str, Any]) -> Mask:
    """Where the wood of a hoop should be: between its inner and its outer edge, its corners left out."""
    hoop = window.store(f"store => store.piece.hoops.find((h) => h.name === {record['hoop']!r})")
    turn = np.radians(record["turn"])
    around = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])

    def rectangle(size: list[float], less: float) -> list[list[float]]:
        corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * (np.array(size) / 2 - less)
        return np.asarray(corners @ around + record["centre"]).tolist()  # type: ignore[no-any-return]

    (ow, oh), (iw, ih) = hoop["outer"], hoop["inner"]
    rim = min(ow - iw, oh - ih) / 2
    whole = filled(window, shown.shape, [rectangle(hoop["outer"], 0.3 * rim), rectangle(hoop["inner"], -0.3 * rim)])
    straight = filled(window, shown.shape, [rectangle([iw * 0.8, oh], 0)]) | filled(
        window, shown.shape, [rectangle([ow, ih * 0.8], 0)]
    )
    return whole & straight
