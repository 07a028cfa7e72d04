"""What lies hidden under other stitching where it gets too thick, and what leaving it out would leave."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import binary_dilation

from festoon.proof.cloth import HIDES
from festoon.proof.heap import Bools, Floats, Place, Rule, boxed, cut_out, first_cell, window_cells
from festoon.proof.values import Thickness

WHOLLY = 0.9
"""Share of the thread laid at a place that must lie hidden before it is said to be (chosen; its edge may peep out)."""
GLANCE = 1.0
"""mm, side of the square over which stitching must close to hide what lies beneath (chosen, from thread to thread)."""


@dataclass(frozen=True, slots=True)
class Hidden:
    """Layers of stitching, by their index from the bottom, that lie hidden at a place.

    stitches: penetrations that leaving them out there saves. left: what the place's worst square then holds, in the
    rule's own unit.
    """

    which: tuple[int, ...]
    stitches: int
    left: float


def hidden(maps: Sequence[Thickness], place: Place, corner: tuple[int, int], limit: float) -> Hidden | None:
    """What of several stitchings, bottom first, may be left out at a place because those above it hide it.

    place: its cells counted from `corner`, the (row, column) on the panel of the heap's first cell. From the bottom up,
    only as many as bring the place to the limit, and never the uppermost. None where nothing is hidden.
    """
    size = window_cells(maps[0].cell)
    first, shape, here = _window(place, corner, size)
    layers, length, holes = _cut(maps, first, shape)
    glance = window_cells(maps[0].cell, GLANCE)
    reach = binary_dilation(here, np.ones((size + 1, size + 1), np.bool_))  # what counts at some cell of the place
    which: list[int] = []
    stitches = 0
    left = _worst(place.rule, layers, holes, here, size, maps[0].cell)
    for k in range(len(maps) - 1):
        covered = (boxed(layers[k + 1 :].sum(axis=0), glance) >= HIDES.value) & reach
        laid = length[k][reach].sum()
        if laid <= 0 or length[k][covered].sum() < WHOLLY * laid:
            continue
        which.append(k)
        stitches += int(holes[k][covered].sum())
        layers[k][covered], holes[k][covered] = 0.0, 0.0
        left = _worst(place.rule, layers, holes, here, size, maps[0].cell)
        if left <= limit:
            break
    return Hidden(tuple(which), stitches, left) if stitches else None


def _window(place: Place, corner: tuple[int, int], size: int) -> tuple[tuple[int, int], tuple[int, int], Bools]:
    """Its first cell on the panel, its shape, and which of its cells are the place's; a square wider all round."""
    low, high = place.cells.min(axis=0) - size, place.cells.max(axis=0) + size + 1
    rows, columns = (high - low).tolist()
    here = np.zeros((rows, columns), np.bool_)
    here[tuple((place.cells - low).T)] = True
    row, column = (low + np.array(corner)).tolist()
    return (row, column), (rows, columns), here


def _cut(maps: Sequence[Thickness], first: tuple[int, int], shape: tuple[int, int]) -> tuple[Floats, Floats, Floats]:
    """Layers, thread and penetrations of every map on one window, (maps, rows, columns)."""
    layers, length, holes = (
        np.stack([cut_out(getattr(m, name).astype(np.float64), first_cell(m), first, shape) for m in maps])
        for name in ("layers", "length", "holes")
    )
    return layers, length, holes


def _worst(rule: Rule, layers: Floats, holes: Floats, here: NDArray[np.bool_], size: int, cell: float) -> float:
    """The most at the place's own cells, in the rule's unit."""
    whole = layers.sum(axis=0) if rule == "layers" else holes.sum(axis=0) / (cell / 10) ** 2
    return float(boxed(whole, size)[here].max())
