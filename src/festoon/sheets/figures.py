"""Pictures: the piece on its cloth with its hoopings, one hooping as it sits in the machine, and where that lies."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Geometry, LineString, Polygon

from festoon.hooping.values import Division, Hooping, Mark
from festoon.layout import Layout
from festoon.piece import Panel
from festoon.plane.pose import Pose
from festoon.sheets import style
from festoon.sheets.drawing import (
    Drawing,
    Ink,
    Record,
    Shape,
    area_shapes,
    hoopings_on,
    line_shapes,
    marks_of,
    panel_box,
    panel_ground,
    panel_guides,
    part_shapes,
    pin_shapes,
    pin_signs,
    text_record,
    through,
    works_on,
)
from festoon.sheets.labels import Label, drawn_ground, field_outline, name_marks, number_hoopings
from festoon.sheets.portraits import Portrait
from festoon.sheets.tiles import Window
from festoon.work.values import Pin, Work

_ARM = 2.2
_HOOP_ARM = 3.0
"""Arms of a cross in a picture, mm on paper."""
_MOST_ROWS = 3
"""Rows in which a sheet's first page shows panels, at most (ours)."""
_THIN = 0.6
"""Of a technique's lines and their dashes in a picture, against those on a template."""
_NET = 0.45
"""Of the distance of the lines across lace and ribbon there."""
_SMALL_PIN = 0.5
"""Of a pin's sign there."""
_ROUND = 0.05
"""Of an element's longer side left free round its picture."""
_LETTERING = 0.72
_HOOP_LETTERING = 0.9
_HOOP = Ink(style.WOOD_DARK, 0.2, fill=style.WOOD)
_CLOTH_EDGE = Ink(style.CLOTH_EDGE, 0.3)
_STABILISER = Ink(None, fill="#f4f4f1")
_FIELD = Ink(style.WOOD_DARK, 0.15, dash=(1.2, 0.8))


@dataclass(frozen=True, eq=False)
class Figure:
    """A drawing of width by height mm on paper, and its records."""

    size: tuple[float, float]
    records: list[Record]


def piece_figure(
    layout: Layout, division: Division, panel: Panel, scale: float, images: Mapping[int, Portrait]
) -> Figure:
    """A panel at `scale` (mm on paper for one mm) on its cloth: the stitching, every field with its number, crosses."""
    unit = _LETTERING / scale
    hoopings = hoopings_on(division, panel)
    window = _about(panel, scale)
    marks = marks_of(hoopings)
    arm = _ARM / _LETTERING
    numbers = number_hoopings(hoopings, panel_ground(layout, division, panel, unit, arm), (), unit)
    below = Drawing(
        (
            Shape(panel_box(panel), Ink(fill=style.CLOTH)),
            *works_shapes(works_on(layout, panel), 1 / scale),
            *panel_guides(panel),
            Shape(panel_box(panel).exterior, _CLOTH_EDGE),
        )
    )
    above = Drawing(tuple(_fields(hoopings)), tuple(marks), (), tuple(numbers), unit, arm)
    records = [
        *through(below, window, (0, 0), scale),
        *(images[h.number].record(window, scale) for h in hoopings if h.number in images),
        *through(above, window, (0, 0), scale),
    ]
    return Figure(_on_paper(window, scale), records)


def in_rows(sizes: Sequence[tuple[float, float]], room: tuple[float, float], apart: float) -> tuple[list[int], float]:
    """How many panels stand in each row, in their order, so that all are as large as they can be at one scale; and the
    scale. sizes: mm; room: mm on paper for all rows; apart: between two panels and under a row, mm on paper."""

    def scale(counts: Sequence[int]) -> float:
        ends = list(itertools.accumulate(counts, initial=0))
        rows = [sizes[a:b] for a, b in itertools.pairwise(ends)]
        wide = min((room[0] - apart * len(r)) / sum(w for w, _ in r) for r in rows)
        return min(wide, (room[1] - apart * (len(rows) - 1)) / sum(max(h for _, h in r) for r in rows))

    n = len(sizes)
    ways = [
        [b - a for a, b in itertools.pairwise((0, *cut, n))]
        for k in range(min(n, _MOST_ROWS))
        for cut in itertools.combinations(range(1, n), k)
    ]
    best = max(ways, key=lambda counts: round(scale(counts), 6))
    return best, scale(best)


