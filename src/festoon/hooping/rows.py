"""Rows of stitching: where the thread turns back, and whether it lies in rows side by side, as satin and fill do."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from festoon.plane.pose import Points
from festoon.stitches import Stitching

BACK = 110.0
"""Degrees; so much more than a right angle that the step of a stitch file does not turn a short stitch between two rows
into the end of one (computed: a stitch of 0.4 mm, moved by half of 0.1 mm at both ends, turns by up to 14 degrees)."""

ROWS_APART = (0.05, 1.5)
"""mm across from one row to the next, at least and at most: nearer lies over itself, as a line sewn there and back does
(half the step of the stitch formats); farther apart lie zigzags and fills so loose that they hardly draw in (own
choice)."""

STRAIGHT = 0.8
"""A row's way from end to end is at least this share of its thread (own choice): less is a line that wanders."""

ALIKE = 2 / 3
"""The shorter of two rows side by side is at least this share of the longer (own choice): less is a line that locks its
ends, or that is sewn over three times stitch by stitch."""

ROWS_SHARE = 1 / 3
"""At least this share of the thread of satin and fill lies in rows (own choice: underlay, hidden ways and an outline
go with them, and may be more)."""


def row_ends(points: Points) -> NDArray[np.intp]:
    """Indices of holes where the thread turns back, by more than BACK degrees, at once or by way of one stitch.

    points: an uncut run (n, 2).
    """
    d = np.diff(points, axis=0)
    d = d / np.maximum(np.hypot(*d.T), 1e-9)[:, None]
    most = math.cos(math.radians(BACK))
    back = (d[1:] * d[:-1]).sum(axis=1) < most
    back[:-1] |= ~back[:-1] & ~back[1:] & ((d[2:] * d[:-2]).sum(axis=1) < most)
    return np.flatnonzero(back) + 1


def is_satin_or_fill(block: Stitching) -> bool:
    """Whether enough of its thread lies in rows side by side (ROWS_SHARE); else it is running stitch."""
    found = [_in_rows(block.points[a:b]) for a, b in block.runs()]
    thread, rows = (sum(lengths) for lengths in zip(*found, strict=True)) if found else (0.0, 0.0)
    return thread > 0 and rows >= ROWS_SHARE * thread


def _in_rows(run: Points) -> tuple[float, float]:
    """mm of thread in an uncut run (n, 2), and how much of it lies in straight rows between two such rows beside it."""
    way = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(run, axis=0).T))])
    edges = np.unique(np.concatenate([[0], row_ends(run), [len(run) - 1]]))
    chord, length = np.diff(run[edges], axis=0), np.diff(way[edges])
    if len(chord) < 3:
        return float(way[-1]), 0.0
    straight = np.hypot(*chord.T) >= STRAIGHT * length
    step = (chord[1:] + chord[:-1]) / 2  # from the middle of a row to that of the next
    lie = chord[1:] - chord[:-1]
    across = np.abs(lie[:, 0] * step[:, 1] - lie[:, 1] * step[:, 0]) / np.maximum(np.hypot(*lie.T), 1e-9)
    alike = np.minimum(length[1:], length[:-1]) >= ALIKE * np.maximum(length[1:], length[:-1])
    beside = (across >= ROWS_APART[0]) & (across <= ROWS_APART[1]) & straight[1:] & straight[:-1] & alike
    onwards = (step[1:] * step[:-1]).sum(axis=1) > 0
    inner = beside[1:] & beside[:-1] & onwards
    return float(way[-1]), float(length[1:-1][inner].sum())
