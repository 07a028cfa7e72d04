"""Count, depth and gap solved from what is given, and every tuck at its place."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import PieceError
from festoon.shaping.tucks import graduated, taken_up
from festoon.techniques.tuck_plan import TAKE_UP, planned
from festoon.techniques.tuck_words import USUAL, Tucks

from .toy import setting

HERE = setting(size=(400.0, 300.0))


def plan(place=HERE, **words):
    return planned(Tucks(kind="tucks", name="t", **words), place)


def test_a_skirt_s_width_brought_to_the_waist() -> None:
    # computed: 900 - 560 = 340 mm in 2 x 10 tucks: 340 / (2 x 20) = 8.5 mm each
    done = plan(setting(size=(560.0, 300.0)), reduce_by=340, count=10, mirrored=True)
    assert done.widths == pytest.approx((8.5,) * 10)
    assert done.taken == pytest.approx(340)
    assert done.flat == pytest.approx(900)


def test_a_count_is_solved_from_the_depth() -> None:
    # computed: 96 / (2 x 4) = 12; mirrored 6 and 6
    assert len(plan(reduce_by=96, depth=4).first) == 12
    assert len(plan(reduce_by=96, depth=4, mirrored=True).first) == 6
    assert plan(reduce_by=100, depth=4.5).counts == (11, 12)


@given(st.floats(20, 200), st.sampled_from(["pin", "spaced", "wide", "blind", "graduated"]), st.booleans())
def test_a_reduction_alone_is_met_near_the_usual_depth(reduction, sort, mirrored) -> None:
    done = plan(reduce_by=reduction, sort=sort, mirrored=mirrored)
    assert done.taken == pytest.approx(reduction)
    one = Tucks(kind="tucks", name="t", sort=sort, mirrored=mirrored)
    count, depth = len(done.first), USUAL[sort].depth
    usual = taken_up(graduated(count, depth, one.step)) * one.groups
    assert count == 1 or abs(usual - reduction) <= (depth + count * one.step) * one.groups + 1e-6


@given(st.floats(20, 300), st.integers(2, 12), st.floats(0, 6))
def test_a_depth_is_solved_from_the_width_the_count_and_the_gap(over, count, gap) -> None:
    if over / (count - 1) - gap < 0.5:
        return
    done = plan(over=over, count=count, gap=gap)
    assert done.over == pytest.approx(over)
    assert done.gaps == pytest.approx((gap,) * (count - 1))
    assert done.widths == pytest.approx((over / (count - 1) - gap,) * count)


def test_the_handbook_s_parts() -> None:
    # published: a national trade-training handbook 'Dress Making', exercise 48, examples 1 and 2
    first = plan(setting(size=(390.0, 300.0)), sort="pin", over=360, apart=12)
    assert len(first.first) == 31
    assert first.first[0].at == pytest.approx(15)
    second = plan(setting(size=(280.0, 300.0)), sort="pin", depth=2, gap=15, over=240)
    assert len(second.first) == 16
    assert second.gaps == pytest.approx((14,) * 15)
    assert second.flat == pytest.approx(344)
    assert (second.first[0].at, second.first[-1].at) == pytest.approx((20, 260))


def test_blind_tucks_meet_and_are_fitted_to_a_width() -> None:
    done = plan(sort="blind", over=95)
    assert done.gaps == pytest.approx((0,) * 10)
    assert done.widths == pytest.approx((9.5,) * 11)


def test_counts_and_depths_by_the_width_the_spacing_and_the_reduction() -> None:
    # computed: 300/10 = 30 gaps, 31 tucks; 150/62 = 2.419 mm
    done = plan(over=300, apart=10, reduce_by=150)
    assert len(done.first) == 31
    assert done.widths[0] == pytest.approx(150 / 62)


@given(st.integers(1, 8), st.floats(1, 8), st.floats(0.1, 2), st.floats(1, 12), st.booleans())
def test_graduated_tucks_show_the_same_gap_whichever_way_they_are_pressed(count, depth, grow, gap, left) -> None:
    press = "left" if left else "right"
    done = plan(sort="graduated", count=count, depth=depth, grow=grow, gap=gap, press=press, first=100)
    folds = [t.fold for t in done.first]
    stitchings = [t.at for t in done.first]
    shown = [
        (stitchings[i + 1] - folds[i]) if not left else (folds[i + 1] - stitchings[i]) for i in range(len(folds) - 1)
    ]
    assert shown == pytest.approx([gap] * (count - 1))
    assert stitchings[0] == 100


def test_where_a_group_stands() -> None:
    assert plan(count=5, first=40).first[0].at == 40
    assert plan(count=5, middle=100).first[0].at == 70
    assert plan(count=5).first[0].at == 170
    across = plan(count=5, run="across")
    assert (across.first[0].at, across.breadth, across.length) == (120, 300, 400)
    on_block = replace(HERE, block=(500.0, 320.0))
    assert plan(on_block, count=5).first[0].at == 220


@given(st.floats(5, 60), st.integers(1, 6), st.sampled_from(["away", "towards"]), st.floats(120, 280))
def test_mirrored_groups_are_mirror_images(first, count, press, about) -> None:
    done = plan(mirrored=True, first=first, count=count, press=press, about=f"M {about} 0 V 300")
    assert done.about == pytest.approx(about)
    assert done.first[0].at == pytest.approx(about + first)
    for one, other in zip(done.first, done.second, strict=True):
        assert other.at == pytest.approx(2 * about - one.at)
        assert other.fold == pytest.approx(2 * about - one.fold)
    assert done.first[0].ahead == (press == "away")


def test_mirrored_groups_that_say_nothing_stand_about_the_middle() -> None:
    done = plan(mirrored=True, count=3)
    assert done.about == 200
    assert [t.at for t in done.tucks] == pytest.approx([160, 175, 190, 210, 225, 240])
    towards = plan(mirrored=True, count=3, press="towards")
    assert min(t.span[0] for t in towards.first) == pytest.approx(210)


def test_how_far_they_are_sewn() -> None:
    whole, short = plan(count=2), plan(count=2, begin=20, sewn=100)
    assert (whole.start, whole.stop, whole.released) == (0, 300, False)
    assert (short.start, short.stop, short.released) == (20, 120, True)
    assert (plan(count=2, sewn=900).stop, plan(count=2, begin=900).start) == (300, 300)


def test_the_take_up_of_a_twin_needle_as_given_as_measured_or_assumed() -> None:
    # computed: 20 x 0.7 x 2.0 = 28 mm; at most 40
    measured = replace(HERE, twin_take_up=0.55)
    assumed = plan(sort="twin needle", count=20)
    assert assumed.taken == pytest.approx(28)
    assert (assumed.share.value, assumed.share.reckoned) == (TAKE_UP, "assumed 0.7 of the needles' distance")
    own = plan(measured, sort="twin needle", count=20)
    assert own.taken == pytest.approx(22)
    assert own.share.reckoned == "measured"
    given_one = plan(measured, sort="twin needle", count=20, take_up=1)
    assert (given_one.taken, given_one.share.reckoned) == (40, "as given")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ({"sort": "graduated", "grow": -2, "depth": 6, "count": 4}, "nothing is left of tuck 4"),
        ({"over": 50, "count": 10, "gap": 10}, "nothing is left of tuck 1"),
        ({"gap": -6}, "lie on each other"),
        ({"over": 390, "apart": 0.5}, "more than 500 tucks"),
        ({"sort": "twin needle", "take_up": 0, "reduce_by": 9}, "take up nothing"),
        ({"mirrored": True, "about": "M 0 10 H 300"}, "does not run straight down"),
        ({"mirrored": True, "about": "nowhere"}, 'no line called "nowhere"'),
    ],
)
def test_what_cannot_be_laid_is_told_in_a_sentence(words, told) -> None:
    with pytest.raises(PieceError) as refused:
        plan(**words)
    assert told in str(refused.value)
    assert refused.value.remedy
