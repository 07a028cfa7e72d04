"""The page for everybody: found in order by axe-core, usable by keys alone, on a phone, in forced colours, at rest.

axe-core holds the page against WCAG 2.2 AA as far as a machine can; what it calls serious or critical may not be there.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from .conftest import SIZES, AtTable, Light, NewServer, NewWindow, Server, Size, Window

AXE = Path(__file__).parents[1] / "page" / "node_modules" / "axe-core" / "axe.min.js"
STAGES = ("lay-out", "hoopings", "proof", "sheets", "bench")
GRAVE = ("serious", "critical")
RULES = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")

TARGET = 44
"""px that anything to press is high at least: the finger's measure (WCAG 2.2, 2.5.5)."""

PRESSED = "button, a.may, a.do, summary, select, [role=radiogroup] label, nav.stages a"
"""What is pressed by a finger; the numbers on the sheet and the words within a sentence have a reach of their own."""


UNDERLINED = """all => all.map((one) => {
  const { borderBottomColor, borderBottomStyle } = getComputedStyle(one);
  return borderBottomStyle !== "none" && borderBottomColor !== getComputedStyle(document.body).backgroundColor;
})"""


def serious(window: Window) -> list[str]:
    """What axe-core finds that is grave, each with its place."""
    if not AXE.exists():
        pytest.fail("axe-core is not here. `make test` fetches it.")
    window.page.evaluate(AXE.read_text("utf-8"))
    found: Any = window.page.evaluate(
        "rules => axe.run(document, { runOnly: rules, resultTypes: ['violations'] })", list(RULES)
    )
    return [
        f"{violation['id']}: {node['html'][:160]}: {node['failureSummary']}"
        for violation in found["violations"]
        for node in violation["nodes"]
        if node["impact"] in GRAVE
    ]


def stages(window: Window) -> Iterator[str]:
    """Every stage in turn, worked out and drawn."""
    for stage in STAGES:
        window.stage(stage)
        yield stage


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("size", ["desk", "phone"])
def test_axe_finds_nothing_serious_on_any_stage(
    looked_at: Server, new_window: NewWindow, size: Size, light: Light
) -> None:
    window = new_window(looked_at, size=size, light=light, reduced_motion="reduce")
    found = {stage: serious(window) for stage in stages(window)}
    window.stage("lay-out")
    window.choose(window.store("store => store.parts[0].name"))
    found["a part chosen"] = serious(window)
    assert {stage: told for stage, told in found.items() if told} == {}


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("size", ["desk", "phone"])
def test_axe_finds_nothing_serious_at_the_start(
    new_server: NewServer, new_window: NewWindow, size: Size, light: Light
) -> None:
    window = new_window(new_server(), size=size, light=light, reduced_motion="reduce")
    expect(window.page.get_by_role("heading", level=1)).to_be_visible()
    window.drawn()
    assert serious(window) == []


def test_nothing_runs_off_a_phone_and_everything_is_as_large_as_a_finger(
    looked_at: Server, new_window: NewWindow
) -> None:
    window = new_window(looked_at, size="phone", has_touch=True)
    small: dict[str, list[str]] = {}
    for stage in stages(window):
        assert window.page.evaluate("() => document.documentElement.scrollWidth") == SIZES["phone"][0], stage
        small[stage] = window.page.locator(f"main :is({PRESSED}), header :is({PRESSED})").evaluate_all(
            """(all, least) => all.filter((one) => one.checkVisibility({ visibilityProperty: true }))
              .map((one) => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()])
              .filter(([, box]) => box.height > 1 && box.height < least - 0.5)
              .map(([told, box]) => `${Math.round(box.height)} px: ${told}`)""",
            TARGET,
        )
    assert {stage: told for stage, told in small.items() if told} == {}


