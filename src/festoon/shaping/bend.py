"""How a course bends: its curvature, and how the heading beside it grows longer or shorter for that."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from festoon.plane import Bezier
from festoon.plane.path import MEETING
from festoon.plane.segments import Floats
from festoon.shaping.cells import Cell

_LOOKED_AT = np.linspace(0.0, 1.0, 9)
"""Parameters at which a Bézier's cell is looked at for its greatest curvature."""


@dataclass(frozen=True, eq=False)
class Ease:
    """A break of the course too small to be mitred, its turn spread from s0 to s1. turn: 2·tan(angle/2), signed."""

    s0: float
    s1: float
    turn: float


class Bend:
    """Curvature and turning along cells that follow each other without a gap, above 0 to the right. mm and radians."""

    def __init__(self, cells: list[Cell], eases: list[Ease], distance: float) -> None:
        self._cells = cells
        self._distance = distance
        self._edges = np.array([cells[0].s0, *(c.s1 for c in cells)])
        a, b = np.array([c.first for c in cells]), np.array([c.last for c in cells])
        turned = np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], (a * b).sum(axis=1))
        self._turned = np.concatenate([[0.0], np.cumsum(turned)])
        self._mean = turned / np.diff(self._edges)
        self._starts = a
        self._curved = np.array([isinstance(c.course, Bezier) for c in cells])
        self._looked_at = self._look()
        self._eased(eases)
        knots = np.unique(np.concatenate([self._edges, self._ease_at]))
        knots = knots[np.concatenate([[True], np.diff(knots) > MEETING])]  # eases that touch may miss by rounding
        knots[-1] = self._edges[-1]
        self.knots: Floats = knots
        """Every s, sorted, between which the bend is of one kind."""

    def curvature(self, s: ArrayLike) -> Floats:
        """1/mm at s (n,), the eases spread out; at a cell's end that of the cell which begins there."""
        at = np.asarray(s, dtype=np.float64).reshape(-1)
        k = self._which(at)
        bend: Floats = self._mean[k]
        for i in np.unique(k[self._curved[k]]).tolist():
            here, cell = k == i, self._cells[i]
            bend[here] = cell.course.curvature(cell.course.t_at(at[here] - cell.s0))
        bend += self._eased_at(at)
        return bend

    def mean(self, s: ArrayLike) -> Floats:
        """As curvature, that of a Bézier's cell its mean."""
        at = np.asarray(s, dtype=np.float64).reshape(-1)
        bend: Floats = self._mean[self._which(at)] + self._eased_at(at)
        return bend

    def turned(self, s: ArrayLike) -> Floats:
        """Radians turned from the beginning up to s (n,)."""
        at = np.asarray(s, dtype=np.float64).reshape(-1)
        k = self._which(at)
        turn: Floats = self._turned[k] + self._mean[k] * (at - self._edges[k])
        for i in np.unique(k[self._curved[k] & (at > self._edges[k])]).tolist():
            here, cell, a = k == i, self._cells[i], self._starts[i]
            b = cell.course.tangent(cell.course.t_at(at[here] - cell.s0))
            turn[here] = self._turned[i] + np.arctan2(a[0] * b[:, 1] - a[1] * b[:, 0], b @ a)
        if len(self._ease_at):
            turn += np.interp(at, self._ease_at, self._ease_sum)
        return turn

    def over(self, s: ArrayLike) -> Floats:
        """Length of the parallel from the beginning to square across from s (n,): s - distance·turn, mm."""
        length: Floats = np.asarray(s, dtype=np.float64).reshape(-1) - self._distance * self.turned(s)
        return length

    def strips(self, spans: Sequence[tuple[float, float]]) -> list[float]:
        """Lace that lies on each span from s0 to s1: everywhere the longer heading, mm."""
        inside = [self.knots[(self.knots > s0) & (self.knots < s1)] for s0, s1 in spans]
        s = [np.array([s0, *knots, s1]) for (s0, s1), knots in zip(spans, inside, strict=True)]
        over = np.split(self.over(np.concatenate(s)), np.cumsum([len(x) for x in s])[:-1]) if s else []
        return [float(np.maximum(np.diff(x), np.diff(y)).sum()) for x, y in zip(s, over, strict=True)]

    def most(self, spans: Sequence[tuple[int, int]]) -> list[tuple[float, float]]:
        """On each span of knots, a first and a last one's number: the curvature farthest from 0, signed, and its
        place."""
        looked, looked_bent = self._looked_at
        middles = (self.knots[:-1] + self.knots[1:]) / 2
        mean, bent = self.mean(middles), looked_bent + self._eased_at(looked)
        out = []
        for a, b in spans:
            low, high = np.searchsorted(looked, self.knots[[a, b]], side="right").tolist()
            here = np.concatenate([mean[a:b], bent[low:high]])
            k = int(np.abs(here).argmax())
            out.append((float(here[k]), float(middles[a + k] if k < b - a else looked[low + k - (b - a)])))
        return out

    def cell(self, s: float) -> int:
        """Which cell s lies in."""
        return int(self._which(np.array([s]))[0])

    def _which(self, s: Floats) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
        found: np.ndarray[tuple[int], np.dtype[np.int64]] = np.searchsorted(self._edges, s, side="right") - 1
        return np.minimum(np.maximum(found, 0), len(self._cells) - 1)

    def _look(self) -> tuple[Floats, Floats]:
        """Places and curvatures along all Béziers' cells, just inside of their ends."""
        places, bends = [np.zeros(0)], [np.zeros(0)]
        for i in np.flatnonzero(self._curved).tolist():
            cell = self._cells[i]
            bends.append(cell.course.curvature(_LOOKED_AT))
            chords = np.hypot(*np.diff(cell.course.point(_LOOKED_AT), axis=0).T)
            share = np.concatenate([[0.0], np.cumsum(chords)]) / chords.sum()
            places.append(cell.s0 + (cell.s1 - cell.s0) * np.clip(share, 1e-9, 1 - 1e-9))
        return np.concatenate(places), np.concatenate(bends)

    def _eased_at(self, s: Floats) -> Floats:
        inside = np.minimum(s, self._edges[-1] - MEETING)  # at its very end a course bends as just before
        density: Floats = self._density[np.searchsorted(self._ease_at, inside, side="right")]
        return density

    def _eased(self, eases: list[Ease]) -> None:
        """Spread breaks as a density that is even between places, and its sum at each."""
        at = np.array([x for e in eases for x in (e.s0, e.s1)])
        step = np.array([sign * e.turn / (e.s1 - e.s0) for e in eases for sign in (1.0, -1.0)])
        order = np.argsort(at, kind="stable")
        self._ease_at = at[order]
        self._density = np.concatenate([[0.0], np.cumsum(step[order])])
        steps = np.diff(self._ease_at) * self._density[1:-1] if len(at) else np.zeros(0)
        self._ease_sum = np.concatenate([[0.0], np.cumsum(steps)])