def panel_figure(layout: Layout, panel: Panel, scale: float) -> Figure:
    """A panel at `scale` (mm on paper for one mm) on its cloth: all that is laid, drawn and sewn on it, no hoopings."""
    return _of_works(works_on(layout, panel), panel, _about(panel, scale), scale)


def element_window(work: Work) -> Window | None:
    """The part of its panel that an element's picture shows; None where it draws nothing."""
    things = [a.region for a in work.areas] + [p.region for p in work.parts]
    things += [s.geometry for s in line_shapes(work.lines)]
    if not things:
        return None
    left, top, right, bottom = shapely.total_bounds(things).tolist()
    edge = _ROUND * max(right - left, bottom - top)
    return left - edge, top - edge, right + edge, bottom + edge


def element_figure(work: Work, panel: Panel, window: Window, room: tuple[float, float]) -> Figure:
    """One element in a window of its panel, as large as the room allows (mm on paper) and true size at most, with its
    pins."""
    scale = min(1.0, room[0] / (window[2] - window[0]), room[1] / (window[3] - window[1]))
    return _of_works([work], panel, window, scale, pins=work.pins)


def _of_works(works: Sequence[Work], panel: Panel, window: Window, scale: float, pins: Sequence[Pin] = ()) -> Figure:
    unit = 1 / scale
    signs = pin_shapes(pins, pin_signs(pins), _SMALL_PIN * unit)
    small = [replace(s, ink=replace(s.ink, width=s.ink.width * _THIN)) for s in signs]
    shapes = (
        Shape(panel_box(panel), Ink(fill=style.CLOTH)),
        *works_shapes(works, unit, part_shapes(p for w in works for p in w.parts)),
        *small,
        *panel_guides(panel),
        Shape(panel_box(panel).exterior, _CLOTH_EDGE),
    )
    return Figure(_on_paper(window, scale), through(Drawing(shapes), window, (0, 0), scale))


def _about(panel: Panel, scale: float) -> Window:
    """A window round a panel with 1 mm of paper beyond it."""
    return -1.0 / scale, -1.0 / scale, panel.size[0] + 1.0 / scale, panel.size[1] + 1.0 / scale


def works_shapes(works: Iterable[Work], unit: float, sewn: Iterable[Shape] = ()) -> list[Shape]:
    """What techniques lay on a panel and draw on it, in thin ink for a picture of which `unit` mm are one on paper.
    What is `sewn` lies between."""
    works = tuple(works)
    lines = line_shapes(line for w in works for line in w.lines)
    thin = [replace(s, ink=replace(s.ink, width=s.ink.width * _THIN, dash=_shorter(s.ink.dash))) for s in lines]
    return [*area_shapes((a for w in works for a in w.areas), _NET * unit), *sewn, *thin]


