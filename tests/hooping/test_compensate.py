"""Stretched by just what the cloth gives back."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box

from festoon.hooping.compensate import compensated, direction_tensor
from festoon.piece.bench import Measured
from festoon.plane import Pose, circle
from festoon.stitches import Stitching, Thread, empty, from_points
from festoon.stitches.lay import fill, run

THREAD = Thread()
TURNS = st.floats(-180, 180)
SHARES = st.floats(0, 0.1)


def rows(turn: float) -> Stitching:
    """Parallel stitches of 4 mm only, none between the rows: cuts part them."""
    level = fill(box(-15, -15, 15, 15), angle=0, thread=THREAD)
    return level.placed(Pose(turn=turn))


def parallel(turn: float) -> Stitching:
    return from_points(np.array([[x, 0.0] for x in range(0, 33, 4)]), THREAD).placed(Pose(turn=turn))


@given(TURNS, SHARES, SHARES)
def test_drawing_in_undoes_it_where_all_stitches_run_one_way(turn: float, along: float, across: float) -> None:
    block = parallel(turn)
    wide = compensated(block, Measured(drawn_along=along, drawn_across=across))
    back = Pose(turn=-turn).apply(wide.points - block.centre)
    drawn = Pose(turn=turn).apply(back * [1 - along, 1 - across]) + block.centre
    assert drawn == pytest.approx(block.points, abs=1e-9)


def test_a_fill_of_30_mm_grows_as_reckoned() -> None:
    # computed: 30/(1 - 0.02) = 30.612 along; the short steps between rows (1.5 % of the thread) blend in a little
    wide = compensated(rows(0), Measured(drawn_along=0.02, drawn_across=0.0))
    left, top, right, bottom = wide.bounds
    assert right - left == pytest.approx(30 / 0.98, abs=0.015)
    assert bottom - top == pytest.approx(29.6, abs=0.015)


@given(TURNS, SHARES)
def test_it_turns_with_the_stitching(turn: float, along: float) -> None:
    measured = Measured(drawn_along=along, drawn_across=0.003)
    there = compensated(rows(0), measured).points
    # the middle of the bounds does not turn with it, so shapes are compared from their centroids
    turned = compensated(rows(turn), measured).points
    shape = Pose(turn=turn).apply(there)
    assert turned - turned.mean(axis=0) == pytest.approx(shape - shape.mean(axis=0), abs=1e-9)


def test_stitches_all_ways_alike_stretch_alike() -> None:
    ring = run(circle((0, 0), 20), 1.0, thread=THREAD)
    assert direction_tensor(ring) == pytest.approx(np.eye(2) / 2, abs=1e-9)
    wide = compensated(ring, Measured(drawn_along=0.02, drawn_across=0.01))
    radii = np.hypot(*(wide.points - wide.centre).T)
    mean = (1 / 0.98 + 1 / 0.99) / 2
    assert radii == pytest.approx(np.hypot(*(ring.points - ring.centre).T) * mean, abs=1e-9)


def test_nothing_measured_changes_nothing() -> None:
    block = rows(30)
    same = compensated(block, Measured())
    assert same.points == pytest.approx(block.points, abs=1e-12)
    wide = compensated(block, Measured(drawn_along=0.05))
    assert np.array_equal(wide.acts, block.acts)
    assert np.array_equal(wide.thread, block.thread)
    assert wide.threads == block.threads
    assert math.isclose(wide.centre[0], block.centre[0], abs_tol=1e-9)


@pytest.mark.parametrize("block", [empty(), from_points([[3, 4]], THREAD), from_points([[3, 4], [3, 4]], THREAD)])
def test_what_lays_no_thread_is_left(block: Stitching) -> None:
    assert compensated(block, Measured(drawn_along=0.1)) is block
