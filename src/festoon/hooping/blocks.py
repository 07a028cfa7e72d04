"""Parts -> blocks: what stays together in one hooping, and parts larger than the field divided.

A part that fits stays whole. One that does not is taken apart at trims, moves and thread changes; a run that is
still too large is cut between its rows, the next piece beginning some way back so that the two overlap. Where the
worker measured how far her stitching draws the cloth in, satin and fill are sewn that much wider.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray
from shapely import STRtree

from festoon.errors import HoopingError
from festoon.hooping.compensate import Widening, draw_in_known, widening
from festoon.hooping.fitting import Turns, extents, fits, hull_corners
from festoon.hooping.rows import is_satin_or_fill, row_ends
from festoon.hooping.values import Block
from festoon.piece.bench import Measured
from festoon.plane.pose import Points
from festoon.stitches import Stitching, Thread, from_points, stitched_region
from festoon.stitches.lay import lock
from festoon.work import Part

OVER = 0.01
"""mm2 that two stitched areas must share before one counts as lying over the other."""

NEAR = 1.0
"""mm; stitching this near to other stitching touches it (common practice: a wider gap shows in plain fill)."""

MOST_LONG_ROWS = 4
"""A run with more rows than this that are longer than the field is a fill (own choice): cut across its rows it
would come to hundreds of pieces, each over the one before."""

Size = tuple[float, float]
Fits = Callable[[Points], bool]
Piece = tuple[Stitching, Widening | None]
"""Stitching as drawn, and how it is widened."""


def blocks_of(
    parts: Sequence[Part],
    size: Size,
    turns: Turns,
    overlap: float,
    others: Mapping[str, Size] = {},
    measured: Measured | None = None,
) -> tuple[Block, ...]:
    """Blocks of all parts of one panel, in the order in which they lie, bottom first.

    size: the usable field, mm. overlap: how far a cut run is sewn over again, mm. measured: what satin and fill draw
    in and are widened by; None: all is sewn as drawn. Raises HoopingError where even a single row of stitching does
    not fit; it names the first of the `others` (hoop: usable field) that would do.
    """
    blocks: list[Block] = []
    for part in parts:
        whole_part = (part.stitching, _widened(part.stitching, measured))
        holds = fits(_sewn(*whole_part).holes, size, turns)
        pieces = [whole_part] if holds else _pieces(part, size, turns, overlap, others, measured)
        whole = len(pieces) == 1
        for k, (drawn, wider) in enumerate(pieces, start=1):
            stitching = _sewn(drawn, wider)
            blocks.append(
                Block(
                    name=part.name if whole else f"{part.name}/{k}",
                    part=part.name,
                    element=part.element,
                    order=len(blocks),
                    stitching=stitching,
                    region=part.region if whole else stitched_region(drawn),
                    corners=hull_corners(stitching.holes),
                    piece=0 if whole else k,
                    widened=wider,
                )
            )
    return tuple(blocks)


def lying_over(blocks: Sequence[Block]) -> tuple[tuple[int, int], ...]:
    """Index pairs (i, j), i < j, where the stitching of block j lies over that of block i."""
    return tuple((i, j) for i, j in _near(blocks, 0.0) if blocks[i].region.intersection(blocks[j].region).area > OVER)


def touching(blocks: Sequence[Block]) -> tuple[tuple[int, int], ...]:
    """Index pairs (i, j), i < j, whose stitching overlaps or comes within NEAR of each other."""
    return _near(blocks, NEAR)


def _near(blocks: Sequence[Block], distance: float) -> tuple[tuple[int, int], ...]:
    regions = np.array([b.region for b in blocks], dtype=object)
    found = STRtree(regions).query(regions, predicate="dwithin", distance=distance)
    return tuple(sorted((int(i), int(j)) for i, j in found.T if i < j))


def _widened(block: Stitching, measured: Measured | None) -> Widening | None:
    return widening(block, drawing) if (drawing := _drawing(block, measured)) else None


def _drawing(block: Stitching, measured: Measured | None) -> Measured | None:
    """What was measured, where the block draws in so."""
    return measured if measured is not None and draw_in_known(measured) and is_satin_or_fill(block) else None


def _sewn(drawn: Stitching, wider: Widening | None) -> Stitching:
    return drawn if wider is None else wider.sewn(drawn)


def _fit(size: Size, turns: Turns, drawing: Measured | None) -> Fits:
    """Whether the field holds part of a run, widened by its own draw-in as each of its pieces will be."""

    def fit(points: Points) -> bool:
        wider = widening(from_points(points, Thread()), drawing) if drawing else None
        return fits(points if wider is None else wider.of(points), size, turns)

    return fit


def _pieces(
    part: Part, size: Size, turns: Turns, overlap: float, others: Mapping[str, Size], measured: Measured | None
) -> list[Piece]:
    pieces: list[Piece] = []
    for start, stop in part.stitching.runs():
        run = part.stitching.part(start, stop)
        drawing = _drawing(run, measured)
        fit = _fit(size, turns, drawing)
        spans = [(0, len(run))] if fit(run.points) else cut_run(run.points, fit, overlap)
        if spans is None:
            larger = (n for n, s in others.items() if cut_run(run.points, _fit(s, turns, drawing), overlap) is not None)
            freely = cut_run(run.points, _fit(size, Turns(free=True), drawing), overlap) is not None
            raise _out_of_reach(part, _sewn(run, _widened(run, drawing)), size, next(larger, None), freely, drawing)
        last = len(spans) - 1
        for k, (a, b) in enumerate(spans):
            piece = run.part(a, b)
            pieces.append((lock(piece, start=k > 0, end=k < last), widening(piece, drawing) if drawing else None))
    return pieces


def cut_run(points: Points, fit: Fits, overlap: float) -> list[tuple[int, int]] | None:
    """Half-open index ranges that cut an uncut run (n, 2) into pieces that each fit; None where no cut helps.

    Each piece is the longest that fits and ends at the end of a row (where the thread turns back) if it holds a
    whole one, else at any stitch, but not in a fill. The next begins so far back that the middles of the rows at
    either end of the shared stretch lie at least `overlap` mm apart, though never before the middle of the piece, and
    shares just its first hole where there is no room for more.
    """
    turns = row_ends(points)
    spans: list[tuple[int, int]] = []
    start = reached = 0
    while True:
        stop = _longest(points, start, fit)
        if stop == len(points):
            return [*spans, (start, stop)]
        rows = turns[(turns > max(reached, start + 1)) & (turns < stop)]
        end = next((r + 1 for r in rows[::-1].tolist() if fit(points[start : r + 1])), stop)
        if end - 1 <= reached or (not len(rows) and _is_long_fill(points, turns, fit)):
            return None
        spans.append((start, end))
        reached = end - 1
        start = max(_back(points, turns, reached, overlap), (start + reached) // 2)
        while start < reached and not fit(points[start : reached + 2]):
            start += 1


def _is_long_fill(points: Points, turns: NDArray[np.intp], fit: Fits) -> bool:
    edges = itertools.pairwise([0, *turns.tolist(), len(points) - 1])
    long_rows = (None for a, b in edges if not fit(points[a : b + 1]))
    return len(list(itertools.islice(long_rows, MOST_LONG_ROWS + 1))) > MOST_LONG_ROWS


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
    middles = (points[row[:-1]] + points[row[1:]]) / 2
    far = np.flatnonzero(np.hypot(*(middles - middles[-1]).T) >= overlap)
    return int(row[far[-1]]) if len(far) else int(row[0])


def _out_of_reach(
    part: Part, run: Stitching, size: Size, larger: str | None, freely: bool, drawing: Measured | None
) -> HoopingError:
    """run: as it is sewn; freely: whether the hoop would reach it if it might be turned any way."""
    wider = ", widened by what it draws in," if drawing else ""
    turn = 'let the hoop be turned freely (turn = "free" under [hooping])'
    width, height = extents(run.holes, np.zeros(1))[0]
    return HoopingError(
        f"its stitching{wider} runs {width:.1f} x {height:.1f} mm without a place to divide it, and the field is "
        f"{size[0]:g} x {size[1]:g} mm: no hooping can reach it.",
        where=f'"{part.name}"',
        remedy=f'The hoop "{larger}" would do: set hoop = "{larger}" under [hooping].'
        if larger is not None
        else f"Choose a larger hoop, {f'{turn}, ' if freely else ''}or use a smaller motif.",
    )
