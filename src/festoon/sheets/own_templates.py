"""The templates that techniques draw on axes of their own, each at true size over as few sheets as it takes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely
from shapely.affinity import translate

from festoon.layout import Layout
from festoon.sheets import style
from festoon.sheets.captions import seams
from festoon.sheets.cards import WIDTHS, Card, clear_place, least_covering, on_paper, times_told
from festoon.sheets.drawing import (
    Drawing,
    Record,
    Shape,
    area_shapes,
    lettered_lines,
    line_shapes,
    pin_shapes,
    pin_signs,
    text_record,
    through,
)
from festoon.sheets.ground import Ground
from festoon.sheets.key import of_techniques
from festoon.sheets.labels import LAID, LINE
from festoon.sheets.lettering import POINTS, Lettering, letter_lines
from festoon.sheets.tiles import MARGIN, OVERLAP, Paper, Tile, Tiling, Window, tiling
from festoon.work.values import Template, Work

EDGE = 5.0
"""Room round a template's outermost line, mm: a pin's sign and words beside a line."""
_CELL = 0.5
"""mm: how finely it is known what lies where."""

Placed = tuple[Tile, tuple[float, float], Card]
"""A card on a sheet, its left upper corner in mm from that of the sheet's window."""


@dataclass(frozen=True, eq=False)
class Own:
    """One template over its sheets. whose: the element's name and the piece's. The drawing begins near (0, 0).

    card: the one that tells all, on the sheet that has clear room for it; None where none has.
    """

    work: Work
    template: Template
    whose: str
    drawing: Drawing
    ground: Ground
    tiles: Tiling
    card: Placed | None


def own_templates(layout: Layout, paper: Paper) -> list[Own]:
    """Every element's templates over sheets of a paper, in the order of the elements."""
    return [
        _own(w, t, f"{w.element}, {layout.piece.name}", paper) for w in layout.works for t in w.templates if t.lines
    ]


def own_sheets(own: Own) -> list[dict[str, Any]]:
    """Every sheet of a template: its paper's size, its records and its card."""
    return [_sheet(own, tile) for tile in own.tiles.tiles]


def _own(work: Work, template: Template, whose: str, paper: Paper) -> Own:
    """The template with its card above it where that takes no more sheets, else where the drawing leaves it room."""
    signs = pin_signs(template.pins)
    key = tuple(of_techniques(template.lines, template.areas, template.pins, signs))
    told = (*template.told, *times_told(template))
    cards = [Card(width, template.title, "", whose, told, key) for width in WIDTHS]
    plain = _laid(template, 0.0)
    fewest = len(_over_sheets(*plain, paper).tiles)
    for drawing, card in (*((_laid(template, c.height + EDGE), c) for c in cards), *((plain, c) for c in cards)):
        tiles = _over_sheets(*drawing, paper)
        if len(tiles.tiles) <= fewest and (placed := _placed(card, _ground(*drawing), tiles)):
            return Own(work, template, whose, drawing[0], _ground(*drawing), tiles, placed)
    return Own(work, template, whose, plain[0], _ground(*plain), _over_sheets(*plain, paper), None)


def _laid(template: Template, above: float) -> tuple[Drawing, tuple[float, float]]:
    """The template drawn with `above` mm left free over it, and its whole size."""
    shapes = [
        *area_shapes(template.areas),
        *pin_shapes(template.pins, pin_signs(template.pins)),
        *line_shapes(template.lines),
    ]
    left, top, right, bottom = shapely.total_bounds([s.geometry for s in shapes]).tolist()
    dx, dy = EDGE - left, EDGE + above - top
    moved = tuple(Shape(translate(s.geometry, dx, dy), s.ink) for s in shapes)
    lettered = tuple((text, translate(line, dx, dy)) for text, line in lettered_lines(template.lines))
    return Drawing(moved, lettered=lettered), (right - left + 2 * EDGE, bottom - top + 2 * EDGE + above)


def _ground(drawing: Drawing, size: tuple[float, float]) -> Ground:
    areas = [s.geometry for s in drawing.shapes if s.ink.fill]
    lines = [s.geometry for s in drawing.shapes if not s.ink.fill]
    return Ground(size, _CELL, [(LAID, areas), (LINE, lines)])


def _over_sheets(drawing: Drawing, size: tuple[float, float], paper: Paper) -> Tiling:
    tree = shapely.STRtree([s.geometry for s in drawing.shapes])

    def holds(window: Window) -> bool:
        return bool(len(tree.query(shapely.box(*window), predicate="intersects")))

    return tiling(size, paper, holds)


def _placed(card: Card, ground: Ground, tiles: Tiling) -> Placed | None:
    """The card on the first sheet that has clear room for it."""
    for tile in tiles.tiles:
        named = replace(card, name=_name(tile, tiles))
        if at := clear_place(named, ground, tile, tiles):
            return tile, at, named
    return None


def _name(tile: Tile, tiles: Tiling) -> str:
    return f"{tile.name} of {len(tiles.tiles)}" if len(tiles.tiles) > 1 else ""


def _sheet(own: Own, tile: Tile) -> dict[str, Any]:
    if own.card and own.card[0] is tile:
        _, at, card = own.card
    else:
        card = Card(WIDTHS[0], own.template.title, _name(tile, own.tiles), own.whose)
        at = least_covering(card, own.ground, tile, own.tiles)
    x, y = at[0] + tile.window[0], at[1] + tile.window[1]
    words = letter_lines(
        own.drawing.lettered, own.ground, [(x, y, x + card.width, y + card.height)], inner(tile, own.tiles)
    )
    return {
        "paper": [own.tiles.paper.width, own.tiles.paper.height],
        "records": [
            *through(own.drawing, tile.window, (MARGIN, MARGIN)),
            *lettering_records(words, tile),
            *seams(tile, own.tiles, (MARGIN, MARGIN)),
        ],
        "card": card.shown(on_paper(at)),
    }


def inner(tile: Tile, tiles: Tiling) -> Window:
    """A sheet's window without the strip at its sides that is trimmed or laid on where there are several."""
    by = OVERLAP if len(tiles.tiles) > 1 else 0.0
    left, top, right, bottom = tile.window
    return left + by, top + by, right - by, bottom - by


def lettering_records(words: list[Lettering], tile: Tile) -> list[Record]:
    """Words beside lines, at their places on a sheet's paper."""
    corner = np.subtract(MARGIN, tile.window[:2])
    return [text_record(w.text, np.add(w.at, corner), POINTS, style.INK_SOFT, turn=w.turn) for w in words]
