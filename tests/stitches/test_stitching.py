"""The laws of Stitching: what its parts, runs and joins keep."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.plane.pose import Pose
from festoon.stitches import Act, Stitching, Thread, empty, from_points, joined
from tests.stitches.making import LETTER_F, stitchings


@given(stitchings())
def test_runs_hold_every_stitch_once_in_order(s: Stitching) -> None:
    runs = s.runs()
    assert [k for a, b in runs for k in range(a, b)] == np.flatnonzero(s.is_stitch).tolist()
    for a, b in runs:
        assert len(set(s.thread[a:b].tolist())) == 1


@given(stitchings())
def test_runs_are_as_long_as_can_be(s: Stitching) -> None:
    for (_, b), (c, _) in zip(s.runs(), s.runs()[1:], strict=False):
        assert c > b or s.thread[c] != s.thread[b - 1]


@given(stitchings())
def test_laid_lines_are_the_insides_of_runs(s: Stitching) -> None:
    assert s.laid().tolist() == [k for a, b in s.runs() for k in range(a + 1, b)]
    assert s.laid_lengths().tolist() == pytest.approx(
        [float(np.hypot(*(s.points[k] - s.points[k - 1]))) for k in s.laid()]
    )


@given(stitchings(), st.data())
def test_part_keeps_records_and_their_threads(s: Stitching, data: st.DataObject) -> None:
    a = data.draw(st.integers(0, len(s)))
    b = data.draw(st.integers(a, len(s)))
    part = s.part(a, b)
    assert np.array_equal(part.points, s.points[a:b])
    assert np.array_equal(part.acts, s.acts[a:b])
    assert [part.threads[k] for k in part.thread] == [s.threads[k] for k in s.thread[a:b]]
    assert sorted(set(part.thread.tolist())) == list(range(len(part.threads)))


@given(st.lists(stitchings(), max_size=4), st.booleans(), st.booleans())
def test_joining_keeps_every_stitch_with_its_thread(pieces: list[Stitching], trim: bool, merge: bool) -> None:
    whole = joined(pieces, trim=trim, merge=merge)
    holes = [h for p in pieces for h in p.holes.tolist()]
    threads = [p.threads[k] for p in pieces for k in p.thread[p.is_stitch]]
    assert whole.holes.tolist() == holes
    assert [whole.threads[k] for k in whole.thread[whole.is_stitch]] == threads
    assert (np.diff(whole.thread) >= 0).all()
    assert sorted(set(whole.thread.tolist())) == list(range(len(whole.threads)))


@given(st.lists(stitchings(), max_size=4), st.booleans())
def test_joining_lays_no_thread_between_pieces(pieces: list[Stitching], trim: bool) -> None:
    apart = [p.placed(Pose(1000.0 * k, 0)) for k, p in enumerate(pieces)]
    whole = joined(apart, trim=trim)
    assert len(whole.laid()) == sum(len(p.laid()) for p in pieces)


def test_joining_with_merge_goes_on_in_the_same_block() -> None:
    thread = Thread("#123456")
    one, two = from_points([[0, 0], [1, 0]], thread), from_points([[9, 0], [8, 0]], thread)
    assert joined([one, two]).threads == (thread,)
    assert joined([one, two], merge=False).threads == (thread, thread)
    assert joined([one, two]).acts.tolist() == [0, 0, Act.TRIM, Act.MOVE, 0, 0]
    assert joined([one, two], trim=False).acts.tolist() == [0, 0, Act.MOVE, 0, 0]


def test_joining_nothing_gives_nothing() -> None:
    assert len(joined([])) == 0
    assert len(joined([empty(), empty()])) == 0
    assert empty().runs() == []
    assert empty().thread_blocks() == []


def test_the_letter_f() -> None:
    assert LETTER_F.bounds == (0, -16, 10, 0)
    assert LETTER_F.centre == (5, -8)
    assert LETTER_F.runs() == [(0, 5), (7, 9)]
    assert LETTER_F.thread_blocks() == [(0, 6), (6, 9)]
    assert LETTER_F.laid_lengths().tolist() == [8, 8, 5, 5, 6]


def test_no_stitches_no_bounds() -> None:
    with pytest.raises(ValueError, match="no stitches"):
        _ = empty().bounds


def test_arrays_are_read_only_and_of_one_length() -> None:
    with pytest.raises(ValueError, match="read-only"):
        LETTER_F.points[0, 0] = 1
    with pytest.raises(ValueError, match="lengths differ"):
        Stitching(np.zeros((2, 2)), np.zeros(1), np.zeros(2), (Thread(),))
    with pytest.raises(ValueError, match="thread index"):
        Stitching(np.zeros((1, 2)), np.zeros(1), np.ones(1), (Thread(),))
