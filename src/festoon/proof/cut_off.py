"""Is stitching cut off when the garment's piece is cut out, or taken into a seam or hem."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Geometry, Polygon

from festoon.layout import Layout
from festoon.measure import Units
from festoon.piece import Panel, shape_of
from festoon.proof.limits import Limit
from festoon.proof.words import fine, spot
from festoon.work import Amount, Finding, Part

PAST = Limit(0.5, "common practice: the width of a pencil line")
"""mm by which stitching may pass the line that is cut or sewn along."""


def cut_off_findings(layout: Layout) -> tuple[Finding, ...]:
    """A finding for every part that is stitched past the line where its panel is cut, or into the allowance of a seam
    or hem; each at its farthest place. What has a trimming line of its own is the edge there: no allowance is left to
    lie in."""
    units = layout.piece.file.piece.units
    return tuple(found for panel in layout.panels for found in _on_panel(layout, panel, units))


def _on_panel(layout: Layout, panel: Panel, units: Units) -> Iterator[Finding]:
    shape = shape_of(panel)
    shapely.prepare(shape.finished)
    edges = {p.name for w in layout.works if any(line.role == "trim" for line in w.lines) for p in w.parts}
    for part in layout.parts(panel.name):
        if part.region.is_empty or shape.finished.contains(part.region):
            continue
        past, taken_in = _beyond(part.region, shape.cut), _beyond(part.region, shape.finished)
        if past is not None:
            yield _cut(part, past, bool(shape.cut.intersects(part.region)), units)
        elif taken_in is not None and part.name not in edges:
            yield _sewn_in(part, taken_in, units)


@dataclass(frozen=True, slots=True)
class _Beyond:
    """How far stitching passes a line, mm; the place that is farthest; and what brings that back, in words."""

    by: float
    at: tuple[float, float]
    back: tuple[float, float]


def _beyond(region: Geometry, inside: Polygon) -> _Beyond | None:
    """Where a region reaches farthest out of a shape; None where it stays within PAST."""
    corners = shapely.get_coordinates(shapely.difference(region, inside))
    if not len(corners):
        return None
    off = shapely.distance(inside, shapely.points(corners))
    farthest = int(off.argmax())
    if off[farthest] <= PAST.value:
        return None
    way = shapely.get_coordinates(shapely.shortest_line(shapely.points(corners[farthest]), inside))
    x, y = np.round(corners[farthest], 3).tolist()
    right, down = (way[1] - way[0]).tolist()
    return _Beyond(round(float(off[farthest]), 1), (x, y), (right, down))


def _cut(part: Part, past: _Beyond, partly: bool, units: Units) -> Finding:
    reason = (
        "It is stitched past the line where the panel is cut, so its stitches are cut through there and come undone."
        if partly
        else "It lies past the line where the panel is cut, so it is cut away whole."
    )
    return Finding(
        "look again" if partly else "will not work",
        f"{part.name} on {part.panel}{spot(past.at, units)}",
        reason,
        f"{_back(past, units)}, or make it smaller. Where it is meant to run on into the seam, sew a line of small "
        "stitches inside the cutting line before you cut."
        if partly
        else f"{_back(past, units)}.",
        figure=f"{fine(past.by, units)} past the cut",
        limit=fine(PAST.value, units),
        source=f"computed; {PAST.source}",
        panel=part.panel,
        at=past.at,
        elements=(part.name,),
        rule="past the cut",
        amount=Amount(past.by, "mm"),
    )


def _sewn_in(part: Part, past: _Beyond, units: Units) -> Finding:
    return Finding(
        "look again",
        f"{part.name} on {part.panel}{spot(past.at, units)}",
        "It is stitched into the allowance, so part of it goes into the seam or hem, where it is thick to sew over and "
        "not seen.",
        f"{_back(past, units)}, or make it smaller; let it be where it is meant to run on round the seam.",
        figure=f"{fine(past.by, units)} past the seam line",
        limit=fine(PAST.value, units),
        source=f"computed; {PAST.source}",
        panel=part.panel,
        at=past.at,
        elements=(part.name,),
        rule="in the seam",
        amount=Amount(past.by, "mm"),
    )


def _back(past: _Beyond, units: Units) -> str:
    """'Move it 12.3 mm to the left and 4 mm up'."""
    (right, down), least = past.back, 0.05
    ways = [
        *([f"{fine(abs(right), units)} to the {'right' if right > 0 else 'left'}"] if abs(right) > least else []),
        *([f"{fine(abs(down), units)} {'down' if down > 0 else 'up'}"] if abs(down) > least else []),
    ]
    return f"Move it {' and '.join(ways)}"
