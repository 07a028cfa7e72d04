"""A map of thickness -> what lies within reach of every point, judged by limits, and the places over them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import find_objects, label, uniform_filter

from festoon.proof.cloth import ADDED, ADDED_STOP, LAYERS, LAYERS_STOP, NEAR, WIDE
from festoon.proof.values import Thickness

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Rule = Literal["near", "wide", "holes"]
RULES: tuple[Rule, ...] = ("near", "wide", "holes")


@dataclass(frozen=True, eq=False)
class Spread:
    """A map averaged over squares round every point: one array, row r and column c at cell `corner` + (r, c).

    corner: (row, column) in whole cells from the panel's own corner. near, wide: layers in a square of NEAR and of
    WIDE mm. holes: penetrations per cm2 in a square of WIDE mm. alone: the thickest that one part makes `near`.
    """

    corner: tuple[int, int]
    near: Floats
    wide: Floats
    holes: Floats
    alone: Floats

    def cut(self, corner: tuple[int, int], shape: tuple[int, int]) -> Spread:
        """The same on another window of cells, zero where nothing is known."""
        arrays = (self.near, self.wide, self.holes, self.alone)
        return Spread(corner, *(_cut(a, self.corner, corner, shape) for a in arrays))

    @property
    def shape(self) -> tuple[int, int]:
        """Its rows and columns."""
        rows, columns = self.near.shape
        return rows, columns

    def with_part(self, part: Spread) -> Spread:
        """This with one more part laid over it; the part reaches no farther than this does."""
        more = part.cut(self.corner, self.shape)
        return Spread(
            self.corner,
            self.near + more.near,
            self.wide + more.wide,
            self.holes + more.holes,
            np.maximum(self.alone, more.near),
        )

    def moved(self, rows: int, columns: int) -> Spread:
        """The same so many cells farther down and right."""
        corner = self.corner[0] + rows, self.corner[1] + columns
        return Spread(corner, self.near, self.wide, self.holes, self.alone)


@dataclass(frozen=True, eq=False)
class Judged:
    """excess: how many times its limit each rule reaches, at every cell, (rules, rows, columns); stop: cells that
    will not work."""

    excess: Floats
    stop: Bools

    @property
    def over(self) -> Bools:
        """Cells over any limit."""
        return np.asarray(self.excess.max(axis=0) > 1.0, np.bool_)


@dataclass(frozen=True, eq=False)
class Place:
    """Cells over a limit: (n, 2) rows and columns, the worst of them, the rule it breaks, how far, whether it stops."""

    cells: NDArray[np.int64]
    worst: tuple[int, int]
    rule: Rule
    excess: float
    stops: bool


def spread(thickness: Thickness) -> Spread:
    """The map of one part (or of anything sewn as one) averaged; it reaches half a WIDE square farther all round."""
    near, wide = (window_cells(mm, thickness.cell) for mm in (NEAR.value, WIDE.value))
    layers = np.pad(thickness.layers.astype(np.float64), wide)
    holes = np.pad(thickness.holes.astype(np.float64), wide) / (thickness.cell / 10) ** 2
    x, y = thickness.origin
    close = _boxed(layers, near)
    return Spread(
        corner=(round(y / thickness.cell) - wide, round(x / thickness.cell) - wide),
        near=close,
        wide=_boxed(layers, wide),
        holes=_boxed(holes, wide),
        alone=close,
    )


def heap(whole: Thickness, parts: Sequence[Spread]) -> Spread:
    """The whole panel averaged, knowing what each of its parts makes alone."""
    all_of_it = spread(whole)
    alone = np.zeros_like(all_of_it.near)
    for part in parts:
        np.maximum(alone, part.cut(all_of_it.corner, all_of_it.shape).near, out=alone)
    return Spread(all_of_it.corner, all_of_it.near, all_of_it.wide, all_of_it.holes, alone)


def judge(heaped: Spread, holes_limit: tuple[float, float]) -> Judged:
    """Every cell against the limits; holes_limit: penetrations per cm2 to look again at, and that will not work.

    A part by itself is judged over the WIDE square only, however dense it is at one point; over the NEAR square what
    parts add to each other counts.
    """
    added = heaped.near - heaped.alone
    near = np.where(added > ADDED.value, heaped.near / LAYERS.value, 0.0)
    excess = np.stack([near, heaped.wide / LAYERS.value, heaped.holes / holes_limit[0]])
    stop = (added > ADDED_STOP.value) & (heaped.near > LAYERS_STOP.value)
    return Judged(excess, stop | (heaped.wide > LAYERS_STOP.value) | (heaped.holes > holes_limit[1]))


def places(judged: Judged) -> list[Place]:
    """Cells over a limit, neighbours together (also across corners), the worst place first."""
    marks, _ = label(judged.over, structure=np.ones((3, 3)))
    found = []
    for k, (down, right) in enumerate(find_objects(marks), start=1):
        inside = marks[down, right] == k
        stop = judged.stop[down, right] & inside
        excess = np.where(stop if stop.any() else inside, judged.excess[:, down, right], 0.0)
        rule, row, column = (int(i) for i in np.unravel_index(np.argmax(excess), excess.shape))
        found.append(
            Place(
                cells=np.add(np.argwhere(inside), (down.start, right.start)),
                worst=(down.start + row, right.start + column),
                rule=RULES[rule],
                excess=float(excess[rule, row, column]),
                stops=bool(stop.any()),
            )
        )
    return sorted(found, key=lambda p: (not p.stops, -p.excess))


def together(several: Sequence[Place]) -> Place:
    """Several places told as one, at the first's worst cell."""
    return replace(several[0], cells=np.concatenate([p.cells for p in several]))


def window_cells(mm: float, cell: float) -> int:
    """How many cells wide a square of so many mm is, one at least."""
    return max(1, round(mm / cell))


def _boxed(values: Floats, size: int) -> Floats:
    """The mean over size x size cells (a box filter), nothing outside.

    Of an even size it stands half a cell left of and above the cell's middle: at its corner.
    """
    return np.maximum(uniform_filter(values, size, mode="constant"), 0.0)


def _cut(values: Floats, have: tuple[int, int], want: tuple[int, int], shape: tuple[int, ...]) -> Floats:
    cut = np.zeros(shape)
    down, right = have[0] - want[0], have[1] - want[1]
    top, left = max(down, 0), max(right, 0)
    bottom, side = min(down + values.shape[0], shape[0]), min(right + values.shape[1], shape[1])
    if top < bottom and left < side:
        cut[top:bottom, left:side] = values[top - down : bottom - down, left - right : side - right]
    return cut
