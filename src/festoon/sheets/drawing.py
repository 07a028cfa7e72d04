"""Layout and division as shapes in mm of the panel, and the same seen through a window, ready for typesetting."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely import Geometry, LineString, Polygon

from festoon.hooping.values import Division, Hooping, Mark
from festoon.layout import Layout
from festoon.piece import Panel
from festoon.sheets import style
from festoon.sheets.ground import Ground
from festoon.sheets.labels import DISC, Label, cross, drawn_ground, field_outline, name_marks
from festoon.sheets.tiles import Window
from festoon.work.values import Line, Part

FINENESS = 0.05
"""Outlines are thinned to this, mm: half the thinnest line printed."""
_WORTH_WORDS = 30.0
"""A line shorter than this on paper, mm, goes without words."""

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
    """A geometry in mm, its ink, and what to write along a line."""

    geometry: Geometry
    ink: Ink
    words: str = ""


@dataclass(frozen=True, eq=False)
class Drawing:
    """A panel drawn: shapes from the bottom up, crosses with their names, hoopings' numbers.

    unit: how many mm of the drawing make one mm on paper, for which the labels were placed. arm: of a cross, mm on
    paper.
    """

    shapes: tuple[Shape, ...] = ()
    marks: tuple[Mark, ...] = ()
    names: tuple[Label, ...] = ()
    numbers: tuple[Label, ...] = ()
    unit: float = 1.0
    arm: float = style.CROSS_ARM


CUT = Ink(style.INK, 0.35)
SEAM = Ink(style.DRAFT, 0.2, dash=style.DASHED)
CENTRE = Ink(style.DRAFT, 0.15, dash=style.DASH_DOT)
FIELD = Ink(style.WOOD_DARK, 0.15)
CROSS = Ink(style.PEN, 0.2)

LINES: dict[str, Ink] = {
    "trace": Ink(style.INK_SOFT, 0.2),
    "stitching": Ink(style.INK, 0.2, dash=(1.6, 1.0)),
    "fold": Ink(style.INK_SOFT, 0.2, dash=(5.0, 1.2)),
    "cut": Ink(style.INK, 0.3),
    "trim": Ink(style.INK_SOFT, 0.2, dash=(1.0, 1.0)),
    "placement": Ink(style.INK_SOFT, 0.25, dash=style.DOTTED),
}
"""A technique's lines by what is done along them (common practice in pattern drafting: folds dashed, cuts solid)."""


def panel_box(panel: Panel) -> Polygon:
    """The panel's cut edge."""
    return shapely.box(0.0, 0.0, *panel.size)


def panel_guides(panel: Panel) -> list[Shape]:
    """The two centre lines and the seam line."""
    w, h = panel.size
    shapes = [
        Shape(LineString([(w / 2, 0), (w / 2, h)]), CENTRE),
        Shape(LineString([(0, h / 2), (w, h / 2)]), CENTRE),
    ]
    if 0 < panel.seam < min(w, h) / 2:
        s = panel.seam
        shapes.append(Shape(shapely.box(s, s, w - s, h - s).exterior, SEAM))
    return shapes


def panel_lines(panel: Panel) -> list[Shape]:
    """Centre lines, seam line and cut edge."""
    return [*panel_guides(panel), Shape(panel_box(panel).exterior, CUT)]


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
    """A technique's lines, each in the ink of its role and with its label or its role written along it."""
    shapes = []
    for line in lines:
        points = np.concatenate([line.points, line.points[:1]]) if line.closed else line.points
        if len(points) > 1:
            shapes.append(Shape(LineString(points), LINES[line.role], line.label or line.role))
    return shapes


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
    regions = [p.region for p in layout.parts(panel.name)]
    lines = [s.geometry for s in [*panel_lines(panel), *line_shapes(_lines(layout, panel))]]
    return drawn_ground(panel.size, regions, lines, hoopings, marks_of(hoopings), arm * unit, unit)


def panel_drawing(layout: Layout, division: Division, panel: Panel, ground: Ground) -> Drawing:
    """The whole panel at true size, in its own mm, its crosses named where the ground is least full; no numbers yet."""
    hoopings = hoopings_on(division, panel)
    marks = marks_of(hoopings)
    shapes = (
        *part_shapes(layout.parts(panel.name)),
        *panel_lines(panel),
        *line_shapes(_lines(layout, panel)),
        *(Shape(field_outline(h).exterior, FIELD) for h in hoopings),
    )
    return Drawing(shapes, tuple(marks), tuple(name_marks(marks, ground)))


def _lines(layout: Layout, panel: Panel) -> list[Line]:
    return [line for work in layout.works if work.panel == panel.name for line in work.lines]


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

    if whole and not shape.words:
        return path_records(seen(geometry), ink)
    records = path_records(seen(geometry), replace(ink, stroke=None)) if ink.fill else []
    if ink.stroke:
        lines = seen(_as_lines(geometry))
        records += path_records(lines, replace(ink, fill=None))
        records += _words_along(lines, shape.words) if shape.words else []
    return records


def _words_along(lines: Geometry, words: str) -> list[Record]:
    """Words on the longest run of a line, a third of the way along, never upside down; none where it is short."""
    runs = [g for g in shapely.get_parts(lines) if g.length > _WORTH_WORDS]
    if not runs:
        return []
    longest = max(runs, key=lambda g: float(g.length))
    before, at, after = (longest.interpolate(longest.length / 3 + d) for d in (-1.0, 0.0, 1.0))
    turn = math.degrees(math.atan2(after.y - before.y, after.x - before.x))
    upright = (turn + 90.0) % 180.0 - 90.0
    return [text_record(words, (at.x, at.y), 8, style.INK_SOFT, turn=round(upright, 2), ground=style.VEIL)]


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
