"""Following a line: what is left free at its ends, how far above it, and whether it closes."""

from typing import Literal

import pytest

from festoon.errors import PieceError
from festoon.techniques.base import element_of_line
from festoon.techniques.course import Following, course_of, needs

from .toy import setting


class Row(Following):
    kind: Literal["row"] = "row"


def row(**words):
    return Row(name="it", **words)


def test_the_line_itself():
    course = course_of(row(along="hem"), setting())
    assert course.path.length == pytest.approx(260.0)
    assert not course.closes


def test_ends_are_left_free_and_up_is_above_a_hem_drawn_to_the_right():
    course = course_of(row(along="hem", begin=10, end=30, up=25), setting())
    assert course.path.start == pytest.approx([30.0, 175.0])
    assert course.path.end == pytest.approx([250.0, 175.0])


def test_a_circle_moved_outwards_has_the_longer_way_round():
    """2 pi (r + d), any geometry handbook; drawn clockwise, so that its left is outside."""
    course = course_of(row(along="round", up=10), setting())
    assert course.closes
    assert course.path.length == pytest.approx(2 * 3.14159265 * 110, rel=1e-4)


def test_a_hem_that_is_seamed_closes_unless_an_end_is_left_free():
    assert course_of(row(along="hem"), setting(loops=["hem"])).closes
    assert not course_of(row(along="hem", begin=1), setting(loops=["hem"])).closes


def test_no_line_left_is_told():
    with pytest.raises(PieceError, match="use up a line of 260 mm"):
        course_of(row(along="hem", begin=200, end=60), setting())


def test_another_elements_line_makes_it_lean_on_that_element():
    assert needs(row(along="lace/lower")) == ("lace",)
    assert needs(row(along="hem")) == ()
    assert element_of_line("M 0 0 H 10") == ()
