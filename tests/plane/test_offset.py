"""Parallel curves: their side, their distance, their length."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString

from festoon.errors import PieceError
from festoon.plane import arc_through, circle, offset, polyline, through
from festoon.plane.offset import TOLERANCE


def test_positive_is_to_the_right_as_seen():
    right = offset([[0, 0], [10, 0]], 2)
    assert right.flatten().tolist() == [[0, 2], [10, 2]]  # y down: travelling right, the right hand is below
    assert offset([[0, 0], [0, 10]], 2).start == pytest.approx([-2, 0])
    assert offset([[0, 0], [10, 0]], -2).flatten().tolist() == [[0, -2], [10, -2]]


@given(st.floats(5, 200), st.floats(-4, 40), st.booleans())
@settings(max_examples=40)
def test_concentric_circles(radius, out, anticlockwise):
    path = circle([3, 4], radius)
    path = path.reversed() if anticlockwise else path
    parallel = offset(path, out if anticlockwise else -out)
    assert parallel.closed
    away = np.hypot(*(parallel.sample(1) - [3, 4]).T)
    assert away == pytest.approx(np.full(len(away), radius + out), abs=TOLERANCE)
    assert parallel.start == pytest.approx([3, 4 - radius - out], abs=0.2 * math.sqrt(radius + out))
    turned = parallel.trimmed(0, parallel.length / 4).end - [3, 4]
    assert turned[0] * (-1 if anticlockwise else 1) > 0  # travelled the same way round


@pytest.mark.parametrize("distance", [1.0, -1.0, 3.0, -3.0])
def test_every_point_lies_at_the_distance(distance):
    path = through([[0, 0], [20, -8], [45, 6], [60, 0]])
    parallel = offset(path, distance)
    away = shapely.distance(shapely.points(parallel.sample(0.5)), LineString(path.flatten(0.001)))
    assert away == pytest.approx(np.full(len(away), abs(distance)), abs=TOLERANCE)


def test_arc_length_of_a_parallel_arc():
    path = arc_through([0, 0], [40, 0], -20)  # a half circle over the top, clockwise
    assert offset(path, -5).length == pytest.approx(25 * math.pi, abs=0.01)
    assert offset(path, 5).length == pytest.approx(15 * math.pi, abs=0.01)


def test_corners_mitred_or_rounded():
    square = [[0, 0], [30, 0], [30, 30], [0, 30]]  # clockwise, so its outside is to the left
    assert offset(square, -5, closed=True).length == pytest.approx(120 + 8 * 5)  # mitre: 2w a corner, computed
    assert offset(square, -5, closed=True, corners="round").length == pytest.approx(120 + 2 * math.pi * 5, abs=0.01)
    assert offset(square, 5, closed=True).length == pytest.approx(80)
    assert offset(polyline([[0, 0], [30, 0], [30, 30]]), -5).length == pytest.approx(70)


def test_no_distance_gives_the_line():
    bent = polyline([[0, 0], [10, 0], [10, 5]])
    assert offset(bent, 0) == bent


@pytest.mark.parametrize(
    ("points", "distance"),
    [
        ([[0, 0], [10, 0], [10, 10], [0, 10]], 6),
        ([[0, 0], [10, 10], [10, 0], [0, 10]], 1),
        ([[0, 0], [20, 0], [20, 20], [11, 20], [11, 2], [9, 2], [9, 20], [0, 20]], 3),
        ([[0, 0], [10, 0], [10, 10], [0, 10]], math.nan),
    ],
)
def test_mistakes_are_told(points, distance):
    with pytest.raises(PieceError):
        offset(points, distance, closed=True)
