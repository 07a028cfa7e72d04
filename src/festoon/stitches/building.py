"""The orders of a machine file, as its reader found them, become a Stitching."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from festoon.stitches.commands import Command, Orders, at_last, merged, without_idle_cuts
from festoon.stitches.stitching import Stitching
from festoon.stitches.thread import Thread

STAND_INS = tuple(
    Thread(colour)
    for colour in ("#2f6db5", "#c8412f", "#3f8a4d", "#e0a52a", "#7a4a9e", "#2a9d9a", "#d2698f", "#6b4a30")
)
"""Colours, one a block and over again, for files that carry none (dst, exp): unlike one another, and no more."""


def built(
    orders: Orders,
    threads: Sequence[Thread],
    jumps_for_trim: int | None = None,
    distance_for_trim: float | None = None,
) -> Stitching:
    """The stitching of orders, in 0.1 mm but not always whole; only stitches and moves need a place of their own.

    Moves in a row become one. `jumps_for_trim` moves in a row, or one farther than `distance_for_trim` (0.1 mm) on
    an axis, count as a cut, in formats that have no other. A cut where nothing has been sewn falls away. A change right
    after a change leaves a block of one stop, and blocks beyond the end of `threads` take the stand-ins.
    """
    placed = (orders[:, 2] == Command.STITCH) | (orders[:, 2] == Command.MOVE)
    orders = np.column_stack([at_last(placed, orders), orders[:, 2]])
    orders = without_idle_cuts(merged(_with_cuts(orders, jumps_for_trim, distance_for_trim)))
    orders = orders[np.cumsum(orders[:, 2] != Command.CHOICE) > 0]
    change = orders[:, 2] >= Command.CHANGE
    block = np.cumsum(change, dtype=np.int32) - change
    previous = np.append(Command.CHANGE, orders[:, 2])[:-1]
    stops = change & (previous >= Command.CHANGE)  # the block holds nothing else
    stops[-1:] |= (change & (previous != Command.STOP))[-1:]  # no block follows the last change
    kept = ~change | stops
    blocks = int(block[kept].max(initial=-1)) + 1
    known = [*threads[:blocks], *(STAND_INS[i % len(STAND_INS)] for i in range(len(threads), blocks))]
    acts = np.minimum(orders[kept, 2], Command.STOP).astype(np.uint8)
    return Stitching(orders[kept, :2] / 10, acts, block[kept], tuple(known))


def _with_cuts(orders: Orders, jumps: int | None, distance: float | None) -> Orders:
    """The orders with a cut before every run of moves that stands for one."""
    moves = orders[:, 2] == Command.MOVE
    first = np.flatnonzero(moves & np.diff(moves, prepend=False))
    final = np.flatnonzero(moves & np.diff(moves, append=False))
    cuts = np.column_stack([at_last(~moves, orders)[first], np.full(len(first), Command.TRIM)])
    told = np.zeros(len(first), bool)
    if jumps is not None:
        told |= final - first + 1 >= jumps
    if distance is not None:
        told |= np.abs(orders[final, :2] - cuts[:, :2]).max(axis=1) > distance
    return np.insert(orders, first[told], cuts[told], axis=0)
