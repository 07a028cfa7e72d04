"""Fill: level rows of stitches over an area, sewn section by section, no thread outside the area."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from festoon.errors import PieceError
from festoon.plane.pose import Points, Pose
from festoon.stitches.lay.limits import MAX_STITCH, SHORTEST_STITCH
from festoon.stitches.lay.rows import Section, row_holes, sections
from festoon.stitches.lay.run import RUN_LENGTH
from festoon.stitches.lay.ways import Ways
from festoon.stitches.stitching import Stitching, from_points, joined
from festoon.stitches.thread import Thread

FILL_ROW = 0.4
"""mm from thread line to thread line (0.35 to 0.45: an embroidery glossary)."""
FILL_LENGTH = 4.0
"""mm, stitch length of a fill (thread makers assume a mean stitch of 4 to 5 mm)."""
STAGGER = 0.25
"""Shift of the holes from row to row, in stitch lengths. Common practice."""
UNDERLAY_ROW = 2.5
"""mm between the rows underneath, which run across the fill. Common practice."""
UNDERLAY_LENGTH = 3.0
"""mm, stitch length of the rows underneath. Common practice."""
UNDERLAY_INSET = 0.8
"""mm that the rows underneath stay inside the edge. Common practice."""
SHOWS = 1.5
"""mm of thread over rows already sewn that may show; a longer way is cut instead. Common practice."""
_EDGE = 0.5
"""mm at the edge of what is sewn where a thread along it hardly shows. Common practice."""
_ALONG = 8.0
"""mm that a thread may go along such an edge. Common practice."""


@dataclass(frozen=True, eq=False)
class _Block:
    """One section's rows of holes, each from left to right, and the area that they cover."""

    rows: tuple[Points, ...]
    area: BaseGeometry

    def sewn(self, from_below: bool, from_right: bool) -> list[Points]:
        rows = self.rows[::-1] if from_below else self.rows
        return [r[::-1] if (k % 2 == 1) != from_right else r for k, r in enumerate(rows)]


def fill(
    shape: Polygon | MultiPolygon,
    *,
    angle: float,
    row: float = FILL_ROW,
    length: float = FILL_LENGTH,
    stagger: float = STAGGER,
    underlay: bool = False,
    inset: float = 0.0,
    thread: Thread,
) -> Stitching:
    """Rows of stitches over a polygon, holes and several parts allowed.

    angle: degrees of the rows, 0 level, positive clockwise as seen. row: mm from one THREAD LINE to the next (not
    hole to hole on one side, as in satin). length: mm, stitches between the rows' ends; holes shift by `stagger`
    stitch lengths from row to row; end stitches are half to one and a half as long, at most `MAX_STITCH`.
    inset: mm that the fill stays inside the edge. underlay: open rows across it underneath.

    The shape is divided where holes and bays part its rows; from one section to the nearest next the thread runs
    inside the shape where later rows cover it, else it is cut. PieceError where a measure is impossible or the
    shape has no area or crosses itself.
    """
    _check(shape, row, length, inset)
    level = Pose(turn=-angle)
    inner = affine_transform(shape, level.affine).buffer(-inset) if inset else affine_transform(shape, level.affine)
    parts = [p for p in shapely.get_parts(inner) if p.area > 0]
    if not parts:
        raise PieceError(f"Nothing is left to fill {inset:g} mm inside the edge.", remedy="Choose a smaller inset.")
    runs: list[Points] = []
    for part in parts:
        top = _blocks(part, row, length, stagger, MAX_STITCH)
        runs.extend(_sew(part, _under(part) if underlay else [], top))
    back = level.inverse()
    return joined(from_points(back.apply(r), thread) for r in runs)


