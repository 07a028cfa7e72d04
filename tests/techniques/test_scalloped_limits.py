"""What a scalloped edge cannot bear: every finding made to appear, and to vanish by the change that it offers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.stitches import Thread
from festoon.techniques.scalloped_edge import ScallopedEdge, work

from .toy import setting

LINE = "M 20 150 H 260"


def edge(**words):
    return ScallopedEdge(kind="scalloped edge", name="edge", **{"along": LINE, "repeat": 40, "rise": 10, **words})


def found(one, **around):
    return {f.rule: f for f in work(one, setting(**around)).findings}


AMISS = {
    "scallops overlap": ({"rise": 24}, "will not work", "24 mm", "20 mm"),
    "sharp points": ({"rise": 20, "width": 4}, "will not work", "13.2 mm", "9 mm"),
    "filled points": ({"rise": 2, "width": 4}, "look again", None, "4 mm"),
    "tight rounds": ({"repeat": 4, "rise": 1.9, "width": 4.5}, "will not work", "2 mm", "2.2 mm"),
    "wide satin": ({"width": 8}, "look again", "8 mm", "7 mm"),
    "spacing for the thread": ({"spacing": 0.7}, "look again", "0.7 mm", "0.5 mm"),
    "repeat stretched": ({"repeat": 90}, "look again", "11.1%", "3.0%"),
}


def test_a_sound_edge_has_no_findings():
    assert found(edge()) == {}
    assert found(edge(at_points=2, rise=12)) == {}


@pytest.mark.parametrize("rule", AMISS)
def test_it_appears_with_its_figure_and_limit(rule):
    words, verdict, figure, limit = AMISS[rule]
    one = found(edge(**words))[rule]
    assert one.verdict == verdict
    assert figure is None or one.figure == figure
    assert one.limit == limit
    assert one.about == ("edge",)
    assert one.panel == "front"
    assert one.at is not None
    assert one.amount is not None
    assert one.source


@pytest.mark.parametrize("rule", [rule for rule in AMISS if rule != "tight rounds"])
def test_it_vanishes_by_either_mend(rule):
    words = AMISS[rule][0]
    mends = found(edge(**words))[rule].mends
    assert mends
    for mend in mends:
        assert mend.element == "edge"
        assert rule not in found(edge(**{**words, mend.word: mend.value}))


def test_tight_rounds_vanish_with_narrower_satin():
    words = AMISS["tight rounds"][0]
    (mend,) = found(edge(**words))["tight rounds"].mends
    assert mend.word == "width"
    assert "tight rounds" not in found(edge(**{**words, "width": mend.value}))
    assert found(edge(**words, at_points=4.4))["tight rounds"].mends == (), "no narrower than at the points"


def test_a_stitch_across_a_point_by_the_formula():
    """Half circles of 40 mm, satin 4 mm: √(22² - 20²) = 9.17 mm below the point and 4 mm, twice half the width, above
    (computed)."""
    assert found(edge(rise=20, width=4))["sharp points"].amount.value == 13.2


def test_satin_of_more_than_nine_mm_will_not_work():
    """1 to 9 mm: a trade magazine, Feb 2016, p. 61 (published); 7 mm on smaller machines (usual teaching)."""
    assert found(edge(width=9.5))["wide satin"].verdict == "will not work"
    assert "wide satin" not in found(edge(width=7))


@pytest.mark.parametrize(("wt", "spacing"), [(12, 0.730), (30, 0.462), (40, 0.400), (60, 0.327)])
def test_the_spacing_that_belongs_to_a_thread(wt, spacing):
    """s = 0.40·√(40/wt) (computed from the thread's diameter); 20 % either way is let pass."""
    around = setting()
    thread = Thread("#ffffff", 1000 / wt)

    def rules(given):
        one = ScallopedEdge(kind="scalloped edge", name="edge", along=LINE, repeat=40, rise=10, spacing=given)
        held = type(around)(around.panel, around.outline, {}, {}, around.motif, lambda name: thread)
        return {f.rule for f in work(one, held).findings}

    assert "spacing for the thread" not in rules(spacing * 1.19)
    assert "spacing for the thread" not in rules(spacing * 0.81)
    assert "spacing for the thread" in rules(spacing * 1.21)
    assert "spacing for the thread" in rules(spacing * 0.79)


@given(st.floats(12, 120), st.floats(0.03, 0.7), st.floats(1, 9), st.sampled_from(["below", "above"]))
def test_mends_that_are_offered_always_help(repeat, share, width, rounds):
    """Law: whatever is amiss with the shape, the change that is offered takes just that finding away."""
    words = {"repeat": repeat, "rise": share * repeat, "width": width, "rounds": rounds, "stretch": 1}
    for rule, one in found(edge(**words)).items():
        for mend in one.mends:
            assert rule not in found(edge(**{**words, mend.word: mend.value}))
