"""Paths under affine maps, and written as SVG path data."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.plane import Arc, Bezier, Line, Path, circle, from_svg
from festoon.plane.affine import Matrix, carried, to_svg

SPOTS = st.tuples(st.floats(-500, 500), st.floats(-500, 500))
ARCS = st.builds(Arc, SPOTS, st.floats(1, 400), st.floats(-360, 360), st.floats(5, 360) | st.floats(-360, -5))
LINES = st.builds(Line, SPOTS, SPOTS).filter(lambda g: g.length > 1)
BEZIERS = st.builds(Bezier, SPOTS, SPOTS, SPOTS, SPOTS).filter(lambda g: g.length > 1)
PATHS = (ARCS | LINES | BEZIERS).map(lambda g: Path((g,)))
FIGURES = st.floats(-3, 3)
MAPS = st.tuples(FIGURES, FIGURES, FIGURES, FIGURES, st.floats(-50, 50), st.floats(-50, 50)).filter(
    lambda m: abs(m[0] * m[3] - m[1] * m[2]) > 0.1
)


@given(PATHS)
def test_what_is_written_reads_back_as_the_same(path: Path) -> None:
    back = from_svg(to_svg(path))
    s = np.linspace(0, path.length, 20)
    assert back.length == pytest.approx(path.length, rel=1e-7)
    assert back.points(s * back.length / path.length) == pytest.approx(path.points(s), abs=1e-4)
    assert {type(g) for g in back.segments} == {type(g) for g in path.segments}


def test_a_whole_circle_survives_being_written() -> None:
    back = from_svg(to_svg(circle((10, 20), 30)))
    assert back.closed
    assert back.length == pytest.approx(60 * math.pi)


@given(PATHS, MAPS)
def test_every_point_is_carried(path: Path, matrix: Matrix) -> None:
    """Compared at the parameters of the segments' quarters: an arc that becomes part of an ellipse keeps its angles."""
    a, b, c, d, e, f = matrix
    (segment,) = path.segments
    moved = carried(path, matrix).segments
    n = len(moved)
    want = segment.point(np.arange(n + 1) / n) @ np.array([[a, b], [c, d]]) + [e, f]
    got = np.array([*(g.start for g in moved), moved[-1].end])
    assert got == pytest.approx(want, abs=1e-6)
    middle = segment.point((np.arange(n) + 0.5) / n) @ np.array([[a, b], [c, d]]) + [e, f]
    assert np.array([g.point(0.5) for g in moved]) == pytest.approx(middle, abs=1e-3)


@pytest.mark.parametrize("mirror", [1.0, -1.0])
def test_circles_stay_circles_where_nothing_is_stretched(mirror: float) -> None:
    turn = math.radians(30)
    a, b = 2 * math.cos(turn), 2 * math.sin(turn)
    (arc,) = carried(Path((Arc((1, 2), 10, 15, 70),)), (a, b, -mirror * b, mirror * a, 5, 6)).segments
    assert isinstance(arc, Arc)
    assert (arc.radius, arc.sweep) == (pytest.approx(20), pytest.approx(mirror * 70))
