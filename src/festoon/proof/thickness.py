"""Stitchings of a panel -> how much thread and how many holes lie in each small square of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from festoon.measure import thread_diameter
from festoon.plane.pose import Points
from festoon.proof.values import Thickness
from festoon.stitches import Stitching

CELL = 0.25
"""mm, side of a square of the map: about one thread of the usual weight. Chosen."""
CHUNK = 4096
"""Stitches cut up at a time, so that the pieces stay in the processor's own memory. Chosen by trying."""

Floats = NDArray[np.float64]


def thickness(stitchings: Sequence[Stitching], panel: str, cell: float = CELL) -> Thickness:
    """The map of one panel, from all that is sewn on it (in any order; mm on the panel).

    Every laid line is cut where it crosses a border between cells and each piece counted in its own cell, so the
    map's `length` adds up to the sum of all `laid_lengths`. A point or line just on a border belongs to the cell right
    of or below it. Every penetration counts, laid line or not. Layers take each thread as round and of viscose
    (`thread_diameter`). The map reaches over the bounds of the holes, its origin a whole number of cells; no stitches
    give a map of no cells. ValueError for a cell of no size.
    """
    if not cell > 0:
        raise ValueError(f"a cell of {cell} mm has no size")
    holes = [s.holes for s in stitchings if s.stitch_count]
    if not holes:
        nothing = np.zeros((0, 0), np.float32)
        return Thickness(panel, cell, (0.0, 0.0), nothing, nothing.astype(np.int32), nothing)
    first = np.floor(np.min([h.min(axis=0) for h in holes], axis=0) / cell)
    columns, rows = (np.floor(np.max([h.max(axis=0) for h in holes], axis=0) / cell) - first + 1).astype(int).tolist()
    length, area = np.zeros(rows * columns), np.zeros(rows * columns)
    for diameter, lines in _by_diameter(stitchings):
        laid = np.zeros(rows * columns)
        for start, end in lines:
            for k in range(0, len(start), CHUNK):
                chunk = slice(k, k + CHUNK)
                _add_lines(laid, columns, start[chunk] / cell - first, end[chunk] / cell - first)
        laid *= cell
        length += laid
        area += laid * diameter
    counted = np.zeros(rows * columns, np.int32)
    for points in holes:
        column, row = (np.floor(points / cell) - first).astype(np.int64).T
        np.add.at(counted, row * columns + column, 1)
    shape = rows, columns
    return Thickness(
        panel=panel,
        cell=cell,
        origin=(float(first[0]) * cell, float(first[1]) * cell),
        length=length.reshape(shape).astype(np.float32),
        holes=counted.reshape(shape),
        layers=(area / cell**2).reshape(shape).astype(np.float32),
    )


def _by_diameter(stitchings: Sequence[Stitching]) -> Iterator[tuple[float, list[tuple[Points, Points]]]]:
    """Each thread diameter with the (start, end) points of all lines laid in it."""
    diameters = [np.array([thread_diameter(t.tex) for t in s.threads]) for s in stitchings]
    for diameter in sorted({float(d) for ds in diameters for d in ds}):
        lines = []
        for stitching, each in zip(stitchings, diameters, strict=True):
            laid = stitching.laid()
            laid = laid[each[stitching.thread[laid]] == diameter] if len(laid) else laid
            lines.append((stitching.points[laid - 1], stitching.points[laid]))
        yield diameter, lines


def _add_lines(into: Floats, columns: int, start: Points, end: Points) -> None:
    """Add the length of lines (n, 2) to the flat map `into`; everything in cells from the map's corner.

    Each line runs over its own whole number: line i from i to i + 1. Sorting start points and crossings together
    puts the pieces of all lines in order at once, and their lengths add up to the line's whatever the rounding.
    """
    n = len(start)
    way = end - start
    cuts = [_crossings(start[:, axis], end[:, axis]) for axis in (0, 1)]
    at = np.sort(np.concatenate([np.arange(n + 1.0), *(where for where, _ in cuts)]))
    line = np.repeat(np.arange(n), 1 + cuts[0][1] + cuts[1][1])
    share = np.diff(at)
    middle = at[:-1] + share / 2 - line
    column, row = (np.floor(start[line, axis] + middle * way[line, axis]).astype(np.int64) for axis in (0, 1))
    rows = len(into) // columns
    cell = np.clip(row, 0, rows - 1) * columns + np.clip(column, 0, columns - 1)
    np.add.at(into, cell, share * np.hypot(*way.T)[line])


def _crossings(start: Floats, end: Floats) -> tuple[Floats, NDArray[np.int64]]:
    """Where lines cross whole numbers strictly between start and end: (line + share of the way), and how many each."""
    low, high = np.minimum(start, end), np.maximum(start, end)
    first = np.floor(low) + 1
    count = np.maximum(np.ceil(high) - first, 0).astype(np.int64)
    line = np.repeat(np.arange(len(start)), count)
    rank = np.arange(len(line)) - np.repeat(np.cumsum(count) - count, count)
    share = (first[line] + rank - start[line]) / (end - start)[line]
    return line + np.clip(share, 0, 1), count
