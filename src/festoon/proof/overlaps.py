"""Do lace, ribbon and cloth of different elements lie over each other, and does stitching lie on lace."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import Geometry, Polygon, union_all
from shapely.affinity import translate

from festoon.hooping.blocks import OVER
from festoon.hooping.words import listed
from festoon.layout import Layout
from festoon.measure import MM_PER_INCH, Units
from festoon.proof.limits import Limit
from festoon.proof.words import fine, spot
from festoon.work import Amount, Finding, Work
from festoon.work.values import Material

HEADING = Limit(1.5, "common practice: the width of a heading")
"""mm by which lace, ribbon or stitching may lie over lace: headings are butted, lapped or sewn over."""

SEAM = Limit(3.0, "common practice: a rolled and whipped seam")
"""mm by which cloth, as of puffing, may lie over what it is sewn to."""

_WAYS = {"down": (0.0, 1.0), "up": (0.0, -1.0), "to the right": (1.0, 0.0), "to the left": (-1.0, 0.0)}
_TENTH = 0.1
"""mm, the step in which a way apart is told."""


def overlap_findings(layout: Layout) -> tuple[Finding, ...]:
    """A finding for every two elements of a panel whose areas lie over each other by more than a heading or a seam,
    and for every element that stitches on another's lace; each at its deepest place.

    What areas of one element do to each other is its own affair.
    """
    units = layout.piece.file.piece.units
    return tuple(found for panel in layout.panels for found in _on_panel(layout.works, panel.name, units))


def _on_panel(works: Sequence[Work], panel: str, units: Units) -> Iterator[Finding]:
    laid = [_Laid.of(work) for work in works if work.panel == panel and (work.areas or work.parts)]
    for lower, upper in itertools.combinations(laid, 2):
        if lower.tucked == upper.tucked and (over := _bands(lower, upper)) is not None:
            yield _bands_told(over, lower, upper, panel, units)
    for sewn, lace in itertools.permutations(laid, 2):
        if (over := _stitched(sewn, lace)) is not None:
            yield _stitched_told(over, sewn, lace, panel, units)


@dataclass(frozen=True, eq=False)
class _Laid:
    """One element's areas by material, each as one region, and its parts with their stitched areas.

    tucked: which way it tucks the cloth itself ('x', 'y'). Whatever else is laid lies across tucks; only those that run
    the same way are in each other's.
    """

    name: str
    areas: dict[Material, Geometry]
    parts: tuple[tuple[str, Geometry], ...]
    tucked: frozenset[str]

    @staticmethod
    def of(work: Work) -> _Laid:
        areas: dict[Material, Geometry] = {
            material: union_all([a.region for a in work.areas if a.material == material])
            for material in dict.fromkeys(a.material for a in work.areas)
        }
        return _Laid(
            work.element, areas, tuple((p.name, p.region) for p in work.parts), frozenset(t.across for t in work.taken)
        )


@dataclass(frozen=True, slots=True)
class _Over:
    """Where one thing lies over another: square mm in all, how deep, where deepest, the parts that do it, how deep
    they may, and the least move of the other that clears it: how far, mm, and which way."""

    area: float
    depth: float
    at: tuple[float, float]
    parts: tuple[str, ...]
    limit: Limit
    far: float
    way: str


def _bands(lower: _Laid, upper: _Laid) -> _Over | None:
    """The deepest of the overlaps of two elements' areas; None where none is deeper than it may be."""
    found = (
        _over([("", a)], b, SEAM if "cloth" in (first, second) else HEADING)
        for (first, a), (second, b) in itertools.product(lower.areas.items(), upper.areas.items())
    )
    return max((over for over in found if over is not None), key=lambda over: over.depth, default=None)


def _stitched(sewn: _Laid, lace: _Laid) -> _Over | None:
    return _over(sewn.parts, lace.areas["lace"], HEADING) if "lace" in lace.areas else None


