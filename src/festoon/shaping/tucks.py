"""Tucks: where their lines lie on the finished cloth and on the flat, what they take up, and what is solved from it.

All lengths in mm, measured across the tucks. A tuck of depth t takes 2 t of cloth (a dressmaking course; a sewing
blog), so that finished + taken up = flat. On the flat cloth its stitching, fold and stitching lie at a, a + t, a + 2 t;
on the finished cloth both stitchings lie on one line, and the fold t away from it (geometry).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal, Protocol

import numpy as np

from festoon.plane import Points
from festoon.plane.segments import Floats

WHOLE = 1e-6
"""A count this near to a whole number is one."""

MOST = 500
"""The most tucks of one group; more is a slip of the pen (own choice)."""


class Taken(Protocol):
    """Cloth that a tuck takes at a place of the finished panel; work.TakeUp is such."""

    @property
    def across(self) -> Literal["x", "y"]:
        """'x' where the tuck makes the panel narrower, 'y' where it makes it shorter."""

    @property
    def at(self) -> float:
        """The stitching line's x (or y) on the finished panel."""

    @property
    def by(self) -> float:
        """How much more flat cloth there is than finished."""


@dataclass(frozen=True, slots=True)
class Tuck:
    """A fold sewn `depth` from its edge. at: its stitching line, finished; ahead: whether it is folded to the right (or
    down) of it."""

    at: float
    depth: float
    ahead: bool = True

    @property
    def by(self) -> float:
        """The cloth that it takes."""
        return 2 * self.depth

    @property
    def fold(self) -> float:
        """Where its fold edge lies, finished."""
        return self.at + (self.depth if self.ahead else -self.depth)

    @property
    def span(self) -> tuple[float, float]:
        """What it covers, finished."""
        return min(self.at, self.fold), max(self.at, self.fold)

    @property
    def begin(self) -> float:
        """Where its first line lies while it is still flat and all before it are sewn."""
        return self.at

    @property
    def marks(self) -> tuple[float, ...]:
        """Its lines on the flat cloth from the first: stitching, fold, stitching."""
        return 0.0, self.depth, 2 * self.depth

    def mirrored(self, about: float) -> Tuck:
        """The same in a mirror that stands at `about`."""
        return replace(self, at=2 * about - self.at, ahead=not self.ahead)


@dataclass(frozen=True, slots=True)
class TwinRow:
    """A ridge sewn with a twin needle, its needles `needles` apart, that draws `by` of the cloth between them up.

    at: its middle, finished.
    """

    at: float
    needles: float
    by: float

    @property
    def span(self) -> tuple[float, float]:
        """From needle row to needle row, finished."""
        half = (self.needles - self.by) / 2
        return self.at - half, self.at + half

    @property
    def begin(self) -> float:
        """Where its middle lies while it is still flat and all before it are sewn."""
        return self.at + self.by / 2

    @property
    def marks(self) -> tuple[float, ...]:
        """Its one line on the flat cloth: the middle, to either side of which the needles go."""
        return (0.0,)

    def mirrored(self, about: float) -> TwinRow:
        """The same in a mirror that stands at `about`."""
        return replace(self, at=2 * about - self.at)


def flat_size(size: tuple[float, float], taken: Iterable[Taken]) -> tuple[float, float]:
    """Width and height of the flat cloth that comes to a finished panel of this size: finished + taken up."""
    more = {"x": 0.0, "y": 0.0}
    for take in taken:
        more[take.across] += take.by
    return size[0] + more["x"], size[1] + more["y"]


def to_flat(points: Points, taken: Iterable[Taken]) -> Points:
    """Points (n, 2) of the finished panel -> where they lie on the flat cloth, from the same left upper corner.

    A point on a stitching line lies on the first of its two.
    """
    takes = tuple(taken)
    points = np.asarray(points, dtype=np.float64)
    return np.stack([_out(points[:, k], *_ordered(takes, axis)) for k, axis in enumerate("xy")], axis=1)


def to_finished(points: Points, taken: Iterable[Taken]) -> Points:
    """Points (n, 2) of the flat cloth -> where they come to lie on the finished panel; what is taken up comes to its
    stitching line."""
    takes = tuple(taken)
    points = np.asarray(points, dtype=np.float64)
    return np.stack([_in(points[:, k], *_ordered(takes, axis)) for k, axis in enumerate("xy")], axis=1)


