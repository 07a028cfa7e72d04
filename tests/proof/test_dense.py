"""Too thick or too full of holes: well-made work is let pass, what is laid over itself is not."""

import functools
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pyembroidery import STITCH, TRIM, EmbPattern, write
from shapely import Point, box

from festoon.hooping import divide
from festoon.layout import lay_out
from festoon.piece import read_piece
from festoon.piece.sprig import sprig
from festoon.piece.start import new_piece
from festoon.plane import Pose, polyline
from festoon.proof import prove
from festoon.proof.cloth import LAYERS, LAYERS_STOP, holes_limit
from festoon.proof.dense import thickness_findings
from festoon.proof.remedies import EYES
from festoon.proof.thickness import CELL, thickness
from festoon.stitches import Thread, from_points, joined, read_stitches
from festoon.stitches.lay import bean, fill, lock, run, satin
from festoon.work import Mend
from tests.hooping.pieces import BLUE, RED, motif, piece

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
    "disc": lambda: fill(Point(0, 0).buffer(12), angle=20, underlay=True, thread=RED),
    "line": lambda: lock(bean(polyline([[-15, 0], [0, 8], [15, 0]]), thread=RED)),
    "thread": lambda: run(LINE, 3, thread=RED),
    "letter": lambda: joined(
        lock(satin(polyline(way), 1.4, thread=RED, underlay="centre"))
        for way in ([[-2, 4], [-2, -4]], [[-1.4, -3.4], [2, -3.4]], [[-1.4, 0], [1, 0]], [[-1.4, 3.4], [2, 3.4]])
    ),
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


SINGLE = [*DRAWN, "starter sprig", "leaf", "stem", "full fill", "long stitches", "disc", "line", "letter"]


def all_found(*elements):
    layout = lay_out(piece(*elements), stitches)
    return prove(layout, divide(layout)).findings


@pytest.mark.parametrize("name", SINGLE)
def test_a_motif_by_itself_is_let_pass_and_three_over_each_other_are_not(name):
    assert found(motif("a", name)) == ()
    if name not in ("full fill", "long stitches"):  # rows this close step by less than the machine's 0.3 mm
        assert all_found(motif("a", name)) == ()
    every = all_found(*(motif(n, name) for n in "abc"))
    assert any(f.elements == ("a", "b", "c") for f in every)
    if name in ("disc", "line"):  # so open that three are no three layers: only placed where they are by mistake
        assert every[0].limit == "once"
    else:
        assert found(*(motif(n, name) for n in "abc"))[0].elements == ("a", "b", "c")
    if name in (*DRAWN, "starter sprig", "letter"):
        assert every[0].verdict == "will not work"


@pytest.fixture
def written(tmp_path):
    """A leaf and its rib written by the format library alone: a satin of stitches to and fro, and a run over it."""
    pattern = EmbPattern()
    pattern.add_thread({"color": 0x66845F, "name": "green"})
    x = np.arange(-150, 151, 2)
    half = 30 * (1 - (x / 151) ** 2) + 4
    for k, (along, reach) in enumerate(zip(x.tolist(), half.tolist(), strict=True)):
        pattern.add_stitch_absolute(STITCH, along, reach if k % 2 else -reach)
    pattern.add_command(TRIM)
    for along in range(-140, 141, 20):
        pattern.add_stitch_absolute(STITCH, along, 0)
    pattern.end()
    path = tmp_path / "leaf.dst"
    write(pattern, str(path))
    return read_stitches(path)


def test_a_file_written_by_the_format_library_alone(written):
    def lay(count):
        layout = lay_out(piece(*(motif(n, "leaf.dst") for n in "abc"[:count])), lambda _: written)
        return prove(layout, divide(layout)).findings

    assert lay(1) == ()
    assert lay(3)[0].elements == ("a", "b", "c")


def test_motifs_that_overlap_as_is_usual_are_let_pass():
    """Two fills, each with underlay, that share 5 mm; a stem that ends under a blossom; two leaves that cross."""
    assert found(motif("a", "full fill", (200, 200)), motif("b", "full fill", (225, 200))) == ()
    assert all_found(motif("a", "stem", (200, 200), turn=90), motif("b", "starter sprig", (200, 190))) == ()
    assert all_found(motif("a", "leaf"), motif("b", "leaf", turn=60)) == ()


def test_a_stem_across_the_thickest_of_a_motif_is_at_most_looked_at_again():
    for turn in (0, 45, 90):
        findings = all_found(motif("a", "stem", (201, 197), turn=turn), motif("b", "sprig"))
        assert {f.verdict for f in findings} <= {"look again"}


@pytest.mark.parametrize("name", ["sea-holly-cushion", "tablecloth-hem"])
def test_the_examples_are_let_pass(name):
    layout = lay_out(read_piece(EXAMPLES / name))
    assert prove(layout, divide(layout)).findings == ()


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
    assert told.mends == (Mend("Move c by 2 mm down", "c", "at", (200.0, 202.0)),)
    assert found(motif("a", "stem"), motif("b", "stem"), motif("c", "stem", (200, 202))) == ()
    for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, 1), (1, -1), (-1, -1)):
        assert found(motif("a", "stem"), motif("b", "stem"), motif("c", "stem", (200 + x, 200 + y)))


def test_a_part_dense_in_itself_is_named():
    (told,) = found(motif("a", "star"), motif("b", "leaf", (300, 300)))
    assert (told.verdict, told.elements) == ("look again", ("a",))
    assert "Have a drawn more openly there" in told.remedy
    assert "Move" not in told.remedy


