"""The ledger and the drawer in a real browser: what is filled in, set out, aligned, added and taken off."""

from __future__ import annotations

import itertools
import math
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from .conftest import AtTable, NewWindow, Window

BAD = """() => [...document.querySelectorAll(':is(.ledger, .drawer) :is(button, input, select)')].flatMap((one) => {
  const { width, height } = (one.closest('.file-chooser') ?? one).getBoundingClientRect();
  const name = one.getAttribute('aria-label') || one.innerText.trim() || one.labels?.[0]?.innerText;
  return name && width >= 43.5 && height >= 43.5 ? [] : [`${name || one.outerHTML}: ${width} by ${height}`];
})"""
"""Whatever has no name, or is too small for a finger."""


def written(folder: Path) -> dict[str, Any]:
    """The piece file's elements by their names."""
    return {e["name"]: e for e in tomllib.loads((folder / "piece.toml").read_text("utf-8"))["element"]}


def choose(window: Window, *names: str) -> None:
    """Choose parts, as clicks with Shift do."""
    window.store(f"store => store.choose({list(names)})")
    window.drawn()


def press(window: Window, name: str) -> None:
    window.page.get_by_role("button", name=name, exact=True).click()


@pytest.fixture
def window(small: Path, at_table: AtTable, new_window: NewWindow) -> Window:
    return new_window(at_table(small), "lay-out")


def test_a_motif_from_the_drawer_is_set_in_a_ring_and_singly_again(window: Window, small: Path) -> None:
    press(
        window,
        "a motif from a file . Stitching that you have as a file, set down once or in a row, a ring, a "
        "pair or along a line.",
    )
    window.page.locator(".drawer").get_by_role("button", name=re.compile("^sprig")).click()
    window.changed(lambda: press(window, "In the middle"))
    assert written(small)["sprig 2"] == {"kind": "motif", "name": "sprig 2", "file": "motifs/sprig.vp3"}
    expect(window.page.get_by_role("heading", level=1)).to_have_text("Sprig 2")
    window.changed(lambda: press(window, "Set it in a ring"))
    ring = written(small)["sprig 2"]["ring"]
    assert ring["count"] == 8
    told = [p for p in window.piece()["parts"] if p["element"] == "sprig 2"]
    assert all(math.isclose(math.dist(p["at"], (200, 200)), ring["radius"], abs_tol=0.001) for p in told)
    expect(window.page.get_by_role("textbox", name="sprig 2, radius, in millimetres")).to_have_value(
        f"{ring['radius']:g}"
    )
    window.changed(lambda: press(window, "Set it in a row"))
    assert "ring" not in written(small)["sprig 2"]
    window.changed(lambda: press(window, "Singly again"))
    assert "row" not in written(small)["sprig 2"]


def test_three_are_set_free_aligned_and_spread_each_as_one_change(window: Window, small: Path) -> None:
    choose(window, "sprig-2", "sprig-4", "sprig-7")
    window.changed(lambda: press(window, "Set each free"))
    assert {"sprig-1", "sprig-8", "stem-1", "stem-8"} <= set(written(small))
    expect(window.page.get_by_role("heading", level=1)).to_have_text("Three parts")
    window.changed(lambda: press(window, "Upper edges"))
    chosen = ("sprig-2", "sprig-4", "sprig-7")
    tops = [p["bounds"][1] for p in window.piece()["parts"] if p["name"] in chosen]
    assert max(tops) - min(tops) < 0.01
    window.changed(lambda: press(window, "Equal gaps across"))
    left = sorted(p["bounds"] for p in window.piece()["parts"] if p["name"] in chosen)
    gaps = [b[0] - a[2] for a, b in itertools.pairwise(left)]
    assert abs(gaps[0] - gaps[1]) < 0.01
    for label in ("spreading 3 parts", "aligning 3 parts", "setting each sprig free"):
        assert window.piece()["undo"] == label
        window.changed(lambda: window.page.get_by_role("button", name="Undo").click())
    assert written(small)["sprig"]["ring"] == {"count": 8, "radius": 110}


def test_what_others_lean_on_is_taken_off_with_them_and_undo_brings_all_back(window: Window, small: Path) -> None:
    before = (small / "piece.toml").read_text("utf-8")
    choose(window, "sprig-3")
    press(window, "Take all 8 of sprig off")
    asked = window.page.get_by_role("alert")
    expect(asked).to_contain_text("Stem leans on sprig and cannot stay without it.")
    press(window, "Leave all as it is")
    expect(asked).to_have_count(0)
    press(window, "Take all 8 of sprig off")
    window.changed(lambda: press(window, "Take it off as well"))
    assert "element" not in tomllib.loads((small / "piece.toml").read_text("utf-8"))
    expect(window.page.get_by_text("Nothing lies on this cloth yet.")).to_be_visible()
    window.changed(lambda: window.page.get_by_role("button", name="Undo").click())
    assert (small / "piece.toml").read_text("utf-8") == before


def test_a_number_that_cannot_be_stays_with_its_sentence_and_the_drawing_as_it_was(window: Window, small: Path) -> None:
    window.expected("422")
    before, revision = (small / "piece.toml").read_bytes(), window.revision()
    choose(window, "sprig-1")
    blank = window.page.get_by_role("textbox", name="sprig, radius, in millimetres")
    blank.fill("230")
    blank.press("Enter")
    sentence = window.page.locator("festoon-blank", has=blank).get_by_role("alert")
    expect(sentence).to_contain_text("beyond the")
    expect(blank).to_have_value("230")
    expect(blank).to_have_attribute("aria-invalid", "true")
    assert window.page.locator(".trouble").count() == 0
    assert ((small / "piece.toml").read_bytes(), window.revision()) == (before, revision)
    press(window, "Put 110 back")
    expect(blank).to_have_value("110")
    expect(sentence).to_have_count(0)
    blank.fill("far")
    blank.press("Enter")
    expect(sentence).to_contain_text("“far” is not a length")
    blank.press("Escape")
    expect(blank).to_have_value("110")


