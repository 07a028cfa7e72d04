"""Layout and division as shapes in mm of the panel, and the same seen through a window, ready for typesetting."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely import Geometry, LineString, MultiLineString, Polygon
from shapely.affinity import affine_transform

from festoon.hooping.values import Division, Hooping, Mark
from festoon.layout import Layout
from festoon.piece import Panel, PanelShape, shape_of
from festoon.piece.drawn import FRONT
from festoon.plane import Path
from festoon.sheets import style
from festoon.sheets.ground import Ground
from festoon.sheets.labels import DISC, Label, cross, drawn_ground, field_outline, name_marks
from festoon.sheets.tiles import Window
from festoon.work.values import Area, Line, Material, Part, Pin, Work

FINENESS = 0.05
"""Outlines are thinned to this, mm: half the thinnest line printed."""

Record = dict[str, Any]
"""One thing for the typesetter: kind 'path', 'disc', 'text' or 'image', lengths in mm."""


@dataclass(frozen=True, slots=True)
class Ink:
    """How a shape is drawn: fill and stroke colours, line width and dashes in mm on paper."""

    stroke: str | None = None
    width: float = 0.2
    fill: str | None = None
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, eq=False)
class Shape:
    """A geometry in mm and its ink. guide: it is only there to lay other things by."""

    geometry: Geometry
    ink: Ink
    guide: bool = False


@dataclass(frozen=True, eq=False)
class Drawing:
    """A panel drawn: shapes from the bottom up, crosses with their names, hoopings' numbers, lines that have words.

    unit: how many mm of the drawing make one mm on paper, for which the labels were placed. arm: of a cross, mm on
    paper.
    """

    shapes: tuple[Shape, ...] = ()
    marks: tuple[Mark, ...] = ()
    names: tuple[Label, ...] = ()
    numbers: tuple[Label, ...] = ()
    unit: float = 1.0
    arm: float = style.CROSS_ARM
    lettered: tuple[tuple[str, LineString], ...] = ()


CUT = Ink(style.INK, 0.35)
BLOCK = Ink(style.INK_SOFT, 0.2, dash=(8.0, 1.5))
SEAM = Ink(style.DRAFT, 0.2, dash=style.DASHED)
CENTRE = Ink(style.DRAFT, 0.15, dash=style.DASH_DOT)
FIELD = Ink(style.WOOD_DARK, 0.15)
PIN = Ink(style.INK_SOFT, 0.15)
RULED = Ink(style.mixed(style.DRAFT, style.WHITE, 0.4), 0.1)

AREAS: dict[Material, tuple[str, tuple[float, ...], float]] = {
    "lace": (style.mixed(style.TISSUE, style.WHITE, 0.5), (45.0, -45.0), 3.5),
    "ribbon": (style.mixed(style.FAINT, style.WHITE, 0.6), (45.0,), 2.0),
    "cloth": (style.mixed(style.FAINT, style.WHITE, 0.75), (), 0.0),
}
"""The ground of what is laid on the cloth, and the turns and distance, mm on paper, of the thin lines across it: lace
is a net, ribbon is ruled, cloth is plain, so that they are told apart without colour (ours)."""

CROSS = Ink(style.PEN, 0.2)

LINES: dict[str, Ink] = {
    "trace": Ink(style.INK, 0.25),
    "stitching": Ink(style.INK, 0.2, dash=(1.6, 1.0)),
    "fold": Ink(style.INK_SOFT, 0.2, dash=(5.0, 1.2)),
    "cut": Ink(style.INK, 0.3),
    "trim": Ink(style.INK_SOFT, 0.2, dash=(1.0, 1.0)),
    "placement": Ink(style.INK_SOFT, 0.25, dash=style.DOTTED),
}
"""A technique's lines by what is done along them (common practice in pattern drafting: folds dashed, cuts solid)."""


def panel_box(panel: Panel) -> Polygon:
    """The panel's block of cloth."""
    return shapely.box(0.0, 0.0, *panel.size)


