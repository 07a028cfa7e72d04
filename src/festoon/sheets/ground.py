"""How full a drawing is, place by place, so that words can be put where they hide least."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely import Geometry

MOST_CELLS = 4_000_000
"""Cells of the grid at most; a larger panel gets a coarser one."""


class Ground:
    """A rectangle of the drawing, 0..width by 0..height mm, on a grid of weights.

    `full` are (weight, geometries): an area counts by its surface and a line as a band one cell wide. cell is the
    grid's fineness in mm.
    """

    def __init__(
        self, size: tuple[float, float], cell: float, full: Sequence[tuple[float, Sequence[Geometry]]]
    ) -> None:
        self.size = size
        self.cell = max(cell, float(np.sqrt(size[0] * size[1] / MOST_CELLS)))
        shape = tuple(int(np.ceil(s / self.cell)) + 1 for s in reversed(size))
        weights = np.zeros(shape)
        for weight, geometries in full:
            layer = np.zeros(shape, np.uint8)
            for geometry in geometries:
                _paint(layer, geometry, self.cell)
            weights += weight * layer
        self._sums = np.pad(weights.cumsum(0).cumsum(1), ((1, 0), (1, 0))) * self.cell**2

    def cost(self, boxes: ArrayLike) -> NDArray[np.float64]:
        """(n,) weight times mm² under each of the boxes (n, 4): left, top, right, bottom, mm. Beyond the edge: 0."""
        rows, columns = self._sums.shape
        cells = np.round(np.asarray(boxes, dtype=np.float64) / self.cell).astype(int)
        left, right = (np.clip(cells[:, i], 0, columns - 1) for i in (0, 2))
        top, bottom = (np.clip(cells[:, i], 0, rows - 1) for i in (1, 3))
        sums: NDArray[np.float64] = (
            self._sums[bottom, right] - self._sums[top, right] - self._sums[bottom, left] + self._sums[top, left]
        )
        return sums

    def outside(self, boxes: ArrayLike) -> NDArray[np.float64]:
        """(n,) mm² of each box that lie beyond the edge."""
        b = np.asarray(boxes, dtype=np.float64)
        inside = np.maximum(0, np.minimum(b[:, 2:], self.size) - np.maximum(b[:, :2], 0)).prod(axis=1)
        whole: NDArray[np.float64] = (b[:, 2:] - b[:, :2]).prod(axis=1)
        return np.asarray(whole - inside)


def overlap(boxes: NDArray[np.float64], taken: Sequence[Sequence[float]]) -> NDArray[np.float64]:
    """(n,) mm² of each of the boxes (n, 4) that lie on the boxes already taken."""
    if not len(taken):
        return np.zeros(len(boxes))
    t = np.asarray(taken, dtype=np.float64)
    low = np.maximum(boxes[:, None, :2], t[None, :, :2])
    high = np.minimum(boxes[:, None, 2:], t[None, :, 2:])
    shared: NDArray[np.float64] = np.maximum(0, high - low).prod(axis=2).sum(axis=1)
    return shared


def _paint(layer: NDArray[np.uint8], geometry: Geometry, cell: float) -> None:
    for part in shapely.get_parts(geometry):
        if part.geom_type == "Polygon":
            rings = [part.exterior, *part.interiors]
            cv2.fillPoly(layer, [_cells(r, cell) for r in rings], 1)
        elif not part.is_empty:
            cv2.polylines(layer, [_cells(part, cell)], False, 1)


def _cells(line: Geometry, cell: float) -> NDArray[np.int32]:
    return np.asarray(np.round(shapely.get_coordinates(line) / cell), dtype=np.int32)
