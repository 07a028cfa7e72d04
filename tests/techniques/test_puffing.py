"""Puffing: strip, rows and marks, against a sewing encyclopedia's figures and ring geometry."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.techniques.puffing import TECHNIQUE, laid, work
from festoon.techniques.puffing_words import Puffing

from .toy import setting


def puffing(**words):
    return Puffing(**{"kind": "puffing", "name": "it", "along": "hem", **words})


def figures(**words):
    return {f.what: f.value for f in work(puffing(**words), setting()).figures}


def test_a_straight_strip():
    # An encyclopedia of sewing machine techniques, as quoted: 2 1/2 to 1 and 1/2 in more at each long edge; finished
    # 450 x 30 mm is cut 1125 x 55.4 mm.
    one = laid(puffing(along="M 0 0 H 450", allowance=0, piece=None), setting())
    assert one.cut.total == pytest.approx(1125)
    assert one.cut_width == pytest.approx(55.4)


@given(st.floats(20, 140), st.floats(0.05, 0.9), st.floats(1, 4))
def test_a_ring_has_edges_as_its_radii_and_each_its_own_fullness(radius, share, fullness):
    width = share * radius
    half = f"A {radius} {radius} 0 0 1 150"
    around = f"M 150 {150 - radius} {half} {150 + radius} {half} {150 - radius} Z"
    one = laid(puffing(along=around, width=width, fullness=fullness), setting())
    outer, inner = one.puffed.upper.length, one.puffed.lower.length
    assert outer / inner == pytest.approx(radius / (radius - width))
    assert one.strip == pytest.approx(fullness * 2 * math.pi * (radius - width / 2))
    assert (one.strip / outer) / (one.strip / inner) == pytest.approx((radius - width) / radius)


@given(st.floats(1, 4), st.floats(10, 250))
def test_a_straight_strip_is_never_shorter_than_its_line(fullness, length):
    one = laid(puffing(along=f"M 10 100 h {length}", fullness=fullness), setting())
    assert one.strip == pytest.approx(fullness * length)
    assert one.cut.total > one.strip >= length - 1e-9


def test_between_two_lines_of_unlike_length():
    told = figures(along="M 20 20 H 200", lower="M 220 60 H 10")
    assert (told["upper edge, finished"], told["lower edge, finished"]) == ("180 mm", "210 mm")
    assert told["fullness at the upper edge"] == "2.71"
    assert told["fullness at the lower edge"] == "2.32"
    assert told["second quarter mark"] == "the strip at 256.4 mm, the upper line at 90 mm, the lower line at 105 mm"
    (area,) = work(puffing(along="M 20 20 H 200", lower="M 220 60 H 10"), setting()).areas
    assert area.material == "cloth"
    assert area.region.area == pytest.approx(40 * 195)


def test_free_ends_and_up_hold_for_both_lines():
    one = laid(puffing(along="M 20 20 H 200", lower="M 20 60 H 220", begin=10, end=5, up=3), setting())
    assert one.puffed.upper.start.tolist() == pytest.approx([30, 17])
    assert one.puffed.lower.end.tolist() == pytest.approx([215, 57])


def test_a_strip_longer_than_the_cloth_is_wide_is_joined():
    assert figures(piece=None)["to cut"] == "675.4 mm"
    assert figures(piece=400)["to cut"] == "2 pieces of 350.4 mm, 700.8 mm in all"
    assert figures(piece=400)["joins"] == "1"


def test_quarter_marks_stand_on_both_lines_outside_of_it():
    ticks = [line for line in work(puffing(), setting()).lines if line.role == "trace"]
    assert [t.label for t in ticks] == [f"{edge} {n}/4" for edge in ("upper", "lower") for n in (1, 2, 3)]
    assert [t.points.tolist() for t in ticks[::3]] == [[[85, 200], [85, 196]], [[85, 230], [85, 234]]]


def test_gathering_thread_runs_along_every_row_of_both_edges():
    # Computed: straight stitches of 4 mm through 0.3 mm take 2·4.3/4 = 2.15; two rows at two edges, 15 % waste.
    cloth, rows, sewn = work(puffing(), setting()).supplies
    assert (cloth.what, cloth.unit) == ("cloth for puffing, strips 55.4 mm wide", "mm")
    assert rows.quantity == pytest.approx(4 * 675.4 * 2.15 * 1.15)
    assert sewn.quantity == pytest.approx(2 * 260 * 2.3 * 1.15)


def test_it_needs_the_elements_of_both_its_lines():
    assert TECHNIQUE.needs(puffing()) == ()
    assert TECHNIQUE.needs(puffing(along="a/lower", lower="b/upper")) == ("a", "b")
    assert TECHNIQUE.needs(puffing(along="a/lower", lower="a/upper")) == ("a",)


def test_both_edges_are_lent_to_others():
    named = work(puffing(lies="above", width=20), setting()).named
    assert named["upper"].at(0).tolist() == pytest.approx([20, 180])
    assert named["lower"].at(0).tolist() == pytest.approx([20, 200])
