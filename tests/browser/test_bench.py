"""Beside the machine, on a telephone: step by step, readings judged as they are typed, the corrected file."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import expect
from typer.testing import CliRunner

from festoon.cli import app
from festoon.make import make
from tests.truing.folder import new_row

from .conftest import PATIENCE, AtTable, NewServer, NewWindow, Window

expect.set_options(timeout=PATIENCE)

BEFORE_THE_CHECK = ("I will take care", "The crosses are marked", "It is hooped", "The thread is on the needle")


@pytest.fixture
def row(tmp_path: Path) -> Path:
    return new_row(tmp_path / "row")


def to_the_check(window: Window) -> None:
    """Ticks everything that comes before the needle check of the first hooping."""
    for told in BEFORE_THE_CHECK:
        window.page.get_by_role("button", name=told, exact=True).click()
    expect(heading(window)).to_have_text("Lower the needle at each cross. How far off is it?")


def heading(window: Window):  # type: ignore[no-untyped-def]
    return window.page.locator("#now")


def fill(window: Window, cross: str, right: str, up: str) -> None:
    window.page.get_by_label(f"Cross {cross}: how far right or left").fill(right)
    window.page.get_by_label(f"Cross {cross}: how far up or down").fill(up)


def crosses(window: Window) -> list[str]:
    """Of the hooping that is looked at, in the order of the needle check."""
    return [str(name) for name in window.page.locator(".ruled.big b").all_text_contents()]


def bench(at_table: AtTable, new_window: NewWindow, row: Path) -> Window:
    window = new_window(at_table(row), "bench", size="phone")
    expect(window.page.get_by_role("heading", name="Hooping 1 of three")).to_be_visible()
    return window


def test_the_corrected_file_is_that_of_the_command_line(
    new_server: NewServer, new_window: NewWindow, row: Path, tmp_path: Path
) -> None:
    by_hand = Path(shutil.copytree(row, tmp_path / "by-hand"))
    window = bench(new_server, new_window, row)
    page = window.page
    to_the_check(window)
    first, second, *others = crosses(window)
    main = page.locator(".at-hand .do")
    expect(main).to_have_text(f"Read crosses {first} and {second}")
    fill(window, first, "0.5", "0,3")
    expect(main).to_have_text(f"Read cross {second}")
    page.get_by_label(f"Cross {second}: how far right or left").fill("0.5")
    expect(main).to_have_text(f"Cross {second}: how far up or down?")
    main.click()
    expect(page.get_by_label(f"Cross {second}: how far up or down")).to_be_focused()
    fill(window, second, "0.5", "0.3")
    for cross in others:
        fill(window, cross, "0.5", "0.3")
    expect(page.locator(".at-hand .short")).to_have_text("Sound. The cloth lies 0.5 mm right and 0.3 mm up.")
    assert not (row / "made").exists()  # judging writes nothing
    with page.expect_download() as download:
        page.get_by_role("button", name="Get the corrected file").click()
    make(by_hand)
    words = [word for cross in (first, second, *others) for word in ("--read", f"{cross}=0.5 right 0.3 up")]
    assert CliRunner().invoke(app, ["true", str(by_hand), "1", *words]).exit_code == 0
    assert download.value.suggested_filename == "hooping-01-trued.dst"
    assert download.value.path().read_bytes() == (by_hand / "made" / "hooping-01-trued.dst").read_bytes()
    expect(page.locator(".verdict")).to_contain_text("Sew hooping-01-trued.dst in place of hooping-01.dst")
    page.get_by_role("button", name="It is loaded, the needle is right").click()
    expect(heading(window)).to_contain_text("Sew with")
    expect(page.locator(".which-file")).to_contain_text("trued.dst")


def test_words_flip_and_the_other_way_is_read(new_server: NewServer, new_window: NewWindow, row: Path) -> None:
    window = bench(new_server, new_window, row)
    to_the_check(window)
    for cross in crosses(window):
        fill(window, cross, "0.5", "0.3")
        window.page.get_by_role("button", name=f"Cross {cross} lies to the right; press for left").click()
        window.page.get_by_role("button", name=f"Cross {cross} lies up; press for down").click()
    expect(window.page.locator(".at-hand .short")).to_have_text("Sound. The cloth lies 0.5 mm left and 0.3 mm down.")


def test_it_remembers_where_it_was(new_server: NewServer, new_window: NewWindow, row: Path) -> None:
    """After a reload, with what was typed; after a power cut, on another device."""
    server = new_server(row)
    window = new_window(server, "bench", size="phone")
    to_the_check(window)
    first = crosses(window)[0]
    fill(window, first, "0.4", "0.2")
    window.page.reload()
    expect(heading(window)).to_have_text("Lower the needle at each cross. How far off is it?")
    expect(window.page.get_by_label(f"Cross {first}: how far right or left")).to_have_value("0.4")
    window.page.close()
    server.kill()
    server = new_server(row)
    other = new_window(server, "bench", size="desk")
    expect(heading(other)).to_have_text("Lower the needle at each cross. How far off is it?")
    expect(other.page.get_by_label(f"Cross {first}: how far right or left")).to_have_value("")


def test_when_a_hooping_is_done_the_next_comes_and_minutes_go_down(
    new_server: NewServer, new_window: NewWindow, row: Path
) -> None:
    window = bench(new_server, new_window, row)
    page = window.page
    before = page.locator(".left-over > span").text_content()
    to_the_check(window)
    page.get_by_role("button", name="The needle is on every cross").click()
    page.get_by_role("button", name="This thread is sewn").click()
    page.get_by_role("button", name="It is out of the hoop").click()
    expect(page.get_by_role("heading", name="Hooping 2 of three")).to_be_visible()
    assert page.locator(".left-over > span").text_content() != before
    page.get_by_role("button", name="All hoopings").click()
    expect(heading(window)).to_contain_text("One of three done")
    page.get_by_role("button", name="Hooping 1,").click()
    expect(page.locator(".step")).to_contain_text("This is done")
    page.get_by_role("button", name="Not done after all").click()
    expect(heading(window)).to_have_text("Take the cloth out of the hoop.")


def test_too_far_off_it_is_hooped_again(new_server: NewServer, new_window: NewWindow, row: Path) -> None:
    window = bench(new_server, new_window, row)
    page = window.page
    to_the_check(window)
    for cross in crosses(window):
        fill(window, cross, "7", "0")
    expect(page.locator(".at-hand .short")).to_have_text(
        "Hoop again. Too far off: hoop again, moving the cloth 7 mm left."
    )
    page.get_by_role("button", name="Hoop it again").click()
    expect(heading(window)).to_contain_text("Hoop cloth")
    expect(page.locator(".words .caution")).to_have_text("Too far off: hoop again, moving the cloth 7 mm left.")
    page.get_by_role("button", name="It is hooped", exact=True).click()
    expect(page.get_by_label("how far right or left").first).to_have_value("")
    assert not (row / "made").exists()


def test_two_devices_are_told_of_each_other(new_server: NewServer, new_window: NewWindow, row: Path) -> None:
    server = new_server(row)
    tablet, telephone = (new_window(server, "bench", size="phone") for _ in range(2))
    for window in (tablet, telephone):
        expect(heading(window)).to_have_text("Take care.")
    tablet.page.get_by_role("button", name="I will take care").click()
    expect(heading(tablet)).to_contain_text("Mark crosses")
    telephone.expected("409")
    telephone.page.get_by_role("button", name="I will take care").click()
    expect(telephone.page.get_by_role("alert")).to_contain_text("Steps were ticked on another device meanwhile.")
    expect(heading(telephone)).to_contain_text("Mark crosses")


def test_ticks_of_other_stitches_are_told_and_do_not_count(
    new_server: NewServer, new_window: NewWindow, row: Path
) -> None:
    window = bench(new_server, new_window, row)
    to_the_check(window)
    text = (row / "piece.toml").read_text("utf-8")
    (row / "piece.toml").write_text(text.replace("at = [70, 80]", "at = [71, 80]"), "utf-8")
    window.page.reload()
    expect(heading(window)).to_have_text("Take care.")
    expect(window.page.locator(".caution").first).to_contain_text("Steps of hooping 1 were ticked, last “")
    expect(window.page.locator(".caution").first).to_contain_text("Those ticks do not count")
