"""Columns: two rails and the rungs between them, which satin and zigzag are sewn on.

A column is a dense table of rungs. Where the inner rail of a turn would run backwards, its rungs are made to stand
on one point, so that they open like a fan and never cross.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from festoon.errors import PieceError
from festoon.plane.path import Path, through
from festoon.plane.pose import Points
from festoon.plane.segments import Floats

Width = float | Callable[[Floats], ArrayLike]
"""A width in mm, or a function that gives it for positions from 0 (start) to 1 (end), array to array."""

_STEP = 0.1
"""mm between the rungs of the dense table: a quarter of the finest usual spacing."""
_FEWEST = 8
"""Rungs of the dense table on the shortest leg."""
_FAN_STEP = 3.0
"""Degrees between rungs that turn round a corner."""
_REACH = 3.0
"""A fan's point is looked for within this many widths of its turn."""


@dataclass(frozen=True, eq=False)
class Column:
    """Rungs from left (n, 2) to right (n, 2), mm, and whether the last meets the first."""

    left: Points
    right: Points
    closed: bool = False

    @property
    def advance(self) -> Floats:
        """(n,) mm, how far the longer rail has come at each rung, counted rung by rung."""
        steps = np.maximum(_steps(self.left), _steps(self.right))
        return np.concatenate([[0.0], np.cumsum(steps)])

    def inset(self, by: float, share: float) -> Column:
        """Both rails drawn in by `by` mm, or by that share of the rung where it is short."""
        across = self.right - self.left
        width = np.hypot(across[:, 0], across[:, 1])
        f = (np.minimum(by, share * width) / np.maximum(width, 1e-12))[:, None]
        return Column(self.left + f * across, self.right - f * across, self.closed)

    def widened(self, pull: float, tip: float) -> Column:
        """Every rung made longer by `pull` mm, half at each end, and none shorter than `tip` mm."""
        across = self.right - self.left
        width = np.hypot(across[:, 0], across[:, 1])
        grown = np.maximum(width + pull, tip)
        along = _filled(across, width)
        middle = (self.left + self.right) / 2
        half = along * (grown / 2)[:, None]
        return Column(middle - half, middle + half, self.closed)


def column_along(path: Path, width: Width) -> Column:
    """The column of a given width about a path: left and right as seen when travelling.

    Corners are turned in a fan round the outside. A closed path that starts at a corner is begun half way along its
    first leg instead. PieceError where the width is not a finite number or nowhere greater than nothing.
    """
    if path.closed and 0.0 in path.corners(_FAN_STEP):
        half = path.legs(_FAN_STEP)[0].length / 2
        path = path.trimmed(half, half + path.length)
    s, turn = _stations(path)
    w = _widths(width, s / path.length)
    centre = path.points(s)
    right = np.stack([-np.sin(turn), np.cos(turn)], axis=1)
    half_way = (w / 2)[:, None] * right
    ahead = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    left_rail = _unfolded(centre - half_way, ahead, s, w)
    right_rail = _unfolded(centre + half_way, ahead, s, w)
    return Column(left_rail, right_rail, path.closed)


def column_between(
    left: Path | ArrayLike, right: Path | ArrayLike, rungs: Sequence[tuple[float, float]] = ()
) -> Column:
    """The column between two rails that are travelled the same way (points become a smooth curve through them).

    Rungs join matching fractions of the rails' lengths; `rungs` gives pairs (fraction left, fraction right) that
    must stand opposite each other, and what lies between them is divided evenly. PieceError where they go back.
    """
    a, b = (r if isinstance(r, Path) else through(r) for r in (left, right))
    pairs = [(0.0, 0.0), *rungs, (1.0, 1.0)]
    if any(p[0] > q[0] or p[1] > q[1] for p, q in itertools.pairwise(pairs)):
        raise PieceError("The rungs of a satin column go backwards.", remedy="Give them in order, from 0 to 1.")
    longer = max(a.length, b.length)
    stops = [max(p) for p in pairs]
    n = max(_FEWEST, math.ceil(longer / _STEP))
    f = np.unique(np.concatenate([np.linspace(0, 1, n + 1), stops]))
    known = np.array(pairs)
    fa, fb = (np.interp(f, stops, known[:, k]) for k in (0, 1))
    return Column(a.points(fa * a.length), b.points(fb * b.length), a.closed and b.closed)