def panel_guides(panel: Panel) -> list[Shape]:
    """Centre lines, seam lines, the fold, and the cut edge of a shape.

    A rectangle has the two centre lines of its cloth, a shape its centre front; a shape's edges are there to be traced.
    """
    shape, traced = shape_of(panel), panel.shaped
    w, h = panel.size
    front, fold = _front(shape), _drawn(shape.fold)
    centres = [front] if front and not _on_fold(front, fold) else []
    if not traced:
        centres += [LineString([(w / 2, 0), (w / 2, h)]), LineString([(0, h / 2), (w, h / 2)])]
    seams = shapely.difference(shape.finished.boundary, shape.cut.boundary.buffer(FINENESS))
    edges = [
        *([(seams, SEAM)] if not seams.is_empty else []),
        *([(_cut_edge(shape), CUT)] if traced else []),
        *([(fold, LINES["fold"])] if fold else []),
    ]
    return [
        *(Shape(line, CENTRE, guide=True) for line in centres),
        *(Shape(line, ink, guide=not traced) for line, ink in edges),
    ]


def panel_lines(panel: Panel) -> list[Shape]:
    """Centre lines, seam lines, cut edges, and the block from which a shape is cut."""
    return [*panel_guides(panel), Shape(panel_box(panel).exterior, BLOCK if panel.shaped else CUT, guide=True)]


def panel_words(panel: Panel) -> list[tuple[str, LineString]]:
    """What is written along a panel's own lines, each with its line."""
    shape = shape_of(panel)
    front, fold, hem = _front(shape), _drawn(shape.fold), _drawn(shape.hem)
    cut = shapely.get_parts(shapely.line_merge(_cut_edge(shape))) if panel.shaped else []
    whole = front is not None and _on_fold(front, fold)
    return [
        *([(f"{FRONT}: place on the fold" if whole else "place on the fold", fold)] if fold else []),
        *([(FRONT, front)] if front and not whole else []),
        *([("hem line", hem)] if hem else []),
        *(("cut edge", LineString(edge.coords)) for edge in cut),
    ]


def _cut_edge(shape: PanelShape) -> Geometry:
    """Where a shape is cut with shears: not along the fold."""
    fold = _drawn(shape.fold)
    edge = shape.cut.boundary
    return shapely.difference(edge, fold.buffer(FINENESS)) if fold else edge


def _front(shape: PanelShape) -> LineString | None:
    return _drawn(shape.lines.get(FRONT))


def _drawn(line: Path | None) -> LineString | None:
    return LineString(line.flatten(FINENESS)) if line else None


def _on_fold(line: LineString, fold: LineString | None) -> bool:
    return fold is not None and bool(fold.buffer(1.0).contains(line))


def part_shapes(parts: Iterable[Part]) -> list[Shape]:
    """Every part's stitched outline by thread: a pale ground and a thin line."""
    shapes = []
    for part in parts:
        for index, area in part.outlines:
            colour = part.stitching.threads[index].colour
            thinned = shapely.simplify(area, FINENESS)
            shapes.append(Shape(thinned, Ink(style.line_colour(colour), 0.1, fill=style.tint(colour))))
    return shapes


def line_shapes(lines: Iterable[Line]) -> list[Shape]:
    """A technique's lines, each in the ink of its role."""
    return [Shape(drawn, LINES[line.role]) for line in lines if (drawn := line_of(line))]


def line_of(line: Line) -> LineString | None:
    """A technique's line as drawn; None for a single point."""
    points = np.concatenate([line.points, line.points[:1]]) if line.closed else line.points
    return LineString(points) if len(points) > 1 else None


def area_shapes(areas: Iterable[Area], unit: float = 1.0) -> list[Shape]:
    """What is laid on the cloth: pale, with thin lines across it by its material; unit as for `Drawing`."""
    shapes = []
    for area in areas:
        fill, turns, apart = AREAS[area.material]
        shapes.append(Shape(area.region, replace(RULED, fill=fill)))
        ruled = [line for turn in turns for line in _ruled(area.region, turn, apart * unit)]
        if ruled:
            shapes.append(Shape(MultiLineString(ruled), RULED))
    return shapes


def _ruled(region: Geometry, turn: float, apart: float) -> list[LineString]:
    """Parallel lines across an area, at the same places for every area of a drawing."""
    along = np.array([math.cos(math.radians(turn)), math.sin(math.radians(turn))])
    across = np.array([-along[1], along[0]])
    corners = shapely.get_coordinates(shapely.box(*region.bounds))
    off, ends = corners @ across, np.array([(corners @ along).min(), (corners @ along).max()])
    rows = np.arange(math.ceil(off.min() / apart), math.floor(off.max() / apart) + 1) * apart
    lines = MultiLineString([ends[:, None] * along + row * across for row in rows])
    seen = shapely.get_parts(shapely.intersection(lines, region))
    return [g for g in seen if g.geom_type == "LineString" and not g.is_empty]


