"""Stitching as arrays: where the needle goes, what happens there, and with which thread.

One record is one movement. Its point is where the needle stands afterwards, its act is what it did there.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from festoon.plane.pose import Points, Pose
from festoon.stitches.thread import Thread


class Act(IntEnum):
    """What one record does when the needle has come to its point."""

    STITCH = 0  # the needle goes down: a penetration, with thread laid from the record before
    MOVE = 1  # the frame moves, the needle stays up
    TRIM = 2  # the thread is cut here
    STOP = 3  # the machine waits for the worker here


@dataclass(frozen=True, eq=False)
class Stitching:
    """An ordered run of records; arrays of one length n, read-only.

    points: (n, 2) mm. acts: (n,) of `Act`. thread: (n,) index into `threads`, the thread on the needle during the
    record. A thread change lies between two records whose thread index differs; two indices may name equal threads
    (the file stops there all the same). Indices count thread blocks in the order of sewing: never decreasing, and
    every block holds at least one record.
    """

    points: Points
    acts: NDArray[np.uint8]
    thread: NDArray[np.int32]
    threads: tuple[Thread, ...]

    def __post_init__(self) -> None:
        points = np.array(self.points, dtype=np.float64).reshape(-1, 2)
        acts = np.array(self.acts, dtype=np.uint8)
        thread = np.array(self.thread, dtype=np.int32)
        if not len(points) == len(acts) == len(thread):
            raise ValueError(f"lengths differ: {len(points)} points, {len(acts)} acts, {len(thread)} threads")
        if len(thread) and not (thread.min() >= 0 and thread.max() < len(self.threads)):
            raise ValueError(f"thread index outside 0..{len(self.threads) - 1}")
        for name, array in (("points", points), ("acts", acts), ("thread", thread)):
            array.flags.writeable = False
            object.__setattr__(self, name, array)

    def __len__(self) -> int:
        return len(self.acts)

    @property
    def is_stitch(self) -> NDArray[np.bool_]:
        """(n,) true where the needle goes down."""
        return np.asarray(self.acts == Act.STITCH, np.bool_)

    @property
    def stitch_count(self) -> int:
        """How often the needle goes down."""
        return int(self.is_stitch.sum())

    @property
    def holes(self) -> Points:
        """(m, 2) the penetrations, in order, mm."""
        return self.points[self.is_stitch]

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """(left, top, right, bottom) of the penetrations, mm; ValueError where there are none."""
        holes = self.holes
        if not len(holes):
            raise ValueError("no stitches, so no bounds")
        (left, top), (right, bottom) = holes.min(axis=0), holes.max(axis=0)
        return float(left), float(top), float(right), float(bottom)

    @property
    def centre(self) -> tuple[float, float]:
        """Middle of the bounds, mm."""
        left, top, right, bottom = self.bounds
        return (left + right) / 2, (top + bottom) / 2

    def laid(self) -> NDArray[np.intp]:
        """(m,) indices i of records whose thread lies on the cloth as a straight line from i - 1 to i.

        Those are stitches directly after a stitch of the same thread block. A stitch after a move, trim or stop
        begins anew (what drags across under a move is cut away or hidden, and is counted nowhere as stitching).
        """
        s = self.is_stitch
        return np.flatnonzero(s[1:] & s[:-1] & (self.thread[1:] == self.thread[:-1])) + 1

    def laid_lengths(self) -> NDArray[np.float64]:
        """(m,) mm, the length of each laid line of `laid`."""
        i = self.laid()
        return np.hypot(*(self.points[i] - self.points[i - 1]).T) if len(i) else np.zeros(0)

    def placed(self, pose: Pose) -> Stitching:
        """The same stitching carried by a rigid pose."""
        return Stitching(pose.apply(self.points), self.acts, self.thread, self.threads)

    def part(self, start: int, stop: int) -> Stitching:
        """Records start..stop-1, with the threads that they use."""
        return Stitching(
            self.points[start:stop], self.acts[start:stop], *_renumber(self.thread[start:stop], self.threads)
        )

    def runs(self) -> list[tuple[int, int]]:
        """Half-open record ranges sewn without a cut: between trims, stops, moves and thread changes.

        Every range begins and ends with a stitch, and together they hold every stitch once, in order.
        """
        s = self.is_stitch
        if not s.any():
            return []
        i = np.flatnonzero(s)
        breaks = np.flatnonzero((np.diff(i) > 1) | (np.diff(self.thread[i]) != 0))
        starts = np.concatenate([[i[0]], i[breaks + 1]])
        stops = np.concatenate([i[breaks], [i[-1]]]) + 1
        return [(int(a), int(b)) for a, b in zip(starts, stops, strict=True)]

    def thread_blocks(self) -> list[tuple[int, int]]:
        """Half-open record ranges sewn with one thread on the needle."""
        if not len(self):
            return []
        edges = np.flatnonzero(np.diff(self.thread)) + 1
        cuts = [0, *edges.tolist(), len(self)]
        return list(itertools.pairwise(cuts))


def empty() -> Stitching:
    """Stitching of no records."""
    return Stitching(np.zeros((0, 2)), np.zeros(0, np.uint8), np.zeros(0, np.int32), ())


def from_points(points: Points | Sequence[Sequence[float]], thread: Thread) -> Stitching:
    """One uncut run of stitches through points of shape (n, 2), mm."""
    p = np.asarray(points, dtype=np.float64).reshape(-1, 2)
    return Stitching(p, np.zeros(len(p), np.uint8), np.zeros(len(p), np.int32), (thread,) if len(p) else ())


def joined(pieces: Iterable[Stitching], *, trim: bool = True, merge: bool = True) -> Stitching:
    """One stitching after another.

    Between two pieces the thread is cut (if `trim`) and the frame moves to the next one's first point, unless the
    needle already stands there. With `merge`, a piece that begins with the thread the last one ended with goes on
    in the same thread block; otherwise each piece brings its own blocks.
    """
    points: list[Points] = []
    acts: list[NDArray[np.uint8]] = []
    index: list[NDArray[np.int32]] = []
    threads: list[Thread] = []
    at: Points | None = None
    for piece in pieces:
        if not len(piece):
            continue
        own = piece.thread - int(piece.thread[0])
        same = merge and bool(threads) and threads[-1] == piece.threads[int(piece.thread[0])]
        base = len(threads) - 1 if same else len(threads)
        used = list(piece.threads[int(piece.thread[0]) : int(piece.thread[-1]) + 1])
        if at is not None and not np.array_equal(at, piece.points[0]):
            if trim:
                points.append(at[None])
                acts.append(np.array([Act.TRIM], np.uint8))
                index.append(np.array([len(threads) - 1], np.int32))
            points.append(piece.points[:1])
            acts.append(np.array([Act.MOVE], np.uint8))
            index.append(np.array([base], np.int32))
        threads.extend(used[1:] if same else used)
        points.append(piece.points)
        acts.append(piece.acts)
        index.append((own + base).astype(np.int32))
        at = piece.points[-1]
    if not points:
        return empty()
    return Stitching(np.concatenate(points), np.concatenate(acts), np.concatenate(index), tuple(threads))


def _renumber(index: NDArray[np.int32], threads: tuple[Thread, ...]) -> tuple[NDArray[np.int32], tuple[Thread, ...]]:
    used, own = np.unique(index, return_inverse=True)
    return own.astype(np.int32), tuple(threads[int(k)] for k in used)
