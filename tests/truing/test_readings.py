"""Readings as they are written: sides in words or signs, units, and every slip in a sentence."""

import pytest

from festoon.errors import FestoonError, HoopingError, MeasureError
from festoon.truing.readings import parse_pair, parse_readings
from tests.truing.toy import toy


@pytest.mark.parametrize(
    ("text", "reading"),
    [
        ("A=0.5,-0.3", (0.5, -0.3)),
        (" a = 0.5 , -0.3 ", (0.5, -0.3)),
        ("A=0,5;-0,3", (0.5, -0.3)),
        ("A=1/16 in,-0.05 cm", (1.5875, -0.5)),
        ("A=0.5 right 0.3 up", (0.5, -0.3)),
        ("A=0.3 up, 0.5 right", (0.5, -0.3)),
        ("A=0.5 Right and 0.3 above", (0.5, -0.3)),
        ("A=0.5 left 0.3 down", (-0.5, 0.3)),
        ("A=0.5left,0.3below", (-0.5, 0.3)),
        ("A=0,5 mm left 0,3 mm down", (-0.5, 0.3)),
        ("A=1/16 in left", (-1.5875, 0.0)),
        ("A=2 down", (0.0, 2.0)),
        ("A=0,0", (0.0, 0.0)),
    ],
)
def test_what_is_understood(text, reading):
    assert parse_pair(text) == ("A", pytest.approx(reading))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("A", "is no reading of a mark. Write it as"),
        ("A=", "is no reading of a mark. Write it as"),
        ("=1,2", "is no reading of a mark. Write it as"),
        ("A=1", "mark A: .* is no reading of a mark. Write it as"),
        ("A=1,2,3", "is no reading of a mark. Write it as"),
        ("A=0,5,-0,3", 'part the two by a semicolon: "A=0,5;-0,3"'),
        ("A=x,2", 'mark A: "x" is not a length'),
        ("A=one right", 'mark A: "one" is not a length'),
        ("A=right", "mark A: the length is empty"),
        ("A=1 left 2 right", "Say once how far left or right"),
        ("A=1 up 2 up", "Say once how far left or right"),
        ("A=-1 right 2 up", 'Leave out the minus: the word "right" says the side'),
        ("A=1 right 2", "is no reading of a mark. Write it as"),
        ("A=1 rightish", "is no reading of a mark. Write it as"),
        ("A=nan,1", "not a finite number"),
    ],
)
def test_what_is_not(text, told):
    with pytest.raises(MeasureError, match=told):
        parse_pair(text)


def test_a_place_in_the_hoop_is_a_reading_too():
    """Mark B belongs 40 mm right of the middle and 40 mm above it."""
    found = parse_readings(toy(), ["A=0.5 right"], ["B=40.2,-39.5", "C=39 right 41 down"])
    assert {n: tuple(round(v, 9) for v in r) for n, r in found.items()} == {
        "A": (0.5, 0.0),
        "B": (0.2, 0.5),
        "C": (-1.0, 1.0),
    }


@pytest.mark.parametrize(
    ("read", "placed", "kind", "told"),
    [
        (["A=0,0", "A=1,1"], [], MeasureError, "mark A: it is given twice"),
        (["A=0,0"], ["a=1,1"], MeasureError, "mark A: it is given twice"),
        (["Q=0,0"], [], HoopingError, 'hooping 3: it has no mark called "Q". Its marks are A, B, C and D'),
        ([], ["Q=0,0"], HoopingError, 'it has no mark called "Q"'),
    ],
)
def test_marks_that_cannot_be_meant(read, placed, kind, told):
    with pytest.raises(FestoonError, match=told) as caught:
        parse_readings(toy(), read, placed)
    assert type(caught.value) is kind
