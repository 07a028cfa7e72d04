"""The christening gown: it can be made as it stands, its repeats close, and it fits the child it is for."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
import shapely

from festoon.layout import Layout
from festoon.make import Made, plan
from festoon.piece import read_piece, shape_of
from festoon.work import Work

GOWN = Path(__file__).parents[2] / "examples" / "christening-gown"

CHEST = 440.0
"""mm round a child of 64 cm: a children's pattern cutting handbook's table, as quoted on a pattern-grading page."""


@pytest.fixture(scope="module")
def made() -> Made:
    return plan(read_piece(GOWN))


@pytest.fixture(scope="module")
def layout(made: Made) -> Layout:
    return made.layout


def work(layout: Layout, name: str) -> Work:
    return next(w for w in layout.works if w.element == name)


def test_nothing_is_found_that_keeps_it_from_working(made: Made) -> None:
    assert [f for f in made.findings if f.verdict != "sound"] == []


def test_every_sheet_is_there(made: Made) -> None:
    assert {"templates.pdf", "making-sheet.pdf", "work-sheet.pdf", "proof.pdf", "hoopings.json"} <= set(made.files)


def test_nine_ovals_close_on_each_skirt_panel_with_a_round_at_centre_front(layout: Layout) -> None:
    """A sector's arc is radius times angle (any handbook of geometry): 1000 mm at 58 degrees."""
    shape = shape_of(next(p for p in layout.panels if p.name == "skirt front"))
    assert shape.lines["hem"].length == pytest.approx(1000 * math.radians(58), abs=1e-6)
    middle = shape.lines["centre front"].start[0]
    for name in ("front ovals", "back ovals"):
        places = work(layout, name).places
        assert len(places) == 9
        assert places[4].x == pytest.approx(middle, abs=1e-6)
        assert [p.x - middle for p in places] == pytest.approx([middle - p.x for p in places[::-1]], abs=1e-6)


def test_the_ovals_meet_across_the_side_seams(layout: Layout) -> None:
    """Front and back are the same, and each ends with a point: the lace of the one meets that of the other."""
    front, back = (shapely.union_all([a.region for a in work(layout, f"{n} ovals").areas]) for n in ("front", "back"))
    assert front.symmetric_difference(back).area < 1e-3


def test_a_snowdrop_stands_in_every_oval_clear_of_the_lace(layout: Layout) -> None:
    lace = shapely.union_all([a.region for a in work(layout, "front ovals").areas])
    flowers = work(layout, "front snowdrops").parts
    assert len(flowers) == 9
    assert all(part.region.distance(lace) > 3.0 for part in flowers)


def test_the_yoke_is_wide_enough_once_its_tucks_are_sewn(layout: Layout) -> None:
    """Finished chest: the body's and 5 to 8 cm (common practice)."""
    yoke = next(p for p in layout.panels if p.name == "yoke")
    left, _, right, _ = shape_of(yoke).finished.bounds
    assert CHEST + 50 <= 2 * (right - left) <= CHEST + 80
    taken = sum(t.by for t in work(layout, "yoke tucks").taken)
    assert taken == pytest.approx(2 * 8 * 1.5), "eight tucks 1.5 mm deep; each takes twice its depth"


def test_the_point_of_the_yoke_is_mitred(layout: Layout) -> None:
    """At a square corner the headings differ by twice the lace's width (School Needlework: 'twice the width')."""
    lace = work(layout, "yoke point")
    lower, upper = lace.named["lower"], lace.named["upper"]
    assert abs(lower.length - upper.length) == pytest.approx(2 * 12.7, abs=1e-6)


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_puffing_lies_between_its_entredeux(layout: Layout, side: str) -> None:
    puff = shapely.union_all([a.region for a in work(layout, f"{side} puffing").areas])
    _, top, _, bottom = puff.bounds
    assert (top, bottom) == pytest.approx((164, 200))


def test_what_is_bought_does_for_both_sleeves(layout: Layout) -> None:
    """Entredeux four times along 260 mm, each with 1/2 in at either end; 3 % of what is bought shrinks away."""
    strips = [s.quantity for w in layout.works for s in w.supplies if s.what.startswith("entredeux")]
    assert sum(strips) == pytest.approx(4 * (260 + 25.4) / 0.97)


def test_an_infants_cautions_are_on_it(made: Made) -> None:
    told = " ".join(c.source for c in made.supplies.cautions)
    assert "EN 14682" in told
    assert "16 CFR" in told
