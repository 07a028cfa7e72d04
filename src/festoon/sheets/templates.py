"""True-size templates: every panel over as many sheets as it takes, and a first page on how to join them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Literal

import shapely
from shapely import LineString

from festoon.hooping.values import Division, Hooping
from festoon.layout import Layout
from festoon.measure import show_length, show_place
from festoon.piece import Panel
from festoon.sheets import style
from festoon.sheets.captions import CAPTION, KEEP, caption, check_line, clearest, seams
from festoon.sheets.drawing import (
    CENTRE,
    CROSS,
    CUT,
    FIELD,
    SEAM,
    Drawing,
    Ink,
    Record,
    Shape,
    hoopings_on,
    panel_drawing,
    panel_ground,
    path_records,
    text_record,
    through,
)
from festoon.sheets.ground import Ground
from festoon.sheets.labels import Label, cross, number_hoopings
from festoon.sheets.tiles import MARGIN, Paper, Tiling, Window, paper_named, tiling
from festoon.sheets.typeset import typeset

Units = Literal["mm", "inch"]

_MAP = (82.0, 92.0)
"""The most room for one panel's map of sheets, mm."""
_MAP_LETTERING = 0.62
_MAP_ARM = 2.4
_NAME_SHARE = 0.9
"""Points of a sheet's name on the map to a mm of the sheet's width there: four letters fit."""
_KEEPS_PRINT = {style.INK, style.DRAFT}
"""Cut edge, seam line and centre lines: a sheet with nothing else on it need not be printed."""


def templates(layout: Layout, division: Division, *, paper: str, units: Units) -> bytes:
    """The templates as a PDF: a first page on how to join them, then the sheets of every panel at true size.

    paper is 'A4' or 'Letter', used upright or turned, whichever takes fewer sheets; units are those in which
    distances are shown. Raises MeasureError for an unknown paper.
    """
    sheet = paper_named(paper)
    panels = []
    for panel in layout.panels:
        ground = panel_ground(layout, division, panel)
        drawing = panel_drawing(layout, division, panel, ground)
        panels.append((panel, drawing, ground, tiling(panel.size, sheet, _holds(drawing))))
    data = {
        "piece": layout.piece.name,
        "paper": [sheet.width, sheet.height],
        "name": sheet.name,
        "fit": _fit_to_page(sheet),
        "check": check_line(1.0, 3.0),
        "key": _key(),
        "panels": [_index(division, panel, drawing, ground, tiles, units) for panel, drawing, ground, tiles in panels],
        "sheets": [
            {"paper": [tiles.paper.width, tiles.paper.height], "records": records}
            for panel, drawing, ground, tiles in panels
            for records in _sheets(drawing, hoopings_on(division, panel), ground, tiles, panel, layout.piece.name)
        ],
    }
    return typeset("templates", data)


def _holds(drawing: Drawing) -> Any:
    """Whether anything but the cloth's own edges and centre lines lies in a window."""
    things = [s.geometry for s in drawing.shapes if s.ink.fill or s.ink.stroke not in _KEEPS_PRINT]
    tree = shapely.STRtree(things)

    def holds(window: Window) -> bool:
        return bool(len(tree.query(shapely.box(*window), predicate="intersects")))

    return holds


def _sheets(
    drawing: Drawing, hoopings: list[Hooping], ground: Ground, tiles: Tiling, panel: Panel, piece: str
) -> list[list[Record]]:
    """The records of every sheet. A hooping has its number on each sheet that shows enough of its outline."""
    corner = (MARGIN, MARGIN)
    sheets = []
    for tile in tiles.tiles:
        window = tile.window
        x, y = clearest(ground, window, drawing.names)
        middle = (window[0] + x + CAPTION[0] / 2, window[1] + y + CAPTION[1] / 2)
        inner = (window[0] + KEEP, window[1] + KEEP, window[2] - KEEP, window[3] - KEEP)
        taken = [*drawing.names, Label("", middle, CAPTION)]
        numbered = replace(drawing, numbers=tuple(number_hoopings(hoopings, ground, taken, within=inner)))
        sheets.append(
            [
                *caption(tile, tiles, panel, piece, (x + MARGIN, y + MARGIN)),
                *through(numbered, window, corner),
                *seams(tile, tiles, corner),
            ]
        )
    return sheets


