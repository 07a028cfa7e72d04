"""Maps of thickness -> findings: where thread piles up, where needle holes cut the cloth, and what helps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from shapely import box

from festoon.hooping import Division
from festoon.hooping.values import Block
from festoon.hooping.words import Units, listed, number_word
from festoon.layout import Layout
from festoon.measure import NEEDLES, needle_nm, needle_text, show_length, tex_from, thread_diameter
from festoon.piece import Bench, Panel
from festoon.proof.cloth import LAYERS, LAYERS_STOP, NEAR, WIDE, cloth_weight, holes_limit
from festoon.proof.heap import Place, Rule, Spread, heap, judge, places, spread, together, window_cells
from festoon.proof.shift import Shift, smallest_shift
from festoon.proof.thickness import thickness
from festoon.proof.values import Thickness
from festoon.proof.words import spot
from festoon.techniques import technique_of
from festoon.work import Finding, Verdict

MOST = 8
"""Findings told, the worst first."""
SHARE = 0.05
"""Share of what lies at a place from which a part is named there. Chosen."""
LARGER = 2
"""Sizes larger that the needle is advised. Common practice."""
FINE = 60.0
"""wt of the finer thread that is advised: the usual fine one."""
EYES = "Sew it slowly and shield your eyes: a needle can break there."
"""Said wherever it is too thick. Common practice."""


@dataclass(frozen=True, eq=False)
class _Part:
    """One part with all its blocks on the panel, and where they are thick."""

    name: str
    blocks: tuple[Block, ...]
    spread: Spread

    @property
    def order(self) -> int:
        """Its place among what lies over each other."""
        return max(b.order for b in self.blocks)


@dataclass(frozen=True, eq=False)
class _Found:
    """What the same parts, bottom first, pile up on a panel: all `count` places as one, told at the worst."""

    panel: Panel
    place: Place
    count: int
    at: tuple[float, float]
    value: float
    parts: tuple[_Part, ...]
    shift: Shift | None


def thickness_findings(
    maps: Sequence[Thickness], layout: Layout, division: Division, bench: Bench
) -> tuple[Finding, ...]:
    """Where the stitching of these maps, one a panel, is too thick or too full of holes; at most MOST, worst first.

    Averages over squares (a box filter) are judged by the limits of `cloth`: layers of thread and penetrations over
    1 cm2, and layers over 2 mm where parts lie over each other. Neighbouring cells over a limit are one place, places
    of the same parts one finding, told at the worst point. ValueError where a map's panel is not in the piece.
    """
    found = [f for m in maps if m.length.size for f in _on_panel(m, layout, division)]
    found.sort(key=lambda f: (not f.place.stops, -f.place.excess))
    return tuple(_told(f, layout, division, bench) for f in found[:MOST])


def _on_panel(whole: Thickness, layout: Layout, division: Division) -> list[_Found]:
    panel = next((p for p in layout.panels if p.name == whole.panel), None)
    if panel is None:
        raise ValueError(f'no panel "{whole.panel}" in the piece')
    parts = _parts(whole, division)
    heaped = heap(whole, [p.spread for p in parts])
    by_parts: dict[tuple[str, ...], list[Place]] = {}
    for place in places(judge(heaped, holes_limit(panel.cloth))):
        by_parts.setdefault(tuple(p.name for p in _there(place, heaped, parts)), []).append(place)
    several = list(by_parts.values())[:MOST]  # the worst place of each comes first
    return [_found(group, heaped, parts, panel, whole.cell, layout) for group in several]


def _parts(whole: Thickness, division: Division) -> list[_Part]:
    blocks: dict[str, list[Block]] = {}
    for hooping in division.hoopings:
        if hooping.panel == whole.panel:
            for block in hooping.blocks:
                blocks.setdefault(block.part, []).append(block)
    parts = [
        _Part(name, tuple(own), spread(thickness([b.stitching for b in own], whole.panel, whole.cell)))
        for name, own in blocks.items()
        if any(b.stitching.stitch_count for b in own)
    ]
    return sorted(parts, key=lambda p: (p.order, p.name))


def _there(place: Place, heaped: Spread, parts: list[_Part]) -> tuple[_Part, ...]:
    """The parts that make up the place at its worst, bottom first."""
    least = SHARE * float(getattr(heaped, place.rule)[place.worst])
    at = heaped.corner[0] + place.worst[0], heaped.corner[1] + place.worst[1]
    return tuple(p for p in parts if float(getattr(p.spread.cut(at, (1, 1)), place.rule)[0, 0]) >= least)


def _found(group: list[Place], heaped: Spread, parts: list[_Part], panel: Panel, cell: float, layout: Layout) -> _Found:
    place = together(group)
    row, column = place.worst
    half = 0.5 * (window_cells(_window(place.rule), cell) % 2)  # an even square stands at the cell's corner
    there = _there(place, heaped, parts)
    shift = None
    if len(there) > 1 and _moves(there[-1], layout):
        upper = there[-1]
        others = [p.spread for p in parts if p is not upper]
        limit = holes_limit(panel.cloth)
        shift = smallest_shift(place, heaped, upper.spread, others, limit, cell, _room(upper, panel))
    return _Found(
        panel=panel,
        place=place,
        count=len(group),
        at=(round((heaped.corner[1] + column + half) * cell, 3), round((heaped.corner[0] + row + half) * cell, 3)),
        value=float(getattr(heaped, place.rule)[place.worst]),
        parts=there,
        shift=shift,
    )


def _window(rule: Rule) -> float:
    return NEAR.value if rule == "near" else WIDE.value


def _moves(part: _Part, layout: Layout) -> bool:
    """Whether a part stands where the worker put it; what leans on others, as a join does, lies where those are."""
    element = next((e for e in layout.piece.file.element if e.name == part.blocks[0].element), None)
    return element is not None and not technique_of(element).needs(element)


def _room(part: _Part, panel: Panel) -> tuple[float, float, float, float]:
    """How far it may go left, up, right and down on its panel, mm."""
    bounds = np.array([b.stitching.bounds for b in part.blocks if b.stitching.stitch_count])
    (left, top), (right, bottom) = bounds[:, :2].min(axis=0).tolist(), bounds[:, 2:].max(axis=0).tolist()
    return left, top, panel.size[0] - right, panel.size[1] - bottom


def _told(found: _Found, layout: Layout, division: Division, bench: Bench) -> Finding:
    place, panel = found.place, found.panel
    units: Units = layout.piece.file.piece.units
    names = tuple(p.name for p in found.parts)
    verdict: Verdict = "will not work" if place.stops else "look again"
    side = show_length(_window(place.rule), units)
    square = f"over a square of {side}"
    low, high = holes_limit(panel.cloth)
    if place.rule == "holes":
        unit, limit = "penetrations per cm²", high if found.value > high else low
        figure = f"{found.value:.0f} {unit} {square}"
        reason = f"So many holes cut the threads of a {cloth_weight(panel.cloth)} cloth, and it may tear along them."
        source = "penetrations by cloth: common practice (chosen, to be tried on cloth)"
    else:
        unit, limit = "layers of thread", LAYERS_STOP.value if place.stops else LAYERS.value
        figure = f"{found.value:.1f} {unit} {square}"
        reason = "So much thread over each other goes stiff, wears and breaks thread, and draws the cloth in."
        source = (
            f"{LAYERS.source}; squares and the limit of {LAYERS_STOP.value:g}: common practice (to be tried on cloth)"
        )
    if found.count > 1:
        reason += f" It is so at {number_word(found.count)} places."
    return Finding(
        verdict,
        f"{listed(names, 3)} on {panel.name}{spot(found.at)}",
        reason,
        " ".join(_remedies(found, units, bench)),
        figure=figure,
        limit=f"{limit:g}",
        source=source,
        panel=panel.name,
        at=found.at,
        elements=names,
        hooping=_hooping(found, division),
    )


def _hooping(found: _Found, division: Division) -> int:
    """The last hooping that sews at the place: there it gets too thick."""
    (x, y), half = found.at, _window(found.place.rule) / 2
    window = box(x - half, y - half, x + half, y + half)
    names = {p.name for p in found.parts}
    numbers = [
        h.number
        for h in division.hoopings
        if h.panel == found.panel.name
        for b in h.blocks
        if b.part in names and b.region.intersects(window)
    ]
    return max(numbers, default=0)


def _remedies(found: _Found, units: Units, bench: Bench) -> list[str]:
    if found.shift is not None:
        told = [f"Move {found.parts[-1].name} by {found.shift.told(units)}: that brings it under the limit."]
    elif len(found.parts) > 1:
        told = ["Let fewer parts lie over each other there."]
    else:
        told = ["Lay its rows farther apart, or leave out what lies underneath."]
    if found.place.rule == "holes":
        told.append("Longer stitches make fewer holes.")
    else:
        told.extend(_finer(found))
    if not found.place.stops:
        layers = bench.stabiliser.layers + 1
        told.append(f"Else {_needle(bench)} and put one more layer of stabiliser under it, {layers} in all.")
    return [*told, EYES]


def _finer(found: _Found) -> list[str]:
    """What a finer thread would make of it, where that brings it under the limit."""
    now = max(thread_diameter(t.tex) for p in found.parts for b in p.blocks for t in b.stitching.threads)
    layers = found.value * thread_diameter(tex_from(FINE, "wt")) / now
    return (
        [f"Finer thread, {FINE:g} wt, makes {layers:.1f} layers of it."] if layers <= LAYERS.value < found.value else []
    )


def _needle(bench: Bench) -> str:
    """A larger needle, LARGER sizes up, or one with a jeans point."""
    sizes = [nm for nm in NEEDLES if nm > 100 * needle_nm(bench.needle.size) + 0.5]
    larger = f"use a larger needle, {needle_text(sizes[LARGER - 1])}, or a jeans needle" if len(sizes) >= LARGER else ""
    return larger or "use a jeans needle"