def test_a_motif_is_laid_turned_and_divided_by_keys_alone(
    small: Path, at_table: AtTable, new_window: NewWindow
) -> None:
    window = new_window(at_table(small))
    page, keys = window.page, window.page.keyboard
    _tab_to(window, "[data-part='sprig-1']")
    keys.press("Enter")
    window.until("store => store.chosen[0] === 'sprig-1'")
    keys.press("Shift+ArrowRight")
    window.changed(lambda: keys.press("ArrowDown"))
    window.changed(lambda: keys.press("r"))
    sprig = next(e for e in window.piece()["elements"] if e["name"] == "sprig")
    assert (sprig["words"]["at"], sprig["words"]["turn"]) == ([205, 200.5], 5)
    window.changed(lambda: keys.press("Control+z"))
    window.changed(lambda: keys.press("Control+z"))
    assert window.piece()["undo"] is None
    _tab_to(window, "nav.stages a[href='#hoopings']", back=True)
    keys.press("Enter")
    window.settled()
    _tab_to(window, "[data-hooping='2'][tabindex]")
    keys.press("Enter")
    window.until("store => store.hooping === 2")
    expect(page.locator("[data-hooping='2'][role=button]")).to_have_attribute("aria-pressed", "true")


def test_what_has_the_focus_shows_it(looked_at: Server, new_window: NewWindow) -> None:
    """Every stop of the Tab key within the first stage looks otherwise than without the focus."""
    window = new_window(looked_at, reduced_motion="reduce")
    page = window.page
    blind = []
    for _ in range(40):
        page.keyboard.press("Tab")
        told, shown = page.evaluate(
            """() => {
              const one = document.activeElement;
              const ways = ["outline", "boxShadow", "border", "background", "stroke", "strokeWidth"];
              const look = (of) => ways.map((way) => getComputedStyle(of)[way]).join();
              const family = [one, one.parentElement, ...one.children];
              const before = family.map(look).join();
              one.blur();
              const after = family.map(look).join();
              one.focus({ preventScroll: true, focusVisible: true });
              return [one.outerHTML.slice(0, 90), before !== after];
            }"""
        )
        if not shown:
            blind.append(told)
    assert blind == []


def test_forced_colours_keep_everything_to_be_told_apart(looked_at: Server, new_window: NewWindow) -> None:
    """Chosen and not chosen, pressed and not pressed differ by more than a colour that the system takes away."""
    window = new_window(looked_at, forced_colors="active", reduced_motion="reduce")
    page = window.page
    part = window.store("store => store.parts[0].name")
    plain = page.locator(".tissue").screenshot()
    window.choose(part)
    window.drawn()
    assert page.locator(".tissue").screenshot() != plain
    assert serious(window) == []
    window.stage("hoopings")
    looks = page.locator(".tag .disc").evaluate_all("all => all.map((one) => getComputedStyle(one).strokeWidth)")
    assert len(set(looks)) == 2, "the chosen number is drawn more strongly"
    views = page.locator("button.view").evaluate_all(UNDERLINED)
    assert views.count(True) == 1, "only the view that is chosen is underlined"
    borders = page.locator("button.may").evaluate_all(
        "all => all.filter((one) => one.checkVisibility()).map((one) => getComputedStyle(one).borderTopWidth)"
    )
    assert borders
    assert "0px" not in borders


def test_nothing_moves_by_itself_where_less_motion_is_wished(looked_at: Server, new_window: NewWindow) -> None:
    window = new_window(looked_at, reduced_motion="reduce")
    for stage in stages(window):
        moving = window.page.evaluate(
            """() => [...document.querySelectorAll('*')].filter((one) => {
              const { animationName, animationDuration, transitionDuration } = getComputedStyle(one);
              const long = (times) => times.split(',').some((time) => parseFloat(time) > 0.01);
              return (animationName !== 'none' && long(animationDuration)) || long(transitionDuration);
            }).map((one) => one.outerHTML.slice(0, 90))"""
        )
        assert moving == [], stage
        assert window.page.evaluate("() => getComputedStyle(document.documentElement).scrollBehavior") == "auto"


def _tab_to(window: Window, selector: str, *, back: bool = False) -> None:
    """Press Tab until something has the focus."""
    for _ in range(120):
        window.page.keyboard.press("Shift+Tab" if back else "Tab")
        if window.page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    pytest.fail(f"Tab does not come to {selector}.")
