"""A stitching as the commands of a machine file: whole tenths of a millimetre, and nothing that no format has.

Every format knows a penetration, a move with the needle up (or, in vp3, none), perhaps a cut, and the change of thread.
None but the change makes every machine wait, so a stop is written as a change to the thread already on the needle. A
stop that ends its thread block, but for a cut, is the change to the next block: the machine waits once.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from typing import Any

import numpy as np
from numpy.typing import NDArray

from festoon.errors import StitchFileError
from festoon.stitches.stitching import Act, Stitching
from festoon.stitches.thread import Thread

UNIT = 0.1
"""The grid of every home machine's file, mm (the open descriptions of the formats)."""

FARTHEST = 2000.0
"""No record may lie farther than this from the middle of the field, mm: no machine reaches 2 m (own limit)."""


class Command(IntEnum):
    """What a machine file can tell a machine; the first four are those of `Act`."""

    STITCH = 0
    MOVE = 1
    TRIM = 2
    STOP = 3
    CHANGE = 4
    CHOICE = 5  # a change, unless nothing has been done yet: then it only names the first thread (read, never written)


Orders = NDArray[Any]
"""(n, 3), a row an order: x and y of the needle after it, in units of 0.1 mm, y down, and its `Command`."""


def waits(orders: Orders) -> NDArray[np.bool_]:
    """(n,) true where the machine waits: at a stop and at a change, which in the file are the same."""
    return np.asarray(orders[:, 2] >= Command.STOP, np.bool_)


def last(chosen: NDArray[np.bool_]) -> NDArray[np.intp]:
    """(n,) where the last true one up to each stands; -1 before the first."""
    return np.maximum.accumulate(np.where(chosen, np.arange(len(chosen)), -1))


def at_last(chosen: NDArray[np.bool_], orders: Orders) -> Orders:
    """(n, 2) the place of the last chosen order up to each; the middle of the field before the first."""
    return np.asarray(np.vstack([np.zeros((1, 2), orders.dtype), orders[:, :2]])[last(chosen) + 1])


def ways(orders: Orders) -> Orders:
    """(n, 2) how far the needle goes to each order, from the middle of the field."""
    return np.diff(orders[:, :2], axis=0, prepend=0)


@dataclass(frozen=True, slots=True, eq=False)
class Programme:
    """Orders in whole units, and the thread on the needle before the first wait and after each."""

    orders: Orders
    threads: tuple[Thread, ...]


def programme(stitching: Stitching) -> Programme:
    """The stitching as orders, its points rounded to the 0.1 mm grid.

    Moves in a row become one and a move to where the needle stands falls away; so does a cut where nothing has been
    sewn since the last one. Raises StitchFileError for a point that is no number or beyond `FARTHEST`.
    """
    _check_points(stitching)
    acts, thread = stitching.acts.astype(int), stitching.thread
    edges = np.flatnonzero(np.diff(thread)) + 1
    ends = last(acts != Act.TRIM)[edges - 1]
    waited = (ends >= np.concatenate([[0], edges])[:-1]) & (acts[ends] == Act.STOP)
    changes, needle = edges[~waited], thread.copy()
    needle[ends[waited]] = thread[edges[waited]]
    # every row: an order, and the index of the thread on the needle after it
    rows = np.column_stack([np.rint(stitching.points / UNIT).astype(int), acts, needle])
    there = np.flatnonzero((acts == Act.TRIM) | (acts == Act.STOP))
    before = np.vstack([rows[changes - 1], rows[there]])
    before[:, 2] = np.repeat([Command.CHANGE, Command.MOVE], [len(changes), len(there)])
    before[: len(changes), 3] = thread[changes]
    rows = merged(without_idle_cuts(np.insert(rows, np.concatenate([changes, there]), before, axis=0)))
    used = [*thread[:1].tolist(), *rows[waits(rows), 3].tolist()]
    return Programme(rows[:, :3], tuple(stitching.threads[k] for k in used))


def within_reach(orders: Orders, reach: int) -> Orders:
    """The same orders with every long way cut into equal moves, so that none exceeds `reach` units on an axis.

    The last part of a long stitch stays a stitch, so no penetration is added, lost or shifted. A way of m units on
    its longer axis takes ceil(m / reach) orders.
    """
    way = ways(orders)
    parts = np.maximum(1, -(-np.abs(way).max(axis=1) // reach))
    row = np.repeat(np.arange(len(orders)), parts)
    part = np.arange(1, len(row) + 1) - (np.cumsum(parts) - parts)[row]
    short = orders[row]
    short[:, :2] += np.rint(way[row] * part[:, None] / parts[row, None]).astype(int) - way[row]
    short[part < parts[row], 2] = Command.MOVE
    return short


def merged(orders: Orders) -> Orders:
    """The same orders with moves in a row joined and moves to nowhere left out."""
    moves = orders[:, 2] == Command.MOVE
    ends = moves & np.diff(moves, append=False)
    away = (orders[:, :2] != at_last(~moves, orders)).any(axis=1)
    return np.asarray(orders[~moves | (ends & away)])


def without_idle_cuts(orders: Orders) -> Orders:
    """The same orders without the cuts before which nothing has been sewn since the last cut or wait."""
    still = np.flatnonzero(orders[:, 2] != Command.MOVE)
    command = orders[still, 2]
    sewn = np.append(False, command == Command.STITCH)[:-1]
    return np.delete(orders, still[(command == Command.TRIM) & ~sewn], axis=0)


def _check_points(stitching: Stitching) -> None:
    with np.errstate(invalid="ignore"):
        sound = (np.abs(stitching.points) <= FARTHEST).all(axis=1)
    if not sound.all():
        k = int(np.flatnonzero(~sound)[0])
        x, y = stitching.points[k].tolist()
        raise StitchFileError(
            f"it lies at ({x:g}, {y:g}) mm, and no machine reaches farther than {FARTHEST / 1000:g} m.",
            where=f"record {k + 1}",
            remedy="Place the stitching near the middle of a hoop.",
        )
