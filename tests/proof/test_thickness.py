"""The map of thickness: nothing lost, every piece in its own cell, and the layers of worked fills."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, box, union_all

from festoon.measure import thread_diameter
from festoon.plane import Pose
from festoon.proof.thickness import thickness
from festoon.stitches import Act, Stitching, Thread, from_points
from festoon.stitches.lay import fill

USUAL, THICK = Thread("#204080"), Thread("#804020", 80.0)
ANYWHERE = st.floats(-30, 30)
ON_GRID = st.integers(-60, 60).map(lambda n: n / 4)
POINTS = st.lists(st.tuples(ANYWHERE | ON_GRID, ANYWHERE | ON_GRID), min_size=1, max_size=30)
ACTS = st.lists(st.sampled_from([Act.STITCH, Act.STITCH, Act.STITCH, Act.MOVE, Act.TRIM]), min_size=30, max_size=30)


@st.composite
def stitchings(draw):
    points = draw(POINTS)
    acts = draw(ACTS)[: len(points)]
    change = draw(st.integers(0, len(points)))
    return Stitching(np.array(points), np.array(acts), (np.arange(len(points)) >= change).astype(int), (USUAL, THICK))


def total(values):
    return float(values.sum(dtype=np.float64))


@given(st.lists(stitchings(), max_size=3), st.sampled_from([0.25, 0.3, 1.0, 100.0]))
def test_no_thread_and_no_hole_is_lost(several, cell):
    found = thickness(several, "front", cell)
    assert total(found.length) == pytest.approx(sum(s.laid_lengths().sum() for s in several), rel=1e-6, abs=1e-9)
    assert found.holes.sum() == sum(s.stitch_count for s in several)
    area = sum(
        float(s.laid_lengths() @ [thread_diameter(s.threads[k].tex) for k in s.thread[s.laid()]]) for s in several
    )
    assert total(found.layers) * cell**2 == pytest.approx(area, rel=1e-6, abs=1e-9)
    assert (found.length >= 0).all()
    assert found.length.shape == found.holes.shape == found.layers.shape


@given(st.lists(st.tuples(st.floats(0, 3), st.floats(0, 3)), min_size=1, max_size=6))
def test_each_cell_holds_what_lies_in_it(points):
    line = from_points(np.array(points) + np.array([0.0137, -0.0071]), USUAL)
    found = thickness([line], "front", 0.5)
    ways = [LineString(line.points[k : k + 2]) for k in range(len(points) - 1)]
    for row, column in np.ndindex(found.length.shape):
        x, y = found.origin[0] + 0.5 * column, found.origin[1] + 0.5 * row
        cell = box(x, y, x + 0.5, y + 0.5)
        on_border = any(w.intersection(cell.exterior).length > 1e-9 for w in ways)
        if not on_border:
            assert found.length[row, column] == pytest.approx(sum(w.intersection(cell).length for w in ways), abs=1e-6)
        inside = (line.points >= (x, y)).all(axis=1) & (line.points < (x + 0.5, y + 0.5)).all(axis=1)
        assert found.holes[row, column] == inside.sum()


@pytest.mark.parametrize(
    ("points", "length"),
    [
        ([(0, 0), (1, 0)], [[0.5, 0.5, 0.0]]),  # along a border: right of and below it
        ([(0.5, 0), (0.5, 1)], [[0.5], [0.5], [0.0]]),
        ([(1, 1), (0, 0)], np.diag([0.5, 0.5, 0.0]) * np.sqrt(2)),  # backward, through corners of cells
        ([(0.2, 0.2), (0.2, 0.2)], [[0.0]]),
        ([(0.1, 0.1), (0.4, 0.1), (0.4, 0.4)], [[0.6]]),
        ([(7.3, -2.2)], [[0.0]]),
    ],
)
def test_small_maps(points, length):
    found = thickness([from_points(points, USUAL)], "front", 0.5)
    assert found.length == pytest.approx(np.array(length), abs=1e-6)


def test_the_origin_is_a_whole_number_of_cells():
    found = thickness([from_points([(-1.1, 3.3), (2.0, 4.0)], USUAL)], "front", 0.5)
    assert found.origin == (-1.5, 3.0)
    assert found.length.shape == (3, 8)


def test_more_lines_than_one_chunk_hold_the_same():
    rng = np.random.default_rng(5)
    line = from_points(rng.uniform(0, 20, (10_000, 2)), USUAL)
    whole = thickness([line], "front")
    halves = [line.part(0, 5001), line.part(5000, 10_000)]  # the middle hole in both
    assert total(whole.length) == pytest.approx(line.laid_lengths().sum(), rel=1e-7)
    assert thickness(halves, "front").length == pytest.approx(whole.length, rel=1e-5)


def test_threads_side_by_side_cover_what_their_buffers_cover():
    lines = [from_points([(0, y), (10, y + 0.5)], USUAL) for y in np.arange(0, 6, 1.0)]
    found = thickness(lines, "front")
    width = thread_diameter(USUAL.tex) / 2
    covered = union_all([LineString(line.points).buffer(width, cap_style="flat") for line in lines]).area
    assert total(found.layers) * found.cell**2 == pytest.approx(covered, rel=0.02)


@pytest.mark.parametrize("times", [1, 2])
def test_a_full_fill_is_one_layer(times):
    """Cover factor: thread diameter over line pitch, 0.195 / 0.2 = 0.98 for one full fill, 1.95 for two (computed)."""
    rows = fill(box(0, 0, 30, 30), angle=0, row=0.2, thread=USUAL).placed(Pose(0.03, 0.07))
    found = thickness([rows] * times, "front")
    inside = found.layers[20:100, 20:100]  # 5 to 25 mm, whole numbers of rows
    assert float(inside.mean()) == pytest.approx(0.975 * times, rel=0.01)


def test_nothing_sewn_gives_no_cells():
    found = thickness([], "front")
    assert found.length.shape == found.holes.shape == (0, 0)


@pytest.mark.parametrize("cell", [0.0, -1.0, float("nan")])
def test_a_cell_needs_a_size(cell):
    with pytest.raises(ValueError, match="no size"):
        thickness([], "front", cell)
