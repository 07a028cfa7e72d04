"""Running stitch: even, no longer than asked, corners kept."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import PieceError
from festoon.plane import circle, polyline, through
from festoon.stitches.lay import bean, double_run, run
from festoon.stitches.thread import Thread

THREAD = Thread("#204080")
PATHS = {
    "straight": polyline([[0, 0], [50, 0]]),
    "bent": polyline([[0, 0], [21, 0], [20, 20], [50, 31]]),
    "curve": through([[0, 0], [20, -10], [45, 12], [60, 0]]),
    "circle": circle([5, 5], 12),
    "square": polyline([[0, 0], [31, 0], [31, 30], [0, 30]], closed=True),
    "shortest": polyline([[0, 0], [0.3, 0]]),
}
paths = st.sampled_from(sorted(PATHS)).map(PATHS.__getitem__)


def test_a_straight_line_of_ten_stitches():
    stitching = run(polyline([[0, 0], [25, 0]]), thread=THREAD)
    assert stitching.holes == pytest.approx(np.stack([np.arange(11) * 2.5, np.zeros(11)], axis=1))
    assert stitching.threads == (THREAD,)


@given(paths, st.floats(0.3, 6))
def test_no_stitch_is_longer_and_every_corner_has_a_hole(path, length):
    stitching = run(path, length, thread=THREAD)
    assert stitching.laid_lengths().max() <= length + 1e-9
    for place in (path.start, path.end, *path.points(path.corners())):
        assert np.hypot(*(stitching.holes - place).T).min() < 1e-9


@given(paths, st.floats(0.3, 6))
def test_no_more_stitches_than_needed(path, length):
    legs = len(path.corners()) + 1
    assert run(path, length, thread=THREAD).stitch_count <= path.length / length + legs + 1


def test_corners_nearer_than_a_needle_share_a_hole():
    path = polyline([[0, 0], [10, 0], [10, 0.2], [20, 0.2]])
    assert run(path, thread=THREAD).laid_lengths().min() > 1.5


@given(paths)
def test_double_run_comes_back_through_the_same_holes(path):
    once, twice = run(path, thread=THREAD).holes, double_run(path, thread=THREAD).holes
    assert twice == pytest.approx(np.concatenate([once, once[::-1][1:]]))


def test_bean_sews_every_stitch_three_times():
    path = PATHS["curve"]
    once, bold = run(path, thread=THREAD), bean(path, thread=THREAD)
    assert bold.laid_lengths().sum() == pytest.approx(3 * once.laid_lengths().sum())
    assert bold.stitch_count == 3 * (once.stitch_count - 1) + 1
    assert bold.holes[:5] == pytest.approx(once.holes[[0, 1, 0, 1, 2]])
    assert bold.holes[-1] == pytest.approx(once.holes[-1])


@pytest.mark.parametrize("length", [0, -1, float("nan"), float("inf")])
def test_mistakes_are_told(length):
    with pytest.raises(PieceError, match="running stitch cannot be"):
        run(PATHS["straight"], length, thread=THREAD)
