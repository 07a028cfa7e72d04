"""The swatch sews just the sizes that are measured on it afterwards."""

from __future__ import annotations

import math

import numpy as np
import pytest

from festoon.errors import HoopingError
from festoon.stitches import FORMATS, Act, Thread, encode, read_bytes
from festoon.stitches.encoding import Format
from festoon.stitches.lay.limits import MAX_STITCH
from festoon.swatch import EXPECTED, swatch
from festoon.swatch.design import CROSSES, SIZE, blocks

THREAD = Thread("#9b2f42")
SWATCH = swatch((SIZE, SIZE), THREAD)


def test_nominal_sizes() -> None:
    assert {d.letter: d.nominal for d in EXPECTED} == {"a": 60, "b": 60, "c": 30, "d": 30, "e": 60, "f": 6}


@pytest.mark.parametrize("distance", EXPECTED, ids=lambda d: d.letter)
def test_holes_lie_where_it_is_measured(distance) -> None:
    """The outermost holes of the block lie on the two lines between which the distance is measured."""
    block = blocks(THREAD)[distance.block]
    axis = 0 if distance.level else 1
    if distance.block == "lines":  # the end bars stand across each end, a hole in their middle
        for end in (distance.start, distance.end):
            assert np.hypot(*(block.holes - end).T).min() == pytest.approx(0, abs=1e-9)
        return
    reach = block.holes[:, axis]
    assert (reach.min(), reach.max()) == pytest.approx((distance.start[axis], distance.end[axis]), abs=1e-9)


def test_stitches_run_as_the_distances_say() -> None:
    for name, along in (("fill", 0), ("bar", 1)):
        block = blocks(THREAD)[name]
        i = block.laid()
        way = np.abs(block.points[i] - block.points[i - 1])
        if name == "fill":  # the rows underneath run across, and are few
            assert way[:, along].sum() > 4 * way[:, 1 - along].sum()
        else:
            assert way[:, along].sum() > 20 * way[:, 1 - along].sum()


def test_it_fits_the_field_and_is_centred() -> None:
    assert SWATCH.bounds == pytest.approx((-37, -37, 37, 37), abs=1e-9)
    assert np.abs(SWATCH.points).max() < SIZE / 2
    assert SWATCH.laid_lengths().max() <= MAX_STITCH
    with pytest.raises(HoopingError, match=r"79 × 120 mm\. Choose a larger hoop"):
        swatch((79, 120), THREAD)


def test_blocks_keep_off_each_other() -> None:
    boxes = [b.bounds for name, b in blocks(THREAD).items() if name not in ("lines", "crosses")]
    for k, (left, top, right, bottom) in enumerate(boxes):
        for other in boxes[:k]:
            apart = max(left - other[2], other[0] - right, top - other[3], other[1] - bottom)
            assert apart > 1.0


def test_first_the_needle_check_then_the_lines() -> None:
    check = 2 * len(CROSSES)
    assert SWATCH.points[:check:2].tolist() == [list(c) for c in CROSSES]
    assert SWATCH.acts[:check].tolist() == [Act.MOVE, Act.STOP] * 4
    first = SWATCH.holes[: blocks(THREAD)["lines"].stitch_count]
    assert np.array_equal(first, blocks(THREAD)["lines"].holes)
    assert SWATCH.points[-1].tolist() == [0, 0]
    assert SWATCH.acts[-2:].tolist() == [Act.TRIM, Act.MOVE]


def test_every_cross_has_a_hole_in_its_middle() -> None:
    for cross in CROSSES:
        assert min(math.dist(cross, hole) for hole in blocks(THREAD)["crosses"].holes.tolist()) < 1e-9


@pytest.mark.parametrize("suffix", FORMATS)
def test_five_formats_hold_it(suffix: Format) -> None:
    read = read_bytes(encode(SWATCH, suffix), suffix)
    assert read.stitch_count == SWATCH.stitch_count
    assert np.abs(read.holes - SWATCH.holes).max() <= 0.05 + 1e-9  # half the files' step
    assert len(read.threads) == len(CROSSES) + 1
    for distance in EXPECTED:
        for end in (distance.start, distance.end):
            axis = 0 if distance.level else 1
            assert np.abs(read.holes[:, axis] - end[axis]).min() < 1e-6
