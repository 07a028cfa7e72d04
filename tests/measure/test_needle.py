"""Needle sizes against the published table and rules."""

import re

import pytest

from festoon.errors import MeasureError
from festoon.measure import (
    FIBRE_DENSITY,
    NEEDLES,
    largest_thread,
    needle_nm,
    needle_text,
    parse_thread,
    thread_diameter,
)


def test_the_published_pairs() -> None:
    """Needle tables on three pages."""
    pairs = "60/8 65/9 70/10 75/11 80/12 85/13 90/14 95/15 100/16 110/18 120/19 125/20 130/21"
    assert " ".join(f"{nm}/{us}" for nm, us in NEEDLES.items()) == pairs


@pytest.mark.parametrize(
    ("written", "text"),
    [
        ("75/11", "75/11"),
        ("75", "75/11"),
        ("75/11 ", "75/11"),
        ("75 / 11", "75/11"),
        ("11/75", "75/11"),
        (75, "75/11"),
        (75.0, "75/11"),
        ("NM 80", "80/12"),
        ("nm80", "80/12"),
        ("12", "80/12"),
        ("US 12", "80/12"),
        ("120/20", "120/19"),
        ("20", "125/20"),
    ],
)
def test_reads_sizes(written: object, text: str) -> None:
    """Some print 120/20 for 120/19."""
    assert needle_text(written) == text
    assert needle_nm(written) == int(text.split("/")[0]) / 100


@pytest.mark.parametrize("size", NEEDLES)
def test_every_size_comes_back_by_either_number(size: int) -> None:
    full = f"{size}/{NEEDLES[size]}"
    assert needle_text(size) == needle_text(NEEDLES[size]) == needle_text(full) == full


@pytest.mark.parametrize(("us", "nm"), [(12, 80), (14, 90), (16, 100), (18, 110)])
def test_the_rule_below_us_19(us: int, nm: int) -> None:
    """An apparel teaching page: NM = 60 + 5·(US − 8), right up to 18; at 19 it gives 115 for the true 120."""
    assert 60 + 5 * (us - 8) == nm == round(100 * needle_nm(us))
    assert 60 + 5 * (19 - 8) == 115 != round(100 * needle_nm(19)) == 120


@pytest.mark.parametrize(
    ("size", "mm"), [(60, 0.171), (70, 0.200), (75, 0.214), (80, 0.229), (90, 0.257), (100, 0.286)]
)
def test_largest_thread(size: int, mm: float) -> None:
    """Computed from an eye of 0.40 blade (common practice) and 1.4 threads (published)."""
    assert largest_thread(size) == pytest.approx(mm, abs=5e-4)


def test_which_thread_passes_which_needle() -> None:
    """Computed: 40 wt rayon passes 75; 30 wt cotton fails 75, passes 80; 12 wt fails up to 110."""
    rayon = thread_diameter(parse_thread("120/2 den"))
    cotton30, cotton12 = (thread_diameter(parse_thread(f"{wt} wt"), FIBRE_DENSITY["cotton"]) for wt in (30, 12))
    assert rayon < largest_thread(75)
    assert largest_thread(75) < cotton30 < largest_thread(80)
    assert largest_thread(110) < cotton12


@pytest.mark.parametrize(
    ("written", "sentence"),
    [
        ("75/12", '"75/12" names two sizes: 75 is 75/11, and 12 is 80/12.'),
        ("77", '"77" is not a needle size known here. The sizes are 60/8, 65/9'),
        ("US 75", "is not a needle size known here"),
        ("NM 12", "is not a needle size known here"),
        ("75/99", "is not a needle size known here"),
        (75.5, '"75.5" is not a needle size known here.'),
        (-75, "is not a needle size known here"),
        ("sharp", "is not a needle size known here"),
        ("", "the needle size is empty."),
        (True, '"True" is not a needle size known here.'),
        (float("nan"), "is not a needle size known here"),
    ],
)
def test_says_what_it_cannot_read(written: object, sentence: str) -> None:
    with pytest.raises(MeasureError, match=re.escape(sentence)):
        needle_text(written)
