"""Too thick or too full of holes: well-made work is let pass, what is laid over itself is not."""

import functools
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from shapely import box

from festoon.hooping import divide
from festoon.layout import lay_out
from festoon.piece import read_piece
from festoon.piece.sprig import sprig
from festoon.piece.start import new_piece
from festoon.plane import polyline
from festoon.proof.cloth import LAYERS, LAYERS_STOP, holes_limit
from festoon.proof.dense import EYES, MOST, thickness_findings
from festoon.proof.thickness import CELL, thickness
from festoon.stitches import from_points, read_stitches
from festoon.stitches.lay import fill, satin
from tests.hooping.pieces import RED, motif, piece

EXAMPLES = Path(__file__).parents[2] / "examples"
DRAWN = {
    "sprig": "sea-holly-cushion/motifs/sprig.vp3",
    "small sprig": "sea-holly-cushion/motifs/sprig-small.vp3",
    "spray": "tablecloth-hem/motifs/spray.vp3",
    "corner": "tablecloth-hem/motifs/corner.vp3",
}
LINE = polyline([[-15, 0], [15, 0]])
TURNS = np.arange(36) * np.radians(175)
STAR = 1.6 * np.column_stack([np.cos(TURNS), np.sin(TURNS)])  # every stitch goes through the middle: 3.8 layers
LAID = {
    "starter sprig": sprig,
    "leaf": lambda: satin(LINE, lambda f: 24 * f * (1 - f) + 0.4, thread=RED, underlay="edge"),
    "stem": lambda: satin(LINE, 2.2, thread=RED, underlay="centre"),
    "full fill": lambda: fill(box(-15, -15, 15, 15), angle=20, row=0.2, length=2.5, underlay=True, thread=RED),
    "long stitches": lambda: fill(box(-15, -15, 15, 15), angle=20, row=0.2, length=6, thread=RED),
    "star": lambda: from_points(STAR, RED),
    "holes": lambda: fill(box(-15, -15, 15, 15), angle=20, row=0.5, length=0.5, thread=RED),
}


@functools.cache
def stitches(name):
    return LAID[name]() if name in LAID else read_stitches(EXAMPLES / DRAWN[name])


def found_in(layout, cell=CELL):
    division = divide(layout)
    maps = [
        thickness([h.stitching for h in division.hoopings if h.panel == p.name], p.name, cell) for p in layout.panels
    ]
    return thickness_findings(maps, layout, division, layout.piece.bench)


def found(*elements, cloth="", **words):
    whole = piece(*elements, **words)
    panels = tuple(p.model_copy(update={"cloth": cloth}) for p in whole.file.panel)
    whole = replace(whole, file=whole.file.model_copy(update={"panel": panels}))
    return found_in(lay_out(whole, stitches))


@pytest.mark.parametrize("name", [*DRAWN, "starter sprig", "leaf", "stem", "full fill"])
def test_a_motif_by_itself_is_let_pass_and_three_over_each_other_are_not(name):
    assert found(motif("a", name)) == ()
    findings = found(*(motif(n, name) for n in "abc"))
    assert findings
    assert findings[0].elements == ("a", "b", "c")
    if name in DRAWN:
        assert findings[0].verdict == "will not work"


@pytest.mark.parametrize("name", ["sea-holly-cushion", "tablecloth-hem"])
def test_the_examples_are_let_pass(name):
    assert found_in(lay_out(read_piece(EXAMPLES / name))) == ()


def test_the_starter_is_let_pass(tmp_path):
    new_piece(tmp_path)
    assert found_in(lay_out(read_piece(tmp_path))) == ()


def test_a_finding_says_what_where_and_what_to_do():
    (told,) = found(motif("a", "stem"), motif("b", "stem"), motif("c", "stem"))
    assert told.verdict == "look again"
    assert told.figure == "3.5 layers of thread over a square of 2 mm"
    assert told.limit == f"{LAYERS.value:g}"
    assert told.where.startswith("a, b and c on front, ")
    assert (told.panel, told.hooping, told.elements) == ("front", 1, ("a", "b", "c"))
    assert told.at == pytest.approx((200, 200), abs=15)
    assert told.at[1] == pytest.approx(200, abs=0.5)
    assert "85/13, or a jeans needle" in told.remedy
    assert "stabiliser under it, 2 in all" in told.remedy
    assert told.remedy.endswith(EYES)
    assert "Finer thread, 60 wt, makes 2.8 layers of it." in told.remedy  # 3.52 times the root of 16.67 / 26.67


