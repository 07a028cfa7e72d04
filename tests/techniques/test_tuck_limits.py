"""What is found of tucks that cannot be sewn as asked, with figure, limit and the nearest that works."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely import Polygon

from festoon.techniques.tuck_limits import LEAST_DEPTH, findings
from festoon.techniques.tuck_plan import planned
from festoon.techniques.tuck_words import Tucks

from .toy import setting

HERE = setting(size=(400.0, 300.0))


def found(place=HERE, **words):
    tucks = Tucks(kind="tucks", name="t", **words)
    return findings(tucks, planned(tucks, place), place)


def mended(mend, place=HERE, **words):
    """What is found after a mend."""
    return found(place, **{**words, mend.word: mend.value})


CASES = {
    "fold over the next": ({"count": 5, "apart": 5}, "tucks deeper than their spacing", "6 mm", "5 mm"),
    "fold over, by width": (
        {"over": 100, "count": 20, "depth": 6},
        "tucks deeper than their spacing",
        "6 mm",
        "5.3 mm",
    ),
    "fold over, by gap": ({"gap": -2}, "tucks deeper than their spacing", "6 mm", "4 mm"),
    "fold over, the deepest": (
        {"sort": "graduated", "count": 4, "apart": 7, "first": 250},
        "tucks deeper than their spacing",
        "8 mm",
        "7 mm",
    ),
    "twin rows": ({"sort": "twin needle", "apart": 0.4}, "tucks deeper than their spacing", "0.6 mm", "0.4 mm"),
    "does not come out": ({"reduce_by": 100, "depth": 4.5}, "tucks do not come out", "99 mm", "100 mm"),
    "mirrored comes out not": (
        {"reduce_by": 100, "depth": 4.5, "mirrored": True},
        "tucks do not come out",
        "108 mm",
        "100 mm",
    ),
    "twin comes out not": ({"sort": "twin needle", "reduce_by": 30}, "tucks do not come out", "29.4 mm", "30 mm"),
    "too shallow": ({"reduce_by": 40, "count": 25, "gap": 3}, "tuck too shallow", "0.8 mm", "1 mm"),
    "too shallow to the last": (
        {"sort": "graduated", "count": 4, "grow": -1.5, "depth": 5, "mirrored": True},
        "tuck too shallow",
        "0.5 mm",
        "1 mm",
    ),
    "off the right": ({"count": 5, "first": 390}, "tucks off the panel", "66 mm", "400 mm"),
    "off the left": ({"count": 5, "first": 5, "press": "left"}, "tucks off the panel", "66 mm", "400 mm"),
    "off both": ({"count": 40}, "tucks off the panel", "591 mm", "400 mm"),
    "off from first on": ({"count": 40, "first": 10, "apart": 15}, "tucks off the panel", "591 mm", "400 mm"),
    "off, mirrored": ({"count": 5, "mirrored": True, "first": 150}, "tucks off the panel", "432 mm", "400 mm"),
    "meet": (
        {"count": 5, "mirrored": True, "press": "towards", "first": 2},
        "mirrored tucks meet",
        "4 mm",
        "0 mm",
    ),
    "too long": ({"count": 4, "begin": 200, "sewn": 150}, "tucks longer than the panel", "350 mm", "300 mm"),
    "too much": ({"count": 5, "cloth_width": 430}, "more take-up than cloth", "460 mm", "430 mm"),
    "too much asked": ({"reduce_by": 60, "cloth_width": 430}, "more take-up than cloth", "460 mm", "430 mm"),
}


@pytest.mark.parametrize("case", CASES)
def test_every_finding_has_its_figures_and_mends_that_help(case) -> None:
    words, rule, figure, limit = CASES[case]
    (one,) = found(**words)
    assert (one.rule, one.figure, one.limit, one.panel, one.about) == (rule, figure, limit, "front", ("t",))
    assert one.mends
    assert one.remedy.startswith(one.mends[0].told)
    assert one.amount is not None
    assert one.amount.value > 0
    for mend in one.mends:
        assert mend.element == "t"
        assert rule not in {f.rule for f in mended(mend, **words)}, mend


def test_the_two_nearest_counts_are_offered() -> None:
    # computed: 100 / (2 x 11) = 4.545, 100 / (2 x 12) = 4.167
    (one,) = found(reduce_by=100, depth=4.5)
    assert [(m.word, m.value) for m in one.mends] == [("depth", 4.545), ("depth", 4.167)]
    assert one.remedy == "Make depth 4.54 mm, for 11, or make depth 4.17 mm, for 12."
    assert one.verdict == "look again"


def test_the_nearest_that_fits() -> None:
    (one,) = found(count=5, apart=5)
    assert [(m.word, m.value) for m in one.mends] == [("apart", 6.0), ("depth", 5.0)]
    (one,) = found(over=100, count=20, depth=6)
    # computed: 100 / 6 = 16.7 gaps: 17 tucks; 100 / 19 = 5.26; 19 x 6 = 114
    assert [(m.word, m.value) for m in one.mends] == [("depth", 5.2), ("count", 17), ("over", 114.0)]
    (one,) = found(count=40)
    # computed: 26 tucks at a pitch of 15 reach 25 x 15 + 6 = 381 mm, 27 of them 396 centred by their stitchings
    assert [(m.word, m.value) for m in one.mends] == [("gap", 3.9), ("count", 26)]


def test_blind_tucks_may_meet_and_lie_no_nearer() -> None:
    assert found(sort="blind", count=8) == ()


def test_cloth_too_narrow_for_the_finished_panel() -> None:
    (one,) = found(count=5, cloth_width=330)
    assert one.mends == ()
    assert one.remedy == "The finished panel may be 270 mm across them at most."
    assert one.verdict == "will not work"


def test_a_beginning_off_the_panel() -> None:
    (one,) = found(count=4, begin=400)
    assert (one.rule, one.remedy) == ("tucks longer than the panel", "Make begin smaller.")


def test_graduated_tucks_take_more_on_one_side() -> None:
    # computed: 2 (4 + 6) = 20 mm on the left, 2 (8 + 10) = 36 mm on the right
    (one,) = found(sort="graduated", count=4)
    assert (one.rule, one.figure, one.limit) == ("uneven take-up", "36 mm", "20 mm")
    assert "The right half takes up 16 mm more" in one.reason
    assert found(sort="graduated", count=4, mirrored=True) == ()
    assert found(sort="graduated", count=4, first=250) == (), "on one side of the middle"
    (across,) = found(sort="graduated", count=4, run="across", grow=-0.5)
    assert "The upper half" in across.reason


def test_a_seam_in_a_tuck_is_moved_out_of() -> None:
    place = setting(size=(400.0, 300.0), **{"left seam": "M 160 0 L 165 300"})
    words = {"sort": "wide", "count": 1, "first": 150}
    (one,) = found(place, **words)
    assert (one.rule, one.verdict) == ("seam in a tuck", "look again")
    assert [m.value for m in one.mends] == [125.0, 175.0]
    assert all(mended(m, place, **words) == () for m in one.mends)


def test_a_cut_edge_is_no_matter_to_tucks_off_the_panel() -> None:
    edge = replace(HERE, outline=Polygon([(0, 0), (395, 0), (395, 300), (0, 300)]), block=(400.0, 300.0))
    assert [f.rule for f in found(edge, sort="wide", count=1, first=380)] == ["tucks off the panel"]
    assert [f.rule for f in found(edge, sort="wide", count=1, first=372)] == ["seam in a tuck"]


def test_thread_too_thick_for_the_needle() -> None:
    (one,) = found(count=2, sewing={"thread": "12 wt", "needle": "70"})
    assert one.rule == "thread too thick for the needle"


def test_inches_are_told_in_inches() -> None:
    (one,) = found(replace(HERE, units="inch"), count=5, apart=5)
    assert (one.figure, one.limit) == ("0.236 in", "0.197 in")


def test_sound_tucks_are_left_alone() -> None:
    for words in (
        {"sort": "pin", "count": 7, "mirrored": True},
        {"sort": "twin needle", "count": 20},
        {"sort": "wide", "run": "across", "count": 3, "sewn": 200},
        {"depth": LEAST_DEPTH},
    ):
        assert found(**words) == ()
