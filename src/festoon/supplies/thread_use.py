"""How much needle and bobbin thread a stitching takes, from the length of every stitch."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from festoon.stitches.consumption import sewn
from festoon.stitches.stitching import Act, Stitching
from festoon.stitches.thread import Thread
from festoon.supplies.assumed import TAIL, THICKNESS, TOP_SHARE, WASTE


@dataclass(frozen=True, slots=True)
class ThreadUse:
    """What one thread comes to: how often the needle goes down with it, and mm of it and of the bobbin's below it."""

    thread: Thread
    stitches: int
    needle_mm: float
    bobbin_mm: float

    @property
    def needle_metres(self) -> float:
        """Needle thread, metres."""
        return self.needle_mm / 1000

    @property
    def bobbin_metres(self) -> float:
        """Bobbin thread sewn below it, metres."""
        return self.bobbin_mm / 1000


def thread_use(
    stitching: Stitching,
    thickness: float = THICKNESS.value,
    top_share: float = TOP_SHARE.value,
    waste: float = WASTE.value,
    tail: float = TAIL.value,
) -> tuple[ThreadUse, ...]:
    """Needle and bobbin thread of every thread in a stitching, in the order of first use; equal threads are one.

    A stitch through cloth of `thickness`, mm, takes what `consumption.sewn` says of both threads together (the split
    does not change the sum, computed). `top_share` of that is needle thread. `waste` is added to it as a fraction.
    Wherever a thread is begun anew (after a trim, or a change of thread) `tail` mm of each thread are added. A move
    without a trim draws thread along with it, and counts as a stitch of that length.
    """
    at = np.flatnonzero(stitching.is_stitch)
    if not len(at):
        return ()
    points, index = stitching.points[at], stitching.thread[at]
    trims = np.cumsum(stitching.acts == Act.TRIM)[at]
    goes_on = (np.diff(index) == 0) & (np.diff(trims) == 0)
    drawn = sewn(np.hypot(*np.diff(points, axis=0).T), thickness) * (1 + waste)
    size = len(stitching.threads)
    through = np.bincount(index[1:][goes_on], drawn[goes_on], size)
    tails = tail * np.bincount(index[np.concatenate([[True], ~goes_on])], minlength=size)
    stitches = np.bincount(index, minlength=size)
    needle, bobbin = top_share * through + tails, (1 - top_share) * through + tails
    return merged(
        ThreadUse(stitching.threads[k], int(stitches[k]), float(needle[k]), float(bobbin[k]))
        for k in np.flatnonzero(stitches).tolist()
    )


def merged(uses: Iterable[ThreadUse]) -> tuple[ThreadUse, ...]:
    """The uses of equal threads added up, in the order of first use."""
    by_thread: dict[Thread, ThreadUse] = {}
    for use in uses:
        so_far = by_thread.get(use.thread, ThreadUse(use.thread, 0, 0.0, 0.0))
        by_thread[use.thread] = ThreadUse(
            use.thread,
            so_far.stitches + use.stitches,
            so_far.needle_mm + use.needle_mm,
            so_far.bobbin_mm + use.bobbin_mm,
        )
    return tuple(by_thread.values())
