"""Beading: strip and ribbon, ribbons that do not suit their slots, and ends that hang."""

import pytest
from pydantic import ValidationError

from festoon.techniques.beading import Beading, ribbon_length, work

from .toy import setting


def beading(**words):
    return Beading(**{"kind": "beading", "name": "it", "along": "hem", **words})


def found(**words):
    return {f.rule: f for f in work(beading(**words), setting()).findings}


AMISS = {
    "ribbon wider than its slots": ({"ribbon": 9, "hole": 7}, "9 mm", "7 mm"),
    "ribbon narrow for its slots": ({"ribbon": 3, "hole": 7}, "3 mm", "4.2 mm"),
    # EN 14682, as a test house's summary of 2007 gives it: free ends at waist and hem of at most 140 mm.
    "long ribbon end": ({"tail": 200}, "200 mm", "140 mm"),
}


def test_a_ribbon_as_wide_as_its_slots_is_sound():
    assert found() == {}
    assert found(ribbon=7, hole=7) == {}


@pytest.mark.parametrize("rule", AMISS)
def test_it_appears_and_vanishes_by_its_mend(rule):
    words, figure, limit = AMISS[rule]
    one = found(**words)[rule]
    assert (one.verdict, one.figure, one.limit, one.about) == ("look again", figure, limit, ("it",))
    (mend,) = one.mends
    assert found(**{**words, mend.word: mend.value}) == {}


def test_strip_and_ribbon_that_are_bought():
    strip, ribbon, thread = work(beading(tail=40, shrink=0), setting()).supplies
    assert (strip.what, strip.quantity) == ("beading, 16 mm, slots 7 mm", pytest.approx(285.4))
    assert (ribbon.what, ribbon.quantity) == ("ribbon, 7 mm", pytest.approx(260 * 1.03 + 80))
    assert ribbon_length(beading(tail=0), 100) == pytest.approx(103)
    assert thread.unit == "mm"


@pytest.mark.parametrize(("lies", "top"), [("above", 187), ("middle", 195), ("below", 203)])
def test_the_ribbon_lies_in_the_middle_of_the_strip(lies, top):
    lace, ribbon = work(beading(lies=lies, ribbon=10, hole=10), setting()).areas
    assert (lace.material, ribbon.material) == ("lace", "ribbon")
    assert ribbon.region.bounds == pytest.approx((20, top, 280, top + 10))
    assert lace.region.buffer(1e-6).contains(ribbon.region)


def test_a_ring_of_ribbon_has_no_gap():
    _, ribbon = work(beading(along="round", ease=1), setting()).areas
    assert len(ribbon.region.interiors) == 1


def test_the_caution_gives_the_standards_lines_and_defers_to_local_rules():
    (caution,) = work(beading(), setting()).cautions
    assert "140 mm" in caution.text
    assert "Under 7 years" in caution.text
    assert "rules of the place" in caution.text
    assert caution.source.startswith("EN 14682:2014")


def test_slots_as_wide_as_the_strip_are_refused():
    with pytest.raises(ValidationError, match="as wide as the strip"):
        beading(width=10, hole=10)


def test_the_ribbon_is_drawn_in_last():
    assert [s.stage for s in work(beading(), setting()).steps] == ["prepare", "join", "finish"]
