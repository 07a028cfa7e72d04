"""Ways inside a shape from one place to another, round its holes and bays."""

from __future__ import annotations

import functools

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from festoon.plane.pose import Points
from festoon.plane.segments import Floats

SLACK = 0.03
"""mm that a way may leave the shape by: a third of a machine's step, so that edges count as inside."""
_INSIDE = 0.4
"""mm that a way keeps from the edge where it goes round a bend, so that later rows cover it. Common practice."""
_MOST_BENDS = 80
"""Bends looked at; a shape with more is smoothed for this purpose only."""


class Ways:
    """Shortest ways inside one polygon (a visibility graph over its inward bends)."""

    def __init__(self, shape: Polygon) -> None:
        self._room = shape.buffer(SLACK)
        shapely.prepare(self._room)
        self._shape = shape

    def straight(self, starts: Points, ends: Points) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """(n,) whether the straight lines between points (n, 2) stay inside."""
        seen: np.ndarray[tuple[int, ...], np.dtype[np.bool_]] = shapely.covers(
            self._room, shapely.linestrings(np.stack([starts, ends], axis=1))
        )
        return seen

    def between(self, start: Points, end: Points) -> Points | None:
        """(n, 2) the shortest way from start to end, both included; None where there is none."""
        if self.straight(start[None], end[None])[0]:
            return np.stack([start, end])
        bends, graph = self._graph
        n = len(bends)
        if n == 0:
            return None
        from scipy.sparse import csr_array  # half a second to load, and seldom needed
        from scipy.sparse.csgraph import dijkstra

        every = np.concatenate([bends, start[None], end[None]])
        full = np.zeros((n + 2, n + 2))
        full[:n, :n] = graph
        for k, p in ((n, start), (n + 1, end)):
            seen = self.straight(np.broadcast_to(p, bends.shape), bends)
            full[k, :n] = full[:n, k] = np.where(seen, np.hypot(*(bends - p).T), 0.0)
        far, before = dijkstra(csr_array(full), indices=[n], return_predecessors=True)
        if not np.isfinite(far[0, n + 1]):
            return None
        route = [n + 1]
        while route[-1] != n:
            route.append(int(before[0, route[-1]]))
        return every[route[::-1]]

    @functools.cached_property
    def _graph(self) -> tuple[Points, Floats]:
        bends = _bends(self._shape)
        i, j = np.triu_indices(len(bends), 1)
        graph = np.zeros((len(bends), len(bends)))
        if len(i):
            seen = self.straight(bends[i], bends[j])
            graph[i, j] = graph[j, i] = np.where(seen, np.hypot(*(bends[i] - bends[j]).T), 0.0)
        return bends, graph


def _bends(shape: Polygon) -> Points:
    """Corners (n, 2) at which a shortest way may bend: those that point into the shape, a little inside it."""
    for inside in (_INSIDE, SLACK):
        smooth = 0.1
        while not (small := shape.buffer(-inside, join_style="mitre").simplify(smooth)).is_empty:
            found = np.concatenate([_inward(p) for p in shapely.get_parts(small)])
            if len(found) <= _MOST_BENDS:
                return found
            smooth *= 2
    return np.zeros((0, 2))


def _inward(shape: BaseGeometry) -> Points:
    out = [np.zeros((0, 2))]
    for ring in shapely.get_rings(shapely.orient_polygons(shape)):
        p = np.array(ring.coords)[:-1]
        a, b = p - np.roll(p, 1, axis=0), np.roll(p, -1, axis=0) - p
        out.append(p[a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0] < 0])
    return np.concatenate(out)