def pin_signs(pins: Iterable[Pin]) -> dict[str, int]:
    """Which sign stands for what pins hold, in the order in which they are met."""
    return {holds: k for k, holds in enumerate(dict.fromkeys(p.holds for p in pins))}


def pin_shapes(pins: Iterable[Pin], signs: Mapping[str, int], unit: float = 1.0) -> list[Shape]:
    """Small rings where pins go, told apart by what is in them; unit as for `Drawing`."""
    return [Shape(affine_transform(_PINS[signs[p.holds] % len(_PINS)], [unit, 0, 0, unit, *p.at]), PIN) for p in pins]


def _ring(radius: float) -> LineString:
    return LineString(shapely.get_coordinates(shapely.Point(0, 0).buffer(radius, quad_segs=6)))


def _strokes(*turns: float) -> list[LineString]:
    ends = [(PIN_RADIUS * math.cos(math.radians(t)), PIN_RADIUS * math.sin(math.radians(t))) for t in turns]
    return [LineString([(-x, -y), (x, y)]) for x, y in ends]


PIN_RADIUS = 1.2
"""Of a pin's sign, mm on paper: small enough to leave the lines to be traced."""
_PINS = tuple(
    MultiLineString([_ring(PIN_RADIUS), *inside])
    for inside in ([_ring(0.45)], _strokes(0, 90), [], _strokes(45, 135), _strokes(90))
)
"""Two rings, a ring with an upright cross, an empty one, one with a slanting cross, one with a stroke (ours)."""


def hoopings_on(division: Division, panel: Panel) -> list[Hooping]:
    """The hoopings of one panel, in the order of sewing."""
    return [h for h in division.hoopings if h.panel == panel.name]


def marks_of(hoopings: Iterable[Hooping]) -> list[Mark]:
    """Every cross once, in order; hoopings may share one."""
    return list({m.name: m for h in hoopings for m in h.marks}.values())


def panel_ground(
    layout: Layout, division: Division, panel: Panel, unit: float = 1.0, arm: float = style.CROSS_ARM
) -> Ground:
    """How full the panel's drawing is, for placing words; unit and arm as for `Drawing`."""
    hoopings = hoopings_on(division, panel)
    laid = [a.region for w in works_on(layout, panel) for a in w.areas]
    regions = [p.region for p in layout.parts(panel.name)]
    lines = [s.geometry for s in [*panel_lines(panel), *line_shapes(lines_on(layout, panel))]]
    return drawn_ground(panel.size, regions, lines, hoopings, marks_of(hoopings), arm * unit, unit, laid)


def panel_drawing(layout: Layout, division: Division, panel: Panel, ground: Ground) -> Drawing:
    """The whole panel at true size, in its own mm, its crosses named where the ground is least full; no numbers yet."""
    hoopings = hoopings_on(division, panel)
    marks = marks_of(hoopings)
    works = works_on(layout, panel)
    shapes = (
        *area_shapes(a for w in works for a in w.areas),
        *pin_shapes([p for w in works for p in w.pins], pin_signs(p for w in layout.works for p in w.pins)),
        *part_shapes(layout.parts(panel.name)),
        *panel_lines(panel),
        *line_shapes(lines_on(layout, panel)),
        *(Shape(field_outline(h).exterior, FIELD) for h in hoopings),
    )
    lettered = (*panel_words(panel), *lettered_lines(lines_on(layout, panel)))
    return Drawing(shapes, tuple(marks), tuple(name_marks(marks, ground)), lettered=lettered)


def works_on(layout: Layout, panel: Panel) -> list[Work]:
    """The work of every element on one panel, bottom first."""
    return [w for w in layout.works if w.panel == panel.name]


def lines_on(layout: Layout, panel: Panel) -> list[Line]:
    """Every technique's lines on one panel."""
    return [line for work in works_on(layout, panel) for line in work.lines]


def lettered_lines(lines: Iterable[Line]) -> list[tuple[str, LineString]]:
    """The lines that have words of their own, with the words."""
    return [(line.label, drawn) for line in lines if line.label and (drawn := line_of(line))]