def _over(parts: Sequence[tuple[str, Geometry]], other: Geometry, limit: Limit) -> _Over | None:
    """Where named areas lie over another deeper than the limit."""
    shapely.prepare(other)
    shared = {name: region.intersection(other) for name, region in parts if region.intersects(other)}
    deep = {name: area for name, area in shared.items() if _is_deep(area, limit)}
    if not deep:
        return None
    depth, at = max((_deepest(area) for area in deep.values()), key=lambda found: found[0])
    far, way = _apart(union_all([region for name, region in parts if name in deep]), other, limit)
    return _Over(sum(area.area for area in deep.values()), depth, at, tuple(deep), limit, far, way)


def _is_deep(shared: Geometry, limit: Limit) -> bool:
    """Whether a circle as wide as the limit lies in what is shared."""
    return shared.area > OVER and not shared.buffer(-limit.value / 2, quad_segs=4).is_empty


def _apart(first: Geometry, second: Geometry, limit: Limit) -> tuple[float, str]:
    """(mm, which way) of the least move of the second that leaves nothing deep, in tenths of a millimetre."""
    (l1, t1, r1, b1), (l2, t2, r2, b2) = first.bounds, second.bounds
    clear = {"down": b1 - t2, "up": b2 - t1, "to the right": r1 - l2, "to the left": r2 - l1}
    tried = {way: _least(first, second, limit, way, far) for way, far in clear.items()}
    way = min(tried, key=lambda one: tried[one])
    return tried[way], way


def _least(first: Geometry, second: Geometry, limit: Limit, way: str, clear: float) -> float:
    """The least move one way; moved by `clear` the two lie beside each other."""
    x, y = _WAYS[way]
    low, high = 0, math.ceil(clear / _TENTH)
    while high - low > 1:
        middle = (low + high) // 2
        by = middle * _TENTH
        deep = _is_deep(first.intersection(translate(second, x * by, y * by)), limit)
        low, high = (middle, high) if deep else (low, middle)
    return round(high * _TENTH, 1)


def _deepest(shared: Geometry) -> tuple[float, tuple[float, float]]:
    """(width of the largest circle in an area, where it stands)."""
    circles = [shapely.maximum_inscribed_circle(p, 0.05) for p in shapely.get_parts(shared) if isinstance(p, Polygon)]
    radius = max(circles, key=lambda line: line.length)
    (x, y), _ = radius.coords
    return 2 * radius.length, (round(x, 3), round(y, 3))


def _bands_told(over: _Over, lower: _Laid, upper: _Laid, panel: str, units: Units) -> Finding:
    return Finding(
        "look again",
        f"{lower.name} and {upper.name} on {panel}{spot(over.at, units)}",
        f"{upper.name} lies over {lower.name}, {_square(over.area, units)} of it.",
        f"Move {upper.name} {fine(over.far, units)} {over.way}, or make one of them narrower.",
        figure=f"{fine(over.depth, units)} deep",
        limit=fine(over.limit.value, units),
        source=f"computed; {over.limit.source}",
        panel=panel,
        at=over.at,
        elements=(lower.name, upper.name),
        rule="overlapping bands",
        amount=Amount(round(over.depth, 1), "mm"),
    )


def _stitched_told(over: _Over, sewn: _Laid, lace: _Laid, panel: str, units: Units) -> Finding:
    names = listed(over.parts, 3)
    return Finding(
        "look again",
        f"{names} on {panel}{spot(over.at, units)}",
        f"It is stitched over lace, {_square(over.area, units)} of {lace.name}: its open ground gives stitches little "
        "to hold to, and they draw it together.",
        f"Move {lace.name} {fine(over.far, units)} {over.way}, or that the other way. Else lay wash-away stabiliser "
        "beneath and above, and sew it on a scrap of the lace first.",
        figure=f"{fine(over.depth, units)} deep",
        limit=fine(over.limit.value, units),
        source=f"computed; {over.limit.source}",
        panel=panel,
        at=over.at,
        elements=over.parts,
        rule="stitching on lace",
        about=(sewn.name, lace.name),
        amount=Amount(round(over.depth, 1), "mm"),
    )


def _square(area: float, units: Units) -> str:
    """An area as it is told: '120 mm²', '0.19 in²'."""
    return f"{area:.0f} mm²" if units == "mm" else f"{area / MM_PER_INCH**2:.2g} in²"
