"""What an edging cannot do: every finding made to appear, and to vanish by the change that it offers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.techniques.edging import work
from festoon.techniques.edging_words import Edging

from .toy import setting

MAT = "M 50 50 H 250 V 250 H 50 Z"
SCALLOPS = "M 20 100 A 40 40 0 0 0 80 100 A 40 40 0 0 0 140 100 A 40 40 0 0 0 200 100"


def found(**words):
    one = Edging(**{"kind": "edging", "name": "frill", "along": MAT, "lies": "above", **words})
    return {f.rule: f for f in work(one, setting()).findings}


AMISS = {
    "edging without fullness round curves": ({"along": "round", "at_curves": 1}, "1", "1.20"),
    "edging without fullness round points": ({"at_points": 10}, "10 mm", "31.5 mm"),
    "edging too full": ({"fullness": 4}, "4.00", "3"),
}


def test_an_edging_left_to_itself_is_sound():
    for words in ({}, {"fullness": 3}, {"along": "round"}, {"along": SCALLOPS, "lies": "below"}):
        assert found(**words) == {}


@pytest.mark.parametrize("rule", AMISS)
def test_it_appears_with_its_figure_and_limit(rule):
    words, figure, limit = AMISS[rule]
    one = found(**words)[rule]
    assert (one.verdict, one.figure, one.limit) == ("look again", figure, limit)
    assert (one.about, one.panel) == (("frill",), "front")
    assert one.at is not None
    assert one.source


@pytest.mark.parametrize(
    "words",
    [
        *(words for words, _, _ in AMISS.values()),
        {"along": "round", "at_curves": 4},
        {"along": "M 50 60 A 8 8 0 0 1 66 60", "width": 30},
        {"along": SCALLOPS, "lies": "below", "at_curves": 1},
        {"along": SCALLOPS, "lies": "above", "at_points": 0},
    ],
)
def test_it_vanishes_by_every_mend(words):
    (one,) = found(**words).values()
    assert one.mends
    for mend in one.mends:
        assert mend.element == "frill"
        assert mend.told.lower() in one.remedy.lower()
        assert found(**{**words, mend.word: mend.value}) == {}


@given(st.floats(10, 120), st.floats(5, 40))
def test_the_least_fullness_round_a_ring_is_the_rings_ratio(radius, width):
    words = {"along": f"M 150 {150 - radius} a {radius} {radius} 0 1 1 -0.01 0 Z", "width": width, "at_curves": 1}
    one = found(**words).get("edging without fullness round curves")
    assert one is not None
    assert one.mends[0].value == pytest.approx((radius + width) / radius, rel=0.01, abs=0.011)


def test_general_fullness_counts_at_points_too():
    # Computed: 20 mm edging, fullness 1.8: 0.8 x 40 mm within a width of the corner is more than the fan's 31.4 mm.
    assert "edging without fullness round points" in found(at_points=0, fullness=1.7)
    assert found(at_points=0, fullness=1.8) == {}


def test_thread_too_thick_for_its_needle_is_told():
    assert set(found(sewn={"thread": "30 wt", "needle": "60"})) == {"thread too thick for the needle"}
