"""Holes along the edge of a column: spread where they crowd, spaced where they run underneath."""

from __future__ import annotations

import math
from collections import deque

import numpy as np
from numpy.typing import NDArray

from festoon.plane.pose import Points
from festoon.plane.segments import Floats
from festoon.stitches.lay.limits import SHORTEST_STITCH

CROWDED = 0.55
"""Holes on one side nearer than this share of the spacing crowd, and some are drawn in. Common practice."""
SHORT_STITCHES = (0.0, 0.14, 0.28, 0.07, 0.4, 0.5)
"""How far a short stitch is drawn in from the edge, in parts of its length; tried in this order. Common practice."""
_FEWEST = 4
"""Fewer crowded holes in a row than this are left alone: one short stitch in a smooth edge shows as a notch."""
_LOOK_BACK = 24
"""Holes before that a new one is kept clear of."""


def spread_short(edge: Points, opposite: Points, spacing: float) -> Points:
    """Holes (n, 2) of one side, crowded ones drawn in towards `opposite` (n, 2) so that they stand apart.

    A hole stays where it is as long as it is at least `CROWDED` spacings from those before it; else it takes the
    first depth of `SHORT_STITCHES` at which it is, or the one where it stands farthest away.
    """
    gap = CROWDED * spacing
    crowded = _in_crowds(np.hypot(*np.diff(edge, axis=0).T) < gap)
    if not crowded.any():
        return edge
    reach = opposite - edge
    length = np.hypot(reach[:, 0], reach[:, 1])
    deepest = 1 - np.minimum(1.0, SHORTEST_STITCH / np.maximum(length, 1e-12))
    out = edge.copy()
    kept: deque[Points] = deque(maxlen=_LOOK_BACK)
    for k in range(len(edge)):
        if crowded[k]:
            depths = np.minimum(SHORT_STITCHES, deepest[k])
            trials = edge[k] + depths[:, None] * reach[k]
            apart = _clearance(trials, kept)
            free = np.flatnonzero(apart >= gap - 1e-9)
            out[k] = trials[free[0] if len(free) else int(np.argmax(apart))]
        kept.append(out[k])
    return out


def evenly(rail: Points, length: float, clear: float) -> Points:
    """(n, 2) points along a polyline in equal steps of at most `length` mm, beginning `clear` mm inside its ends."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(rail, axis=0).T))])
    total = float(along[-1])
    clear = min(clear, total / 4)
    n = max(1, math.ceil((total - 2 * clear) / length - 1e-9))
    where = np.linspace(clear, total - clear, n + 1)
    return np.stack([np.interp(where, along, rail[:, k]) for k in (0, 1)], axis=1)


def _in_crowds(near: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """(n,) the holes that stand in a row of `_FEWEST` or more, for (n - 1,) gaps that are too small."""
    flags = np.concatenate([[False], near, [False]]).astype(np.int8)
    starts, stops = np.flatnonzero(np.diff(flags) == 1), np.flatnonzero(np.diff(flags) == -1)
    out = np.zeros(len(near) + 1, dtype=np.bool_)
    for a, b in zip(starts.tolist(), stops.tolist(), strict=True):
        if b - a + 1 >= _FEWEST:
            out[a : b + 1] = True
    return out


def _clearance(trials: Points, others: deque[Points]) -> Floats:
    if not others:
        return np.full(len(trials), np.inf)
    d = trials[:, None] - np.stack(list(others))[None]
    nearest: Floats = np.hypot(d[..., 0], d[..., 1]).min(axis=1)
    return nearest
