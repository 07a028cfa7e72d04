"""Lengths read and shown."""

import math
import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import MeasureError
from festoon.measure import MM_PER_INCH, parse_length, show_length

ORDINARY = st.floats(-1e6, 1e6)


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        (42, 42.0),
        (-3.5, -3.5),
        ("42", 42.0),
        ("42 mm", 42.0),
        ("42mm", 42.0),
        ("  42   MM ", 42.0),
        ("4.2 cm", 42.0),
        ("1,5 cm", 15.0),
        ("0,125 in", 3.175),
        (".5 cm", 5.0),
        ("0.5 m", 500.0),
        ("-3 mm", -3.0),
        ("\N{MINUS SIGN}3 mm", -3.0),
        ("+3 mm", 3.0),
        ("1 5/8 in", 41.275),
        ("1 5/8 inch", 41.275),
        ("1-5/8 in.", 41.275),
        ('1⅝"', 41.275),
        ("1 ⅝″", 41.275),
        ("1\N{NO-BREAK SPACE}5\N{FRACTION SLASH}8 inches", 41.275),
        ("-1 5/8 in", -41.275),
        ("5/8 in", 15.875),
        ("⅝ in", 15.875),
        ("2 ft 3 in", 685.8),
        ("2' 3 1/2\"", 698.5),
        ("1 yd", 914.4),
        ("1/2 cm", 5.0),
    ],
)
def test_reads_what_workers_write(written: object, mm: float) -> None:
    """The inch of 1959 is 25.4 mm, the foot 12 and the yard 36 of them (published); the rest is the metric system."""
    assert parse_length(written) == mm


@pytest.mark.parametrize(
    ("sign", "value"),
    re.findall(
        r"(.)=(\d+/\d+)",
        "¼=1/4 ½=1/2 ¾=3/4 ⅐=1/7 ⅑=1/9 ⅒=1/10 ⅓=1/3 ⅔=2/3 ⅕=1/5 ⅖=2/5 ⅗=3/5 ⅘=4/5 "
        "⅙=1/6 ⅚=5/6 ⅛=1/8 ⅜=3/8 ⅝=5/8 ⅞=7/8 ↉=0/3",
    ),
)
def test_reads_every_vulgar_fraction(sign: str, value: str) -> None:
    assert parse_length(f"2{sign} mm") == float(2 + Fraction(value))


@pytest.mark.parametrize(
    ("mm", "inches"),
    [
        (100, 3.94),
        (130, 5.12),
        (150, 5.91),
        (160, 6.30),
        (180, 7.09),
        (200, 7.87),
        (240, 9.45),
        (260, 10.24),
        (300, 11.81),
        (360, 14.17),
    ],
)
def test_fields_in_inches(mm: float, inches: float) -> None:
    """Computed: mm / 25.4 to two places."""
    assert round(mm / MM_PER_INCH, 2) == inches
    assert parse_length(f"{inches} in") == pytest.approx(mm, abs=0.005 * MM_PER_INCH)


@pytest.mark.parametrize(
    ("written", "sentence"),
    [
        ("42 mn", 'Did you mean "mm"? The units are mm, cm, m, in, ft and yd.'),
        ("3 inchs", 'Did you mean "inches"?'),
        ("3 furlongs", '"furlongs" in "3 furlongs" is not a unit known here. The units are mm, cm, m, in, ft and yd.'),
        ("1/0 in", '"1/0 in" divides by zero.'),
        ("1 2/0 in", "divides by zero"),
        ("", "the length is empty."),
        (" \t ", "the length is empty."),
        ("inf", "the length is not a finite number."),
        ("-Infinity", "the length is not a finite number."),
        ("nan", "the length is not a finite number."),
        (float("inf"), "the length is not a finite number."),
        (float("nan"), "the length is not a finite number."),
        (10**400, "the length is not a finite number."),
        ("9" * 400, "too long"),
        ("5/8", '"5/8" has no unit. Write "5/8 in" for inches'),
        ("1,000 mm", '"1,000 mm" can be read as 1000 or as 1.000.'),
        ("1 2 mm", "is not a length"),
        ("3 mm 4 in", "is not a length"),
        ("3 in 4 ft", "is not a length"),
        ("1..5 mm", "is not a length"),
        ("--3", "is not a length"),
        ("mm", "is not a length"),
        (True, "True is not a length."),
        (None, "None is not a length."),
        ([3], "[3] is not a length."),
    ],
)
def test_says_what_it_cannot_read(written: object, sentence: str) -> None:
    with pytest.raises(MeasureError, match=re.escape(sentence)):
        parse_length(written)


