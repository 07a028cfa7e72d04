"""The swatch's page measured with a ruler: the PDF's own lines, in mm."""

from __future__ import annotations

import numpy as np
import pytest

from festoon.piece import Hoop
from festoon.sheets.style import INK, PEN, WORK
from festoon.stitches import Thread
from festoon.swatch.design import CROSSES, EXPECTED, PEN_ARM, PLACES, SPACINGS
from festoon.swatch.sheet import MIDDLE, drawing, sheet
from tests.sheets.pdf_pages import pages

HOOPS = (Hoop(field=(100, 100), magnetic=True),)


def straight(page, colour, axis):
    """(start, length) of every level (axis 0) or upright (axis 1) stroke of that colour, mm."""
    strokes = [s.points for s in page.drawn(colour) if len(s.points) == 2]
    return [(s.min(axis=0), float(np.ptp(s[:, axis]))) for s in strokes if np.ptp(s[:, 1 - axis]) < 0.01]


@pytest.fixture(scope="module", params=["A4", "Letter"])
def page(request):
    read = pages(sheet(Thread("#9b2f42"), HOOPS, "swatch.pes", request.param))
    assert len(read) == 1
    return read[0]


def test_the_check_line_measures_100_mm(page) -> None:
    lengths = [v for _, v in straight(page, INK, 0) if abs(v - 100) < 5]
    assert lengths == [pytest.approx(100.0, abs=0.05)]
    assert "This line must measure 100 mm, or 3 15/16 in." in page.text


@pytest.mark.parametrize("level", [True, False])
def test_dimensions_are_drawn_at_true_size(page, level: bool) -> None:
    drawn = sorted(v for _, v in straight(page, WORK, 0 if level else 1))
    assert drawn == pytest.approx(sorted(d.nominal for d in EXPECTED if d.level is level), abs=0.05)


def test_crosses_stand_70_mm_apart_and_where_the_drawing_has_them(page) -> None:
    middles = {}
    for axis in (0, 1):
        arms = straight(page, PEN, axis)
        assert [v for _, v in arms] == pytest.approx([2 * PEN_ARM] * 4, abs=0.05)
        half = np.array([PEN_ARM, 0.0] if axis == 0 else [0.0, PEN_ARM])
        middles[axis] = sorted((start + half).round(3).tolist() for start, _ in arms)
    assert np.allclose(middles[0], middles[1], atol=0.05)
    apart = np.array(middles[0]) - middles[0][0]
    assert np.allclose(apart, sorted((np.array(CROSSES) - CROSSES[0]).tolist()), atol=0.05)


def test_every_dimension_lies_beside_what_it_measures() -> None:
    lines = [r for r in drawing(Thread()) if r["kind"] == "path" and r["stroke"] == WORK and len(r["runs"][0]) == 4]
    for d in EXPECTED:
        axis = 0 if d.level else 1
        wanted = sorted(p[axis] + MIDDLE[axis] for p in (d.start, d.end))
        runs = [sorted(r["runs"][0][axis::2]) for r in lines]
        assert any(run == pytest.approx(wanted, abs=1e-3) for run in runs), d.letter


def test_the_form_the_file_and_the_cautions_are_told(page) -> None:
    words = page.text.split()
    for letter in [*(d.letter for d in EXPECTED), *PLACES, "t"]:
        assert words.count(letter) >= 2, letter  # on the drawing and on the form
    for spacing in SPACINGS:
        assert f"{spacing:.2f}" in words
    assert {"u", "v"} <= set(words), "on the form"
    assert "Two lines drawn 100 mm apart on a strip of the cloth, 10 rows sewn between them" in " ".join(words)
    assert "swatch.pes" in page.text
    assert "80 × 80 mm" in page.text
    assert "Magnets" in page.text


def test_every_figure_says_its_class(page) -> None:
    text = " ".join(page.text.split())
    for told in ("sewn computed", "found measured by you", "80 × 80 mm (computed)", "stitches (computed)", "(assumed)"):
        assert told in text, told
    assert text.count("measured by you") == 4


def test_same_input_same_bytes() -> None:
    assert sheet(Thread(), HOOPS, "swatch.dst", "A4") == sheet(Thread(), HOOPS, "swatch.dst", "A4")