def _stations(path: Path) -> tuple[Floats, Floats]:
    """Arc lengths of the dense rungs and the direction of travel there in radians, turned in steps at corners."""
    edges = [0.0, *path.corners(_FAN_STEP), path.length]
    places: list[Floats] = []
    turns: list[Floats] = []
    for a, b in itertools.pairwise(sorted(set(edges))):
        leg = path.trimmed(a, b)
        s = leg.stations(min(_STEP, leg.length / _FEWEST))
        turn = np.unwrap(np.radians(leg.turns(s)))
        if turns:
            before = float(turns[-1][-1])
            jump = (float(turn[0]) - before + math.pi) % (2 * math.pi) - math.pi
            turn = turn - turn[0] + before + jump
            k = math.ceil(abs(math.degrees(jump)) / _FAN_STEP)
            turns.append(before + jump * np.arange(1, k) / k)
            places.append(np.full(max(0, k - 1), a))
        places.append(a + s)
        turns.append(turn)
    return np.minimum(np.concatenate(places), path.length), np.concatenate(turns)


def _widths(width: Width, f: Floats) -> Floats:
    w = np.asarray(width(f) if callable(width) else width, dtype=np.float64)
    w = np.broadcast_to(w, f.shape)
    if not np.isfinite(w).all() or w.min() < 0 or w.max() <= 0:
        raise PieceError(
            "A satin column's width is not a length greater than nothing.",
            remedy="Give a width that is never below 0 and somewhere above it.",
        )
    return w


def _unfolded(rail: Points, ahead: Points, s: Floats, width: Floats) -> Points:
    """The rail with every stretch that runs backwards, and the loop it belongs to, drawn together to one point."""
    back = np.einsum("ij,ij->i", np.diff(rail, axis=0), ahead[:-1] + ahead[1:]) < -1e-12
    out = rail.copy()
    for first, last in _spans(back, s, width):
        reach = _REACH * float(width[first : last + 1].max()) + float(s[last] - s[first])
        i0 = int(np.searchsorted(s, s[first] - reach))
        j1 = int(np.searchsorted(s, s[last] + reach, side="right"))
        loop = _crossing(rail, (i0, first), (last, min(j1, len(rail) - 1)))
        if loop is None:
            out[first : last + 1] = rail[first : last + 1].mean(axis=0)
        else:
            i, j, at = loop
            out[i + 1 : j + 1] = at
    return out


def _spans(back: np.ndarray[tuple[int, ...], np.dtype[np.bool_]], s: Floats, width: Floats) -> list[tuple[int, int]]:
    """Index ranges of rungs that run backwards; ranges less than half a width apart are one turn."""
    spans: list[tuple[int, int]] = []
    for k in np.flatnonzero(back).tolist():
        if spans and s[k] - s[spans[-1][1]] <= width[k] / 2:
            spans[-1] = (spans[-1][0], k + 1)
        else:
            spans.append((k, k + 1))
    return spans


def _crossing(rail: Points, before: tuple[int, int], after: tuple[int, int]) -> tuple[int, int, Points] | None:
    """Where the rail before a turn crosses the rail after it: (i, j, point), the crossing nearest to the turn."""
    a, b = rail[before[0] : before[1] + 1], rail[after[0] : after[1] + 1]
    if len(a) < 2 or len(b) < 2:
        return None
    da, db = np.diff(a, axis=0)[:, None], np.diff(b, axis=0)[None]
    apart = b[None, :-1] - a[:-1, None]
    cross = _cross(da, db)
    with np.errstate(divide="ignore", invalid="ignore"):
        t, u = _cross(apart, db) / cross, _cross(apart, da) / cross
    hit = (t >= 0) & (t <= 1) & (u >= 0) & (u <= 1)
    if not hit.any():
        return None
    i, j = np.nonzero(hit)
    best = int(np.argmin((len(a) - i) + j))
    at: Points = a[i[best]] + t[i[best], j[best]] * da[i[best], 0]
    return before[0] + int(i[best]), after[0] + int(j[best]), at


def _cross(a: Points, b: Points) -> Floats:
    product: Floats = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return product


def _steps(p: Points) -> Floats:
    d = np.diff(p, axis=0)
    size: Floats = np.hypot(d[:, 0], d[:, 1])
    return size


def _filled(across: Points, width: Floats) -> Points:
    """Unit directions of the rungs; a rung of no length takes that of the next one that has some."""
    good = np.flatnonzero(width > 1e-9)
    if not len(good):
        raise PieceError("The two edges of a satin column are one line.", remedy="Move them apart.")
    next_good = good[np.minimum(np.searchsorted(good, np.arange(len(width))), len(good) - 1)]
    unit: Points = across[next_good] / width[next_good][:, None]
    return unit