def _check(shape: Polygon | MultiPolygon, row: float, length: float, inset: float) -> None:
    longest = MAX_STITCH - SHORTEST_STITCH
    if not (math.isfinite(row) and row > 0):
        raise PieceError(f"Rows of a fill cannot be {row:g} mm apart.", remedy="Give a distance greater than nothing.")
    if not 0 < length <= longest:
        raise PieceError(f"A fill's stitches cannot be {length:g} mm long.", remedy=f"Give up to {longest:g} mm.")
    if not (math.isfinite(inset) and inset >= 0):
        raise PieceError(f"A fill cannot stay {inset:g} mm inside its edge.", remedy="Give 0 or more.")
    if shape.is_empty or not shape.area > 0:
        raise PieceError("The shape to fill has no area.", remedy="Draw its edge round a surface.")
    if not shape.is_valid:
        raise PieceError("The edge of the shape to fill crosses itself.", remedy="Take the crossing out.")


def _under(part: Polygon) -> list[_Block]:
    """Open rows across the fill, inside the edge; none where the part is too narrow for them."""
    across = Pose(turn=90.0)
    inner = affine_transform(part.buffer(-UNDERLAY_INSET), across.affine)
    back = across.inverse()
    return [
        _Block(tuple(back.apply(r) for r in b.rows), affine_transform(b.area, back.affine))
        for p in shapely.get_parts(inner)
        if p.area > 0
        for b in _blocks(p, UNDERLAY_ROW, UNDERLAY_LENGTH, 0.5, MAX_STITCH)
    ]


def _blocks(part: Polygon, row: float, length: float, stagger: float, longest: float) -> list[_Block]:
    left = part.bounds[0]
    return [_block(s, row, left, length, stagger, longest) for s in sections(part, row, longest)]


def _block(section: Section, row: float, left: float, length: float, stagger: float, longest: float) -> _Block:
    phases = left + (section.number * stagger % 1.0) * length
    rows = tuple(
        np.stack(np.broadcast_arrays(row_holes(x0, x1, phase, length, longest), y), axis=1)
        for x0, x1, phase, y in zip(section.x0, section.x1, phases, section.y, strict=True)
    )
    return _Block(rows, section.area(row))


def _sew(part: Polygon, under: list[_Block], top: list[_Block]) -> list[Points]:
    """Uncut runs (n, 2) through all blocks: those underneath first, always on to the nearest next."""
    ways = Ways(part)
    runs: list[list[Points]] = []
    for layer in (under, top):
        sewn: BaseGeometry = Polygon()  # what a thread would show on: nothing under the fill
        waiting = list(layer)
        while waiting:
            k, rows = _nearest(waiting, runs[-1][-1][-1] if runs else None)
            for r, first in zip(rows, itertools.chain([True], itertools.repeat(False)), strict=False):
                way = _way(ways, runs[-1][-1][-1], r[0], sewn if first else None) if runs else None
                if way is None:
                    runs.append([r])
                else:
                    runs[-1].extend([way, r])
            done = waiting.pop(k)
            sewn = sewn.union(done.area) if layer is top else sewn
    return [np.concatenate(r) for r in runs]


def _nearest(blocks: list[_Block], at: Points | None) -> tuple[int, list[Points]]:
    if at is None:
        return 0, blocks[0].sewn(False, False)
    trials = [
        (k, b.sewn(below, right)) for k, b in enumerate(blocks) for below in (False, True) for right in (False, True)
    ]
    return min(trials, key=lambda t: math.dist(at, t[1][0][0]))


def _way(ways: Ways, start: Points, end: Points, sewn: BaseGeometry | None) -> Points | None:
    """The holes between start and end on a way inside, (n, 2); None where there is none or it would show."""
    route = ways.between(start, end)
    if route is None:
        return None
    if sewn is not None and _shows(shapely.linestrings(route), sewn):
        return None
    holes = [np.zeros((0, 2))]
    for a, b in itertools.pairwise(route):
        n = max(1, math.ceil(math.dist(a, b) / RUN_LENGTH - 1e-9))
        holes.append(a + (np.arange(1, n + 1) / n)[:, None] * (b - a))
    return np.concatenate(holes)[:-1]


def _shows(way: BaseGeometry, sewn: BaseGeometry) -> bool:
    over, inside = way.intersection(sewn).length, way.intersection(sewn.buffer(-_EDGE)).length
    return bool(over > _ALONG or inside > SHOWS)
