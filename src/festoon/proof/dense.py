"""Maps of thickness -> findings: where thread piles up, and where needle holes cut the cloth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from shapely import box

from festoon.hooping import Division
from festoon.hooping.values import Block
from festoon.hooping.words import listed
from festoon.layout import Layout
from festoon.measure import Units
from festoon.piece import Bench, Panel
from festoon.proof.cloth import HOLES_SOURCE, LAYERS, LAYERS_STOP, NEAR, cloth_weight, holes_limit
from festoon.proof.heap import Place, Spread, judge, places, spread, together, window_cells
from festoon.proof.hidden import hidden
from festoon.proof.remedies import Thick, remedies
from festoon.proof.shift import smallest_shift
from festoon.proof.thickness import thickness
from festoon.proof.values import Thickness
from festoon.proof.words import fine, spot
from festoon.stitches import Stitching, joined
from festoon.techniques import technique_of
from festoon.work import Amount, Finding, Mend

SHARE = 0.05
"""Share of what lies at a place from which a part is named there. Chosen."""


@dataclass(frozen=True, eq=False)
class _Part:
    """One part with all its blocks on the panel, and where they are thick."""

    name: str
    blocks: tuple[Block, ...]
    map: Thickness
    spread: Spread

    @property
    def order(self) -> int:
        """Its place among what lies over each other."""
        return max(b.order for b in self.blocks)


@dataclass(frozen=True, eq=False)
class _Panel:
    """A panel, all that is sewn on it averaged, its parts bottom first, and the side of a cell, mm."""

    panel: Panel
    heaped: Spread
    parts: tuple[_Part, ...]
    cell: float

    def spot(self, place: Place) -> tuple[float, float]:
        """The middle of its worst square, mm on the panel."""
        half = 0.5 * (window_cells(self.cell) % 2)  # an even square stands at the cell's corner
        row, column = place.worst
        x, y = (self.heaped.corner[1] + column + half), (self.heaped.corner[0] + row + half)
        return round(x * self.cell, 3), round(y * self.cell, 3)

    def value(self, place: Place) -> float:
        """What its worst square holds, in the rule's own unit."""
        return float(getattr(self.heaped, place.rule)[place.worst])

    def there(self, place: Place) -> tuple[_Part, ...]:
        """The parts that make up the place at its worst, bottom first."""
        least = SHARE * self.value(place)
        at = self.heaped.corner[0] + place.worst[0], self.heaped.corner[1] + place.worst[1]
        return tuple(p for p in self.parts if float(getattr(p.spread.cut(at, (1, 1)), place.rule)[0, 0]) >= least)


def thickness_findings(
    maps: Sequence[Thickness], layout: Layout, division: Division, bench: Bench
) -> tuple[Finding, ...]:
    """Where the stitching of these maps, one a panel, is too thick or too full of holes, the worst place first.

    Averages over NEAR squares (a box filter) are judged by the limits of `cloth`, layers of thread and penetrations,
    whether one part makes them or several over each other. Squares over a limit that touch are one place, told at the
    worst; places of the same parts have one remedy, which helps at all of them. ValueError where a map's panel is not
    in the piece.
    """
    told = [pair for m in maps if m.length.size for pair in _on_panel(m, layout, division, bench)]
    told.sort(key=lambda pair: (not pair[0].stops, -pair[0].excess))
    return tuple(finding for _, finding in told)


def _on_panel(whole: Thickness, layout: Layout, division: Division, bench: Bench) -> list[tuple[Place, Finding]]:
    panel = next((p for p in layout.panels if p.name == whole.panel), None)
    if panel is None:
        raise ValueError(f'no panel "{whole.panel}" in the piece')
    on = _Panel(panel, spread(whole), _parts(whole, division), whole.cell)
    alike: dict[tuple[str, ...], list[Place]] = {}
    for place in places(judge(on.heaped, holes_limit(panel.cloth)), on.cell):
        names = tuple(p.name for p in on.there(place))
        alike.setdefault((place.rule, str(place.stops), *names), []).append(place)
    return [
        (place, _told(place, thick, on, layout, division))
        for group in alike.values()
        for thick in [_thick(together(group), on, layout)]
        for place in group
    ]


def _parts(whole: Thickness, division: Division) -> tuple[_Part, ...]:
    blocks: dict[str, list[Block]] = {}
    for hooping in division.hoopings:
        if hooping.panel == whole.panel:
            for block in hooping.blocks:
                blocks.setdefault(block.part, []).append(block)
    maps = {
        name: thickness([b.stitching for b in own], whole.panel, whole.cell)
        for name, own in blocks.items()
        if any(b.stitching.stitch_count for b in own)
    }
    parts = [_Part(name, tuple(blocks[name]), own, spread(own)) for name, own in maps.items()]
    return tuple(sorted(parts, key=lambda p: (p.order, p.name)))


