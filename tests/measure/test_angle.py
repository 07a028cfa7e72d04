"""Angles read and brought into one turn."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import MeasureError
from festoon.measure import normal_turn, parse_angle


@pytest.mark.parametrize(
    ("written", "degrees"),
    [
        (30, 30.0),
        ("30", 30.0),
        ("30°", 30.0),
        ("30 deg", 30.0),
        ("22,5 degrees", 22.5),
        ("1/8 turn", 45.0),
        ("⅛ turn", 45.0),
        ("-1/4 turn", -90.0),
        ("1 1/2 turns", 540.0),
        ("-0.5°", -0.5),
        (450, 450.0),
    ],
)
def test_reads_degrees_and_turns(written: object, degrees: float) -> None:
    """A turn is 360 degrees; nothing is brought into one turn on the way."""
    assert parse_angle(written) == degrees


@pytest.mark.parametrize(
    ("written", "sentence"),
    [
        ("30 dge", 'Did you mean "deg"? The units are ° (or deg) and turn.'),
        ("1/8", 'Write "1/8 turn" or "1/8 deg".'),
        ("1/0 turn", "divides by zero"),
        ("", "the angle is empty."),
        ("inf", "the angle is not a finite number."),
        (float("nan"), "the angle is not a finite number."),
        ("steep", "is not an angle"),
        (False, "False is not an angle."),
    ],
)
def test_says_what_it_cannot_read(written: object, sentence: str) -> None:
    with pytest.raises(MeasureError, match=re.escape(sentence)):
        parse_angle(written)


@given(st.floats(-1e6, 1e6))
def test_one_turn_holds_every_angle(angle: float) -> None:
    turn = normal_turn(angle)
    assert 0 <= turn < 360
    assert math.cos(math.radians(turn - angle)) == pytest.approx(1)


@pytest.mark.parametrize(("angle", "turn"), [(0, 0), (360, 0), (-90, 270), (725, 5), (-1e-20, 0), (-360, 0)])
def test_one_turn(angle: float, turn: float) -> None:
    assert normal_turn(angle) == turn


def test_an_endless_turn_is_refused() -> None:
    with pytest.raises(MeasureError, match="finite"):
        normal_turn(math.inf)