def _ordered(taken: Sequence[Taken], across: str) -> tuple[Floats, Floats]:
    """Places and amounts along one axis, in order of place."""
    pairs = sorted((t.at, t.by) for t in taken if t.across == across)
    both = np.array(pairs, dtype=np.float64).reshape(-1, 2)
    return both[:, 0], both[:, 1]


def _out(x: Floats, at: Floats, by: Floats) -> Floats:
    before = np.concatenate([[0.0], np.cumsum(by)])
    flat: Floats = x + before[np.searchsorted(at, x, side="left")]
    return flat


def _in(x: Floats, at: Floats, by: Floats) -> Floats:
    begin = at + np.cumsum(by) - by
    finished: Floats = x - np.clip(x[:, None] - begin, 0.0, by).sum(axis=1)
    return finished


def flat_marks(tucks: Iterable[Tuck | TwinRow]) -> tuple[tuple[float, ...], ...]:
    """The lines of every tuck on the flat cloth, tuck by tuck from the left (or top): its place finished and what those
    before it take, so that equal ones lie 3 t + g from one to the next (geometry)."""
    before, lines = 0.0, []
    for tuck in sorted(tucks, key=lambda t: t.at):
        lines.append(tuple(tuck.begin + before + mark for mark in tuck.marks))
        before += tuck.by
    return tuple(lines)


def graduated(count: int, first: float, grow: float = 0.0) -> tuple[float, ...]:
    """Depths of `count` tucks, each `grow` deeper than the one before it."""
    return tuple(first + i * grow for i in range(count))


def taken_up(depths: Iterable[float]) -> float:
    """The cloth that tucks of these depths take: twice each."""
    return 2 * sum(depths)


def first_depth(reduction: float, count: int, grow: float = 0.0) -> float:
    """The depth of the first of `count` tucks that take `reduction` together: Σ 2 (t + i grow) = reduction."""
    return reduction / (2 * count) - grow * (count - 1) / 2


def counts_about(reduction: float, depth: float, grow: float = 0.0) -> tuple[int, int]:
    """The two whole counts nearest to what takes `reduction`, the lower first; one of them twice where it takes just
    that.

    Tucks that would have no depth any more end the row.
    """
    taken, count = 0.0, 0
    while count < MOST and depth + count * grow > 0:
        step = 2 * (depth + count * grow)
        if taken + step > reduction + WHOLE:
            return (count, count) if count and abs(taken - reduction) <= WHOLE else (count, count + 1)
        taken, count = taken + step, count + 1
    return count, count


def count_to_fill(over: float, depth: float, gap: float, grow: float = 0.0, ahead: bool = True) -> int:
    """How many tucks reach `over` from the first stitching to the last with gaps of at most `gap`: rounded up, so that
    no gap is wider than wished; two at least, and MOST + 1 where it takes more than MOST.

    Source: a national trade-training handbook 'Dress Making', exercise 48: 24/1.7 = 14.1 gaps become 15.
    """
    if not grow:
        return 1 + max(1, min(MOST, math.ceil(over / (depth + gap) - WHOLE))) if depth + gap > 0 else MOST + 1
    count, reached = 1, 0.0
    while reached < over - WHOLE and count <= MOST:
        reached += depth + grow * (count - 1 if ahead else count) + gap
        count += 1
    return max(2, count)


def strides(depths: Sequence[float], gap: float, ahead: bool) -> tuple[float, ...]:
    """From each stitching to the next, finished, where `gap` is to show between a fold edge and the next stitching:
    t + g, with t of the fold that lies between them."""
    return tuple(t + gap for t in _between(depths, ahead))


def gaps_shown(strides: Sequence[float], depths: Sequence[float], ahead: bool) -> tuple[float, ...]:
    """What shows between each fold edge and the next stitching; below nothing where the fold lies over it."""
    return tuple(s - t for s, t in zip(strides, _between(depths, ahead), strict=True))


def gap_within(over: float, depths: Sequence[float], ahead: bool) -> float:
    """The gap with which tucks of these depths reach `over` from the first stitching to the last."""
    between = _between(depths, ahead)
    return (over - sum(between)) / len(between)


def _between(depths: Sequence[float], ahead: bool) -> Sequence[float]:
    """Depths of the folds that lie between two stitchings."""
    return depths[:-1] if ahead else depths[1:]
