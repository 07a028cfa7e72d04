"""Elements that are laid or traced and not sewn by the machine, as the page is told of them."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely

from festoon.layout import Layout, lay_out
from festoon.piece import read_piece
from festoon.web.told import REACH, piece_told
from festoon.work import Area, Line, Pin, Work

PIECE = """
[piece]
name = "Trial"
[[panel]]
name = "front"
size = [200, 100]
[[element]]
kind = "join"
name = "row"
path = "M 10 90 H 190"
"""
BENCH = """
[[hoop]]
field = [100, 100]
"""


@pytest.fixture
def layout(tmp_path: Path) -> Layout:
    (tmp_path / "piece.toml").write_text(PIECE, "utf-8")
    (tmp_path / "bench.toml").write_text(BENCH, "utf-8")
    return lay_out(read_piece(tmp_path))


def told(layout: Layout, **given: object):
    """What is told of the piece when its one element comes to this instead of stitching."""
    work = replace(layout.works[0], parts=(), **given)
    return piece_told(replace(layout, works=(work,)), {}, "r", None, None)


def test_lace_is_one_part_without_stitches(layout: Layout) -> None:
    areas = (Area("lace", shapely.box(20, 10, 60, 25), "lace"), Area("lace", shapely.box(100, 10, 140, 25), "lace"))
    piece = told(layout, areas=areas, pins=(Pin((20.0, 10.0), "point"),))
    (part,) = piece.parts
    assert (part.name, part.element, part.first, part.count, part.threads) == ("row", "row", 0, 0, [])
    assert part.bounds == (20, 10, 140, 25)
    assert len(part.outline) == 2
    (element,) = piece.elements
    assert [(a.material, a.label, len(a.rings)) for a in element.areas] == [("lace", "lace", 1)] * 2
    assert element.pins == [(20.0, 10.0)]


def test_what_is_only_traced_is_chosen_by_its_line(layout: Layout) -> None:
    (part,) = told(layout, areas=(), lines=(Line("trace", np.array([[10.0, 50], [190, 50]])),)).parts
    assert part.bounds == pytest.approx((10 - REACH, 50 - REACH, 190 + REACH, 50 + REACH))


def test_a_traced_line_of_ever_so_many_small_scallops_is_told(tmp_path: Path) -> None:
    """GEOS takes minutes to outline the traced line and the line to cut along together, and no time over either."""
    (tmp_path / "piece.toml").write_text(SMALL_SCALLOPS, "utf-8")
    (tmp_path / "bench.toml").write_text(BENCH, "utf-8")
    (part,) = piece_told(lay_out(read_piece(tmp_path)), {}, "r", None, None).parts
    left, top, right, bottom = part.bounds
    assert (right - left, bottom - top) == pytest.approx((2 * 104.5, 2 * 104.5), abs=4 * 10)


def test_nothing_drawn_is_no_part(layout: Layout) -> None:
    assert told(layout, areas=(), lines=()).parts == []


def test_parts_after_it_keep_their_stitches(layout: Layout) -> None:
    lace = Work("lace", "front", areas=(Area("lace", shapely.box(0, 0, 5, 5)),))
    element = layout.piece.file.element[0].model_copy(update={"name": "lace"})
    file = layout.piece.file.model_copy(update={"element": (element, *layout.piece.file.element)})
    two = replace(layout, piece=replace(layout.piece, file=file), works=(lace, *layout.works))
    first, second = piece_told(two, {}, "r", None, None).parts
    assert (first.name, first.count) == ("lace", 0)
    assert (second.first, second.count) == (0, len(layout.works[0].parts[0].stitching))


GARMENT = """
[piece]
name = "Trial"
[[panel]]
name = "skirt"
flared = { waist_radius = 100, hem_radius = 300, angle = 60 }
seam = 10
closes = true
[[panel]]
name = "half"
size = [100, 80]
seam = 10
fold = "left"
lines = { rib = "M 0 40 H 100" }
"""


SMALL_SCALLOPS = """
[piece]
name = "Trial"
[[panel]]
name = "cloth"
size = [400, 400]
[[element]]
kind = "scalloped edge"
name = "edge"
along = "M 193.4 122.5 a 104.47 104.47 0 0 1 0 208.94 a 104.47 104.47 0 0 1 0 -208.94 z"
repeat = 2.14
spacing = 1.0
sewn = "sewing machine"
"""


def test_a_panel_is_told_with_its_edges_and_lines(tmp_path: Path) -> None:
    (tmp_path / "piece.toml").write_text(GARMENT, "utf-8")
    (tmp_path / "bench.toml").write_text(BENCH, "utf-8")
    skirt, half = piece_told(lay_out(read_piece(tmp_path)), {}, "r", None, None).panels
    assert skirt.shaped
    assert (skirt.shape, half.shape) == ("flared", "rectangle")
    (measures,) = skirt.sentences
    assert [(g.word, g.value, g.kind) for g in measures.gaps] == [
        ("flared.waist_radius", 100, "length"),
        ("flared.hem_radius", 300, "length"),
        ("flared.angle", 60, "angle"),
    ]
    assert half.sentences == []
    asked = {g.word: g for s in half.edges for g in s.gaps}
    assert {word: g.value for word, g in asked.items()} == {
        "hem_allowance": None,
        "centre_front": None,
        "fold": "left",
        "closes": False,
    }
    assert asked["fold"].choices == ["top", "bottom", "left", "right"]
    assert {g.word: g.choices for s in skirt.edges for g in s.gaps}["fold"] == ["left seam", "right seam"]
    assert set(skirt.lines) == {"hem", "waist", "left seam", "right seam", "centre front"}
    assert skirt.loops == ["hem", "waist"]
    (cut,), (finished,) = skirt.outline, skirt.finished
    assert shapely.Polygon(cut).contains(shapely.Polygon(finished))
    assert not half.shaped
    assert half.outline == [[(100, 0), (100, 80), (0, 80), (0, 0), (100, 0)]]
    assert shapely.LineString(half.finished[0]).length == pytest.approx(90 + 60 + 90, abs=0.2)
    assert half.folds == [[(0, 0), (0, 80)]] or half.folds == [[(0, 80), (0, 0)]]
    assert list(half.lines) == ["rib", "top", "bottom", "left", "right"], "her own before those of the edges"
