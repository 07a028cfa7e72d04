"""How lace is sewn on: usual measures, needles, and the thread that it takes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from festoon.measure import NEEDLES, tex_from
from festoon.stitches.consumption import WASTE
from festoon.techniques.fastening import USUAL, Fastening, needle_finding, supply, thread_use, told, usual_needle

STITCHES = st.sampled_from(list(USUAL))


def each(**words):
    """mm of thread to a mm of seam."""
    return sum(thread_use(Fastening(**words), 1.0))


@pytest.mark.parametrize(
    ("words", "metres"),
    [
        ({"stitch": "butted zigzag"}, 5.985),  # computed: w 2.5, p 1.0, T 0.3 mm
        ({"stitch": "zigzag"}, 6.911),  # computed: w 2.0, p 0.7, T 0.3 mm
        ({"stitch": "straight", "length": 1.5}, 2.40),  # computed: C301 = 2 + 2·T·S
        ({"stitch": "straight and zigzag"}, 6.911 + 2.30),  # computed: both, the straight stitches 2.0 mm
        ({"stitch": "pin stitch"}, (3 * 5.6 + 2 * 4.6) / 2.5),  # computed: three along, two to the side
    ],
)
def test_thread_by_geometry(words, metres):
    assert each(**words) == pytest.approx(metres, abs=0.0006)


def test_lockstitch_of_a_seam_is_half_needle_half_bobbin():
    # A teaching page: a seam of 220 cm at 2.5 : 1 takes 275 cm of needle thread and as much bobbin thread.
    needle, bobbin = thread_use(Fastening(stitch="straight", length=1.2), 2200)
    assert (needle, bobbin) == pytest.approx((2750, 2750))


def test_usual_measures_of_heading_to_heading():
    # Heirloom teachers' pages: zigzag 2.5 wide and 1.0 long, insertion to cloth 2.0 wide and 0.7 long.
    assert told(Fastening(), "mm") == (
        "zigzag over both headings, butted, not lapped, 2.5 mm wide and 1 mm long, needle 65/9, thread of 60 wt"
    )
    cloth = Fastening(stitch="straight and zigzag")
    assert (cloth.wide, cloth.long) == (2.0, 0.7)


def test_every_word_written_is_told():
    words = Fastening(stitch="pin stitch", width=1.5, length=2, needle="70", thread="80 wt", rows=2)
    assert told(words, "mm") == (
        "pin stitch, the bite to the side 1.5 mm wide and 2 mm long, a plain needle 70/10, thread of 80 wt, 2 rows"
    )
    assert "0.098 in wide" in told(Fastening(), "inch")


@pytest.mark.parametrize(
    ("wt", "needle"),
    [(100, "60/8"), (80, "60/8"), (60, "65/9"), (50, "70/10"), (40, "75/11"), (30, "90/14"), (12, "100/16")],
)
def test_needle_by_the_thread(wt, needle):
    # Heirloom teachers' pages (two) for 60 and 80 wt; the rest common practice.
    assert usual_needle("zigzag", tex_from(wt, "wt")) == needle


def test_pin_stitch_takes_a_plain_90_or_what_heavier_thread_needs():
    assert Fastening(stitch="pin stitch").sewn_with == "90/14"
    assert Fastening(stitch="pin stitch", thread="12 wt").sewn_with == "100/16"


@given(STITCHES, st.floats(0.4, 5), st.floats(0.5, 5), st.integers(1, 5), st.floats(1, 5000))
def test_thread_grows_with_width_rows_and_length_and_is_never_less_than_the_seam(stitch, width, length, rows, mm):
    words = {"stitch": stitch, "width": width, "length": length}
    one = sum(thread_use(Fastening(**words), mm))
    assert one > 2 * mm
    assert sum(thread_use(Fastening(**words, rows=rows), mm)) == pytest.approx(rows * one)
    assert sum(thread_use(Fastening(**words), 2 * mm)) == pytest.approx(2 * one)
    wider = sum(thread_use(Fastening(**words | {"width": width + 1}), mm))
    assert wider > one or stitch == "straight"


def test_supply_adds_waste():
    bought = supply(Fastening(), 1000)
    assert (bought.what, bought.unit) == ("sewing thread, 60 wt", "mm")
    assert bought.quantity == pytest.approx(5985.2 * (1 + WASTE), abs=0.1)


def test_thick_thread_in_a_fine_needle_is_found_and_a_larger_needle_mends_it():
    # Computed: 30 wt cotton, 0.216 mm thick, fails a 75 needle (0.214) and passes an 80 (0.229).
    found = needle_finding(Fastening(thread="30 wt", needle="75"), "it", "front", "mm")
    assert found is not None
    assert (found.rule, found.figure, found.limit) == ("thread too thick for the needle", "0.22 mm", "0.21 mm")
    assert needle_finding(Fastening(thread="30 wt", needle="80"), "it", "front", "mm") is None


@given(STITCHES, st.sampled_from([80, 60, 50, 40, 30]))
def test_the_usual_needle_takes_its_thread(stitch, wt):
    words = Fastening(stitch=stitch, thread=f"{wt} wt")
    assert int(words.sewn_with.split("/")[0]) in NEEDLES
    assert needle_finding(words, "it", "front", "mm") is None


@pytest.mark.parametrize("words", [{"stitch": "blind"}, {"width": 0}, {"rows": 0}, {"needle": "77"}, {"thread": 60}])
def test_what_no_machine_sews_is_refused(words):
    with pytest.raises(ValidationError):
        Fastening(**words)
