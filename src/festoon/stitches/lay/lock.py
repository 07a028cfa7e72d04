"""Tie-in and tie-off: tiny stitches that hold the thread where a run begins and ends."""

from __future__ import annotations

import numpy as np

from festoon.plane.pose import Points
from festoon.stitches.stitching import Act, Stitching

LOCK_STITCH = 0.7
"""mm, a locking stitch: long enough to hold, too short to see. Common practice (0.6 to 0.8)."""


def lock(stitching: Stitching, *, start: bool = True, end: bool = True) -> Stitching:
    """The same stitching with three tiny stitches at the start and end (if so asked) of every run.

    A run p0 p1 ... begins p0 q p0 q p1 ..., q lying `LOCK_STITCH` mm along it, and ends the same way backwards.
    Holes are added, none is taken away. A run of one hole, or that stays on one spot, cannot be locked and is left.
    """
    at: list[int] = []
    holes: list[Points] = []
    for first, past in stitching.runs():
        run = stitching.points[first:past]
        tie_in, tie_off = _tie(run), _tie(run[::-1])
        if start and tie_in is not None:
            at.extend([first + 1] * 3)
            holes.extend([tie_in, run[0], tie_in])
        if end and tie_off is not None:
            at.extend([past - 1] * 3)
            holes.extend([tie_off, run[-1], tie_off])
    if not at:
        return stitching
    points = np.insert(stitching.points, at, np.array(holes), axis=0)
    acts = np.insert(stitching.acts, at, Act.STITCH)
    thread = np.insert(stitching.thread, at, stitching.thread[at])
    return Stitching(points, acts, thread, stitching.threads)


def _tie(run: Points) -> Points | None:
    """The point q for the start of a run: towards its first hole a locking stitch away, else its farthest one."""
    away = run - run[0]
    far = np.hypot(away[:, 0], away[:, 1])
    k = int(np.argmax(far >= LOCK_STITCH)) or int(np.argmax(far))
    if far[k] == 0:
        return None
    q: Points = run[0] + away[k] * min(LOCK_STITCH / far[k], 0.5)
    return q