def test_the_advised_move_is_enough_and_a_smaller_one_is_not():
    at = (200, 200)
    (told,) = found(*(motif(n, "stem", at) for n in "abc"))
    assert "Move c by 2 mm down" in told.remedy
    assert found(motif("a", "stem"), motif("b", "stem"), motif("c", "stem", (200, 202))) == ()
    for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, 1), (1, -1), (-1, -1)):
        assert found(motif("a", "stem"), motif("b", "stem"), motif("c", "stem", (200 + x, 200 + y)))


def test_a_part_dense_in_itself_may_be_moved_clear():
    assert found(motif("a", "star")) == ()
    (told,) = found(motif("a", "star"), motif("b", "star"))
    assert "Move b by 2 mm to the right and 2 mm down" in told.remedy


def test_six_layers_will_not_work_however_few_the_holes():
    findings = found(*(motif(n, "long stitches") for n in "abcdef"))
    assert findings[0].verdict == "will not work"
    assert findings[0].limit == f"{LAYERS_STOP.value:g}"


@pytest.mark.parametrize("cell", [0.2, 0.25, 0.4])
def test_the_worst_point_is_where_it_lies_whatever_the_cells(cell):
    (told,) = found_in(lay_out(piece(motif("a", "star"), motif("b", "star")), stitches), cell)
    assert told.at == pytest.approx((200, 200), abs=0.45)


def test_no_move_off_the_panel_is_advised():
    at = (200, 398.85)  # 2.2 mm wide, at the lower edge
    (told,) = found(*(motif(n, "stem", at) for n in "abc"))
    assert "Move c by 2 mm up" in told.remedy


def test_what_no_move_can_help_is_not_to_be_moved():
    (told,) = found(*(motif(n, "full fill") for n in "abc"))
    assert "Move" not in told.remedy
    assert "Let fewer parts lie over each other there." in told.remedy


def test_holes_are_judged_by_the_cloth():
    """Rows 0.5 mm apart with holes 0.5 mm apart are 400 per cm2: computed."""
    assert found(motif("a", "holes"), cloth="natural linen") == ()
    assert found(motif("a", "holes"), cloth="cotton lawn") == ()
    (light,) = found(motif("a", "holes"), motif("b", "holes"), cloth="white batiste")
    (medium,) = found(motif("a", "holes"), motif("b", "holes"), cloth="linen")
    assert (light.verdict, light.limit) == ("will not work", f"{holes_limit('batiste')[1]:g}")
    assert (medium.verdict, medium.limit) == ("look again", f"{holes_limit('linen')[0]:g}")
    for told in (light, medium):
        assert float(told.figure.split()[0]) == pytest.approx(800, rel=0.05)
        assert "longer stitches" in told.remedy.casefold()


def test_one_part_too_thick_by_itself_is_told():
    stitching = stitches("sprig")
    thrice = replace(
        stitching,
        points=np.concatenate([stitching.points] * 3),
        acts=np.concatenate([stitching.acts] * 3),
        thread=np.concatenate([stitching.thread + k * len(stitching.threads) for k in range(3)]),
        threads=stitching.threads * 3,
    )
    (told,) = found_in(lay_out(piece(motif("a", "thrice.vp3")), lambda _: thrice))
    assert (told.verdict, told.elements, told.limit) == ("will not work", ("a",), f"{holes_limit('')[1]:g}")
    assert told.figure == "2007 penetrations per cm² over a square of 10 mm"
    assert "Lay its rows farther apart" in told.remedy


def test_the_worst_are_told_first_and_no_more_than_the_most():
    rows = [
        motif(f"{n}{k}", "stem" if k % 2 else "leaf", (40 + 40 * (k % 5), 40 + 30 * (k // 5)))
        for k in range(10)
        for n in "abc"
    ]
    findings = found(*rows)
    assert len(findings) == MOST
    figures = [float(f.figure.split()[0]) for f in findings]
    assert figures == sorted(figures, reverse=True)


def test_nothing_sewn_finds_nothing():
    layout = lay_out(piece(), stitches)
    assert found_in(layout) == ()


def test_a_map_of_no_panel_is_refused():
    layout = lay_out(piece(motif("a", "stem")), stitches)
    division = divide(layout)
    stray = thickness([h.stitching for h in division.hoopings], "elsewhere")
    with pytest.raises(ValueError, match="no panel"):
        thickness_findings([stray], layout, division, layout.piece.bench)
