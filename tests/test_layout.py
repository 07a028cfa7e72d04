"""The piece laid out: worked out in the order of need, lying in the order of the file, all of it on the cloth."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from festoon.errors import MeasureError, PieceError
from festoon.layout import OFF_CLOTH, lay_out, settings
from festoon.piece import Panel, shape_of
from festoon.stitches import Thread, from_points, joined

from .hooping.pieces import BLUE, RED, laid_out, motif, piece


def join(name, start, end, **words):
    return {"kind": "join", "name": name, "from": start, "to": end, "stitch": "running", **words}


LEAVES = (motif("a", "20x20", (100, 200)), motif("b", "20x20", (200, 200)), motif("c", "20x20", (300, 200)))


@pytest.mark.parametrize("order", list(itertools.permutations(range(5)))[::7])
def test_what_lies_where_is_as_in_the_file_whatever_needs_what(order):
    """The second join leans on the first, which leans on two motifs."""
    elements = (*LEAVES, join("stem", "a", "b"), join("tendril", "stem", "c"))
    layout = laid_out(*(elements[k] for k in order))
    names = [elements[k]["name"] for k in order]
    assert [w.element for w in layout.works] == names
    assert [p.name for p in layout.parts("front")] == names
    stem = next(p for p in layout.parts("front") if p.name == "stem")
    assert stem.stitching.bounds[0] == pytest.approx(107, abs=0.5)
    assert stem.stitching.bounds[2] == pytest.approx(193, abs=0.5)


def test_a_join_may_stand_before_the_repeats_that_it_names():
    layout = laid_out(join("stem", "leaf-1", "leaf-2"), motif("leaf", "20x20", row={"count": 2, "spacing": 80}))
    assert [p.name for p in layout.parts("front")] == ["stem", "leaf-1", "leaf-2"]


def test_each_panel_has_its_own_parts_and_lines():
    layout = laid_out(
        motif("a", "20x20"),
        {**motif("b", "20x20", along={"line": "hem", "spacing": 100}), "panel": "back"},
        panels=((400.0, 400.0), (200.0, 200.0)),
        lines={"hem": "M 20 100 H 180"},
    )
    assert [p.name for p in layout.parts("front")] == ["a"]
    assert [p.name for p in layout.parts("back")] == ["b-1", "b-2"]
    assert [p.name for p in layout.panels] == ["front", "back"]


def test_a_join_does_not_reach_to_another_panel():
    with pytest.raises(PieceError, match='join "stem": nothing on panel "front" is called "b"'):
        laid_out(
            motif("a", "20x20"),
            {**motif("b", "20x20"), "panel": "back"},
            join("stem", "a", "b"),
            panels=((400.0, 400.0), (400.0, 400.0)),
        )


@pytest.mark.parametrize(
    ("elements", "ring"),
    [
        ([join("x", "y", "a"), join("y", "x", "a")], '"x" needs "y" needs "x"'),
        ([join("x", "y", "a"), join("y", "z", "a"), join("z", "x-1", "a")], '"x" needs "y" needs "z" needs "x"'),
        ([{"kind": "join", "name": "x", "through": "x"}], '"x" needs "x"'),
        ([join("w", "x", "a"), join("x", "y", "a"), join("y", "x", "a")], '"x" needs "y" needs "x"'),
    ],
)
def test_a_ring_of_need_is_told(elements, ring):
    with pytest.raises(PieceError) as told:
        laid_out(*LEAVES, *elements)
    assert str(told.value) == f"piece.toml: these need each other in a ring: {ring}. Break the ring."


@pytest.mark.parametrize(
    ("at", "side", "back"),
    [
        ((7, 200), "left", "to the right"),
        ((200, 7), "top", "down"),
        ((393, 200), "right", "to the left"),
        ((200, 393), "bottom", "up"),
    ],
)
def test_stitching_off_the_cloth_is_told_with_side_and_millimetres(at, side, back):
    square = from_points([[-10, -10], [10, -10], [10, 10], [-10, 10]], RED)
    with pytest.raises(PieceError) as told:
        lay_out(piece(motif("leaf", "square", at)), lambda file: square)
    assert str(told.value) == (
        f'piece.toml, line 10, motif "leaf": it reaches 3 mm beyond the {side} edge of panel "front". '
        f"Move it 3 mm {back}, or make the panel larger."
    )


def test_in_a_piece_in_inches_it_is_told_in_inches():
    square = from_points([[-10, -10], [10, -10], [10, 10], [-10, 10]], RED)
    one = piece(motif("leaf", "square", (7, 200)))
    table = one.file.piece.model_copy(update={"units": "inch"})
    inches = replace(one, file=one.file.model_copy(update={"piece": table}))
    with pytest.raises(PieceError, match=r"it reaches 0\.118 in beyond .* Move it 0\.118 in to the right"):
        lay_out(inches, lambda file: square)


def test_rounding_alone_is_no_fault():
    square = from_points([[-10, -10], [10, -10], [10, 10], [-10, 10]], RED)
    assert lay_out(piece(motif("leaf", "square", (10 - OFF_CLOTH / 2, 200))), lambda file: square).works
    with pytest.raises(PieceError, match=r"0\.1 mm beyond the left edge"):
        lay_out(piece(motif("leaf", "square", (10 - 2 * OFF_CLOTH, 200))), lambda file: square)


@pytest.mark.parametrize(
    ("thread", "remedy"), [("bleu", 'Did you mean "blue"?'), ("silk", 'The bench has: "red", "blue".')]
)
def test_a_misspelt_thread_is_told_with_line_and_element(thread, remedy):
    with pytest.raises(PieceError) as told:
        laid_out(*LEAVES, join("stem", "a", "b", thread=thread))
    assert str(told.value) == (
        f'piece.toml, line 40, join "stem": there is no thread called "{thread}" on the bench. {remedy}'
    )


def test_the_thread_left_out_is_the_first_of_the_bench():
    layout = laid_out(*LEAVES, join("stem", "a", "b"), join("vine", "b", "c", thread="blue"))
    assert [w.parts[0].stitching.threads[0].colour for w in layout.works[3:]] == [RED.colour, BLUE.colour]


def test_a_motif_takes_the_weight_of_the_benchs_thread_of_its_colour():
    heavy, other = Thread(RED.colour, 99.0), Thread("#123456", 99.0)
    own = joined([from_points([[0, 0], [5, 0]], heavy), from_points([[5, 0], [9, 9]], other)])
    (work,) = lay_out(piece(motif("leaf", "own")), lambda file: own).works
    assert work.parts[0].stitching.threads == (RED, other)
    assert own.threads == (heavy, other), "what was read stays as it is"


@pytest.mark.parametrize("line", [{"path": "M 0 0 L 90000 90000"}, {"from": "a", "to": "b", "bow": "90 m"}], ids=str)
def test_stitching_that_spreads_over_a_field_is_told_before_it_is_traced(line):
    far = {"kind": "join", "name": "stem", "stitch": "running", "length": 50, **line}
    with pytest.raises(PieceError, match=r'^piece.toml, line \d+, join "stem": its stitching spreads over .* m, '):
        laid_out(*LEAVES, far)


def test_a_motif_that_cannot_be_read_keeps_its_own_kind_of_error():
    def torn(file):
        raise MeasureError("it is torn.", where=file)

    with pytest.raises(MeasureError, match=r'^piece.toml, line 10, motif "leaf", rag: it is torn\.'):
        lay_out(piece(motif("leaf", "rag")), torn)


def test_findings_of_all_works_are_gathered():
    layout = laid_out(*LEAVES, join("stem", "a", "b", leave=(30, 0)), join("vine", "b", "c", arrive=(-30, 0)))
    assert [f.where for f in layout.findings] == ['join "stem" at "a"', 'join "vine" at "c"']


EDGE = {"kind": "scalloped edge", "name": "edge", "along": "M 50 200 H 350", "repeat": 60, "rise": 12, "lap": 0}


def test_a_motif_stands_in_each_place_and_a_join_follows_a_line_of_another_element():
    """Whatever the order of the file: both wait until the edge is laid."""
    buds = {"kind": "motif", "name": "bud", "file": "10x6", "on": "edge", "by": [0, 30]}
    stem = {"kind": "join", "name": "stem", "path": "edge/lower", "stitch": "running"}
    row = motif("dot", "4x4", along={"line": "edge/lower", "spacing": 100, "aside": 10})
    layout = laid_out(buds, stem, row, EDGE)
    works = {w.element: w for w in layout.works}
    assert [w.element for w in layout.works] == ["bud", "stem", "dot", "edge"]
    middles = [p.stitching.centre for p in works["bud"].parts]
    assert middles == [pytest.approx((80 + 60 * k, 176)) for k in range(5)]
    assert works["stem"].parts[0].stitching.bounds[3] == pytest.approx(212 + 3.5 / 2, abs=0.2)
    assert len(works["dot"].parts) > 2


def test_what_is_sewn_to_lace_that_is_shaped_knows_it():
    """Edging goes on scalloped lace while that lies on its stabiliser, and on straight lace with the other edges."""
    lace = {"kind": "lace band", "name": "lace", "along": "M 50 200 H 350", "repeat": 100, "rise": 20, "width": 10}
    frill = {"kind": "edging", "name": "frill", "along": "lace/lower"}
    for shape, stage in (("scallops", "shape"), ("along", "edge")):
        work = next(w for w in laid_out(lace | {"shape": shape}, frill).works if w.element == "frill")
        assert {step.stage for step in work.steps} == {"prepare", stage}


@pytest.mark.parametrize("closes", [True, False])
def test_what_follows_lace_that_closes_in_a_seam_closes_too(closes):
    """Edging on the lace of a skirt in one piece is joined to a ring; on that of an open panel its ends are hemmed."""
    lace = {"kind": "lace band", "name": "lace", "along": "hem", "up": 40, "shape": "scallops", "repeat": 90}
    frill = {"kind": "edging", "name": "frill", "along": "lace/lower", "fullness": 2}
    own = piece(lace, frill)
    skirt = Panel(name="front", flared={"waist_radius": 150, "hem_radius": 400, "angle": 60}, closes=closes)
    own = replace(own, file=own.file.model_copy(update={"panel": (skirt,)}))
    laid, hung = lay_out(own).works
    assert (laid.closes, hung.closes) == (closes, closes)
    assert {f.what: f.value for f in hung.figures}.get("joins") == ("1" if closes else None)


def test_what_surrounds_an_element_needs_nothing_but_what_it_leans_on():
    """A motif that cannot be read stands in the way of nothing else."""
    lost = motif("lost", "gone.vp3")
    buds = {"kind": "motif", "name": "bud", "file": "10x6", "on": "edge"}
    one = piece(lost, buds, EDGE)
    (around,) = settings(one, ["bud"]).values()
    assert [(p.x, p.y) for p in around.places["edge"]] == [pytest.approx((80 + 60 * k, 206)) for k in range(5)]
    with pytest.raises(PieceError, match="gone"):
        lay_out(one)


def test_a_garments_edges_are_lines_and_its_hem_closes():
    """Repeats along the hem of a closed panel stand evenly over the seam."""
    own = piece(motif("spray", "10x10", along={"line": "hem", "spacing": 60}))
    skirt = Panel(name="front", flared={"waist_radius": 150, "hem_radius": 400, "angle": 60}, seam=12, closes=True)
    own = replace(own, file=own.file.model_copy(update={"panel": (skirt,)}))
    (setting,) = settings(own, ["spray"]).values()
    assert setting.line("hem").length == pytest.approx(400 * np.pi / 3)
    assert setting.closes("hem")
    assert not setting.closes("left seam")
    assert setting.outline.equals(shape_of(skirt).cut)
    assert setting.block == skirt.size
