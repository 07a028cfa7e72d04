"""The stitches of each part as lines, gathered from all hoopings that sew it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from festoon.hooping import Division
from festoon.plane.pose import Points
from festoon.proof.limits import LOCKS, SHORT
from festoon.stitches import Act, Stitching

BACK = -0.7
"""Cosine of the turn from one satin stitch to the next, at most: it goes back again (135 degrees or more, ours)."""

EXACT = 1e-6
"""mm by which a length on the limit may be off through reckoning."""


@dataclass(frozen=True, eq=False)
class Lines:
    """Lines from start (m, 2) to end (m, 2), mm on the panel, of one part, in the order of sewing.

    hooping (m,): the number of the hooping that sews each; run (m,): the uncut run that it belongs to.
    """

    part: str
    element: str
    panel: str
    start: Points
    end: Points
    hooping: NDArray[np.int64]
    run: NDArray[np.int64]

    @property
    def lengths(self) -> NDArray[np.float64]:
        """(m,) mm."""
        return np.asarray(np.hypot(*(self.end - self.start).T))

    def at(self, k: int) -> tuple[float, float]:
        """The middle of line k, mm on the panel."""
        x, y = ((self.start[k] + self.end[k]) / 2).round(3).tolist()
        return x, y

    def chosen(self, which: NDArray[np.bool_]) -> Lines:
        """Only the lines of which `which` (m,) is true."""
        return replace(
            self, start=self.start[which], end=self.end[which], hooping=self.hooping[which], run=self.run[which]
        )


def stitches(division: Division) -> list[Lines]:
    """Every laid stitch, part by part in the order of sewing."""
    return _gathered(division, _laid)


def jumps(division: Division) -> list[Lines]:
    """Every way from stitch to stitch with the needle up and the thread neither cut nor changed, part by part."""
    return _gathered(division, _jumped)


def locking(lines: Lines) -> NDArray[np.bool_]:
    """(m,) true for the short stitches with which a run begins and ends, at most LOCKS at either end."""
    long = lines.lengths >= SHORT.value - EXACT
    return _leading(long, lines.run) | _leading(long[::-1], lines.run[::-1])[::-1]


def satin(lines: Lines) -> NDArray[np.bool_]:
    """(m,) true for satin: three stitches or more that each go back from the last, the small steps between aside."""
    steps = lines.lengths < SHORT.value - EXACT
    across = lines.chosen(~steps)
    way = (across.end - across.start) / across.lengths[:, None]
    back = ((way[1:] * way[:-1]).sum(axis=1) <= BACK) & (across.run[1:] == across.run[:-1])
    found = np.zeros(len(steps), np.bool_)
    if len(way):
        inner = np.append(back, False) & np.append(False, back)
        found[~steps] = inner | np.append(inner[1:], False) | np.append(False, inner[:-1])
    return found


def _leading(long: NDArray[np.bool_], run: NDArray[np.int64]) -> NDArray[np.bool_]:
    """(m,) true for the short ones before the first long one of their run, LOCKS of them at most."""
    place = np.arange(len(run))
    first = np.maximum.accumulate(np.where(np.diff(run, prepend=-1) != 0, place, 0)) if len(run) else place
    last_long = np.maximum.accumulate(np.where(long, place, -1)) if len(run) else place
    return np.asarray((last_long < first) & (place - first < LOCKS.value))


_Pairs = tuple[NDArray[np.intp], NDArray[np.intp]]


def _laid(stitching: Stitching) -> _Pairs:
    """Records from and to which a stitch is laid."""
    to = stitching.laid()
    return to - 1, to


def _jumped(stitching: Stitching) -> _Pairs:
    """Penetrations with moves between them and neither cut, stop nor another thread."""
    holes = np.flatnonzero(stitching.is_stitch)
    a, b = holes[:-1], holes[1:]
    breaks = np.cumsum((stitching.acts == Act.TRIM) | (stitching.acts == Act.STOP))
    dragged = (b - a > 1) & (breaks[a] == breaks[b]) & (stitching.thread[a] == stitching.thread[b])
    return a[dragged], b[dragged]


def _gathered(division: Division, ends: Callable[[Stitching], _Pairs]) -> list[Lines]:
    found: dict[tuple[str, str, str], list[tuple[Points, Points, int, NDArray[np.intp]]]] = {}
    for hooping in division.hoopings:
        for block in hooping.blocks:
            a, b = ends(block.stitching)
            points = block.stitching.points
            rows = found.setdefault((block.part, block.element, hooping.panel), [])
            rows.append((points[a], points[b], hooping.number, np.cumsum(np.diff(b, prepend=-1) != 1)))
    return [_joined(names, rows) for names, rows in found.items()]


def _joined(names: tuple[str, str, str], rows: list[tuple[Points, Points, int, NDArray[np.intp]]]) -> Lines:
    runs, before = [], 0
    for *_, run in rows:
        runs.append(run + before)
        before += len(run) + 1
    return Lines(
        *names,
        start=np.concatenate([r[0] for r in rows]),
        end=np.concatenate([r[1] for r in rows]),
        hooping=np.concatenate([np.full(len(r[0]), r[2], np.int64) for r in rows]),
        run=np.concatenate(runs).astype(np.int64),
    )
