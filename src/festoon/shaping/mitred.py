"""Columns of satin along scallops: their two edges, mitred where one scallop meets the next.

Each is as wide as asked across its line, in its points as in its rounds. Where two meet they share one rung, on the
line that halves the angle between them, so that neither overlaps the other nor leaves a gap.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from festoon.plane import Path, Points
from festoon.shaping.scallop import scallop
from festoon.shaping.set_out import Place

STEP = 0.2
"""mm between the rungs of a column (computed: within 0.005 mm of a curve of 1 mm radius)."""

FEWEST = 16
"""Rungs of the shortest column."""

MITRE = 2.0
"""Outside of a point the rung reaches at most so many half widths; a sharper one is blunt there. Common practice."""

_LEVEL = 1e-9
"""A turn of which the sine is less is none."""


@dataclass(frozen=True, eq=False)
class Edges:
    """A column's two edges, (n, 2) each, mm on the panel, travelled alike: rung k goes from left[k] to right[k]."""

    left: Points
    right: Points

    @property
    def rungs(self) -> NDArray[np.float64]:
        """(n,) mm, the length of every rung."""
        across = self.right - self.left
        widths: NDArray[np.float64] = np.hypot(across[:, 0], across[:, 1])
        return widths

    def before(self, length: float) -> Edges:
        """The beginning of the column, so long along its longer edge, mm; all of it where it is no longer."""
        far = _along(self)
        k = int(np.searchsorted(far, min(length, far[-1]))) + 1
        return Edges(self.left[:k], self.right[:k])

    def followed_by(self, other: Edges) -> Edges:
        """This column and one that begins on its last rung, as one."""
        return Edges(*(np.concatenate([a, b[1:]]) for a, b in ((self.left, other.left), (self.right, other.right))))


def arcs_along(places: Sequence[Place], rise: float) -> tuple[Path, ...]:
    """The arc of every scallop on the panel, from point to point; a rise above 0 lies to the right of travel, mm."""
    return tuple(Path(scallop(place.chord, rise)).placed(place.pose) for place in places)


def mitred(arcs: Sequence[Path], base: Path, width: float, at_points: float, step: float = STEP) -> tuple[Edges, ...]:
    """A column along every arc, `width` mm wide in its middle and `at_points` at its ends (between them as a sine).

    arcs: each begins where the one before it ended, all along the line `base`. Where they come back to the beginning
    the last meets the first; else both ends are cut square to the base, as if another scallop followed there. step: mm
    between rungs.
    """
    columns = [_column(arc, width, at_points, step) for arc in arcs]
    closed = math.dist(arcs[0].start, arcs[-1].end) <= _TOUCH
    count = len(arcs)
    rungs = [
        _rung(_before(k, columns, base, closed), _after(k, columns, base, closed), at_points / 2)
        for k in range(count + 1)
    ]
    return tuple(_fitted(c, rungs[k], rungs[k + 1]) for k, c in enumerate(columns))


def point_rung(arcs: Sequence[Path], base: Path, width: float, at_points: float, mark: int) -> tuple[Points, Points]:
    """Left and right end (2,) of one rung that `mitred` sets: at mark 0 the line's beginning, at len(arcs) its end,
    on the panel; the line is taken to be open."""
    near = [_column(arc, width, at_points, STEP) for arc in arcs[max(0, mark - 1) : mark + 1]]
    before = _before(min(mark, 1), near, base, closed=False)
    rung = _rung(
        before, _after(len(near) if mark == len(arcs) else min(mark, 1), near, base, closed=False), at_points / 2
    )
    return rung.left, rung.right


_TOUCH = 1e-3
"""mm; ends nearer than this are one (a hundredth of a machine's step)."""


@dataclass(frozen=True, eq=False)
class _Column:
    """A column with its ends cut square: its middle line, directions of travel, and edges, (n, 2) each."""

    middle: Points
    ahead: Points
    left: Points
    right: Points

    def mirrored(self, at: Points, along: Points) -> _Column:
        """The same behind a mirror that stands at a point, square to a direction, travelled on."""
        turn = np.eye(2) - 2 * np.outer(along, along)
        middle, left, right = ((at + (p - at) @ turn)[::-1] for p in (self.middle, self.left, self.right))
        return _Column(middle, -(self.ahead @ turn)[::-1], left, right)


@dataclass(frozen=True, eq=False)
class _Rung:
    """The rung that two columns share: its ends (2,), and the direction of travel across it."""

    left: Points
    right: Points
    ahead: Points


def _column(arc: Path, width: float, at_points: float, step: float) -> _Column:
    s = arc.stations(min(step, arc.length / FEWEST))
    middle, ahead = arc.points(s), arc.tangents(s)
    half = (at_points + (width - at_points) * np.sin(np.pi * s / arc.length)) / 2
    across = np.stack([-ahead[:, 1], ahead[:, 0]], axis=1) * half[:, None]
    return _Column(middle, ahead, middle - across, middle + across)


