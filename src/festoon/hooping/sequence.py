"""The sewing within one hooping: blocks taken apart at their thread changes and put in an order of few changes.

What lies lower is sewn first wherever stitching meets; beyond that, one thread is used for all it can reach.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiLineString

from festoon.hooping.blocks import NEAR
from festoon.hooping.values import Block
from festoon.stitches import Act, Stitching, Thread, joined

WIDTH = 200
"""Beginnings of an order that are kept at each thread change: with no more than that the order is exactly the best
(computed: all hold until there are more)."""


@dataclass(frozen=True, slots=True)
class Unit:
    """What one block sews with one thread on the needle, from `start` to `end` (mm on the panel).

    block is the block's index and position the unit's place within it: units of one block keep their order.
    """

    block: int
    position: int
    thread: Thread
    start: tuple[float, float] = (0.0, 0.0)
    end: tuple[float, float] = (0.0, 0.0)


def assemble(blocks: Sequence[Block], pairs: Iterable[tuple[int, int]]) -> Stitching:
    """All stitching of the blocks, on the panel, in `sew_order`; every penetration once.

    pairs: indices (lower, upper) into blocks whose stitching meets. Units of such blocks keep that order where they
    come within NEAR of each other. Equal threads that follow each other become one thread block; between units the
    thread is cut and the frame moves.
    """
    units: list[Unit] = []
    sewn: list[Stitching] = []
    for b, block in enumerate(blocks):
        parts = (_without_ends(block.stitching.part(i, j)) for i, j in block.stitching.thread_blocks())
        for position, part in enumerate(p for p in parts if len(p)):
            (x0, y0), (x1, y1) = part.points[[0, -1]].tolist()
            units.append(Unit(b, position, part.threads[0], (x0, y0), (x1, y1)))
            sewn.append(part)
    order = sew_order(units, _meeting(units, sewn, pairs))
    return joined([sewn[k] for k in order])


def sew_order(units: Sequence[Unit], must_precede: Iterable[tuple[int, int]] = ()) -> tuple[int, ...]:
    """Indices of the units in an order of the fewest thread changes; from unit to unit the nearest that may follow.

    must_precede: index pairs (first, later); units of one block keep their own order besides. The changes are the
    fewest possible while no more than WIDTH different beginnings are worth keeping, else few. ValueError where the
    pairs contradict each other.
    """
    before = _before(units, must_precede)
    order: list[int] = []
    for run in _runs(units, before):
        order += _walk(run, units, before, order[-1] if order else None)
    return tuple(order)


def _without_ends(part: Stitching) -> Stitching:
    """The part from its first penetration or stop to its last: moves and cuts around it are made anew."""
    kept = np.flatnonzero((part.acts == Act.STITCH) | (part.acts == Act.STOP))
    return part.part(int(kept[0]), int(kept[-1]) + 1) if len(kept) else part.part(0, 0)


def _meeting(
    units: Sequence[Unit], sewn: Sequence[Stitching], pairs: Iterable[tuple[int, int]]
) -> list[tuple[int, int]]:
    """Index pairs of units, of blocks in pairs, whose thread comes within NEAR of each other."""
    paths = [_path(s) for s in sewn]
    shapely.prepare(paths)
    of_block: dict[int, list[int]] = {}
    for k, unit in enumerate(units):
        of_block.setdefault(unit.block, []).append(k)
    return [
        (i, j)
        for lower, upper in pairs
        for i in of_block.get(lower, ())
        for j in of_block.get(upper, ())
        if shapely.dwithin(paths[i], paths[j], NEAR)
    ]


def _path(sewn: Stitching) -> MultiLineString:
    """The thread as it lies on the cloth; a single hole, or a stop without any, as a line of no length."""
    runs = sewn.runs() or [(0, 1)]
    return MultiLineString([sewn.points[i:j] if j - i > 1 else sewn.points[[i, i]] for i, j in runs])


def _before(units: Sequence[Unit], must_precede: Iterable[tuple[int, int]]) -> list[int]:
    """For each unit the set, as bits, of those that come directly before it."""
    before = [0] * len(units)
    for first, later in must_precede:
        before[later] |= 1 << first
    by_block = sorted(range(len(units)), key=lambda k: (units[k].block, units[k].position))
    for first, later in itertools.pairwise(by_block):
        if units[first].block == units[later].block:
            before[later] |= 1 << first
    return before


def _runs(units: Sequence[Unit], before: Sequence[int]) -> list[list[int]]:
    """The units in runs of one thread, as few runs as can be.

    Once a thread is on the needle, sewing all that it can reach never costs a change later; so only the sequence of
    threads is searched, change by change, and a beginning that has sewn no more than another is dropped.
    """
    of_thread: dict[Thread, list[int]] = {}
    for k in _sorted(before):
        of_thread.setdefault(units[k].thread, []).append(k)
    beginnings: dict[int, list[list[int]]] = {0: []}
    whole = (1 << len(units)) - 1
    while whole not in beginnings:
        longer: dict[int, list[list[int]]] = {}
        for done, runs in beginnings.items():
            for same in of_thread.values():
                grown = done
                run = []
                for k in same:
                    if not grown >> k & 1 and not before[k] & ~grown:
                        grown |= 1 << k
                        run.append(k)
                if run:
                    longer.setdefault(grown, [*runs, run])
        beginnings = _kept(longer, [sum(1 << k for k in same) for same in of_thread.values()])
    return beginnings[whole]


def _sorted(before: Sequence[int]) -> list[int]:
    """Units such that each comes after all that must precede it."""
    order: list[int] = []
    done = 0
    while len(order) < len(before):
        ready = [k for k, needed in enumerate(before) if not done >> k & 1 and not needed & ~done]
        if not ready:
            raise ValueError("units that must each come before the other")
        order += ready
        done |= sum(1 << k for k in ready)
    return order


def _kept(beginnings: dict[int, list[list[int]]], threads: Sequence[int]) -> dict[int, list[list[int]]]:
    """The beginnings worth going on with: none within another, and at most WIDTH with the fewest threads left."""
    kept: list[int] = []
    for done in sorted(beginnings, key=lambda d: (sum(bool(t & ~d) for t in threads), -d.bit_count(), d)):
        if len(kept) == WIDTH:
            break
        if not any(done & ~other == 0 for other in kept):
            kept.append(done)
    return {done: beginnings[done] for done in kept}


def _walk(run: Sequence[int], units: Sequence[Unit], before: Sequence[int], last: int | None) -> list[int]:
    """The units of one run, each the nearest to the one before that may come next; the first of all the lowest."""
    left = set(run)
    order: list[int] = []
    while left:
        waiting = sum(1 << k for k in left)
        ready = sorted(k for k in left if not before[k] & waiting)
        if last is not None:
            x, y = units[last].end
            ready.sort(key=lambda k: round(float(np.hypot(units[k].start[0] - x, units[k].start[1] - y)), 6))
        last = ready[0]
        order.append(last)
        left.remove(last)
    return order