def _shorter(dash: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(_THIN * length for length in dash)


def hoop_figure(hooping: Hooping, panel: Panel, room: float, image: Portrait | None) -> Figure:
    """A hooping in its hoop, upright as it sits in the machine; its longer side is `room` mm on paper."""
    outer, inner = hooping.hoop.outer_size, hooping.hoop.inner_size
    scale = room / max(outer)
    back = hooping.field.inverse()
    inside = _rounded(inner, 0.06)
    cloth = shapely.transform(panel_box(panel), back.apply).intersection(inside)
    marks = [Mark(m.name, _point(back.apply(m.at))) for m in hooping.marks]
    shapes = [
        Shape(_rounded(outer, 0.1), _HOOP),
        Shape(inside, _STABILISER),
        Shape(cloth, Ink(style.CLOTH_EDGE, 0.15, fill=style.CLOTH)),
        Shape(inside.exterior, Ink(style.WOOD_DARK, 0.2)),
        Shape(_rounded((outer[0] - 1.6 / scale, outer[1] - 1.6 / scale), 0.1).exterior, Ink(style.WOOD_LIGHT, 0.4)),
    ]
    half = np.array(hooping.hoop.field) / 2
    field = shapely.box(*-half, *half)
    unit = _HOOP_LETTERING / scale
    names = _names_in_hoop(hooping, marks, back, unit)
    window = (-outer[0] / 2 - 0.5, -outer[1] / 2 - 0.5, outer[0] / 2 + 0.5, outer[1] / 2 + 0.5)
    above = Drawing((Shape(field.exterior, _FIELD),), tuple(marks), tuple(names), (), unit, _HOOP_ARM)
    records = [
        *through(Drawing(tuple(shapes)), window, (0, 0), scale),
        *([image.record(window, scale, back)] if image else []),
        *through(above, window, (0, 0), scale),
    ]
    return Figure(_on_paper(window, scale), records)


def _names_in_hoop(hooping: Hooping, marks: Sequence[Mark], back: Pose, unit: float) -> list[Label]:
    """The crosses' names in the hoop's own axes, placed by a ground that begins at its left upper corner."""
    size = hooping.hoop.outer_size
    corner = Pose(size[0] / 2, size[1] / 2)
    regions = [shapely.transform(b.region, corner.after(back).apply) for b in hooping.blocks]
    shifted = [Mark(m.name, _point(corner.apply(m.at))) for m in marks]
    ground = drawn_ground(size, regions, [], [], shifted, _HOOP_ARM * unit, unit)
    return [Label(n.text, _point(corner.inverse().apply(n.at)), n.size) for n in name_marks(shifted, ground, (), unit)]


def _point(values: NDArray[np.float64]) -> tuple[float, float]:
    x, y = values.tolist()
    return x, y


def locator(hooping: Hooping, division: Division, panel: Panel, room: tuple[float, float]) -> Figure:
    """Where a hooping lies on its panel: the panel small, this hoop filled, its upper side thick, the others faint."""
    scale = min(room[0] / panel.size[0], room[1] / panel.size[1])
    others = [h for h in hoopings_on(division, panel) if h.number != hooping.number]
    mine = field_outline(hooping)
    upper_side = LineString(shapely.get_coordinates(mine)[:2])
    shapes = (
        Shape(panel_box(panel), Ink(style.CLOTH_EDGE, 0.2, fill=style.CLOTH)),
        *(Shape(field_outline(h).exterior, Ink(style.WOOD, 0.12)) for h in others),
        Shape(mine, Ink(style.WOOD_DARK, 0.25, fill=style.WOOD_LIGHT)),
        Shape(upper_side, Ink(style.WOOD_DARK, 0.8)),
    )
    window = (-0.5 / scale, -0.5 / scale, panel.size[0] + 0.5 / scale, panel.size[1] + 0.5 / scale)
    records = through(Drawing(shapes), window, (0, 0), scale)
    x, y = ((hooping.field.x - window[0]) * scale, (hooping.field.y - window[1]) * scale)
    records.append(text_record(str(hooping.number), (x, y), 9, style.WORK, serif=True, bold=True))
    return Figure(_on_paper(window, scale), records)


def _on_paper(window: Window, scale: float) -> tuple[float, float]:
    return (window[2] - window[0]) * scale, (window[3] - window[1]) * scale


def _fields(hoopings: Sequence[Hooping]) -> list[Shape]:
    """Every field as a slim wooden ring."""
    shapes = []
    for h in hoopings:
        ring = shapely.transform(_rounded(h.hoop.field, 0.08), h.field.apply).exterior
        shapes += [Shape(ring, Ink(style.WOOD_DARK, 0.75)), Shape(ring, Ink(style.WOOD_LIGHT, 0.45))]
    return shapes


def _rounded(size: tuple[float, float], share: float) -> Polygon:
    """A rectangle round the origin whose corners are rounded by `share` of its shorter side."""
    radius = share * min(size)
    w, h = size[0] / 2 - radius, size[1] / 2 - radius
    rounded: Geometry = shapely.buffer(shapely.box(-w, -h, w, h), radius, quad_segs=8)
    return Polygon(rounded.exterior)
