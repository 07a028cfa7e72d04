"""The cut edge round a finished outline, each of whose edges has an allowance of its own."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import LineString
from shapely import Point as ShapelyPoint
from shapely.ops import substring

from festoon.errors import PieceError
from festoon.plane import Arc, Path, Points, offset
from festoon.plane.offset import MITRE_LIMIT

FINENESS = 0.005
"""mm, how far the polyline of an edge may lie from the edge: a twentieth of a machine's step of 0.1 mm."""

SLIGHT = 30.0
"""Degrees: where two edges of different allowance meet with less of a turn, the cut steps from one to the other instead
of running out to a long point (own choice)."""

_SAME = 1e-6
"""Ends nearer than this are one point, mm."""


@dataclass(frozen=True, slots=True)
class Edge:
    """One edge of an outline, travelled clockwise as seen, so that the cloth lies to its right; its allowance, mm."""

    path: Path
    allowance: float


def cut_ring(edges: Sequence[Edge]) -> Points:
    """The cut edge (n, 2) round edges that follow each other clockwise, each end where the next begins, mm.

    Each lies outside its edge by the edge's allowance; corners run out to a point, square where it would be longer than
    ten allowances. PieceError where an edge is too short or too tightly curved for its allowance.
    """
    if len(edges) == 1 and edges[0].path.closed:
        return _parallel(edges[0]).flatten(FINENESS)
    reach = 1.0 + MITRE_LIMIT * max(e.allowance for e in edges)
    own = [_parallel(e) for e in edges]
    long = [LineString(p.extended(reach, reach).flatten(FINENESS)) for p in own]
    count = len(edges)
    meets = [_meeting(edges[k - 1], edges[k], long[k - 1], long[k], reach) for k in range(count)]
    runs = [_run(own[k], long[k], reach, meets[k], meets[(k + 1) % count]) for k in range(count)]
    ring = np.concatenate(runs)
    keep = np.hypot(*np.diff(ring, axis=0, append=ring[:1]).T) > _SAME
    cut: Points = ring[keep]
    return cut


def outline_ring(edges: Sequence[Edge]) -> Points:
    """The finished outline itself (n, 2), mm."""
    return np.concatenate([e.path.flatten(FINENESS)[:-1] for e in edges])


def _parallel(edge: Edge) -> Path:
    """To the left of travel, outside: round the same centre for an arc."""
    if not edge.allowance:
        return edge.path
    first, *others = edge.path.segments
    if isinstance(first, Arc) and not others:
        radius = first.radius + math.copysign(edge.allowance, first.sweep)
        if radius <= 0:
            raise _too_wide()
        return Path((replace(first, radius=radius),))
    try:
        return offset(edge.path, -edge.allowance)
    except PieceError as error:
        raise _too_wide() from error


def _meeting(one: Edge, other: Edge, line: LineString, onward: LineString, reach: float) -> ShapelyPoint | None:
    """Where the cut lines of two edges meet; None where the cut steps straight from one to the other."""
    corner = ShapelyPoint(other.path.start)
    if one.allowance != other.allowance and abs(_turn(one.path, other.path)) < SLIGHT:
        return None
    crossings = shapely.get_parts(shapely.intersection(line, onward))
    if not len(crossings):
        return None
    nearest = min((shapely.shortest_line(corner, c) for c in crossings), key=lambda way: float(way.length))
    return ShapelyPoint(nearest.coords[-1]) if nearest.length <= reach else None


def _run(own: Path, long: LineString, reach: float, begins: ShapelyPoint | None, ends: ShapelyPoint | None) -> Points:
    """An edge's cut line from where it meets that before to where it meets the next."""
    start = reach if begins is None else long.project(begins)
    stop = long.length - reach if ends is None else long.project(ends)
    if stop - start <= _SAME:
        raise _too_wide()
    return np.array(substring(long, start, stop).coords)


def _turn(one: Path, other: Path) -> float:
    (ax, ay), (bx, by) = one.tangents([one.length])[0].tolist(), other.tangents([0.0])[0].tolist()
    return math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by))


def _too_wide() -> PieceError:
    return PieceError(
        "an edge is too short or too tightly curved for its allowance.", remedy="Make the allowance smaller."
    )


def parted(ring: Path, cuts: Sequence[float]) -> list[Path]:
    """A closed path cut at these lengths along it, in order, beginning with the first of them.

    >>> from festoon.plane import circle
    >>> [round(p.length, 2) for p in parted(circle((0, 0), 10), [10.0, 50.0])]
    [40.0, 22.83]
    """
    ordered = sorted(c % ring.length for c in cuts)
    ends = [*ordered[1:], ordered[0] + ring.length]
    return [ring.trimmed(a, b) for a, b in zip(ordered, ends, strict=True) if b - a > _SAME]
