"""A map of thickness -> what lies within reach of every point, judged by limits, and the places over them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import binary_dilation, find_objects, label, uniform_filter

from festoon.proof.cloth import LAYERS, LAYERS_STOP, NEAR
from festoon.proof.values import Thickness

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Rule = Literal["layers", "holes"]
EXACT = 1e-6
"""Share by which a limit may be passed through reckoning."""
RULES: tuple[Rule, ...] = ("layers", "holes")


@dataclass(frozen=True, eq=False)
class Spread:
    """A map averaged over NEAR squares round every point: one array, row r, column c at cell `corner` + (r, c).

    corner: (row, column) in whole cells from the panel's own corner. layers: of thread; holes: penetrations per cm2.
    """

    corner: tuple[int, int]
    layers: Floats
    holes: Floats

    def cut(self, corner: tuple[int, int], shape: tuple[int, int]) -> Spread:
        """The same on another window of cells, zero where nothing is known."""
        return Spread(corner, *(cut_out(a, self.corner, corner, shape) for a in (self.layers, self.holes)))

    @property
    def shape(self) -> tuple[int, int]:
        """Its rows and columns."""
        rows, columns = self.layers.shape
        return rows, columns

    def with_part(self, part: Spread) -> Spread:
        """This with one more part laid over it; the part reaches no farther than this does."""
        more = part.cut(self.corner, self.shape)
        return Spread(self.corner, self.layers + more.layers, self.holes + more.holes)

    def without(self, part: Spread) -> Spread:
        """This with one of its parts taken away."""
        less = part.cut(self.corner, self.shape)
        return Spread(self.corner, self.layers - less.layers, self.holes - less.holes)

    def moved(self, rows: int, columns: int) -> Spread:
        """The same so many cells farther down and right."""
        return replace(self, corner=(self.corner[0] + rows, self.corner[1] + columns))


@dataclass(frozen=True, eq=False)
class Judged:
    """How many times its limit each rule reaches, at every cell, (rules, rows, columns).

    again: against the limit to look again at; stop: against the limit that will not work.
    """

    again: Floats
    stop: Floats

    @property
    def over(self) -> Bools:
        """Cells over any limit."""
        return np.asarray(self.again.max(axis=0) > 1.0 + EXACT, np.bool_)


@dataclass(frozen=True, eq=False)
class Place:
    """Cells over a limit: (n, 2) rows and columns, the worst of them, the rule it breaks, how far, whether it stops."""

    cells: NDArray[np.int64]
    worst: tuple[int, int]
    rule: Rule
    excess: float
    stops: bool


def spread(thickness: Thickness) -> Spread:
    """The map of one part (or of anything sewn as one) averaged; it reaches one NEAR square farther all round."""
    near = window_cells(thickness.cell)
    layers = np.pad(thickness.layers.astype(np.float64), near)
    holes = np.pad(thickness.holes.astype(np.float64), near) / (thickness.cell / 10) ** 2
    row, column = first_cell(thickness)
    return Spread((row - near, column - near), boxed(layers, near), boxed(holes, near))


def first_cell(thickness: Thickness) -> tuple[int, int]:
    """(row, column) of the map's first cell, in whole cells from the panel's corner."""
    x, y = thickness.origin
    return round(y / thickness.cell), round(x / thickness.cell)


def judge(heaped: Spread, holes_limit: tuple[float, float]) -> Judged:
    """Every cell against the limits; holes_limit: penetrations per cm2 to look again at, and that will not work."""
    return Judged(
        again=np.stack([heaped.layers / LAYERS.value, heaped.holes / holes_limit[0]]),
        stop=np.stack([heaped.layers / LAYERS_STOP.value, heaped.holes / holes_limit[1]]),
    )


def places(judged: Judged, cell: float) -> list[Place]:
    """Cells over a limit, those whose squares touch each other together, the worst place first."""
    over = judged.over
    marks, _ = label(binary_dilation(over, np.ones((window_cells(cell),) * 2, np.bool_)), structure=np.ones((3, 3)))
    marks[~over] = 0
    found = []
    for k, (down, right) in enumerate(find_objects(marks), start=1):
        inside = marks[down, right] == k
        again, stop = (np.where(inside, a[:, down, right], 0.0) for a in (judged.again, judged.stop))
        stops = bool(stop.max() > 1.0 + EXACT)
        excess = stop if stops else again
        rule, row, column = (int(i) for i in np.unravel_index(np.argmax(excess), excess.shape))
        found.append(
            Place(
                cells=np.add(np.argwhere(inside), (down.start, right.start)),
                worst=(down.start + row, right.start + column),
                rule=RULES[rule],
                excess=float(excess[rule, row, column]),
                stops=stops,
            )
        )
    return sorted(found, key=lambda p: (not p.stops, -p.excess))


def together(several: Sequence[Place]) -> Place:
    """Several places told as one, at the first's worst cell."""
    return replace(several[0], cells=np.concatenate([p.cells for p in several]))


def window_cells(cell: float, mm: float = NEAR.value) -> int:
    """How many cells wide a square of so many mm is, one at least."""
    return max(1, round(mm / cell))


def boxed(values: Floats, size: int) -> Floats:
    """The mean over size x size cells (a box filter), nothing outside.

    Of an even size it stands half a cell left of and above the cell's middle: at its corner.
    """
    return np.maximum(uniform_filter(values, size, mode="constant"), 0.0)


def cut_out(values: Floats, have: tuple[int, int], want: tuple[int, int], shape: tuple[int, ...]) -> Floats:
    """The array whose first cell is `have` on a window that begins at cell `want`, zero where nothing is known."""
    cut = np.zeros(shape)
    down, right = have[0] - want[0], have[1] - want[1]
    top, left = max(down, 0), max(right, 0)
    bottom, side = min(down + values.shape[0], shape[0]), min(right + values.shape[1], shape[1])
    if top < bottom and left < side:
        cut[top:bottom, left:side] = values[top - down : bottom - down, left - right : side - right]
    return cut
