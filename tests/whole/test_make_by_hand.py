"""Pieces made by hand, wholly or in part: which sheets they come to."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from rich.console import Console

from festoon.make import MAKING_SHEET, PROOF_SHEET, TEMPLATES, WORK_SHEET, make
from festoon.piece.start import new_piece
from festoon.report import told

BAND = """
[[element]]
kind = "lace band"
name = "edge lace"
along = "M 20 380 H 380"
"""


@pytest.fixture
def starter(tmp_path: Path) -> Path:
    folder = tmp_path / "piece"
    new_piece(folder)
    return folder


def text_of(path: Path) -> str:
    with pypdfium2.PdfDocument(path) as sheet:
        return " ".join(" ".join(page.get_textpage().get_text_bounded() for page in sheet).split())


def of_lace_alone(folder: Path) -> None:
    text = f'[piece]\nname = "Lace"\n[[panel]]\nname = "front"\nsize = [400, 400]\n{BAND}'
    (folder / "piece.toml").write_text(text, "utf-8")


def test_stitching_alone_has_a_work_sheet_and_no_making_sheet(starter: Path) -> None:
    made, out = make(starter)
    assert WORK_SHEET in made.files
    assert not (out / MAKING_SHEET).exists()


def test_lace_with_stitching_has_both(starter: Path) -> None:
    piece = starter / "piece.toml"
    piece.write_text(piece.read_text("utf-8") + BAND, "utf-8")
    made, out = make(starter)
    assert {MAKING_SHEET, WORK_SHEET, TEMPLATES, PROOF_SHEET} <= set(made.files)
    text = text_of(out / MAKING_SHEET)
    assert f"Sew hoopings 1 to {made.division.count} (work sheet)" in text
    (work,) = (w for w in made.layout.works if w.element == "edge lace")
    for step in work.steps:
        assert step.text in text


def test_lace_alone_has_no_work_sheet_and_says_what_it_has(starter: Path) -> None:
    of_lace_alone(starter)
    made, out = make(starter)
    assert sorted(made.files) == ["hoopings.json", MAKING_SHEET, PROOF_SHEET, TEMPLATES]
    assert "work sheet" not in text_of(out / TEMPLATES).casefold()
    console = Console(width=120)
    with console.capture() as shown:
        console.print(told(made, out))
    assert "making-sheet.pdf" in shown.get()
    assert "work-sheet.pdf" not in shown.get()
    assert "hooping-" not in shown.get()


def test_a_work_sheet_of_before_goes_with_its_hoopings(starter: Path) -> None:
    _, out = make(starter)
    assert (out / WORK_SHEET).exists()
    of_lace_alone(starter)
    make(starter)
    assert not (out / WORK_SHEET).exists()
