"""Areas of different elements over each other: what is told, how deep, and what way apart clears them."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, box
from shapely.affinity import translate

from festoon.layout import Layout
from festoon.proof.overlaps import HEADING, SEAM, overlap_findings
from festoon.stitches import Thread, from_points
from festoon.work import Part, Work
from festoon.work.values import Area, TakeUp
from tests.hooping.pieces import piece

WAYS = {"down": (0, 1), "up": (0, -1), "to the right": (1, 0), "to the left": (-1, 0)}


def laid(name, *regions, material="lace", panel="front"):
    return Work(name, panel, areas=tuple(Area(material, region) for region in regions))


def sewn(name, *regions):
    stitching = from_points([(0, 0), (2, 0)], Thread())
    parts = (Part(f"{name}-{n}", name, "front", stitching, region) for n, region in enumerate(regions, 1))
    return Work(name, "front", parts=tuple(parts))


def found(*works, units="mm"):
    return overlap_findings(Layout(piece(units=units), works))


BAND = box(50, 100, 250, 120)


@pytest.mark.parametrize(("deep", "told"), [(0.0, False), (1.4, False), (1.6, True)])
def test_lace_may_lap_lace_by_a_heading(deep, told):
    assert bool(found(laid("upper", BAND), laid("lower", translate(BAND, 0, 20 - deep)))) == told


@pytest.mark.parametrize(("deep", "told"), [(2.9, False), (3.1, True)])
def test_cloth_may_lie_over_lace_by_a_seam(deep, told):
    puffing = laid("puffing", translate(BAND, 0, 20 - deep), material="cloth")
    assert bool(found(laid("entredeux", BAND), puffing)) == told


def test_what_lies_across_tucks_is_set_on_them():
    folds = dataclasses.replace(laid("tucks", BAND, material="cloth"), taken=(TakeUp("y", 100, 40),))
    across = dataclasses.replace(laid("more", BAND, material="cloth"), taken=(TakeUp("x", 50, 400),))
    assert found(folds, laid("lace", BAND)) == ()
    assert found(folds, laid("puffing", BAND, material="cloth")) == ()
    assert found(folds, across) == ()
    (one,) = found(folds, dataclasses.replace(folds, element="other tucks"))
    assert one.elements == ("tucks", "other tucks")


def test_two_bands_over_each_other_worked_out_by_hand():
    """200 mm of two bands, 8 mm deep: 1600 mm²; 6.5 mm apart leaves the 1.5 mm of a heading (computed)."""
    (one,) = found(laid("upper lace", BAND), laid("lower lace", translate(BAND, 0, 12)))
    assert (one.verdict, one.rule) == ("look again", "overlapping bands")
    assert one.elements == ("upper lace", "lower lace")
    assert one.reason == "lower lace lies over upper lace, 1600 mm² of it."
    assert (one.figure, one.limit) == ("8 mm deep", "1.5 mm")
    assert one.remedy.startswith("Move lower lace 6.5 mm down,")
    assert one.amount.value == 8.0
    assert 50 < one.at[0] < 250
    assert one.at[1] == pytest.approx(116, abs=0.1)


def test_in_inches_they_are_told_in_inches():
    (one,) = found(laid("a", BAND), laid("b", translate(BAND, 0, 12)), units="inch")
    assert "2.5 in² of it" in one.reason
    assert one.figure == "0.315 in deep"


def test_a_crossing_is_told_once_at_its_deepest():
    (one,) = found(laid("across", BAND), laid("down", box(100, 20, 112, 280), box(200, 20, 216, 280)))
    assert one.figure == "16 mm deep"
    assert 200 < one.at[0] < 216


def test_what_one_element_does_to_itself_is_its_own_affair():
    assert found(laid("oval", BAND, translate(BAND, 0, 5))) == ()


def test_other_panels_do_not_meet():
    assert found(laid("a", BAND), laid("b", BAND, panel="back")) == ()


def test_stitching_on_lace_is_looked_at_again_with_its_parts():
    """Three round motifs of 20 mm; two lie on a band of 20 mm, one clear of it."""
    motifs = [Point(x, y).buffer(10) for x, y in ((80, 110), (150, 118), (220, 160))]
    (one,) = found(laid("lace", BAND), sewn("sprig", *motifs))
    assert (one.verdict, one.rule) == ("look again", "stitching on lace")
    assert one.elements == ("sprig-1", "sprig-2")
    assert one.about == ("sprig", "lace")
    assert one.figure == "20 mm deep"
    assert found(laid("lace", BAND), sewn("sprig", motifs[2])) == ()


def test_stitching_on_cloth_or_on_a_heading_is_no_matter():
    heading = LineString([(50, 120), (250, 120)]).buffer(1.25, cap_style="flat")
    assert found(laid("lace", BAND), sewn("zigzag", heading)) == ()
    assert found(laid("puffing", BAND, material="cloth"), sewn("sprig", Point(100, 110).buffer(10))) == ()


shapes = st.sampled_from(
    [BAND, box(100, 60, 130, 240), Point(150, 120).buffer(25), LineString([(60, 60), (240, 200)]).buffer(6)]
)


@given(shapes, shapes, st.floats(-40, 40), st.floats(-40, 40), st.sampled_from(["lace", "cloth"]))
def test_moved_as_advised_nothing_is_found(one, other, right, down, material):
    """Law: the move that is told is enough, and the area shared grows with nothing but the overlap."""
    second = laid("b", translate(other, right, down), material=material)
    told = found(laid("a", one), second)
    if not told:
        return
    far, way = told[0].remedy.removeprefix("Move b ").split(",")[0].split(" mm ")
    x, y = WAYS[way]
    moved = translate(second.areas[0].region, x * float(far), y * float(far))
    assert found(laid("a", one), laid("b", moved, material=material)) == ()
    assert told[0].amount.value > (HEADING if material == "lace" else SEAM).value - 0.1


def test_what_is_shared_is_as_large_as_shapely_says():
    lower, upper = laid("a", BAND), laid("b", Point(150, 120).buffer(30, quad_segs=64))
    (one,) = found(lower, upper)
    shared = BAND.intersection(upper.areas[0].region).area
    assert f"{shared:.0f} mm²" in one.reason
    assert dataclasses.replace(one, accepted="meant so").concerns == ("a", "b")