def _before(k: int, columns: list[_Column], base: Path, closed: bool) -> _Column:
    """The column that ends at mark k; at the beginning of an open line the first one, mirrored."""
    if k or closed:
        return columns[k - 1]
    return columns[0].mirrored(columns[0].middle[0], base.tangents([0.0])[0])


def _after(k: int, columns: list[_Column], base: Path, closed: bool) -> _Column:
    if k < len(columns) or closed:
        return columns[k % len(columns)]
    return columns[-1].mirrored(columns[-1].middle[-1], base.tangents([base.length])[0])


def _rung(before: _Column, after: _Column, half: float) -> _Rung:
    """The rung on the line that halves the angle from one column to the next."""
    at, one = before.middle[-1], before.ahead[-1]
    ahead, side = _halving(before, after)
    right = np.array([-ahead[1], ahead[0]])
    outside = inside = half / max(float(ahead @ one), 1.0 / MITRE)
    if side:
        edges = (before.right[::-1], after.right) if side > 0 else (before.left[::-1], after.left)
        inside = float(np.mean([_reach(edge, at, ahead, side * right, outside) for edge in edges]))
    far_left, far_right = (inside, outside) if side < 0 else (outside, inside)
    return _Rung(at - far_left * right, at + far_right * right, ahead)


def _halving(before: _Column, after: _Column) -> tuple[Points, int]:
    """(direction of travel across the line that halves the angle; 1 where the right is inside it, -1 the left, 0 where
    they go straight on). Past a right angle, the way from middle to middle tells right from left."""
    one, two = before.ahead[-1], after.ahead[0]
    on, inward = one + two, two - one
    if math.hypot(*on) > math.hypot(*inward):
        turn = float(one[0] * two[1] - one[1] * two[0])
        return on / math.hypot(*on), int(np.sign(turn)) if abs(turn) > _LEVEL else 0
    inward = inward / math.hypot(*inward)
    way = after.middle[len(after.middle) // 2] - before.middle[len(before.middle) // 2]
    side = 1 if way[0] * inward[1] - way[1] * inward[0] >= 0 else -1
    return side * np.array([inward[1], -inward[0]]), side


def _reach(edge: Points, at: Points, ahead: Points, inward: Points, least: float) -> float:
    """How far from a point, along the mitre, an inner edge that begins beyond the mitre comes out of it."""
    away = (edge - at) @ ahead
    crossed = np.flatnonzero(away[:-1] * away[1:] <= 0)
    if not len(crossed):
        return least
    k = int(crossed[0])
    share = away[k] / (away[k] - away[k + 1]) if away[k] != away[k + 1] else 0.0
    out: float = float((edge[k] + share * (edge[k + 1] - edge[k]) - at) @ inward)
    return out if out > 0 else least


def _fitted(column: _Column, first: _Rung, last: _Rung) -> Edges:
    """The column between two rungs: from either to the middle, where its rung stands square, they turn evenly."""
    ends = ((first.left, last.left, column.left), (first.right, last.right, column.right))
    halves = [_halves(edge, column, (start, first.ahead), (stop, last.ahead)) for start, stop, edge in ends]
    counts = [max(len(left), len(right)) for left, right in zip(*halves, strict=True)]
    left, right = ([_evenly(half, n) for half, n in zip(edge, counts, strict=True)] for edge in halves)
    return Edges(*(np.concatenate([begun, ended[1:]]) for begun, ended in (left, right)))


_End = tuple[Points, Points]
"""A rung's end (2,), and the direction of travel across it."""


def _halves(edge: Points, column: _Column, first: _End, last: _End) -> tuple[Points, Points]:
    """An edge from the end of one rung to its middle, and on to that of the other: what lies beyond either is left
    out."""
    middle = len(edge) // 2
    beyond = np.flatnonzero((edge[:middle] - column.middle[0]) @ first[1] <= 0)
    past = np.flatnonzero((edge[middle + 1 :] - column.middle[-1]) @ last[1] >= 0)
    a = int(beyond[-1]) + 1 if len(beyond) else 0
    b = middle + 1 + int(past[0]) if len(past) else len(edge)
    return np.concatenate([first[0][None], edge[a : middle + 1]]), np.concatenate([edge[middle:b], last[0][None]])


def _evenly(edge: Points, n: int) -> Points:
    far = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(edge, axis=0).T))])
    where = np.linspace(0.0, far[-1], n)
    return np.stack([np.interp(where, far, edge[:, k]) for k in (0, 1)], axis=1)


def _along(edges: Edges) -> NDArray[np.float64]:
    steps = np.maximum(*(np.hypot(*np.diff(e, axis=0).T) for e in (edges.left, edges.right)))
    return np.concatenate([[0.0], np.cumsum(steps)])
