"""Running stitch along a path: single, there and back, or threefold."""

from __future__ import annotations

import itertools
import math

import numpy as np

from festoon.errors import PieceError
from festoon.plane.path import CORNER, Path
from festoon.plane.pose import Points
from festoon.stitches.stitching import Stitching, from_points
from festoon.stitches.thread import Thread

RUN_LENGTH = 2.5
"""mm, the usual running stitch (1 to 5 mm, best not below 1.5 to 2.0: trade magazine, Feb 2016, p. 61)."""
SHORTEST_STEP = 0.5
"""mm, corners nearer together than this share one hole, for a needle 0.75 mm thick tells them apart no more.
Common practice."""


def run(path: Path, length: float = RUN_LENGTH, *, thread: Thread) -> Stitching:
    """Even stitches along a path, none longer than `length` mm, with a hole at every corner and at both ends."""
    return from_points(run_holes(path, length), thread)


def double_run(path: Path, length: float = RUN_LENGTH, *, thread: Thread) -> Stitching:
    """The running stitch out and, through the same holes, back again: it ends where it began."""
    holes = run_holes(path, length)
    return from_points(np.concatenate([holes, holes[-2::-1]]), thread)


def bean(path: Path, length: float = RUN_LENGTH, *, thread: Thread) -> Stitching:
    """Every stitch of the running stitch sewn forward, back and forward: a bold line that goes once along the path."""
    holes = run_holes(path, length)
    steps = np.arange(len(holes) - 1)
    order = np.stack([steps + 1, steps, steps + 1], axis=1).reshape(-1)
    return from_points(np.concatenate([holes[:1], holes[order]]), thread)


def run_holes(path: Path, length: float) -> Points:
    """(n, 2) the holes of `run`, mm. PieceError where `length` is not greater than nothing."""
    if not (math.isfinite(length) and length > 0):
        raise PieceError(
            f"A running stitch cannot be {length:g} mm long.", remedy="Give a stitch length greater than nothing."
        )
    stops = [0.0]
    for s in path.corners(CORNER):
        if min(s - stops[-1], path.length - s) >= min(SHORTEST_STEP, length):
            stops.append(s)
    stops.append(path.length)
    parts = [np.array([0.0])]
    for a, b in itertools.pairwise(stops):
        n = max(1, math.ceil((b - a) / length - 1e-9))
        parts.append(a + (b - a) * np.arange(1, n + 1) / n)
    return path.points(np.concatenate(parts))
