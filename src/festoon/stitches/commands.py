"""A stitching as the commands of a machine file: whole tenths of a millimetre, and nothing that no format has.

Every format knows a penetration, a move with the needle up (or, in vp3, none), perhaps a cut, and the change of thread.
None but the change makes every machine wait, so a stop is written as a change to the thread already on the needle. A
stop that ends its thread block, but for a cut, is the change to the next block: the machine waits once.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum
from typing import NamedTuple

import numpy as np

from festoon.errors import StitchFileError
from festoon.stitches.stitching import Act, Stitching
from festoon.stitches.thread import Thread

UNIT = 0.1
"""The grid of every home machine's file, mm (the open descriptions of the formats)."""

FARTHEST = 2000.0
"""No record may lie farther than this from the middle of the field, mm: no machine reaches 2 m (own limit)."""


class Command(IntEnum):
    """What a machine file can tell a machine."""

    STITCH = 0
    MOVE = 1
    TRIM = 2
    CHANGE = 3
    STOP = 4


WAITS = (Command.CHANGE, Command.STOP)
"""At either the machine waits, and in the file they are the same."""


class Order(NamedTuple):
    """One command and where the needle stands after it, in whole units of 0.1 mm, y down."""

    command: Command
    x: int
    y: int


@dataclass(frozen=True, slots=True)
class Programme:
    """Orders, and the thread on the needle before the first change or stop and after each."""

    orders: tuple[Order, ...]
    threads: tuple[Thread, ...]


def programme(stitching: Stitching) -> Programme:
    """The stitching as orders, its points rounded to the 0.1 mm grid.

    Moves in a row become one and a move to where the needle stands falls away; so does a cut where nothing has been
    sewn since the last one. Raises StitchFileError for a point that is no number or beyond `FARTHEST`.
    """
    _check_points(stitching)
    grid = np.rint(stitching.points / UNIT).astype(int).tolist()
    acts, blocks = stitching.acts.tolist(), stitching.thread.tolist()
    orders: list[Order] = []
    threads: list[Thread] = [stitching.threads[blocks[0]]] if blocks else []
    at, sewn, waited = (0, 0), False, False
    for k, (point, act, block) in enumerate(zip(grid, acts, blocks, strict=True)):
        if k and block != blocks[k - 1]:
            if not waited:
                orders.append(Order(Command.CHANGE, *at))
                threads.append(stitching.threads[block])
            threads[-1] = stitching.threads[block]
            sewn = waited = False
        waited = act == Act.STOP or (waited and act == Act.TRIM)
        x, y = point
        if act == Act.STITCH:
            orders.append(Order(Command.STITCH, x, y))
            sewn = True
        elif (x, y) != at:
            if orders and orders[-1].command == Command.MOVE:
                orders.pop()
            orders.append(Order(Command.MOVE, x, y))
        at = (x, y)
        if act == Act.TRIM and sewn:
            orders.append(Order(Command.TRIM, *at))
            sewn = False
        elif act == Act.STOP:
            orders.append(Order(Command.STOP, *at))
            threads.append(stitching.threads[block])
            sewn = False
    return Programme(tuple(orders), tuple(threads))


def within_reach(orders: Iterable[Order], reach: int) -> list[Order]:
    """The same orders with every long way cut into equal moves, so that none exceeds `reach` units on an axis.

    The last part of a long stitch stays a stitch, so no penetration is added, lost or shifted. A way of m units on
    its longer axis takes ceil(m / reach) orders.
    """
    short: list[Order] = []
    x, y = 0, 0
    for order in orders:
        dx, dy = order.x - x, order.y - y
        parts = max(1, math.ceil(max(abs(dx), abs(dy)) / reach))
        short.extend(Order(Command.MOVE, x + round(dx * i / parts), y + round(dy * i / parts)) for i in range(1, parts))
        short.append(order)
        x, y = order.x, order.y
    return short


def merged(orders: Iterable[Order]) -> list[Order]:
    """The same orders with moves in a row joined and moves to nowhere left out."""
    joined: list[Order] = []
    for order in orders:
        if order.command == Command.MOVE and joined and joined[-1].command == Command.MOVE:
            joined.pop()
        before = joined[-1] if joined else Order(Command.MOVE, 0, 0)
        if order.command != Command.MOVE or (order.x, order.y) != (before.x, before.y):
            joined.append(order)
    return joined


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
