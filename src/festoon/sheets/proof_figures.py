"""What the proof sheet draws: how thick each panel gets, and how far its hoopings may miss each other."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Point, Polygon

from festoon.hooping.values import Division
from festoon.layout import Layout
from festoon.measure import MM_PER_INCH, Units
from festoon.piece import Panel
from festoon.plane.pose import Points
from festoon.proof.picture import LEVELS
from festoon.proof.told import LIKELY
from festoon.proof.values import Meeting, Thickness
from festoon.sheets import style
from festoon.sheets.drawing import (
    Drawing,
    Ink,
    Record,
    Shape,
    hoopings_on,
    panel_box,
    panel_guides,
    path_records,
    text_record,
    through,
)
from festoon.sheets.figures import Figure
from festoon.sheets.ground import Ground
from festoon.sheets.labels import LINE, OUTLINE, STITCHING, Label, beside, field_outline, number_hoopings

Numbered = Sequence[tuple[str, tuple[float, float]]]
"""Names of places and where they are, mm on the panel."""

_EDGE = 1.0
"""Room round a panel for its own line, mm on paper."""
_DISC = 2.2
_DOT = 0.55
_OFF = 6.5
"""Radius of a number's disc and of its place's dot, and how far off its place it stands, mm on paper."""
_DIAMOND = 1.5
_CELL = 0.5
"""mm on paper: how finely it is known what lies where."""
_LETTERING = 0.62
"""Of the hoopings' numbers among the ellipses, against those on a template."""
_LONGEST = 3.6
"""The longest half axis of an ellipse, mm on paper."""
FACTORS = (200, 150, 100, 80, 50, 30, 20, 15, 10, 8, 5, 3, 2)
"""How many times enlarged ellipses are drawn, the greatest that leaves them room."""
_BAR = 45.0
"""The longest that a scale bar may be, mm on paper."""

_EDGE_INK = Ink(style.INK, 0.3)
_LEADER = Ink(style.INK, 0.2)
_MEETING = Ink(style.INK, 0.25, fill=style.WHITE)
_STITCHED = Ink(None, fill=style.mixed(style.INK_SOFT, style.WHITE, 0.72))
_FIELD = Ink(style.WOOD_DARK, 0.25)
_ELLIPSE = Ink(style.INK, 0.3, fill=style.VEIL)


def fitted(size: tuple[float, float], room: tuple[float, float]) -> float:
    """Mm on paper for one mm of a panel of that size that fills the room, its own line allowed for."""
    return min((r - 2 * _EDGE) / s for r, s in zip(room, size, strict=True))


def thickness_figure(
    panel: Panel, thickness: Thickness, file: str, meetings: Sequence[Meeting], places: Numbered, scale: float
) -> Figure:
    """The map of a panel's thickness, an image named `file`, over its outline, at `scale` (mm on paper for one mm).

    Meetings are small diamonds; a place with a name has a dot with the name in a ring beside it, one without only the
    dot.
    """
    window = _window(panel, scale)
    rows, columns = thickness.layers.shape
    at, size = _paper(thickness.origin, window, scale), np.array([columns, rows]) * thickness.cell * scale
    image = {"kind": "image", "at": at.tolist(), "size": size.tolist(), "file": file, "turn": 0.0}
    cloth = (Shape(panel_box(panel), Ink(fill=LEVELS[0][1])),)
    met = [_diamond(m.at, _DIAMOND / scale) for m in meetings]
    lines = (*panel_guides(panel), Shape(panel_box(panel).exterior, _EDGE_INK), *(Shape(d, _MEETING) for d in met))
    unit = 1 / scale
    ground = Ground(panel.size, _CELL * unit, [(LINE, [s.geometry for s in lines]), *_thick(thickness)])
    named = [(text, at) for text, at in places if text]
    boxes = [Point(at).buffer(_DISC * unit).bounds for _, at in places]
    labels = beside(named, ground, boxes, 2 * _DISC * unit, _OFF * unit)
    records = [
        *through(Drawing(cloth), window, (0, 0), scale),
        *([image] if rows and columns else []),
        *through(Drawing(lines), window, (0, 0), scale),
        *_dots([at for _, at in places], window, scale),
        *_ringed(labels, [at for _, at in named], window, scale),
    ]
    return Figure(_on_paper(panel, scale), records)


def _thick(thickness: Thickness) -> list[tuple[float, list[Polygon]]]:
    """The map's whole rectangle, which names had better leave free."""
    rows, columns = thickness.layers.shape
    (x, y), cell = thickness.origin, thickness.cell
    return [(STITCHING, [shapely.box(x, y, x + columns * cell, y + rows * cell)])] if rows and columns else []


def factor(meetings: Sequence[Meeting], scale: float) -> int:
    """How many times enlarged the ellipses are drawn on a panel at `scale`, so that the largest has room."""
    longest = max((LIKELY * float(np.sqrt(np.linalg.eigvalsh(m.covariance)[-1])) * scale for m in meetings), default=0)
    return next((f for f in FACTORS if f * longest <= _LONGEST), 1)


def ellipse(meeting: Meeting, enlarged: float) -> Polygon:
    """What the misfit reaches in any one direction 95 times in 100, round the meeting's place, so many times enlarged.

    Its half axes are LIKELY standard deviations along the covariance's own axes.
    """
    variances, axes = np.linalg.eigh(meeting.covariance)
    turns = np.linspace(0.0, 2 * np.pi, 72, endpoint=False)
    half = LIKELY * enlarged * np.sqrt(np.maximum(variances, 0.0))
    round_it: Points = np.column_stack([np.cos(turns), np.sin(turns)]) * half @ axes.T
    return Polygon(round_it + np.array(meeting.at))