def test_arrows_step_a_blank_and_enter_keeps_it(window: Window, small: Path) -> None:
    choose(window, "sprig-1")
    blank = window.page.get_by_role("textbox", name="sprig, radius, in millimetres")
    blank.press("ArrowDown")
    blank.press("Shift+ArrowDown")
    expect(blank).to_have_value("104.5")
    window.changed(lambda: blank.press("Enter"))
    assert written(small)["sprig"]["ring"]["radius"] == 104.5


def test_choices_are_chosen_and_the_usual_is_set_and_cleared(window: Window, small: Path) -> None:
    choose(window, "stem-1")
    thread = window.page.get_by_role("combobox", name="stem, thread")
    assert thread.locator("option").all_inner_texts() == ["as usual", "leaf", "rose", "gold"]
    window.changed(lambda: thread.select_option("rose"))
    assert written(small)["stem"]["thread"] == "rose"
    window.changed(lambda: thread.select_option(label="as usual"))
    assert "thread" not in written(small)["stem"]
    holes = window.page.get_by_role("textbox", name=re.compile("^stem, spacing"))
    expect(holes).to_have_value("")
    holes.fill("0,5")
    window.changed(lambda: holes.press("Enter"))
    assert written(small)["stem"]["spacing"] == 0.5
    holes.fill("")
    window.changed(lambda: holes.press("Enter"))
    assert "spacing" not in written(small)["stem"]
    leave = window.page.get_by_role("textbox", name=re.compile("^stem, leave down"))
    leave.fill("4")
    window.changed(lambda: leave.press("Enter"))
    assert written(small)["stem"]["leave"] == [0, 4]
    leave.fill("")
    window.changed(lambda: leave.press("Enter"))
    assert "leave" not in written(small)["stem"]


def test_in_inches_every_sentence_agrees(window: Window, small: Path) -> None:
    window.expected("422")
    window.changed(lambda: window.page.get_by_text("inch", exact=True).click())
    assert tomllib.loads((small / "piece.toml").read_text("utf-8"))["piece"]["units"] == "inch"
    choose(window, "sprig-1")
    blank = window.page.get_by_role("textbox", name="sprig, radius, in inches")
    blank.fill("9 1/2")
    blank.press("Enter")
    sentence = window.page.locator("festoon-blank", has=blank).get_by_role("alert")
    expect(sentence).to_contain_text(re.compile(r"[\d.]+ in beyond the"))
    blank.fill("4 1/8")
    window.changed(lambda: blank.press("Enter"))
    assert written(small)["sprig"]["ring"]["radius"] == "4 1/8 in"
    blank.press("ArrowUp")
    expect(blank).to_have_value("4 3/16")


def test_a_join_is_begun_in_the_drawer_and_pointed_out_by_keys_alone(window: Window, small: Path) -> None:
    entry = window.page.get_by_role("button", name=re.compile("^a join"))
    entry.focus()
    entry.press("Enter")
    expect(window.page.get_by_text("Which part does it leave?").first).to_be_visible()
    for part in ("sprig-1", "sprig-4"):
        one = window.page.locator(f'[data-part="{part}"]')
        one.focus()
        if part == "sprig-4":
            window.changed(lambda one=one: one.press("Enter"))
        else:
            one.press("Enter")
    elements = written(small)
    assert (elements["join"]["from"], elements["join"]["to"]) == ("sprig-1", "sprig-4")
    assert list(elements) == ["stem", "join", "sprig"]  # under what it links, so that that covers its ends
    expect(window.page.get_by_role("heading", level=1)).to_have_text("Join")


def test_the_piece_its_cloth_and_its_layers(window: Window, small: Path) -> None:
    name = window.page.get_by_role("textbox", name="the piece, name")
    name.fill("Cushion")
    window.changed(lambda: name.press("Enter"))
    width = window.page.get_by_role("textbox", name="panel front, width, in millimetres")
    width.fill("420")
    window.changed(lambda: width.press("Enter"))
    wearer = window.page.get_by_role("combobox", name="the piece, wearer")
    expect(wearer).to_be_hidden()
    window.page.get_by_text("Its edges, and who wears it").click()
    window.changed(lambda: wearer.select_option("infant"))
    assert tomllib.loads((small / "piece.toml").read_text("utf-8"))["piece"]["wearer"] == "infant"
    window.changed(lambda: wearer.select_option(label="as usual"))
    assert "wearer" not in tomllib.loads((small / "piece.toml").read_text("utf-8"))["piece"]
    window.changed(lambda: press(window, "Lay stem higher"))
    told = tomllib.loads((small / "piece.toml").read_text("utf-8"))
    assert (told["piece"]["name"], told["panel"][0]["size"]) == ("Cushion", [420, 400])
    assert [e["name"] for e in told["element"]] == ["sprig", "stem"]
    window.changed(lambda: press(window, "One more panel"))
    expect(window.page.get_by_text("Nothing lies on this cloth yet.")).to_be_visible()
    window.changed(lambda: press(window, "Take panel 2 away"))


def test_nothing_is_nameless_or_small_in_ledger_and_drawer(window: Window) -> None:
    for names in ((), ("sprig-1",), ("sprig-1", "sprig-2")):
        choose(window, *names)
        assert window.page.evaluate(BAD) == []