def _thick(place: Place, on: _Panel, layout: Layout) -> Thick:
    """All that is known of the places of the same parts, for what helps there."""
    there, limits = on.there(place), holes_limit(on.panel.cloth)
    limit = LAYERS.value if place.rule == "layers" else limits[0]
    upper = there[-1]
    moves = len(there) > 1 and _moves(upper, layout)
    strata = [(p.name, p.map) for p in there] if len(there) > 1 else _threads(upper, on)
    found = hidden([m for _, m in strata], place, on.heaped.corner, limit)
    threads = tuple(t for p in there for b in p.blocks for t in b.stitching.threads)
    return Thick(
        rule=place.rule,
        stops=place.stops,
        value=on.value(place),
        parts=tuple(p.name for p in there),
        threads=threads,
        limit=limit,
        units=layout.piece.file.piece.units,
        shift=smallest_shift(place, on.heaped, upper.spread, limits, on.cell, _room(upper, on.panel))
        if moves
        else None,
        hidden=found,
        below=tuple(strata[k][0] for k in found.which) if found else (),
    )


def _threads(part: _Part, on: _Panel) -> list[tuple[str, Thickness]]:
    """What one part sews between two changes of thread, bottom first: 'the dark blue of sprig', and its map."""
    blocks = sorted(part.blocks, key=lambda b: b.order)
    whole: Stitching = joined(b.stitching for b in blocks)
    pieces = [(start, whole.part(start, stop)) for start, stop in whole.thread_blocks()]
    return [
        (f"the {whole.threads[int(whole.thread[start])].name} of {part.name}", thickness([p], on.panel.name, on.cell))
        for start, p in pieces
        if p.stitch_count
    ]


def _moves(part: _Part, layout: Layout) -> bool:
    """Whether a part stands where the worker put it; what leans on others, as a join does, lies where those are."""
    element = next((e for e in layout.piece.file.element if e.name == part.blocks[0].element), None)
    alone = element is not None and element.name == part.name  # one of a ring or a row moves only with the rest
    return alone and not technique_of(element).needs(element)


def _room(part: _Part, panel: Panel) -> tuple[float, float, float, float]:
    """How far it may go left, up, right and down on its panel, mm."""
    bounds = np.array([b.stitching.bounds for b in part.blocks if b.stitching.stitch_count])
    (left, top), (right, bottom) = bounds[:, :2].min(axis=0).tolist(), bounds[:, 2:].max(axis=0).tolist()
    return left, top, panel.size[0] - right, panel.size[1] - bottom


def _mends(thick: Thick, layout: Layout) -> tuple[Mend, ...]:
    """The move that clears the place, where the uppermost stands by a place of its own."""
    if thick.shift is None:
        return ()
    name, by = thick.parts[-1], thick.shift
    stands = (h.at for w in layout.works if w.element == name for h in w.handles if h.field == "at")
    return tuple(
        Mend(f"Move {name} by {by.told(thick.units)}", name, "at", (round(x + by.right, 3), round(y + by.down, 3)))
        for x, y in stands
    )


def _told(place: Place, thick: Thick, on: _Panel, layout: Layout, division: Division) -> Finding:
    units: Units = layout.piece.file.piece.units
    names = tuple(p.name for p in on.there(place))
    at, value = on.spot(place), on.value(place)
    square = f"over a square of {fine(NEAR.value, units)}"
    finding = Finding(
        "will not work" if place.stops else "look again",
        f"{listed(names, 3)} on {on.panel.name}{spot(at, units)}",
        "So much thread over each other goes stiff, wears and breaks thread, and draws the cloth in.",
        " ".join(remedies(thick, layout.piece.bench)),
        figure=f"{value:.1f} layers of thread {square}",
        limit=f"{(LAYERS_STOP if place.stops else LAYERS).value:g}",
        source=(LAYERS_STOP if place.stops else LAYERS).source,
        panel=on.panel.name,
        at=at,
        elements=names,
        hooping=_hooping(at, names, on.panel.name, division),
        rule="too thick",
        amount=Amount(round(value, 1), "layers"),
        mends=_mends(thick, layout),
    )
    if place.rule == "layers":
        return finding
    return replace(
        finding,
        reason=f"So many holes cut the threads of a {cloth_weight(on.panel.cloth)} cloth, and it may tear along them.",
        figure=f"{value:.0f} penetrations per cm² {square}",
        limit=f"{holes_limit(on.panel.cloth)[place.stops]:g}",
        source=HOLES_SOURCE,
        rule="too many holes",
        amount=Amount(round(value), "penetrations per cm²"),
    )


def _hooping(at: tuple[float, float], names: tuple[str, ...], panel: str, division: Division) -> int:
    """The last hooping that sews at the place: there it gets too thick."""
    (x, y), half = at, NEAR.value / 2
    window = box(x - half, y - half, x + half, y + half)
    numbers = [
        h.number
        for h in division.hoopings
        if h.panel == panel
        for b in h.blocks
        if b.part in names and b.region.intersects(window)
    ]
    return max(numbers, default=0)