def meetings_figure(
    layout: Layout,
    division: Division,
    panel: Panel,
    named: Sequence[tuple[str, Meeting]],
    enlarged: float,
    scale: float,
) -> Figure:
    """A panel with every hooping's frame and number, and at each meeting its ellipse and name ('' for none)."""
    window, unit = _window(panel, scale), 1 / scale
    hoopings = hoopings_on(division, panel)
    outlines = [field_outline(h).exterior for h in hoopings]
    regions = [shapely.simplify(p.region, 0.1 * unit, preserve_topology=False) for p in layout.parts(panel.name)]
    ellipses = [ellipse(m, enlarged) for _, m in named]
    ground = Ground(panel.size, _CELL * unit, [(STITCHING, regions), (OUTLINE, [*outlines, *ellipses])])
    taken = [e.bounds for e in ellipses]
    lettered = [(name, m.at) for name, m in named if name]
    widest = max((float(np.ptp(shapely.get_coordinates(e), axis=0).max()) for e in ellipses), default=0.0)
    letters = beside(lettered, ground, taken, 2 * _DISC * unit, widest / 2 + (_DISC + 0.5) * unit)
    shapes = (
        Shape(panel_box(panel), Ink(fill=style.CLOTH)),
        *(Shape(r, _STITCHED) for r in regions),
        Shape(panel_box(panel).exterior, _EDGE_INK),
        *(Shape(o, _FIELD) for o in outlines),
        *(Shape(_leader(letter, at), _LEADER) for letter, (_, at) in zip(letters, lettered, strict=True)),
        *(Shape(e, _ELLIPSE) for e in ellipses),
    )
    small = _LETTERING * unit
    numbers = number_hoopings(hoopings, ground, [*letters, *(_boxed(b) for b in taken)], small)
    drawing = Drawing(shapes, numbers=tuple(numbers), unit=small)
    records = through(drawing, window, (0, 0), scale)
    records += [text_record(x.text, _paper(x.at, window, scale), 9.5, bold=True) for x in letters]
    return Figure(_on_paper(panel, scale), records)


def _boxed(bounds: tuple[float, float, float, float]) -> Label:
    left, top, right, bottom = bounds
    return Label("", ((left + right) / 2, (top + bottom) / 2), (right - left, bottom - top))


def bar(scale: float, units: Units) -> tuple[float, float]:
    """The round length that a scale bar stands for, in mm or inches, and its length on paper, mm."""
    mm = 1.0 if units == "mm" else MM_PER_INCH
    rounds = [n * 10.0**k for k in range(-1, 4) for n in (1, 2, 5)]
    length = max((r for r in rounds if r * mm * scale <= _BAR), default=rounds[0])
    return length, length * mm * scale


def bar_figure(scale: float, units: Units) -> Figure:
    """A scale bar in the piece's own units, five parts filled in turn, its length written beside it."""
    length, wide = bar(scale, units)
    records: list[Record] = []
    for k in range(5):
        box = shapely.box(0.5 + wide * k / 5, 0.5, 0.5 + wide * (k + 1) / 5, 2.3)
        records += path_records(box, Ink(style.INK, 0.2, fill=style.WHITE if k % 2 else style.INK))
    told = f"{length:g} {'mm' if units == 'mm' else 'in'}"
    records.append(text_record(told, (wide + 2.5, 1.4), 9, anchor="left"))
    return Figure((wide + 16.0, 3.0), records)


def _window(panel: Panel, scale: float) -> tuple[float, float, float, float]:
    edge = _EDGE / scale
    return -edge, -edge, panel.size[0] + edge, panel.size[1] + edge


def _on_paper(panel: Panel, scale: float) -> tuple[float, float]:
    return panel.size[0] * scale + 2 * _EDGE, panel.size[1] * scale + 2 * _EDGE


def _diamond(at: tuple[float, float], half: float) -> Polygon:
    (x, y), h = at, half
    return Polygon([(x, y - h), (x + h, y), (x, y + h), (x - h, y)])


def _paper(at: Sequence[float], window: Sequence[float], scale: float) -> NDArray[np.float64]:
    return (np.asarray(at, dtype=np.float64) - window[:2]) * scale


def _leader(letter: Label, at: tuple[float, float]) -> LineString:
    """From where the letter's room ends to its place."""
    start, end = np.array(letter.at), np.array(at)
    return LineString([start + (end - start) * letter.size[0] / 2 / float(np.hypot(*(end - start))), end])


def _dots(places: Sequence[tuple[float, float]], window: Sequence[float], scale: float) -> list[Record]:
    look = {"kind": "disc", "r": _DOT, "fill": style.INK, "stroke": style.WHITE, "width": 0.25}
    return [{"at": _paper(at, window, scale).round(3).tolist(), **look} for at in places]


def _ringed(
    labels: Sequence[Label], places: Sequence[tuple[float, float]], window: Sequence[float], scale: float
) -> list[Record]:
    """Names in rings, each with a line to its place."""
    records: list[Record] = []
    look = {"kind": "disc", "r": _DISC, "fill": style.WHITE, "stroke": style.INK, "width": 0.25}
    for label, at in zip(labels, places, strict=True):
        middle, place = _paper(label.at, window, scale), _paper(at, window, scale)
        records += path_records(LineString([place, middle]), _LEADER)
        records += [{"at": middle.round(3).tolist(), **look}, text_record(label.text, middle, 8.5, bold=True)]
    return records
