"""The cloth that a band covers, cell by cell and as a whole."""

from __future__ import annotations

import itertools

import numpy as np
from shapely import LineString, MultiPolygon, Polygon, STRtree, make_valid, union_all
from shapely.geometry.base import BaseGeometry

from festoon.plane import Path, Points, Segment, polyline
from festoon.plane.segments import Point
from festoon.shaping.cells import Cell, square
from festoon.shaping.headings import Headings, Piece

FINE = 0.01
"""mm, how far the outline of covered cloth may lie from the headings."""
LEAST_OVERLAP = 1.0
"""mm²; a smaller place where a band lies over itself is only a touch. Common practice."""


def patches(laid: Headings) -> list[Polygon | MultiPolygon]:
    """What each cell of the course covers, in order; neighbours share an edge."""
    shown: dict[int, list[Piece]] = {}
    for p in itertools.chain.from_iterable(laid.legs):
        shown.setdefault(p.cell, []).append(p)
    return [_patch(laid, cell, shown.get(k, [])) for k, cell in enumerate(laid.cells)]


def covered(laid: Headings, course: Path, over: Path) -> tuple[Polygon | MultiPolygon, bool]:
    """The cloth under a band, and whether its outline is simple: between its headings, or where they cross the union of
    its patches."""
    if not laid.trouble:
        a, b = course.flatten(FINE), over.flatten(FINE)
        if laid.around:
            outer, inner = sorted((Polygon(a), Polygon(b)), key=lambda ring: -ring.area)
            whole = Polygon(outer.exterior, [inner.exterior])
        else:
            whole = Polygon(np.concatenate([a, b[::-1]]))
        if whole.is_valid:
            return whole, True
    return _surfaces(union_all(patches(laid))), False


def overlaps(covers: list[Polygon | MultiPolygon]) -> list[tuple[Point, float]]:
    """Places that two of the covers share: a point inside each and its area, the largest first."""
    tree = STRtree(covers)
    one, two = tree.query(covers, predicate="intersects")
    shared = [covers[i].intersection(covers[j]) for i, j in zip(one.tolist(), two.tolist(), strict=True) if i < j]
    whole = _surfaces(union_all([x for x in shared if x.area > 0]))
    found = [(p.representative_point(), p.area) for p in getattr(whole, "geoms", [whole]) if p.area > LEAST_OVERLAP]
    return sorted((((p.x, p.y), area) for p, area in found), key=lambda x: (-x[1], x[0]))


def what_is_left(course: Path, distance: float) -> Path:
    """The longest piece of a parallel that is not one whole line; where nothing is left of it, the course."""
    parallel = LineString(course.flatten(FINE)).offset_curve(distance, join_style="mitre")
    lines = [g for g in getattr(parallel, "geoms", [parallel]) if g.length > FINE]
    return polyline(np.array(max(lines, key=lambda g: float(g.length)).coords)) if lines else course


def _patch(laid: Headings, cell: Cell, shown: list[Piece]) -> Polygon | MultiPolygon:
    course = _flat([cell.course])
    if cell.tight:
        away = square(cell.course.tangent(np.linspace(0.0, 1.0, len(course))), laid.distance)
        return _surfaces(make_valid(Polygon(np.concatenate([course, (course + away)[::-1]]))))
    over = _flat([p.segment for p in shown]) if shown else _folded_away(laid, cell)
    area = Polygon(np.concatenate([course, over[::-1]]))
    return area if area.is_valid else _surfaces(make_valid(area))


def _folded_away(laid: Headings, cell: Cell) -> Points:
    """The mitre point that stands for a parallel which is trimmed away altogether; square across where none does."""
    for j in laid.joints:
        if j.before <= cell.s0 < j.arrives or j.leaves <= cell.s0 < j.after:
            return np.array([j.over])
    return cell.course.point(np.array([0.0, 1.0])) + square(cell.course.tangent(np.array([0.0, 1.0])), laid.distance)


def _flat(segments: list[Segment]) -> Points:
    parts = [segments[0].point(np.zeros(1))]
    for g in segments:
        n = g.steps(FINE)
        parts.append(g.point(np.arange(1, n + 1) / n))
    return np.concatenate(parts)


def _surfaces(shape: BaseGeometry) -> Polygon | MultiPolygon:
    """The surfaces of a shape, without its lines and points."""
    if isinstance(shape, Polygon | MultiPolygon):
        return shape
    parts = [g for g in getattr(shape, "geoms", ()) if isinstance(g, Polygon | MultiPolygon)]
    whole = union_all(parts) if parts else MultiPolygon()
    return whole if isinstance(whole, Polygon | MultiPolygon) else MultiPolygon()
