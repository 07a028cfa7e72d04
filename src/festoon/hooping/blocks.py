"""Parts -> blocks: what stays together in one hooping, and parts larger than the field divided.

A part that fits stays whole. One that does not is taken apart at trims, moves and thread changes; a run that is
still too large is cut between its rows, the next piece beginning some way back so that the two overlap.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray
from shapely import STRtree

from festoon.errors import HoopingError
from festoon.hooping.fitting import Turns, extents, fits, hull_corners
from festoon.hooping.values import Block
from festoon.piece import Hoop
from festoon.plane.pose import Points
from festoon.stitches import Stitching, stitched_region
from festoon.stitches.lay import lock
from festoon.work import Part

OVER = 0.01
"""mm2 that two stitched areas must share before one counts as lying over the other."""

NEAR = 1.0
"""mm; stitching this near to other stitching touches it (common practice: a wider gap shows in plain fill)."""

Fits = Callable[[Points], bool]


def blocks_of(
    parts: Sequence[Part], size: tuple[float, float], turns: Turns, overlap: float, bench: Sequence[Hoop] = ()
) -> tuple[Block, ...]:
    """Blocks of all parts of one panel, in the order in which they lie, bottom first.

    size: the usable field, mm. overlap: how far a cut run is sewn over again, mm. Raises HoopingError where even a
    single row of stitching does not fit; hoops on `bench` that would hold the part are named in it.
    """

    def fit(points: Points) -> bool:
        return fits(points, size, turns)

    blocks: list[Block] = []
    for part in parts:
        pieces = [part.stitching] if fit(part.stitching.holes) else _pieces(part, fit, overlap, size, bench)
        whole = len(pieces) == 1
        for k, stitching in enumerate(pieces, start=1):
            blocks.append(
                Block(
                    name=part.name if whole else f"{part.name}/{k}",
                    part=part.name,
                    element=part.element,
                    order=len(blocks),
                    stitching=stitching,
                    region=part.region if whole else stitched_region(stitching),
                    corners=hull_corners(stitching.holes),
                    piece=0 if whole else k,
                )
            )
    return tuple(blocks)


def lying_over(blocks: Sequence[Block]) -> tuple[tuple[int, int], ...]:
    """Index pairs (i, j), i < j, where the stitching of block j lies over that of block i."""
    return tuple(
        (i, j) for i, j in _near(blocks, 0.0) if blocks[i].region.intersection(blocks[j].region).area > OVER
    )


def touching(blocks: Sequence[Block]) -> tuple[tuple[int, int], ...]:
    """Index pairs (i, j), i < j, whose stitching overlaps or comes within NEAR of each other."""
    return _near(blocks, NEAR)


def _near(blocks: Sequence[Block], distance: float) -> tuple[tuple[int, int], ...]:
    regions = [b.region for b in blocks]
    found = STRtree(regions).query(regions, predicate="dwithin", distance=distance)
    return tuple(sorted((int(i), int(j)) for i, j in found.T if i < j))


def _pieces(
    part: Part, fit: Fits, overlap: float, size: tuple[float, float], bench: Sequence[Hoop]
) -> list[Stitching]:
    pieces = []
    for start, stop in part.stitching.runs():
        run = part.stitching.part(start, stop)
        if fit(run.holes):
            pieces.append(run)
            continue
        spans = cut_run(run.points, fit, overlap)
        if spans is None:
            raise _out_of_reach(part, run, size, bench)
        last = len(spans) - 1
        pieces.extend(
            lock(run.part(a, b), start=k > 0, end=k < last) for k, (a, b) in enumerate(spans)
        )
    return pieces


def cut_run(points: Points, fit: Fits, overlap: float) -> list[tuple[int, int]] | None:
    """Half-open index ranges that cut an uncut run (n, 2) into pieces that each fit; None where no cut helps.

    Each piece is the longest that fits and ends at the end of a row (where the thread turns back) if it holds a
    whole one, else at any stitch. The next begins so far back that the middles of the rows at either end of the
    shared stretch lie at least `overlap` mm apart, or shares just its first hole where there is no room for more.
    """
    turns = _row_ends(points)
    spans: list[tuple[int, int]] = []
    start = reached = 0
    while True:
        stop = _longest(points, start, fit)
        if stop == len(points):
            return [*spans, (start, stop)]
        rows = turns[(turns > max(reached, start + 1)) & (turns < stop)]
        end = int(rows[-1]) + 1 if len(rows) else stop
        if end - 1 <= reached:
            return None
        spans.append((start, end))
        reached = end - 1
        start = _back(points, turns, reached, overlap)
        while start < reached and not fit(points[start : reached + 2]):
            start += 1


def _row_ends(points: Points) -> NDArray[np.intp]:
    """Indices of holes where the thread turns back by more than a right angle."""
    d = np.diff(points, axis=0)
    return np.flatnonzero((d[1:] * d[:-1]).sum(axis=1) < 0) + 1


def _longest(points: Points, start: int, fit: Fits) -> int:
    """The greatest stop for which points[start:stop] fits (at least start + 1: one hole always does)."""
    low, high = start + 1, len(points)
    while low < high:
        middle = (low + high + 1) // 2
        if fit(points[start:middle]):
            low = middle
        else:
            high = middle - 1
    return low


def _back(points: Points, turns: NDArray[np.intp], at: int, overlap: float) -> int:
    """Where the next piece begins: the last row's end (or hole) that lies `overlap` behind hole `at`."""
    ends = turns[turns < at] if at in turns else np.arange(at)
    row = np.concatenate([ends, [at]])
    if len(row) < 2 or overlap <= 0:
        return at
    middles = np.array([(points[a] + points[b]) / 2 for a, b in zip(row[:-1], row[1:], strict=True)])
    far = np.flatnonzero(np.hypot(*(middles - middles[-1]).T) >= overlap)
    return int(row[far[-1]]) if len(far) else int(row[0])


def _out_of_reach(part: Part, run: Stitching, size: tuple[float, float], bench: Sequence[Hoop]) -> HoopingError:
    width, height = extents(run.holes, np.zeros(1))[0]
    larger = next((h for h in bench if fits(run.holes, h.field, Turns((0.0, 90.0)))), None)
    return HoopingError(
        f"its stitching runs {width:.1f} x {height:.1f} mm without a place to divide it, and the field is "
        f"{size[0]:g} x {size[1]:g} mm: no hooping can reach it.",
        where=f'"{part.name}"',
        remedy=f'The hoop "{larger.name}" would hold it: set hoop = "{larger.name}" under [hooping].'
        if larger
        else "Choose a larger hoop, allow the hoop to be turned, or use a smaller motif.",
    )

