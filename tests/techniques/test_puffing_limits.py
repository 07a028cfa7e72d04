"""What puffing cannot do: every finding made to appear, and to vanish by the change that it offers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.techniques.puffing import work
from festoon.techniques.puffing_words import Puffing

from .toy import setting


def found(**words):
    one = Puffing(**{"kind": "puffing", "name": "it", "along": "round", **words})
    return {f.rule: f for f in work(one, setting()).findings}


FULL, THIN, WIDE = "puffing too full at an edge", "puffing too thin at an edge", "puffing wider than its curve"

AMISS = [
    # Computed: on a circle of R 100 with 40 mm inside it, 2.5 times the middle is 3.33 times the inner edge.
    (FULL, {"width": 40}, "look again", "3.33", "3"),
    (THIN, {"width": 40, "fullness": 1.6}, "look again", "1.28", "1.5"),
    (WIDE, {"width": 120}, "will not work", "120 mm", "50 mm"),
    (FULL, {"width": 40, "lies": "above", "fullness": 2.8}, "look again", "3.36", "3"),
    (FULL, {"width": 50, "lies": "middle"}, "look again", "3.33", "3"),
    (FULL, {"along": "hem", "fullness": 4}, "look again", "4.00", "3"),
    (THIN, {"along": "hem", "lower": "M 20 240 H 260", "fullness": 1.2}, "look again", "1.15", "1.5"),
]


@pytest.mark.parametrize(("rule", "words", "verdict", "figure", "limit"), AMISS)
def test_it_appears_and_vanishes_by_every_mend(rule, words, verdict, figure, limit):
    one = found(**words)[rule]
    assert (one.verdict, one.figure, one.limit) == (verdict, figure, limit)
    assert (one.about, one.panel) == (("it",), "front")
    assert one.at is not None
    assert one.mends
    for mend in one.mends:
        after = found(**{**words, mend.word: mend.value})
        assert rule not in after
        assert rule == WIDE or after == {}, "nothing else goes wrong by it"


def test_a_straight_or_gently_curved_puffing_is_sound():
    assert found(along="hem") == {}
    assert found(width=25) == {}
    assert found(width=25, lies="above") == {}


def test_two_lines_too_unlike_for_any_fullness_have_no_mend_but_are_told():
    one = found(along="M 50 100 H 250", lower="M 110 140 H 190")[FULL]
    assert one.mends == ()
    assert one.remedy.startswith("Bring the two lines nearer to one length")


def test_lines_that_cross_are_told_and_apart_they_are_sound():
    words = {"along": "M 20 100 L 280 140", "lower": "M 20 140 L 280 100"}
    one = found(**words)["puffing between lines that cross"]
    assert one.verdict == "will not work"
    assert found(**{**words, "lower": "M 20 140 L 280 180"}) == {}


@given(st.floats(1.5, 2.9), st.floats(15, 95), st.sampled_from(["below", "above", "middle"]))
def test_a_width_that_is_offered_is_always_right(fullness, width, lies):
    for one in found(fullness=fullness, width=width, lies=lies).values():
        for mend in one.mends:
            after = found(**{"fullness": fullness, "width": width, "lies": lies, mend.word: mend.value})
            assert one.rule not in after
            assert one.rule == WIDE or after == {}


@pytest.mark.parametrize("lies", ["below", "above", "middle"])
@pytest.mark.parametrize("fullness", [1.7, 2.5])
def test_the_width_that_is_offered_is_the_widest(lies, fullness):
    words = {"lies": lies, "fullness": fullness, "width": 90}
    (mend,) = [m for f in found(**words).values() for m in f.mends if m.word == "width"][:1]
    assert found(**{**words, "width": mend.value}) == {}
    assert found(**{**words, "width": mend.value + 0.1})
