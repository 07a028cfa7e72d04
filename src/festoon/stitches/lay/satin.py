"""Satin and zigzag: thread to and fro between two rails.

`spacing` is always measured from hole to hole on the SAME side, so that one thread line lies every half spacing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from festoon.errors import PieceError
from festoon.plane.path import Path
from festoon.plane.pose import Points
from festoon.plane.segments import Floats
from festoon.stitches.lay.column import Column, Width, column_along, column_between
from festoon.stitches.lay.edges import evenly, spread_short
from festoon.stitches.lay.limits import MAX_STITCH
from festoon.stitches.stitching import Stitching, from_points
from festoon.stitches.thread import Thread

SATIN_SPACING = 0.4
"""mm hole to hole on one side, 63.5 lines an inch, for 40 wt thread (trade magazine, Dec 2016, pp 30-31)."""
SATIN_TEX = 25.0
"""Tex of the 40 wt thread for which that spacing holds: 1000/40 (a needle maker's page on thread weights)."""
ZIGZAG_SPACING = 1.0
"""mm hole to hole on one side, for an open zigzag. Common practice."""
TIP = 0.6
"""mm, a column never gets narrower: shorter stitches cut the cloth. Common practice."""
UNDERLAY_LENGTH = 2.0
"""mm, stitch length of the runs underneath. Common practice."""
EDGE_INSET = 0.6
"""mm that an edge run lies inside the column's edge. Common practice."""
_INSET_SHARE = 0.3
"""An edge run lies at most this share of the width inside, where the column is narrow."""
_SPLITS = (0.0, 0.2, -0.1, -0.2, 0.1)
"""Where the holes of split stitches lie beside the even division, in parts of it, rung by rung: no line of holes."""

Underlay = Literal["none", "centre", "edge"]


def satin(
    path: Path,
    width: Width,
    spacing: float = SATIN_SPACING,
    *,
    thread: Thread,
    underlay: Underlay = "none",
    pull: float = 0.0,
    tip: float = TIP,
    max_stitch: float = MAX_STITCH,
) -> Stitching:
    """A satin column along a path, sewn to and fro, beginning on the left.

    width: mm, or a function of the position from 0 to 1 (array to array). spacing: mm from hole to hole on the same
    side, kept on the OUTER side of curves; where holes of the inner side come too near together, short stitches
    spread them. pull: mm added to the width against the draw of the thread. tip: mm, the least width. Stitches
    beyond max_stitch mm are split, with staggered holes. underlay: 'centre' is a run along the middle and back,
    'edge' one along each edge. PieceError where a length is not greater than nothing.
    """
    column = column_along(path, width).widened(_not_negative("pull", pull), _positive("tip", tip))
    return from_points(_sewn(column, spacing, max_stitch, underlay), thread)


def satin_between(
    left: Path | ArrayLike,
    right: Path | ArrayLike,
    spacing: float = SATIN_SPACING,
    *,
    thread: Thread,
    rungs: Sequence[tuple[float, float]] = (),
    underlay: Underlay = "none",
    pull: float = 0.0,
    tip: float = TIP,
    max_stitch: float = MAX_STITCH,
) -> Stitching:
    """Satin between two edges travelled the same way, for leaves and petals; as `satin` in everything else.

    Points (n, 2) become a smooth curve through them. Stitches join matching fractions of the two lengths, or the
    pairs (left, right) of fractions given by `rungs`. spacing holds on the longer edge.
    """
    column = column_between(left, right, rungs).widened(_not_negative("pull", pull), _positive("tip", tip))
    return from_points(_sewn(column, spacing, max_stitch, underlay), thread)


def satin_on(
    left: ArrayLike,
    right: ArrayLike,
    spacing: float = SATIN_SPACING,
    *,
    thread: Thread,
    underlay: Underlay = "none",
    max_stitch: float = MAX_STITCH,
) -> Stitching:
    """Satin on rungs that are already set out densely, from left (n, 2) to right (n, 2); as `satin` in the rest."""
    column = Column(np.asarray(left, dtype=np.float64), np.asarray(right, dtype=np.float64))
    return from_points(_sewn(column, spacing, max_stitch, underlay), thread)


def satin_spacing(tex: float) -> float:
    """The spacing that closes with a thread of `tex`: 0.40·√(tex/25) mm, for a thread's diameter goes with its root.

    >>> [round(satin_spacing(1000 / wt), 3) for wt in (12, 30, 40, 60)]
    [0.73, 0.462, 0.4, 0.327]
    """
    return SATIN_SPACING * math.sqrt(_positive("thread's tex", tex) / SATIN_TEX)


def zigzag(
    path: Path,
    width: Width,
    spacing: float = ZIGZAG_SPACING,
    *,
    thread: Thread,
    tip: float = TIP,
    max_stitch: float = MAX_STITCH,
) -> Stitching:
    """An open zigzag: `satin` without underlay or pull. spacing is mm from hole to hole on the same side, twice the
    advance of one stitch."""
    return satin(path, width, spacing, thread=thread, tip=tip, max_stitch=max_stitch)


def _sewn(column: Column, spacing: float, max_stitch: float, underlay: Underlay) -> Points:
    top = _zigzag_holes(column, _positive("spacing", spacing))
    return _split(np.concatenate([_underlay(column, underlay), top]), _positive("longest stitch", max_stitch))


def _zigzag_holes(column: Column, spacing: float) -> Points:
    """Holes (n, 2) alternately left and right, the first on the left."""
    advance = column.advance
    n = max(2, math.ceil(advance[-1] / (spacing / 2) - 1e-9))
    n += n % 2 if column.closed else 0  # a closed column ends on the side where it began
    where = np.linspace(0.0, advance[-1], n + 1)
    left, right = (_at(rail, advance, where) for rail in (column.left, column.right))
    on_left = (np.arange(n + 1) % 2 == 0)[:, None]
    holes, opposite = np.where(on_left, left, right), np.where(on_left, right, left)
    for side in (0, 1):
        holes[side::2] = spread_short(holes[side::2], opposite[side::2], spacing)
    return holes


def _split(holes: Points, longest: float) -> Points:
    """The holes with staggered ones put between wherever a stitch would be longer than `longest`."""
    length = np.hypot(*np.diff(holes, axis=0).T)
    if not (length > longest).any():
        return holes
    out = [holes[:1]]
    for k, size in enumerate(length.tolist()):
        a, b = holes[k], holes[k + 1]
        if size > longest:
            m = math.ceil(size * (1 + max(_SPLITS)) / longest)
            shift = _SPLITS[k % len(_SPLITS)] * (1 if k % 2 == 0 else -1)
            f = (np.arange(1, m) + shift) / m
            out.append(a + f[:, None] * (b - a))
        out.append(b[None])
    return np.concatenate(out)


def _underlay(column: Column, kind: Underlay) -> Points:
    """The run underneath (n, 2), from the column's start and back to it, clear of both ends."""
    if kind == "none":
        return np.zeros((0, 2))
    inner = column.inset(EDGE_INSET, _INSET_SHARE)
    middle = (column.left + column.right) / 2
    clear = 0.0 if column.closed else EDGE_INSET
    out, back = (inner.left, inner.right) if kind == "edge" else (middle, middle)
    first, second = (evenly(rail, UNDERLAY_LENGTH, clear) for rail in (out, back))
    if column.closed:
        return np.concatenate([first, second]) if kind == "edge" else first
    return np.concatenate([first, second[::-1] if kind == "edge" else second[-2::-1]])


def _at(rail: Points, advance: Floats, where: Floats) -> Points:
    return np.stack([np.interp(where, advance, rail[:, k]) for k in (0, 1)], axis=1)


def _positive(name: str, value: float) -> float:
    if not (math.isfinite(value) and value > 0):
        raise PieceError(f"The {name} of a satin column is {value:g} mm.", remedy="Give more than nothing.")
    return value


def _not_negative(name: str, value: float) -> float:
    if not (math.isfinite(value) and value >= 0):
        raise PieceError(f"The {name} of a satin column is {value:g} mm.", remedy="Give 0 or more.")
    return value