@pytest.mark.parametrize(
    ("mm", "options", "shown"),
    [
        (42.0, {}, "42 mm"),
        (42.5, {}, "42.5 mm"),
        (42.04, {}, "42 mm"),
        (100.0, {"places": 0}, "100 mm"),
        (0.05, {"places": 2}, "0.05 mm"),
        (3.456, {"places": 2}, "3.46 mm"),
        (99.96, {}, "100 mm"),
        (-0.04, {}, "0 mm"),
        (-0.5, {}, "-0.5 mm"),
        (0.0, {}, "0 mm"),
        (1e-300, {}, "0 mm"),
        (41.275, {"system": "inch"}, "1 5/8 in"),
        (41.275, {"system": "inch", "denominator": 4}, "1 1/2 in"),
        (12.7, {"system": "inch"}, "1/2 in"),
        (-12.7, {"system": "inch"}, "-1/2 in"),
        (-41.275, {"system": "inch"}, "-1 5/8 in"),
        (25.4, {"system": "inch"}, "1 in"),
        (25.39999, {"system": "inch"}, "1 in"),
        (25.4 * 2 - 0.79, {"system": "inch"}, "2 in"),
        (25.4 * 2 - 0.80, {"system": "inch"}, "1 15/16 in"),
        (-0.3, {"system": "inch"}, "0 in"),
        (0.0, {"system": "inch"}, "0 in"),
        (25.4 / 64, {"system": "inch", "denominator": 64}, "1/64 in"),
        (25.4 / 64, {"system": "inch"}, "0 in"),
    ],
)
def test_shows(mm: float, options: dict[str, object], shown: str) -> None:
    assert show_length(mm, **options) == shown  # type: ignore[arg-type]


@given(ORDINARY, st.integers(0, 4))
def test_what_is_shown_in_mm_reads_back_within_half_the_last_place(mm: float, places: int) -> None:
    assert abs(parse_length(show_length(mm, places=places)) - mm) <= 0.5 * 10**-places + 1e-9


@given(ORDINARY, st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_what_is_shown_in_inches_reads_back_within_half_a_fraction(mm: float, denominator: int) -> None:
    shown = show_length(mm, "inch", denominator=denominator)
    assert abs(parse_length(shown) - mm) <= 0.5 * MM_PER_INCH / denominator + 1e-9


@given(ORDINARY, st.sampled_from([2, 3, 8, 16, 64]))
def test_fractions_are_proper_and_in_lowest_terms(mm: float, denominator: int) -> None:
    shown = show_length(mm, "inch", denominator=denominator)
    fraction = re.search(r"(\d+)/(\d+)", shown)
    assert re.fullmatch(r"0 in|-?[1-9]\d* in|-?([1-9]\d* )?[1-9]\d*/[1-9]\d* in", shown)
    if fraction:
        top, bottom = int(fraction[1]), int(fraction[2])
        assert top < bottom
        assert Fraction(top, bottom).denominator == bottom


@given(st.text(max_size=12))
def test_any_text_is_a_length_or_a_sentence(text: str) -> None:
    try:
        mm = parse_length(text)
    except MeasureError:
        return
    assert math.isfinite(mm)


def test_infinity_is_not_shown() -> None:
    with pytest.raises(MeasureError, match="finite"):
        show_length(float("inf"))