def _index(
    division: Division, panel: Panel, drawing: Drawing, ground: Ground, tiles: Tiling, units: Units
) -> dict[str, Any]:
    size = " by ".join(show_length(s, units) for s in panel.size)
    return {
        "name": panel.name,
        "told": f"Cut {size} (measured){f', {panel.cloth}' if panel.cloth else ''}.",
        "count": len(tiles.tiles),
        "left_out": [t.name for t in tiles.left_out],
        "map": _map(hoopings_on(division, panel), drawing, ground, tiles),
        "marks": [[m.name, show_place(m.at[0], units), show_place(m.at[1], units)] for m in drawing.marks],
    }


def _map(hoopings: list[Hooping], drawing: Drawing, ground: Ground, tiles: Tiling) -> dict[str, Any]:
    """The panel small, with its hoopings, under a grid of the sheets as they meet."""
    everything = [*tiles.tiles, *tiles.left_out]
    left, top = (min(t.window[i] for t in everything) for i in (0, 1))
    right, bottom = (max(t.window[i] for t in everything) for i in (2, 3))
    scale = min(_MAP[0] / (right - left), _MAP[1] / (bottom - top))
    unit = _MAP_LETTERING / scale
    shapes = tuple(_on_map(s, scale) for s in drawing.shapes)
    small = Drawing(shapes, drawing.marks, (), tuple(number_hoopings(hoopings, ground, (), unit)), unit, _MAP_ARM)
    window = (left, top, right, bottom)
    records = through(small, window, (0.0, 0.0), scale)
    for tile in everything:
        box = [(v - w) * scale for v, w in zip(tile.window, (left, top, left, top), strict=True)]
        printed = tile in tiles.tiles
        frame = shapely.box(*box)
        records += path_records(frame.exterior, Ink(style.INK_SOFT, 0.2, dash=() if printed else (0.8, 0.8)))
        colour = style.INK if printed else style.INK_SOFT
        size = min(10.0, _NAME_SHARE * (box[2] - box[0]))
        at = (box[0] + 0.2 * size, box[1] + 0.34 * size)
        records.append(
            text_record(tile.name, at, size, colour, serif=True, bold=printed, anchor="left", ground=style.VEIL)
        )
    return {"size": [(right - left) * scale, (bottom - top) * scale], "records": records}


def _on_map(shape: Shape, scale: float) -> Shape:
    """A shape as the map shows it: coarser, stitching as plain areas, nothing written along it."""
    ink = Ink(None, fill=style.mixed(shape.ink.stroke or style.INK, style.WHITE, 0.4)) if shape.ink.fill else shape.ink
    return Shape(shapely.simplify(shape.geometry, 0.1 / scale, preserve_topology=False), ink)


def _fit_to_page(paper: Paper) -> str:
    """What 'fit to page' does where the printer holds the other paper: the lesser ratio of sides (computed)."""
    other = paper_named("Letter" if paper.name == "A4" else "A4")
    share = min(other.width / paper.width, other.height / paper.height)
    return f"{paper.name} pages fitted to {other.name} come out at {share * 100:.1f} per cent (computed)"


def _key() -> list[dict[str, Any]]:
    """The lines and signs with their meaning, each drawn in a box of 16 by 6 mm."""
    level = LineString([(0.0, 3.0), (16.0, 3.0)])
    lines = ((CUT, "cut edge"), (SEAM, "seam line"), (CENTRE, "centre line"), (FIELD, "a hooping's field"))
    stitched = Ink(style.INK_SOFT, 0.1, fill=style.tint(style.INK_SOFT))
    crossed = [r for stroke in cross((8.0, 3.0), 3.0) for r in path_records(stroke, CROSS)]
    return [
        *({"records": path_records(level, ink), "words": words} for ink, words in lines),
        {"records": path_records(shapely.box(1.0, 1.0, 15.0, 5.0), stitched), "words": "stitching, by thread"},
        {"records": crossed, "words": "a cross to mark on the cloth"},
    ]