def through(drawing: Drawing, window: Window, at: tuple[float, float], scale: float = 1.0) -> list[Record]:
    """What a window of the drawing shows, as records with the window's left upper corner at `at`, mm on paper.

    scale: mm on paper for one mm of the drawing. Shapes are clipped at the window's edge; a name or number is shown
    where all of it lies inside.
    """
    shift = np.array([at[0] - window[0] * scale, at[1] - window[1] * scale])
    records: list[Record] = []
    bounds = shapely.bounds([s.geometry for s in drawing.shapes]).reshape(-1, 4)
    apart = (bounds[:, :2] > window[2:]) | (bounds[:, 2:] < window[:2])
    for shape, away in zip(drawing.shapes, apart.any(axis=1), strict=True):
        if not away:
            records += _shape_records(shape, window, scale, shift)
    lettering = scale * drawing.unit
    for mark in drawing.marks:
        for stroke in cross(mark.at, drawing.arm * drawing.unit):
            records += _shape_records(Shape(stroke, CROSS), window, scale, shift)
    for label in drawing.numbers:
        if label.lies_in(window):
            at_paper = np.array(label.at) * scale + shift
            disc = {"fill": style.WHITE, "stroke": style.WOOD_DARK, "width": 0.25 * lettering}
            records.append({"kind": "disc", "at": _mm(at_paper), "r": DISC * lettering, **disc})
            records.append(text_record(label.text, at_paper, 11 * lettering, style.WORK, serif=True, bold=True))
    for label in drawing.names:
        if label.lies_in(window):
            at_paper = np.array(label.at) * scale + shift
            records.append(text_record(label.text, at_paper, 11 * lettering, style.PEN, bold=True, ground=style.VEIL))
    return records


def path_records(geometry: Geometry, ink: Ink) -> list[Record]:
    """A geometry already in mm on paper as one record, filled if the ink fills; nothing for an empty one."""
    if ink.fill:
        lines = [ring for p in _polygons(geometry) for ring in (p.exterior, *p.interiors)]
    else:
        lines = [g for g in shapely.get_parts(_as_lines(geometry)) if not g.is_empty]
    if not lines:
        return []
    points = [shapely.get_coordinates(line) for line in lines]
    closed = [len(p) > 3 and bool(np.array_equal(p[0], p[-1])) for p in points]
    runs = [_mm(p[:-1] if c else p) for p, c in zip(points, closed, strict=True)]
    look = {"fill": ink.fill, "stroke": ink.stroke, "width": ink.width, "dash": list(ink.dash) or None}
    return [{"kind": "path", "runs": runs, "closed": closed, **look}]


def _shape_records(shape: Shape, window: Window, scale: float, shift: NDArray[np.float64]) -> list[Record]:
    """A shape clipped and carried to the paper. Its lines are clipped as lines, so no line runs along the window."""
    geometry, ink = shape.geometry, shape.ink
    left, top, right, bottom = geometry.bounds
    whole = left >= window[0] and top >= window[1] and right <= window[2] and bottom <= window[3]

    def seen(g: Geometry) -> Geometry:
        edges = (window[0] - 1e-6, window[1] - 1e-6, window[2] + 1e-6, window[3] + 1e-6)
        clipped = g if whole else shapely.clip_by_rect(g, *edges)
        return shapely.transform(clipped, lambda p: p * scale + shift)

    if whole:
        return path_records(seen(geometry), ink)
    records = path_records(seen(geometry), replace(ink, stroke=None)) if ink.fill else []
    if ink.stroke:
        records += path_records(seen(_as_lines(geometry)), replace(ink, fill=None))
    return records


def _as_lines(geometry: Geometry) -> Geometry:
    return shapely.boundary(geometry) if geometry.geom_type.endswith("Polygon") else geometry


def _polygons(geometry: Geometry) -> list[Polygon]:
    return [g for g in shapely.get_parts(geometry) if g.geom_type == "Polygon" and not g.is_empty]


def _mm(values: ArrayLike) -> list[float]:
    """Flat list of mm to the micrometre: short files, and far below what paper can hold."""
    flat: list[float] = (np.round(np.asarray(values, dtype=np.float64).ravel(), 3) + 0.0).tolist()
    return flat


def text_record(
    text: str,
    at: ArrayLike,
    size: float,
    colour: str = style.INK,
    *,
    serif: bool = False,
    bold: bool = False,
    turn: float = 0.0,
    anchor: str = "centre",
    ground: str | None = None,
) -> Record:
    """Words at a point, mm; size in points. anchor 'centre' has their middle there, 'left' their left end."""
    return {
        "kind": "text", "at": _mm(at), "text": text, "size": size, "colour": colour, "serif": serif, "bold": bold,
        "turn": turn, "anchor": anchor, "ground": ground,
    }  # fmt: skip
