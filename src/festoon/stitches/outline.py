"""The area that stitching covers, drawn thread by thread on a fine raster and traced."""

from __future__ import annotations

import hashlib
from typing import TypeAlias

import cv2
import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from festoon.errors import PieceError
from festoon.memory import Memory
from festoon.stitches.stitching import Stitching

CELL = 0.1
"""Side of a raster cell, mm."""

GAP = 0.6
"""Bare cloth between threads up to this wide counts as covered, mm: a satin or a fill of usual spacing closes
(0.4 mm is the trade's standard spacing; with room for a loose one; own choice)."""

SIMPLIFIED = 0.08
"""How far the traced outline may be straightened, mm. With the raster, the outline lies within 0.15 mm."""

THREAD_WIDTH = 0.4
"""How wide a laid thread is drawn, mm: twice the 0.2 mm of usual thread, with which a zigzag 0.4 mm apart on one side
just closes (an embroiderer's column), so that loose stitching counts as covered too (own choice)."""

MOST_CELLS = 1e9
"""Cells of the raster, a byte each: stitching spread over more than 3 by 3 m is a slip of the pen (own choice)."""

Region: TypeAlias = Polygon | MultiPolygon
Outlines: TypeAlias = tuple[tuple[int, Region], ...]

_TRACED: Memory[tuple[Region, Outlines]] = Memory(64)
"""By all that is traced; so many (own choice) are a large piece's motifs, and few megabytes."""

_SUBCELL = 4  # bits of a cell in OpenCV's drawing


def stitched_region(stitching: Stitching, thread_width: float = THREAD_WIDTH) -> Region:
    """The stitched area, with its holes, mm; empty where nothing is stitched.

    Laid stitches are `thread_width` wide, a lone penetration a dot of that size. The outline lies within 0.15 mm of
    that, and gaps up to `GAP` are closed. Every penetration lies inside. PieceError for stitching spread over more than
    MOST_CELLS.
    """
    runs = stitching.runs()
    if not runs:
        return MultiPolygon()
    mask, origin = _raster(stitching, runs, thread_width)
    return _traced(mask, origin)


def outlines_by_thread(stitching: Stitching, thread_width: float = THREAD_WIDTH) -> Outlines:
    """(thread index, stitched area) of every thread block that sews, in order."""
    blocks = ((int(stitching.thread[a]), stitching.part(a, b)) for a, b in stitching.thread_blocks())
    return tuple((index, stitched_region(part, thread_width)) for index, part in blocks if part.stitch_count)


def traced(stitching: Stitching) -> tuple[Region, Outlines]:
    """Its `stitched_region` and its `outlines_by_thread`, traced once for the same stitching."""
    parts = (stitching.points, stitching.acts, stitching.thread)
    key = hashlib.sha256(b"".join(np.int64(p.nbytes).tobytes() + p.tobytes() for p in parts)).digest()
    return _TRACED.worked(key, lambda: _traced_anew(stitching))


def _traced_anew(stitching: Stitching) -> tuple[Region, Outlines]:
    outlines = outlines_by_thread(stitching)
    if len(stitching.thread_blocks()) == 1 and outlines:
        return outlines[0][1], outlines
    return stitched_region(stitching), outlines


def _raster(
    stitching: Stitching, runs: list[tuple[int, int]], thread_width: float
) -> tuple[NDArray[np.uint8], NDArray[np.float64]]:
    left, top, right, bottom = stitching.bounds
    margin = thread_width + GAP + 2 * CELL
    origin = np.array([left, top]) - margin
    size = np.ceil((np.array([right, bottom]) - origin + margin) / CELL).astype(int)
    if size.prod() > MOST_CELLS:
        wide, high = ((right - left) / 1000, (bottom - top) / 1000)
        raise PieceError(
            f"its stitching spreads over {wide:.1f} x {high:.1f} m, which is too much.",
            remedy="Look at its lengths and their units.",
        )
    mask = np.zeros((int(size[1]), int(size[0])), np.uint8)
    cells = np.rint(((stitching.points - origin) / CELL - 0.5) * (1 << _SUBCELL)).astype(np.int32)
    lines = [cells[[a, a] if b - a == 1 else slice(a, b)] for a, b in runs]
    thickness = max(1, round(thread_width / CELL))
    cv2.polylines(mask, lines, False, 255, thickness, cv2.LINE_8, _SUBCELL)
    across = round(GAP / CELL) | 1
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (across, across))
    return cv2.morphologyEx(mask, cv2.MORPH_CLOSE, kernel).astype(np.uint8), origin


def _traced(mask: NDArray[np.uint8], origin: NDArray[np.float64]) -> Region:
    contours, tree = cv2.findContours(mask, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    rings = [_ring(np.asarray(c, np.int32), origin) for c in contours]
    links = tree[0].tolist()  # next, previous, first inner, parent
    polygons = []
    for outer, (_, _, inner, parent) in enumerate(links):
        if parent >= 0:
            continue
        holes = []
        while inner >= 0:
            if len(rings[inner]) > 2:
                holes.append(rings[inner])
            inner = links[inner][0]
        polygons.append(Polygon(rings[outer], holes) if len(rings[outer]) > 2 else shapely.Point(rings[outer][0]))
    # contours run through the middles of the outermost cells: half a cell brings them to the cells' edge
    region = shapely.make_valid(
        shapely.MultiPolygon() if not polygons else shapely.union_all(shapely.make_valid(polygons))
    )
    grown = region.buffer(CELL / 2, join_style="mitre")
    return grown if isinstance(grown, Polygon | MultiPolygon) else MultiPolygon()


def _ring(contour: NDArray[np.int32], origin: NDArray[np.float64]) -> NDArray[np.float64]:
    straight = cv2.approxPolyDP(contour, SIMPLIFIED / CELL, True).reshape(-1, 2)
    ring: NDArray[np.float64] = (straight + 0.5) * CELL + origin
    return ring
