"""Bands that end in a seam: run on to it, cut along it."""

import math

import pytest

from festoon.plane import Pose, polyline
from festoon.shaping.band import band
from festoon.shaping.ends import cut_off, seamed

LEVEL = (Pose(0, 0, 0), Pose(100, 0, 0))
"""Ends of a level line of 100 mm."""

FALLING = polyline([(0, 0), (50, 50), (100, 0)])
"""Leaves and comes back at 45 degrees."""


def test_lace_leaning_away_from_the_seam_runs_on_to_it():
    """w·tan 45° of lace at either end (computed): as much as a mitre of the same two legs takes on each leg."""
    line = seamed(FALLING, LEVEL, -8)
    assert line.length == pytest.approx(FALLING.length + 16)
    course, over, region = cut_off(band(line, 8, "left"), LEVEL)
    assert course.length == pytest.approx(FALLING.length)
    assert over.start.tolist() == pytest.approx([0, -8 * math.sqrt(2)])
    assert region.bounds[::2] == pytest.approx((0, 100), abs=1e-6)


def test_lace_leaning_over_the_seam_is_cut_off():
    assert seamed(FALLING, LEVEL, 8).length == pytest.approx(FALLING.length)
    course, over, region = cut_off(band(FALLING, 8, "right"), LEVEL)
    assert course.length == pytest.approx(FALLING.length)
    assert over.end.tolist() == pytest.approx([100, 8 * math.sqrt(2)], abs=1e-6)
    assert region.bounds[::2] == pytest.approx((0, 100), abs=1e-6)


def test_lace_square_to_the_seam_stays_as_it_is():
    line = polyline([(0, 0), (100, 0)])
    laid = band(seamed(line, LEVEL, -8), 8, "left")
    course, over, region = cut_off(laid, LEVEL)
    assert (course.length, over.length) == (100, 100)
    assert region.area == pytest.approx(800)


def test_a_seam_nearly_along_the_lace_is_left_alone():
    steep = polyline([(0, 0), (2, 50), (100, 50), (100, 0)])
    laid = band(seamed(steep, LEVEL, -5), 5, "left")
    assert cut_off(laid, LEVEL)[0].start.tolist() == [0, 0]
