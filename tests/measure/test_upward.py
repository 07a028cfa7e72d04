"""Figures rounded up (computed)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.measure import show_metres, show_minutes, tenths_up


@given(st.floats(0, 1e5))
def test_a_tenth_up_is_never_less_and_hardly_more(number):
    assert -1e-9 <= tenths_up(number) - number < 0.1 + 1e-9


@pytest.mark.parametrize(
    ("metres", "told"),
    [
        (0.0, "0 m"),
        (0.004, "0.1 m"),
        (0.3, "0.3 m"),
        (0.1 + 0.2, "0.3 m"),
        (9.91, "10 m"),
        (10.0, "10 m"),
        (10.1, "11 m"),
    ],
)
def test_metres(metres, told):
    assert show_metres(metres) == told


@pytest.mark.parametrize(
    ("minutes", "told"),
    [(0.2, "1 minute"), (14.0, "14 minutes"), (59.1, "1 h"), (61.0, "1 h 1 min"), (125.5, "2 h 6 min")],
)
def test_minutes(minutes, told):
    assert show_minutes(minutes) == told
