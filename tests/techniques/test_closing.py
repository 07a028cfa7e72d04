"""Whole repeats that close: what is told where they must be stretched, and that either width offered closes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.plane import from_svg, polyline
from festoon.shaping.set_out import set_out
from festoon.techniques.closing import PARITY, closing_finding

from .toy import setting

centres = st.sampled_from(["any", "point", "round"])


def told(length, repeat, most, centre="any"):
    line = polyline([(0, 0), (length, 0)])
    return closing_finding("edge", repeat, most, centre, set_out(line, repeat, PARITY[centre]), setting())


def test_within_the_stretch_nothing_is_told():
    """2286 mm at about 60 mm: 38 repeats, 0.26 % wider; 2100 at 65: 32, 0.96 % (computed)."""
    assert told(2286, 60, 0.003) is None
    assert told(2100, 65, 0.01) is None
    assert told(2286, 60, 0.002) is not None


def test_the_two_nearest_that_close_are_offered():
    """100 mm at about 40: three of 33.33 (17 % narrower) or two of 50 mm."""
    one = told(100, 40, 0.1)
    assert (one.verdict, one.rule, one.figure, one.limit) == ("look again", "repeat stretched", "16.7%", "10.0%")
    assert [(m.word, m.value) for m in one.mends] == [("repeat", 33.33), ("repeat", 50.0)]
    assert "make repeat 33.33 mm, for 3 or make repeat 50 mm, for 2" in one.remedy
    assert one.amount.value == pytest.approx(0.167)


def test_an_odd_or_even_count_is_kept_in_what_is_offered():
    assert [m.value for m in told(100, 26, 0.05, "round").mends] == [20.0, 33.33]
    assert [m.value for m in told(100, 35, 0.05, "point").mends] == [25.0, 50.0]
    assert [m.value for m in told(30, 90, 0.1, "point").mends] == [15.0, 7.5]


@given(st.floats(20, 3000), st.floats(5, 300), st.sampled_from([0.02, 0.05, 0.1]), centres)
def test_whatever_is_offered_closes_without_stretch(length, repeat, most, centre):
    """Law: any length, any wish, any count asked for at the middle."""
    one = told(length, repeat, most, centre)
    for mend in one.mends if one else ():
        again = set_out(polyline([(0, 0), (length, 0)]), mend.value, PARITY[centre])
        assert abs(again.worst.stretch) <= 0.005 / mend.value + 1e-9, "told to 0.01 mm"
        assert PARITY[centre] == "any" or again.count % 2 == (centre == "round")


def test_a_line_with_corners_has_no_one_width_that_would_do():
    corner = from_svg("M 0 0 H 100 V 130")
    one = closing_finding("edge", 40, 0.05, "any", set_out(corner, 40), setting())
    assert one.mends == ()
    assert one.remedy == "Allow more stretch."
    assert one.reason.startswith("3 repeats fill 100 mm only by being 16.7% narrower")
