"""Candidate fields: every set of blocks that one placing of the sewing field can hold, and no set that is part of
another.

At one turn a field can be pushed right and down until its left and top edges touch blocks that it holds, so fields
whose left edge is some block's left and whose top edge is some block's top are enough.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from festoon.hooping.fitting import FIT, Turns, fitting_angles
from festoon.plane.pose import Points

ANGLE_STEP = 1.0
"""Degrees between the sampled turns of a freely turned field; a finer step only saves work later."""

MOST_SPLITS = 1500
"""Sets examined when a widened field's sets are cut down to real ones; past it the bound stays, but may be low."""

CHUNK = 512
"""Sets compared with others at once, to bound the memory."""

Masks = NDArray[np.bool_]
"""(m, n): row f says which of the n blocks set f holds."""


@dataclass(frozen=True, eq=False)
class Candidates:
    """Every maximal set of blocks that fits one field.

    real: sets that fit. bound: sets of which at least one contains any set that fits, at any allowed turn; equal to
    `real` wherever all could be examined. A lower bound found with `bound` holds for every turn.
    """

    real: Masks
    bound: Masks


def candidates(corners: Sequence[Points], size: tuple[float, float], turns: Turns) -> Candidates:
    """Candidate sets for blocks given by their hull corners, each (k, 2) mm, on a field of `size` mm.

    Blocks that fit no field at all appear in no set.
    """
    if not turns.free:
        sets = [_sets_at(corners, size, angle) for angle in turns.for_field(size).angles]
        real = maximal(np.concatenate(sets))
        return Candidates(real, real)
    return _free(corners, size)


def maximal(masks: Masks) -> Masks:
    """The distinct rows that are part of no other row; larger sets first."""
    masks = masks[masks.any(axis=1)]
    if not len(masks):
        return masks
    distinct = {row.tobytes(): i for i, row in enumerate(np.packbits(masks, axis=1))}
    masks = masks[list(distinct.values())]
    masks = masks[np.argsort(-masks.sum(axis=1), kind="stable")]
    dense = masks.astype(np.float32)
    kept = dense[:0]
    for start in range(0, len(masks), CHUNK):
        rows = dense[start : start + CHUNK]
        rows = rows[~_inside(rows, kept)]
        kept = np.concatenate([kept, rows[~_inside(rows, rows)]])
    return kept > 0


def _inside(rows: NDArray[np.float32], others: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Which rows are part of a larger one of the others (all zeros and ones)."""
    sizes, larger = rows.sum(axis=1)[:, None], others.sum(axis=1)[None, :]
    return np.asarray(((rows @ others.T == sizes) & (larger > sizes)).any(axis=1))


def _sets_at(corners: Sequence[Points], size: tuple[float, float], angle: float, widen: float = 0.0) -> Masks:
    """Sets at one turn (degrees), the field widened by `widen` mm on every side."""
    low, high = _boxes(corners, angle)
    w, h = (s + 2 * widen + FIT for s in size)
    n = len(corners)
    found = [np.zeros((0, n), dtype=bool)]
    for left in np.unique(low[:, 0]):
        inside = np.flatnonzero((low[:, 0] >= left) & (high[:, 0] <= left + w))
        if not len(inside):
            continue
        tops = np.unique(low[inside, 1])
        rows = np.zeros((len(tops), n), dtype=bool)
        rows[:, inside] = (low[inside, 1] >= tops[:, None]) & (high[inside, 1] <= tops[:, None] + h)
        found.append(rows)
    return np.concatenate(found)


def _boxes(corners: Sequence[Points], angle: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """(n, 2) least and greatest coordinates of every block along the axes of a field at `angle` degrees."""
    t = np.radians(angle)
    into = np.array([[np.cos(t), -np.sin(t)], [np.sin(t), np.cos(t)]])
    flat = np.concatenate(corners) @ into
    starts = np.concatenate([[0], np.cumsum([len(c) for c in corners])[:-1]])
    return np.minimum.reduceat(flat, starts), np.maximum.reduceat(flat, starts)


def _free(corners: Sequence[Points], size: tuple[float, float]) -> Candidates:
    """Sets for a field turned anyhow.

    A set that fits at turn t also fits at the nearest sampled turn once the field is widened by the way that its
    corner travels: 2 R sin(step/4), R half the diagonal. Each such wider set is then examined exactly by the
    rotating calipers of its hull, and cut down block by block to the sets that really fit.
    """
    period = 90.0 if size[0] == size[1] else 180.0
    sampled = np.arange(0.0, period, ANGLE_STEP)
    widen = 2 * np.hypot(*size) / 2 * np.sin(np.radians(ANGLE_STEP) / 4)
    alone = _alone(corners, size)
    sure = maximal(np.concatenate([alone, *(_sets_at(corners, size, a) for a in sampled)]))
    wide = maximal(np.concatenate([_sets_at(corners, size, a, widen) for a in sampled]))
    found, unsettled = _cut_down(wide, sure, corners, size)
    real = maximal(np.concatenate([sure, found]))
    return Candidates(real, real if not len(unsettled) else maximal(np.concatenate([real, unsettled])))


def _cut_down(wide: Masks, sure: Masks, corners: Sequence[Points], size: tuple[float, float]) -> tuple[Masks, Masks]:
    """(further sets that fit, sets left unexamined): with `sure` they cover every set that fits.

    To make a set fit, a block with a corner on the set's hull must go, for without one the hull stays as it is.
    """
    known = [_bits(row) for row in sure]
    waiting = deque(_bits(row) for row in wide)
    owner = np.repeat(np.arange(len(corners)), [len(c) for c in corners])
    flat = np.concatenate(corners)
    anyhow = Turns(free=True)
    found: list[int] = []
    seen: set[int] = set()
    examined = 0
    while waiting and examined < MOST_SPLITS:
        bits = waiting.popleft()
        if not bits or bits in seen or any(bits & ~k == 0 for k in known):
            continue
        seen.add(bits)
        examined += 1
        members = np.flatnonzero(_row(bits, len(corners))[owner])
        on_hull = ConvexHull(flat[members]).vertices
        if len(fitting_angles(flat[members][on_hull], size, anyhow)):
            found.append(bits)
            known.append(bits)
            continue
        waiting.extend(bits & ~(1 << int(i)) for i in np.unique(owner[members[on_hull]]))
    n = len(corners)
    return _rows(found, n), _rows(waiting, n)


def _alone(corners: Sequence[Points], size: tuple[float, float]) -> Masks:
    rows = np.eye(len(corners), dtype=bool)
    return rows[[len(fitting_angles(c, size, Turns(free=True))) > 0 for c in corners]]


def _bits(row: NDArray[np.bool_]) -> int:
    return int.from_bytes(np.packbits(row, bitorder="little").tobytes(), "little")


def _row(bits: int, n: int) -> NDArray[np.bool_]:
    raw = np.frombuffer(bits.to_bytes((n + 7) // 8, "little"), dtype=np.uint8)
    return np.unpackbits(raw, bitorder="little", count=n).astype(bool)


def _rows(sets: Iterable[int], n: int) -> Masks:
    return np.array([_row(b, n) for b in sets], dtype=bool).reshape(-1, n)