def test_a_line_that_only_crosses_is_not_named():
    """One thread through the square adds a tenth of a layer to four (computed)."""
    (told,) = found(motif("a", "star"), motif("b", "thread"))
    assert told.elements == ("a",)
    assert float(told.figure.split()[0]) > 3.8


def test_a_move_of_five_millimetres_is_found():
    (told,) = found(*(motif(n, "leaf") for n in "abc"))
    assert "Move c by 5 mm down" in told.remedy


def test_one_of_a_ring_is_not_to_be_moved_by_itself():
    (told,) = found(
        motif("a", "stem"), motif("b", "stem"), motif("c", "stem", row={"count": 2, "spacing": 60}, at=(230, 200))
    )
    assert told.elements == ("a", "b", "c-1")
    assert "Move" not in told.remedy
    assert told.mends == ()


def test_seven_layers_will_not_work_however_few_the_holes():
    layers = {n: found(*(motif(f"m{k}", "stem") for k in range(n)))[0] for n in (5, 6)}
    assert (layers[5].verdict, layers[5].limit) == ("look again", f"{LAYERS.value:g}")
    assert (layers[6].verdict, layers[6].limit) == ("will not work", f"{LAYERS_STOP.value:g}")


def test_what_lies_hidden_may_be_left_out():
    """A stem of 2.2 mm under three others laid over it: two of the four come back to 2.4 layers."""
    (told,) = found(*(motif(n, "stem") for n in "abcd"))
    assert "Leave out what lies hidden there under the rest: a and b, about " in told.remedy
    assert "that leaves 2.4 layers." in told.remedy


def test_what_one_part_hides_is_called_by_its_thread():
    green = fill(box(-4, -4, 4, 4), angle=0, row=0.2, length=4, thread=Thread("#66845f"))
    red = fill(box(-4, -4, 4, 4), angle=60, row=0.2, length=4, thread=RED)
    blue = fill(box(-5, -5, 5, 5), angle=120, row=0.2, length=4, thread=BLUE)
    heaped = joined([green, red, green.placed(Pose(0.1, 0.1)), blue])
    findings = found_in(lay_out(piece(motif("a", "heaped")), lambda _: heaped))
    assert findings
    assert findings[0].elements == ("a",)
    assert f"the {green.threads[0].name} of a" in findings[0].remedy


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
    assert told.remedy.startswith("Leave out what lies hidden")
    (told,) = found(motif("a", "holes"), motif("b", "holes"))  # too open to hide anything
    assert told.remedy.startswith("Let fewer parts lie over each other there. Longer stitches make fewer holes.")


def test_holes_are_judged_by_the_cloth():
    """Rows 0.5 mm apart with holes 0.5 mm apart are 400 per cm2: computed."""
    assert found(motif("a", "holes"), cloth="natural linen") == ()
    assert found(motif("a", "holes"), cloth="cotton lawn") == ()
    (light,) = found(motif("a", "holes"), motif("b", "holes"), cloth="white batiste")
    (medium,) = found(motif("a", "holes"), motif("b", "holes"), cloth="linen")
    assert (light.verdict, light.limit) == ("will not work", f"{holes_limit('batiste')[1]:g}")
    assert (medium.verdict, medium.limit) == ("look again", f"{holes_limit('linen')[0]:g}")
    for told in (light, medium):
        assert float(told.figure.split()[0]) == pytest.approx(800, rel=0.15)  # more where a row ends
        assert "longer stitches" in told.remedy.casefold()
    assert "use a finer needle, 70/10, and put one more layer" in medium.remedy
    assert "larger needle" not in medium.remedy


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
    assert told.figure == "2250 penetrations per cm² over a square of 2 mm"
    assert "Leave out what lies hidden there under the rest: the " in told.remedy


def test_the_worst_are_told_first_and_no_place_is_left_out():
    rows = [
        motif(f"{n}{k}", "stem" if k % 2 else "leaf", (40 + 40 * (k % 5), 40 + 30 * (k // 5)))
        for k in range(10)
        for n in "abc"
    ]
    findings = found(*rows)
    assert {f.elements for f in findings} == {tuple(f"{n}{k}" for n in "abc") for k in range(10)}
    excess = [float(f.figure.split()[0]) / float(f.limit) for f in findings]
    assert excess == sorted(excess, reverse=True)


def test_places_of_the_same_parts_have_one_remedy():
    findings = found(*(motif(n, "spray") for n in "ab"))
    assert len(findings) > 3
    same = [f for f in findings if f.verdict == "look again" and f.figure.split()[1] == "penetrations"]
    assert len(same) > 2
    assert len({f.remedy for f in same if f.elements == ("a", "b")}) == 1
    assert len({f.at for f in findings}) == len(findings)


def test_inches():
    for f in found(
        *(motif(n, name) for name in ("stem", "leaf") for n in (f"{name} a", f"{name} b", f"{name} c")), units="inch"
    ):
        assert "0.079 in" in f.figure
        assert " mm" not in f"{f.where}{f.reason}{f.remedy}{f.figure}{f.limit}"


def test_nothing_sewn_finds_nothing():
    layout = lay_out(piece(), stitches)
    assert found_in(layout) == ()


def test_a_map_of_no_panel_is_refused():
    layout = lay_out(piece(motif("a", "stem")), stitches)
    division = divide(layout)
    stray = thickness([h.stitching for h in division.hoopings], "elsewhere")
    with pytest.raises(ValueError, match="no panel"):
        thickness_findings([stray], layout, division, layout.piece.bench)
