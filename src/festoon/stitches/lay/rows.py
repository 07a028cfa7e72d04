"""The rows of a fill, and the sections that they fall into at holes and bays of the shape."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from festoon.plane.segments import Floats
from festoon.stitches.lay.limits import SHORTEST_STITCH

_SPECK = 0.05
"""mm, a piece of a row shorter than this is left out: less than a machine's step of 0.1 mm."""


@dataclass(frozen=True, eq=False)
class Section:
    """Rows that lie one under the other without a gap: their numbers k, y, and ends x0 < x1, arrays of one length."""

    number: np.ndarray[tuple[int, ...], np.dtype[np.int64]]
    y: Floats
    x0: Floats
    x1: Floats

    def area(self, row: float) -> BaseGeometry:
        """The strip that its rows cover, each `row` mm high."""
        h = row / 2
        return shapely.union_all(shapely.box(self.x0, self.y - h, self.x1, self.y + h))


def sections(shape: Polygon, row: float, leap: float) -> list[Section]:
    """The sections of a polygon whose rows are level, in order from the top; rows are at most `row` mm apart.

    A section ends where a row meets none or several on the next line, or where an end leaps by more than `leap` mm.
    """
    _, top, _, bottom = shape.bounds
    n = max(1, math.ceil((bottom - top) / row - 1e-9))
    ys = top + (np.arange(n) + 0.5) * (bottom - top) / n
    rows = _cut_rows(shape, ys)
    done: list[list[tuple[int, float, float]]] = []
    open_: list[list[tuple[int, float, float]]] = []
    above: list[tuple[float, float]] = []
    for k, pieces in enumerate(rows):
        meets = [[i for i, p in enumerate(above) if p[0] < q[1] and q[0] < p[1]] for q in pieces]
        shared = np.bincount([i for m in meets for i in m], minlength=len(above))
        going: list[list[tuple[int, float, float]]] = []
        for q, m in zip(pieces, meets, strict=True):
            if len(m) == 1 and shared[m[0]] == 1 and max(np.abs(np.subtract(above[m[0]], q))) <= leap:
                open_[m[0]].append((k, *q))
                going.append(open_[m[0]])
            else:
                going.append([(k, *q)])
                done.append(going[-1])
        open_, above = going, pieces
    return [_section(part, ys) for part in done]


def _section(part: list[tuple[int, float, float]], ys: Floats) -> Section:
    number = np.array([p[0] for p in part], dtype=np.int64)
    return Section(number, ys[number], np.array([p[1] for p in part]), np.array([p[2] for p in part]))


def _cut_rows(shape: Polygon, ys: Floats) -> list[list[tuple[float, float]]]:
    """For every y the pieces (x0, x1) of the shape there, from left to right."""
    left, _, right, _ = shape.bounds
    ends = np.array([left - 1.0, right + 1.0])
    xy = np.stack([np.broadcast_to(ends, (len(ys), 2)), np.broadcast_to(ys[:, None], (len(ys), 2))], axis=-1)
    cut = shapely.intersection(shapely.linestrings(xy), shape)
    parts, owner = shapely.get_parts(cut, return_index=True)
    out: list[list[tuple[float, float]]] = [[] for _ in ys]
    bounds = shapely.bounds(parts)
    for k, (x0, _, x1, _) in zip(owner.tolist(), bounds.tolist(), strict=True):
        if x1 - x0 > _SPECK:
            out[k].append((x0, x1))
    return [sorted(pieces) for pieces in out]


def row_holes(x0: float, x1: float, phase: float, length: float, longest: float) -> Floats:
    """Holes of a row from x0 to x1, left to right: both ends, and the grid phase + i·length between them.

    A grid hole nearer to an end than half a stitch is left out, so that end stitches are never short (nor is any
    longer than `longest`). A row shorter than `SHORTEST_STITCH` has one hole, in its middle.
    """
    if x1 - x0 < SHORTEST_STITCH:
        return np.array([(x0 + x1) / 2])
    clear = max(SHORTEST_STITCH, min(length / 2, longest - length))
    first = math.ceil((x0 + clear - phase) / length - 1e-9)
    last = math.floor((x1 - clear - phase) / length + 1e-9)
    inner = phase + np.arange(first, last + 1) * length
    if first > last and x1 - x0 > longest:
        inner = np.array([(x0 + x1) / 2])
    return np.concatenate([[x0], inner, [x1]])
