"""Tucks by arithmetic: worked examples of the handbooks, conservation, and the way to the flat cloth and back."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.shaping.tucks import (
    MOST,
    Tuck,
    TwinRow,
    count_to_fill,
    counts_about,
    first_depth,
    flat_marks,
    flat_size,
    gap_within,
    gaps_shown,
    graduated,
    strides,
    taken_up,
    to_finished,
    to_flat,
)

INCH = 25.4


@dataclass(frozen=True)
class Take:
    across: str
    at: float
    by: float


def row(count: int, depth: float, gap: float, first: float) -> tuple[Tuck, ...]:
    return tuple(Tuck(first + i * (depth + gap), depth) for i in range(count))


def takes(tucks, across: str = "x") -> tuple[Take, ...]:
    return tuple(Take(across, t.at, t.by) for t in tucks)


LENGTHS = st.floats(1.0, 30.0)
TAKES = st.lists(
    st.builds(Take, st.sampled_from("xy"), st.floats(0, 500), st.floats(0.1, 60)), max_size=12, unique_by=lambda t: t.at
)
POINTS = st.lists(st.tuples(st.floats(-50, 550), st.floats(-50, 550)), min_size=1, max_size=9).map(np.array)


def test_four_tucks_of_an_eighth_of_an_inch_take_one_inch() -> None:
    # published: a dressmaking course
    assert taken_up([INCH / 8] * 4) == pytest.approx(INCH)


def test_a_part_of_39_cm_has_31_tucks_in_30_gaps() -> None:
    # published: a national trade-training handbook 'Dress Making', exercise 48, example 1: 36/1.2 = 30
    assert count_to_fill(390 - 2 * 15, 0, 12) == 31


def test_a_part_of_28_cm_has_16_tucks_and_is_cut_344_mm_wide() -> None:
    # published: the same, example 2: 24/1.7 = 14.1, rounded up to 15 gaps; 16 tucks of 2 mm take 6.4 cm; 24/15 = 1.6 cm
    count = count_to_fill(280 - 2 * 20, 2, 15)
    depths = graduated(count, 2)
    gap = gap_within(240, depths, True)
    assert count == 16
    assert taken_up(depths) == pytest.approx(64)
    assert strides(depths, gap, True) == pytest.approx([16] * 15)
    assert gap == pytest.approx(14)
    tucks = row(16, 2, gap, 20)
    assert flat_size((280, 100), takes(tucks)) == pytest.approx((344, 100))


def test_the_lines_of_five_tucks_on_the_flat_cloth() -> None:
    # computed: stitch a + i(3t + g), fold + t, stitch + 2t, with t 6, g 9, a 40
    tucks = row(5, 6, 9, 40)
    assert flat_marks(tucks) == (
        (40, 46, 52),
        (67, 73, 79),
        (94, 100, 106),
        (121, 127, 133),
        (148, 154, 160),
    )
    assert tucks[1].at - tucks[0].at == 15
    assert tucks[-1].fold - tucks[0].at == 66
    ends = to_flat([[40, 0], [106, 0]], takes(tucks))[:, 0]
    assert ends[1] - ends[0] == 126


def test_eight_blind_tucks_of_10_mm_take_240_mm_to_80() -> None:
    # published: "Hand-Sewing Lessons", Model 6: folds meet the stitching, so the cloth is 3 times the tucked width
    tucks = row(8, 10, 0, 0)
    assert gaps_shown([10] * 7, [10] * 8, True) == (0,) * 7
    assert tucks[-1].fold == 80
    assert to_flat([[80, 0]], takes(tucks))[0, 0] == 240


def test_twenty_twin_needle_rows_at_0_7_of_2_mm_take_28_mm() -> None:
    # computed from the bound of a twin-needle tuck: 20 x 0.7 x 2.0; at most 20 x 2.0
    rows = [TwinRow(20 + 5.0 * i, 2.0, 0.7 * 2.0) for i in range(20)]
    assert sum(r.by for r in rows) == pytest.approx(28)
    marks = np.array(flat_marks(rows))
    assert np.diff(marks[:, 0]) == pytest.approx([5.0 + 1.4] * 19)
    needles = marks + np.array([-1.0, 1.0])
    taken = takes(rows)
    for (left, right), one in zip(needles, rows, strict=True):
        ends = to_finished([[left, 0], [right, 0]], taken)[:, 0]
        assert ends == pytest.approx(one.span)


@given(st.tuples(st.floats(1, 900), st.floats(1, 900)), TAKES)
def test_finished_and_taken_up_is_the_cloth(size, taken) -> None:
    # published: a dressmaking course: cut = finished + taken up
    flat = flat_size(size, taken)
    for k, axis in enumerate("xy"):
        assert flat[k] == pytest.approx(size[k] + sum(t.by for t in taken if t.across == axis))
    far = to_flat([[1000.0, 1000.0]], taken)[0]
    assert far - 1000 == pytest.approx(np.array(flat) - size)


@given(POINTS, TAKES)
def test_what_goes_to_the_flat_cloth_comes_back(points, taken) -> None:
    assert to_finished(to_flat(points, taken), taken) == pytest.approx(points, abs=1e-6)


@given(POINTS, TAKES)
def test_the_flat_cloth_keeps_the_order_and_never_comes_nearer(points, taken) -> None:
    flat = to_flat(points, taken)
    for k in (0, 1):
        order = np.argsort(points[:, k], kind="stable")
        assert (np.diff(flat[order, k]) >= np.diff(points[order, k]) - 1e-9).all()


@given(TAKES, st.floats(0, 1))
def test_what_is_taken_up_comes_to_the_stitching_line(taken, share) -> None:
    for take in taken:
        axis = "xy".index(take.across)
        line = np.zeros((1, 2))
        line[0, axis] = take.at
        inside = to_flat(line, taken)
        inside[0, axis] += share * take.by
        assert to_finished(inside, taken)[0, axis] == pytest.approx(take.at, abs=1e-6)


@given(st.integers(1, 40), LENGTHS, st.floats(0.1, 30), st.floats(0, 100), st.booleans())
def test_flat_lines_lie_where_the_cloth_goes(count, depth, gap, first, ahead) -> None:
    tucks = tuple(Tuck(first + i * (depth + gap), depth, ahead) for i in range(count))
    marks = flat_marks(tucks)
    begins = to_flat([[t.at, 0] for t in tucks], takes(tucks))[:, 0]
    assert [m[0] for m in marks] == pytest.approx(begins)
    assert all(m[1] - m[0] == pytest.approx(depth) and m[2] - m[1] == pytest.approx(depth) for m in marks)
    assert np.diff(begins) == pytest.approx([3 * depth + gap] * (count - 1))


@given(st.integers(1, 40), LENGTHS, st.floats(0, 2), st.booleans())
def test_a_mirrored_group_takes_as_much_and_covers_the_mirror_image(count, depth, grow, ahead) -> None:
    depths = graduated(count, depth, grow)
    at = np.concatenate([[0.0], np.cumsum(strides(depths, 5, ahead))])
    group = [Tuck(float(a), t, ahead) for a, t in zip(at, depths, strict=True)]
    other = [t.mirrored(-30) for t in group]
    for one, image in zip(group, other, strict=True):
        assert image.by == one.by
        assert image.ahead != one.ahead
        assert image.span == pytest.approx((-60 - one.span[1], -60 - one.span[0]))
        assert image.fold == pytest.approx(-60 - one.fold)
        assert image.mirrored(-30).at == pytest.approx(one.at)


@given(st.floats(10, 900), st.integers(1, 60), st.floats(-0.5, 2))
def test_a_solved_depth_takes_what_was_asked(reduction, count, grow) -> None:
    assert taken_up(graduated(count, first_depth(reduction, count, grow), grow)) == pytest.approx(reduction)


@given(st.floats(5, 900), st.floats(1, 12), st.floats(0, 3))
def test_a_reduction_lies_between_the_two_nearest_counts(reduction, depth, grow) -> None:
    lower, upper = counts_about(reduction, depth, grow)
    few, many = (taken_up(graduated(n, depth, grow)) for n in (lower, upper))
    assert few - 1e-5 <= reduction <= many + 1e-5
    assert upper - lower in (0, 1)


def test_counts_that_come_out_and_tucks_that_run_out_of_depth() -> None:
    # computed: 10 x 2 x 4.5 = 90; 5 + 4 + 3 + 2 + 1 = 15 tucks' depth in all
    assert counts_about(90, 4.5) == (10, 10)
    assert counts_about(100, 4.5) == (11, 12)
    assert counts_about(100, 5, -1) == (5, 5)


@given(st.floats(10, 600), st.floats(1, 12), st.floats(0.5, 20), st.floats(0, 2), st.booleans())
def test_no_gap_is_wider_than_wished_and_one_tuck_fewer_would_have_it_so(over, depth, gap, grow, ahead) -> None:
    count = count_to_fill(over, depth, gap, grow, ahead)
    depths = graduated(count, depth, grow)
    fitted = gap_within(over, depths, ahead)
    assert fitted <= gap + 1e-5
    assert sum(strides(depths, fitted, ahead)) == pytest.approx(over)
    assert gaps_shown(strides(depths, fitted, ahead), depths, ahead) == pytest.approx([fitted] * (count - 1))
    if count > 2:
        assert gap_within(over, graduated(count - 1, depth, grow), ahead) > gap - 1e-5


def test_what_nothing_fills() -> None:
    assert count_to_fill(100, 5, -5) == MOST + 1
    assert count_to_fill(1e6, 1, 1) == MOST + 1
    assert count_to_fill(1e6, 1, 1, 0.1) == MOST + 1
