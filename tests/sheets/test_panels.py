"""Panels that are garments, drawn and told: block, cut edge, seam and hem lines, fold, and what is cut when."""

from typing import Any

import pytest
import shapely

from festoon.piece import Panel, shape_of
from festoon.sheets.drawing import BLOCK, CENTRE, CUT, LINES, SEAM, panel_lines, panel_words
from festoon.sheets.panel_words import cutting_told

YOKE = {
    "cut": "M 60 60 H 160 V 160 H 60 Z",
    "lines": {"hem": "M 60 160 H 160"},
    "seam": 10,
    "hem_allowance": 40,
    "centre_front": 60,
}


def drawn(**words: Any) -> dict[Any, Any]:
    """What is drawn of a panel by its ink, each as one geometry."""
    shapes = panel_lines(Panel(name="panel", **words))
    return {ink: shapely.union_all([s.geometry for s in shapes if s.ink == ink]) for ink in {s.ink for s in shapes}}


def test_a_rectangle_has_its_centre_lines_and_its_seam_line_inside_the_cut() -> None:
    found = drawn(size=(400, 300), seam=10)
    assert set(found) == {CENTRE, SEAM, CUT}
    assert found[CENTRE].length == pytest.approx(700)
    assert found[SEAM].equals(shapely.box(10, 10, 390, 290).exterior)
    assert found[CUT].equals(shapely.box(0, 0, 400, 300).exterior)
    assert set(drawn(size=(400, 300))) == {CENTRE, CUT}


def test_a_shape_has_its_block_its_cut_edge_and_its_seam_lines() -> None:
    panel = Panel(name="skirt", flared={"waist_radius": 200, "hem_radius": 500, "angle": 60}, seam=12, hem_allowance=50)
    found, shape = drawn(**panel.model_dump(exclude={"name", "block"})), shape_of(panel)
    assert set(found) == {BLOCK, CUT, SEAM, CENTRE}
    assert found[BLOCK].equals(shapely.box(0, 0, *panel.size).exterior)
    assert found[CUT].equals(shape.cut.exterior)
    assert found[SEAM].equals(shape.finished.exterior)
    assert found[CENTRE].length == pytest.approx(300), "its centre front, and not the middle of the block"


def test_its_edges_are_there_to_be_traced_and_the_block_only_to_lay_them_by() -> None:
    shapes = panel_lines(Panel(name="yoke", **YOKE))
    assert {s.ink for s in shapes if not s.guide} == {CUT, SEAM}
    assert all(s.guide for s in panel_lines(Panel(name="cloth", size=(90, 90), seam=9)))


def test_nothing_is_cut_on_the_fold() -> None:
    found = drawn(**YOKE, fold="centre front")
    fold = shapely.LineString([(60, 50), (60, 200)])
    assert found[LINES["fold"]].equals(fold)
    assert found[CUT].intersection(fold).length < 0.02
    assert found[SEAM].length == pytest.approx(300, abs=0.2), "three sides: no seam on the fold"
    assert CENTRE not in found
    (first, _), *_ = panel_words(Panel(name="yoke", **YOKE, fold="centre front"))
    assert first == "centre front: place on the fold"


def test_lines_have_words() -> None:
    named = {text: round(line.length) for text, line in panel_words(Panel(name="yoke", **YOKE))}
    assert named == {"centre front": 100, "hem line": 100, "cut edge": 540}
    assert panel_words(Panel(name="cloth", size=(90, 90), seam=9)) == []


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ({"size": (400, 300), "cloth": "linen"}, "Cut 400 mm by 300 mm (measured), linen."),
        (
            {"size": (400, 300), "seam": 10, "closes": True},
            "Cut 400 mm by 300 mm (measured). Sewn round, its top is 380 mm (computed). "
            "Sewn round, its bottom is 380 mm (computed).",
        ),
        (
            {**YOKE, "size": (300, 300), "fold": "centre front"},
            "Cut a block of 300 mm by 300 mm (measured). When the work is done, cut the shape out of it, "
            "110 mm by 150 mm (computed) with seams of 10 mm, a hem of 40 mm, none on the fold at the centre front.",
        ),
        (
            {"circle": {"diameter": 200}},
            "Cut a block of 280 mm by 280 mm (computed). When the work is done, cut the circle out of it, "
            "200 mm by 200 mm (computed).",
        ),
    ],
)
def test_what_to_cut_is_told(words: dict[str, Any], told: str) -> None:
    assert cutting_told(Panel(name="panel", **words), "mm") == told
