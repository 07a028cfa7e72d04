"""Where two stitched areas meet, over which line, and how far they overlap: all by plain geometry (computed)."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, affinity, box, union_all

from festoon.proof.contact import contact


def arc(radius, start, stop, width):
    a = np.radians(np.linspace(start, stop, 60))
    return LineString(radius * np.stack([np.cos(a), np.sin(a)], axis=1)).buffer(width / 2, cap_style="flat")


def test_a_band_of_overlap_is_crossed_the_short_way():
    met = contact(box(0, 0, 50, 40), box(48, 0, 90, 40))
    assert met.at == pytest.approx([49, 20], abs=1e-6)
    assert met.across == pytest.approx([1, 0], abs=1e-6)
    assert met.lap == pytest.approx(2.0, abs=0.01)
    assert not met.is_end


def test_across_points_from_the_first_to_the_second():
    assert contact(box(48, 0, 90, 40), box(0, 0, 50, 40)).across == pytest.approx([-1, 0], abs=1e-6)
    assert contact(box(0, 0, 40, 50), box(0, 48, 40, 90)).across == pytest.approx([0, 1], abs=1e-6)


def test_a_tucked_column_counts_along_its_own_direction():
    """3 mm of a column 2 mm wide lie on the patch: the overlap is longer than wide, yet it is the tuck that counts."""
    column, patch = box(-3, 9, 40, 11), box(-50, 0, 0, 20)
    met = contact(column, patch)
    assert met.is_end
    assert met.across == pytest.approx([-1, 0], abs=1e-6)
    assert met.lap == pytest.approx(3.0, abs=0.01)
    assert contact(patch, column).across == pytest.approx([1, 0], abs=1e-6)


def test_a_bent_column_counts_along_its_end():
    """A quarter of a ring that begins, going down, 4 mm inside a patch above it."""
    column, patch = arc(40, 0, 90, 2), box(20, -30, 60, 4)
    met = contact(patch, column)
    assert met.is_end
    assert met.across == pytest.approx([0, 1], abs=0.15)
    assert met.lap == pytest.approx(4.0, abs=0.4)


def test_a_column_that_stops_short_has_an_overlap_below_nought():
    met = contact(box(0, 0, 50, 20), box(50.8, 9, 90, 11))
    assert (met.is_end, met.lap) == (True, pytest.approx(-0.8))
    assert met.across == pytest.approx([1, 0], abs=1e-6)
    assert met.at[0] == pytest.approx(50.4, abs=0.01)


def test_a_column_that_crosses_does_not_end():
    met = contact(box(0, 0, 20, 60), box(-40, 29, 60, 31))
    assert not met.is_end


def test_a_column_that_lies_wholly_on_a_patch_does_not_end():
    met = contact(box(0, 0, 60, 60), box(5, 29, 55, 31))
    assert not met.is_end
    assert met.lap == pytest.approx(2.0, abs=0.01)


def test_a_column_beside_another_does_not_end():
    met = contact(box(0, 0, 60, 2), box(10, 1.5, 50, 20))
    assert not met.is_end
    assert met.across == pytest.approx([0, 1], abs=1e-6)
    assert met.lap == pytest.approx(0.5, abs=0.01)


def test_a_branched_shape_is_no_column():
    tree = union_all([box(-1, 0, 1, 40), *(box(-15, y, 15, y + 1.5) for y in (5, 15, 25, 35))])
    assert not contact(tree, box(-20, -20, 20, 2)).is_end


def test_areas_apart_meet_midway():
    met = contact(Point(0, 0).buffer(10), Point(20.5, 0).buffer(10))
    assert met.at == pytest.approx([10.25, 0], abs=0.01)
    assert met.across == pytest.approx([1, 0], abs=0.01)
    assert met.lap == pytest.approx(-0.5, abs=0.01)


def test_areas_that_only_touch_overlap_by_nought():
    met = contact(box(0, 0, 20, 20), box(20, 0, 40, 20))
    assert met.lap == 0.0
    assert met.across == pytest.approx([1, 0])
    assert met.at == pytest.approx([20, 10])


@given(st.floats(0.5, 6), st.floats(1, 3), st.floats(-180, 180), st.booleans())
def test_turned_and_swapped_it_is_the_same_meeting(tuck, width, turn, swapped):
    column, patch = (affinity.rotate(g, turn, origin=(0, 0)) for g in (box(-tuck, 0, 40, width), box(-50, -20, 0, 20)))
    met = contact(column, patch) if swapped else contact(patch, column)
    expected = np.array([np.cos(np.radians(turn)), np.sin(np.radians(turn))]) * (-1 if swapped else 1)
    assert met.is_end
    assert met.across == pytest.approx(expected, abs=1e-3)
    assert met.lap == pytest.approx(tuck, rel=0.02, abs=0.02)
