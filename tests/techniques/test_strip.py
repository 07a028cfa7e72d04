"""Strips by the metre: how they are cut, joined and told."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from festoon.measure import show_length
from festoon.techniques.strip import Amiss, Cut, Strip, cut, cut_told, finding, laid_along, said
from festoon.work.values import Amount, Mend

from .toy import setting


def strip(**words):
    return Strip(**{"name": "it", "along": "hem", "width": 10, **words})


def test_one_piece_has_an_allowance_at_both_ends():
    assert cut(strip(allowance=12.5), 300, False) == Cut(1, 325, False)


def test_pieces_are_as_few_and_as_equal_as_may_be():
    made = cut(strip(allowance=10, piece=400), 1000, False)
    assert (made.pieces, made.joins) == (3, 2)
    assert made.each == pytest.approx(1000 / 3 + 20)


def test_the_pattern_is_matched_at_every_join_and_where_it_closes():
    assert cut(strip(pattern=15), 600, True).total == pytest.approx(615)
    assert cut(strip(pattern=15), 600, False).total == pytest.approx(600)
    assert cut(strip(pattern=15, piece=400), 600, False).total == pytest.approx(615)


@given(st.floats(1, 5000), st.floats(0, 30), st.floats(0, 20), st.floats(90, 900), st.booleans())
def test_no_piece_is_longer_than_there_is_and_one_fewer_would_not_do(sewn, allowance, pattern, piece, closes):
    words = strip(allowance=allowance, pattern=pattern, piece=piece)
    made = cut(words, sewn, closes)
    assert made.each <= piece + 1e-3
    assert made.total == pytest.approx(sewn + made.pieces * 2 * allowance + made.joins * pattern)
    if made.pieces > 1:
        fewer = made.pieces - 1
        joins = fewer if closes else fewer - 1
        assert (sewn + fewer * 2 * allowance + joins * pattern) / fewer > piece - 1e-3


def test_a_piece_shorter_than_its_allowances_is_refused():
    with pytest.raises(ValidationError, match="no longer than the allowances"):
        strip(allowance=30, piece=60)


@pytest.mark.parametrize(("lies", "low", "high"), [("above", 190, 200), ("below", 200, 210), ("middle", 195, 205)])
def test_where_it_lies_of_the_line(lies, low, high):
    _, laid = laid_along(strip(lies=lies), setting())
    _, top, _, bottom = laid.region.bounds
    assert (top, bottom) == pytest.approx((low, high))


def test_a_loop_through_a_seam_closes_though_its_ends_lie_apart():
    course, laid = laid_along(strip(), setting(loops=("hem",), hem="M 20 200 H 280"))
    assert course.closes
    assert laid.course.length == pytest.approx(260)


def test_what_is_cut_in_words():
    assert cut_told(Cut(1, 520.0, False), "mm") == "cut 520 mm"
    assert cut_told(Cut(3, 420.0, False), "inch") == f"cut 3 pieces of {show_length(420.0, 'inch')}"


def test_a_gap_may_be_a_word_of_a_table_within():
    assert said("{stitch} on {along}, {along}", stitch="sewn.stitch").gaps == (
        ("stitch", "sewn.stitch"),
        ("along", "along"),
    )


def test_a_finding_offers_its_mends_first():
    amiss = Amiss("too wide", "look again", "It is.", "3", "2", "computed", Amount(3, "mm"), (1.00049, 2.0))
    one = finding(strip(), setting(), amiss, (Mend("Make width 2 mm", "it", "width", 2.0),), "smooth the line")
    assert one.remedy == "Make width 2 mm; or smooth the line."
    assert (one.where, one.at, one.about, one.panel) == ('"it" on front', (1.0, 2.0), ("it",), "front")
    assert finding(strip(), setting(), amiss, (), "smooth the line").remedy == "Smooth the line."
