"""What tucks may say, and what is told where they say too much."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from festoon.techniques.tuck_words import Tucks


def tucks(**words) -> Tucks:
    return Tucks(kind="tucks", name="t", **words)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ({"count": 3, "depth": 3, "reduce_by": 30}, '"count", "depth" and "reduce_by" say too much'),
        ({"count": 3, "over": 30, "apart": 10}, '"count", "over" and "apart" say too much'),
        ({"count": 3, "over": 30, "depth": 4, "gap": 2}, '"count", "over", "depth" and "gap" say too much'),
        ({"over": 30, "reduce_by": 10, "gap": 2}, '"over", "reduce_by" and "gap" say too much'),
        ({"over": 30, "reduce_by": 10, "apart": 9, "depth": 2}, '"over", "reduce_by", "apart" and "depth" say'),
        ({"first": 3, "middle": 30}, '"first" and "middle" are two ways to say it'),
        ({"gap": 3, "apart": 9}, '"gap" and "apart" are two ways to say it'),
        ({"sort": "twin needle", "count": 3, "reduce_by": 9}, '"count" and "reduce_by" say too much'),
        ({"sort": "twin needle", "over": 30, "reduce_by": 9, "apart": 3}, '"over", "reduce_by" and "apart" say'),
        ({"sort": "blind", "over": 30, "reduce_by": 9}, '"over" and "reduce_by" say too much'),
        ({"sort": "blind", "over": 30, "count": 3, "depth": 9}, '"count", "depth" and "over" say too much'),
        ({"sort": "blind", "gap": 3}, 'blind tucks meet. Take out "gap"'),
        ({"grow": 1}, '"grow" belongs to graduated tucks'),
        ({"needles": 2}, '"needles" belongs to twin-needle tucks'),
        ({"take_up": 0.5}, '"take_up" belongs to twin-needle tucks'),
        ({"sort": "twin needle", "depth": 3}, 'stand up by themselves. Take out "depth"'),
        ({"sort": "twin needle", "press": "left"}, 'stand up by themselves. Take out "press"'),
        ({"about": "hem"}, '"about" belongs to mirrored groups'),
        ({"press": "away"}, '"away" is said of mirrored groups'),
        ({"press": "left", "mirrored": True}, 'Write press = "away" or "towards", not "left"'),
        ({"press": "up"}, 'tucks that run down are pressed "left" or "right"'),
        ({"press": "left", "run": "across"}, 'tucks that run across are pressed "up" or "down"'),
        ({"count": 1, "over": 30}, "one tuck has no way from the first stitching to the last"),
        ({"sewing": {"stitch": "zigzag"}}, "'straight'"),
    ],
)
def test_what_is_said_twice_or_belongs_elsewhere_is_told(words, told) -> None:
    with pytest.raises(ValidationError) as refused:
        tucks(**words)
    assert told in str(refused.value)


@pytest.mark.parametrize(
    ("words", "pressed", "ahead"),
    [
        ({}, "right", True),
        ({"run": "across"}, "down", True),
        ({"mirrored": True}, "away", True),
        ({"mirrored": True, "press": "towards"}, "towards", False),
        ({"press": "left"}, "left", False),
        ({"press": "up", "run": "across"}, "up", False),
    ],
)
def test_folds_are_pressed_as_said_or_as_usual(words, pressed, ahead) -> None:
    assert (tucks(**words).pressed, tucks(**words).ahead) == (pressed, ahead)


def test_the_usual_measures() -> None:
    assert tucks(sort="graduated").step == 2
    assert tucks(sort="graduated", grow=-0.5).step == -0.5
    assert tucks().step == 0
    assert tucks(sort="twin needle").distance == 2
    assert tucks(sort="twin needle", needles="1.6 mm").distance == 1.6
    assert (tucks().groups, tucks(mirrored=True).groups) == (1, 2)
