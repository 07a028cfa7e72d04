"""Whether readings agree: exact cases on either side of every limit, and how often sound ones are doubted."""

import math

import numpy as np
import pytest
from scipy.stats import chi2

from festoon.truing.judge import DOUBT, FINEST, STRETCH_MOST, judge
from tests.truing.toy import CORNERS, FLE

SQUARE = np.array(list(CORNERS.values()))
S = FLE / math.sqrt(2)
LEAST = math.sqrt(chi2.isf(DOUBT, 1)) * S / math.sqrt((SQUARE**2).sum())
"""The least stretch of the square that the readings' error does not explain: 1.03 %."""


def test_a_perfect_reading_agrees():
    found = judge(SQUARE, SQUARE + np.array([3.0, -2.0]), FLE)
    assert (found.agree, found.stretched, found.suspects) == (True, False, ())


@pytest.mark.parametrize("sign", [1, -1])
def test_a_stretch_is_seen_from_the_least_to_the_most(sign):
    assert pytest.approx(0.0103, abs=5e-5) == LEAST
    for stretch, stretched, agree in (
        (0.99 * LEAST, False, True),
        (1.01 * LEAST, True, True),
        (STRETCH_MOST - 1e-4, True, True),
        (STRETCH_MOST + 1e-4, False, False),
    ):
        found = judge(SQUARE, SQUARE * (1 + sign * stretch), FLE)
        assert (found.stretched, found.agree, found.suspects) == (stretched, agree, ()), stretch
        assert found.scaled.scale == pytest.approx(1 + sign * stretch)


def test_a_lozenge_is_no_stretch_and_no_single_mark():
    """Longer one way and shorter the other: five degrees of freedom, and no scale or mark explains it."""
    least = math.sqrt(chi2.isf(DOUBT, 5)) * S / math.sqrt((SQUARE**2).sum())
    for slant, agree in ((0.99 * least, True), (1.01 * least, False)):
        found = judge(SQUARE, SQUARE * (1 + slant, 1 - slant), FLE)
        assert (found.agree, found.stretched, found.suspects) == (agree, False, ())


def test_one_mark_off():
    """Off across the line to the middle, half of it stays in the residuals' squares (computed: 1 - 1/4 - 1/4)."""
    across = np.array([1.0, 1.0]) / math.sqrt(2)
    least = math.sqrt(2 * chi2.isf(DOUBT, 5)) * S
    for off, agree in ((0.99 * least, True), (1.01 * least, False)):
        seen = SQUARE.copy()
        seen[3] += off * across
        found = judge(SQUARE, seen, FLE)
        assert found.rigid.square_sum == pytest.approx(off**2 / 2, rel=1e-2)
        assert found.agree == agree
        assert (3 in found.suspects) == (not agree)
    seen[3] += 2 * least * across
    assert judge(SQUARE, seen, FLE).suspects == (3,)


def test_a_mark_off_towards_the_middle_is_not_taken_for_a_stretch():
    seen = SQUARE.copy()
    seen[1] *= 0.93
    found = judge(SQUARE, seen, FLE)
    assert (found.agree, found.stretched, found.suspects) == (False, False, (1,))


def test_where_a_stretch_explains_as_much_as_a_misread_mark_the_stretch_is_believed():
    """The far one of three marks misread would take two numbers, the stretch one."""
    narrow = np.array([(0.0, 0.0), (10.0, 0.0), (0.0, 80.0)])
    found = judge(narrow, narrow * 1.029, FLE)
    assert (found.stretched, found.agree) == (True, True)


def test_where_a_misread_mark_explains_more_than_a_stretch_it_is_blamed():
    """Chance and a stretch might just leave this much, yet leaving out A leaves nothing."""
    seen = SQUARE[:3] + np.array([(2.17, 1.25), (0, 0), (0, 0)])
    found = judge(SQUARE[:3], seen, FLE)
    assert found.scaled.square_sum / S**2 < chi2.isf(DOUBT, 2)
    assert (found.stretched, found.agree, found.suspects) == (False, False, (0,))


def test_of_three_marks_it_may_not_be_known_which():
    """Misread far along no common scale, two of three marks may be to blame, and both are named."""
    seen = SQUARE[:3].copy()
    seen[0] += (0.0, 4.0)
    found = judge(SQUARE[:3], seen, FLE)
    assert not found.agree
    assert 0 in found.suspects


def test_two_marks_know_only_how_far_apart_they_lie():
    pair = SQUARE[:2]
    least = math.sqrt(chi2.isf(DOUBT, 1)) * S / math.sqrt(2 * 40**2)
    for stretch, stretched, agree in (
        (0.99 * least, False, True),
        (1.01 * least, True, True),
        (STRETCH_MOST + 1e-4, False, False),
    ):
        found = judge(pair, pair * (1 + stretch, 1), FLE)
        assert (found.stretched, found.agree, found.suspects) == (stretched, agree, ())
    assert judge(pair, pair + np.array([(0, -2), (0, 2)]), FLE).agree  # one misread across looks like a turn


def test_no_reading_is_finer_than_it_was_told():
    seen = SQUARE + np.array([(0.05, 0.05), (-0.05, 0.05), (-0.05, -0.05), (0.05, -0.05)])
    assert judge(SQUARE, seen, 0.0).agree
    assert pytest.approx(0.0408, abs=5e-5) == FINEST


@pytest.mark.parametrize("count", [2, 3, 4])
def test_sound_readings_are_seldom_doubted(count):
    """Two questions, each with a chance of DOUBT: between that and twice it; 3000 seeded trials, three sigma."""
    rng = np.random.default_rng(20251125)
    noise = rng.normal(0, S, (3000, count, 2))
    found = [judge(SQUARE[:count], SQUARE[:count] + n, FLE) for n in noise]
    share = np.mean([f.stretched or not f.agree for f in found])
    slack = 3 * math.sqrt(2 * DOUBT / 3000)
    assert DOUBT - slack < share < 2 * DOUBT + slack
