"""Tie-in and tie-off."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.stitches.lay import lock
from festoon.stitches.lay.lock import LOCK_STITCH
from festoon.stitches.stitching import Act, empty, from_points, joined
from festoon.stitches.thread import Thread

GREEN, RED = Thread("#208040"), Thread("#a02030")
places = st.tuples(st.integers(-200, 200), st.integers(-200, 200))
pieces = st.lists(
    st.builds(from_points, st.lists(places, min_size=1, max_size=12), st.sampled_from([GREEN, RED])), max_size=4
).map(joined)


def test_one_stitch():
    locked = lock(from_points([[0, 0], [10, 0]], GREEN))
    expected = [0, 0.7, 0, 0.7, 9.3, 10, 9.3, 10]
    assert locked.points[:, 0] == pytest.approx(expected)
    assert LOCK_STITCH == 0.7


def test_a_stitch_too_short_for_the_lock_is_halved():
    locked = lock(from_points([[0, 0], [1, 0]], GREEN))
    assert locked.points[:4, 0] == pytest.approx([0, 0.5, 0, 0.5])


def test_a_first_stitch_too_short_to_lock_in_is_looked_past():
    locked = lock(from_points([[0, 0], [0.2, 0], [0.2, 5], [0.2, 10]], GREEN))
    q = locked.points[1]
    assert np.hypot(*q) == pytest.approx(0.7)
    assert q[1] / q[0] == pytest.approx(25)


@given(pieces)
def test_holes_are_added_and_none_taken(stitching):
    locked = lock(stitching)
    old, new = [p.tolist() for p in stitching.points], iter([p.tolist() for p in locked.points])
    assert all(p in new for p in old)  # in the same order
    runs = stitching.runs()
    sewn = [stitching.points[a:b] for a, b in runs]
    lockable = sum(len(np.unique(p, axis=0)) > 1 for p in sewn)
    assert locked.stitch_count == stitching.stitch_count + 6 * lockable
    assert (locked.acts != Act.STITCH).sum() == (stitching.acts != Act.STITCH).sum()
    assert len(locked.runs()) == len(runs)
    assert locked.threads == stitching.threads


@given(pieces)
def test_every_run_keeps_its_ends(stitching):
    locked = lock(stitching)
    for (a, b), (c, d) in zip(stitching.runs(), locked.runs(), strict=True):
        before, after = stitching.points[a:b], locked.points[c:d]
        assert after[[0, -1]] == pytest.approx(before[[0, -1]])


def test_nothing_to_lock():
    assert len(lock(empty())) == 0
    assert len(lock(from_points([[1, 1]], GREEN))) == 1
    assert len(lock(from_points([[1, 1], [1, 1]], GREEN))) == 2
