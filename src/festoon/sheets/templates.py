"""True-size templates: every panel over as many sheets as it takes, and a first page on how to join them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import shapely

from festoon.hooping.values import Division, Hooping
from festoon.layout import Layout
from festoon.measure import Units, show_place
from festoon.piece import Panel
from festoon.sheets import style
from festoon.sheets.captions import KEEP, caption, check_line, clearest, seams
from festoon.sheets.cards import times_told
from festoon.sheets.drawing import (
    BLOCK,
    CENTRE,
    CUT,
    FIELD,
    LINES,
    PIN,
    RULED,
    SEAM,
    Drawing,
    Ink,
    Record,
    Shape,
    hoopings_on,
    panel_drawing,
    panel_ground,
    path_records,
    pin_signs,
    text_record,
    through,
)
from festoon.sheets.ground import Ground
from festoon.sheets.key import Entry, crossed, line_entry, of_techniques, stitched
from festoon.sheets.labels import around, number_hoopings
from festoon.sheets.lettering import letter_lines
from festoon.sheets.own_templates import Own, inner, lettering_records, own_sheets, own_templates
from festoon.sheets.panel_words import cutting_told
from festoon.sheets.tiles import MARGIN, Paper, Tiling, Window, paper_named, tiling
from festoon.sheets.typeset import typeset

_MAP = (82.0, 92.0)
"""The most room for one panel's map of sheets, mm."""
_MAP_LETTERING = 0.62
_MAP_ARM = 2.4
_NAME_SHARE = 0.9
"""Points of a sheet's name on the map to a mm of the sheet's width there: four letters fit."""


def templates(layout: Layout, division: Division, *, paper: str, units: Units) -> bytes:
    """The templates as a PDF: a first page on how to join them, then at true size the sheets of every panel and of
    every template that a technique draws on axes of its own.

    paper is 'A4' or 'Letter', used upright or turned, whichever takes fewer sheets; units are those in which
    distances are shown. Raises MeasureError for an unknown paper.
    """
    sheet = paper_named(paper)
    panels = []
    for panel in layout.panels:
        ground = panel_ground(layout, division, panel)
        drawing = panel_drawing(layout, division, panel, ground)
        panels.append((panel, drawing, ground, tiling(panel.size, sheet, _holds(drawing))))
    owns = own_templates(layout, sheet)
    data = {
        "piece": layout.piece.name,
        "paper": [sheet.width, sheet.height],
        "name": sheet.name,
        "fit": _fit_to_page(sheet),
        "check": check_line(1.0, 3.0),
        "crosses": bool(division.hoopings),
        "key": _key(layout, division),
        "panels": [_index(division, panel, drawing, ground, tiles, units) for panel, drawing, ground, tiles in panels],
        "sheets": [
            {"paper": [tiles.paper.width, tiles.paper.height], "records": records, "card": None}
            for panel, drawing, ground, tiles in panels
            for records in _sheets(drawing, hoopings_on(division, panel), ground, tiles, panel, layout.piece.name)
        ]
        + [page for own in owns for page in own_sheets(own)],
        "owns": [_listed(own) for own in owns],
    }
    return typeset("templates", data)


def _holds(drawing: Drawing) -> Any:
    """Whether anything but what other things are laid by lies in a window."""
    things = [s.geometry for s in drawing.shapes if not s.guide]
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
        places = clearest(ground, tile, tiles, drawing.names)
        inside = (window[0] + KEEP, window[1] + KEEP, window[2] - KEEP, window[3] - KEEP)
        taken = [*drawing.names, *(around(place) for place in places)]
        numbered = replace(drawing, numbers=tuple(number_hoopings(hoopings, ground, taken, within=inside)))
        boxes = [label.box for label in (*taken, *numbered.numbers)]
        words = letter_lines(drawing.lettered, ground, boxes, inner(tile, tiles))
        sheets.append(
            [
                *caption(tile, tiles, panel, piece, places),
                *through(numbered, window, corner),
                *lettering_records(words, tile),
                *seams(tile, tiles, corner),
            ]
        )
    return sheets


def _index(
    division: Division, panel: Panel, drawing: Drawing, ground: Ground, tiles: Tiling, units: Units
) -> dict[str, Any]:
    return {
        "name": panel.name,
        "told": cutting_told(panel, units),
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
    shapes = tuple(_on_map(s, scale) for s in drawing.shapes if s.ink not in (PIN, RULED))
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


def _key(layout: Layout, division: Division) -> list[Entry]:
    """The lines and signs on the panels' sheets with their meaning."""
    works = layout.works
    guides = [
        (CUT, "cut edge", True),
        (BLOCK, "edge of the block that a shape is cut from", any(p.shaped for p in layout.panels)),
        (SEAM, "seam line, hem line", any(p.seam or p.hem_allowance for p in layout.panels)),
        (CENTRE, "centre line", True),
        (LINES["fold"], "edge to place on a fold of the cloth", any(p.fold for p in layout.panels)),
        (FIELD, "a hooping's field", bool(division.hoopings)),
    ]
    pins = [p for w in works for p in w.pins]
    return [
        *(line_entry(ink, words) for ink, words, occurs in guides if occurs),
        *([stitched()] if any(w.parts for w in works) else []),
        *([crossed()] if division.hoopings else []),
        *of_techniques((x for w in works for x in w.lines), (a for w in works for a in w.areas), pins, pin_signs(pins)),
    ]


def _listed(own: Own) -> dict[str, Any]:
    """A technique's template as the first page lists it."""
    left_out = [t.name for t in own.tiles.left_out]
    return {
        "title": own.template.title,
        "element": own.work.element,
        "told": [*own.template.told, *times_told(own.template)],
        "count": len(own.tiles.tiles),
        "left_out": left_out,
    }
