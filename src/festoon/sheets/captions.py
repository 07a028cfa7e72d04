"""What every template sheet says about itself, and the clearest place on it to say so."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from shapely import LineString, Polygon

from festoon.piece import Panel
from festoon.sheets import style
from festoon.sheets.drawing import Ink, Record, path_records, text_record
from festoon.sheets.ground import Ground, overlap
from festoon.sheets.labels import TAKEN, Label
from festoon.sheets.lettering import Box
from festoon.sheets.tiles import MARGIN, OVERLAP, AssemblyMark, Tile, Tiling

CHECK = 100.0
"""Length of the check line, mm: read to half a millimetre it shows a scale half a per cent off (arithmetic)."""
CHECK_WORDS = "This line must measure 100 mm, or 3 15/16 in."

CAPTION = (102.0, 29.0)
"""Width and height of the caption, mm: what the sheet is called, and below it the check line."""
_CALLED, _CHECKED = (102.0, 19.0), (102.0, 10.0)
"""The same of its two parts."""
_CLEAR = 8.0
"""Cost of a place, mm² of line, from which on the caption is parted where that hides less (own choice)."""
_LONGEST = 48
"""Letters of the panel's and the piece's name that the caption has room for."""
_STEP = 2.0
KEEP = 14.0
"""How far the caption stays from a sheet's seams, and the numbers from its edges, mm: clear of the seams' letters."""

_DIAMOND = 2.8
_LETTER = 5.6
_FINE = Ink(style.INK_SOFT, 0.15)
_LAID = Ink(style.INK_SOFT, 0.15, dash=(1.5, 1.0))
_CHECK_INK = Ink(style.INK, 0.3)


def check_line(x: float, y: float) -> list[Record]:
    """The line of exactly 100 mm that begins at (x, y) on paper, its end strokes and its words."""
    stroke = LineString([(x, y), (x + CHECK, y)])
    ends = [LineString([(e, y - 1.8), (e, y + 1.8)]) for e in (x, x + CHECK)]
    tens = [LineString([(x + t, y - 0.9), (x + t, y)]) for t in range(10, 100, 10)]
    return [
        *(r for line in (stroke, *ends) for r in path_records(line, _CHECK_INK)),
        *(r for line in tens for r in path_records(line, _FINE)),
        text_record(CHECK_WORDS, (x, y + 4.0), 9, anchor="left"),
    ]


def caption(tile: Tile, tiling: Tiling, panel: Panel, piece: str, places: Sequence[Box]) -> list[Record]:
    """Sheet name, panel, which way up, grain, and the check line, at the places that `clearest` gives, where MARGIN is
    the paper round the window."""
    x, y = places[0][0] - tile.window[0] + MARGIN, places[0][1] - tile.window[1] + MARGIN
    check_x, check_y = x, y + _CALLED[1]
    if len(places) > 1:
        check_x, check_y = places[1][0] - tile.window[0] + MARGIN, places[1][1] - tile.window[1] + MARGIN
    whole = panel.name if panel.name == piece else f"{panel.name}, {piece}"
    told = whole if len(whole) <= _LONGEST else whole[: _LONGEST - 1].rstrip() + "…"
    return [
        text_record(f"{tile.name} of {len(tiling.tiles)}", (x + 1, y + 5.0), 20, serif=True, bold=True, anchor="left"),
        *_arrow((x + 66.0, y + 5.0), 9.0, 0.0, both=False),
        text_record("up", (x + 68.5, y + 5.0), 10, anchor="left"),
        *_arrow((x + 84.0, y + 5.0), 9.0, panel.grain, both=True),
        text_record("grain", (x + 89.5, y + 5.0), 10, anchor="left"),
        text_record(told, (x + 1, y + 12.0), 10, bold=True, anchor="left"),
        text_record("Right side of the cloth facing you.", (x + 1, y + 16.8), 10, anchor="left"),
        *check_line(check_x + 1, check_y + 3.5),
    ]


def _arrow(middle: tuple[float, float], length: float, turn: float, *, both: bool) -> list[Record]:
    """An arrow turned clockwise from upright, with a head at its upper end or at both."""
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    matrix = np.array([[c, -s], [s, c]])
    half = length / 2
    lines = [[(0, -half), (0, half)], [(-1.4, 2.6 - half), (0, -half), (1.4, 2.6 - half)]]
    if both:
        lines.append([(-1.4, half - 2.6), (0, half), (1.4, half - 2.6)])
    ink = Ink(style.INK, 0.25)
    return [r for line in lines for r in path_records(LineString(np.array(line) @ matrix.T + middle), ink)]


def clearest(ground: Ground, tile: Tile, tiling: Tiling, taken: Sequence[Label] = ()) -> tuple[Box, ...]:
    """Where on a sheet of the panel the caption covers least of the drawing: its box (left, top, right, bottom), mm of
    the panel; or two where it hides less when its check line stands elsewhere.

    taken are labels that it must leave free. It stays off the seams. Of equal places the lowest, then the leftmost is
    taken.
    """
    others = [t.box for t in taken]
    whole, covered = _clearest(CAPTION, ground, tile, tiling, others)
    if covered <= _CLEAR:
        return (whole,)
    called, first = _clearest(_CALLED, ground, tile, tiling, others)
    checked, second = _clearest(_CHECKED, ground, tile, tiling, [*others, called])
    return (called, checked) if first + second < covered else (whole,)


def _clearest(
    size: tuple[float, float], ground: Ground, tile: Tile, tiling: Tiling, taken: Sequence[Box]
) -> tuple[Box, float]:
    left, top, right, bottom = tile.window
    width, height = size
    keep = {side: KEEP if tiling.neighbour(tile, *side) else 0.0 for side in ((-1, 0), (1, 0), (0, -1), (0, 1))}
    ys = np.arange(bottom - height - keep[1, 0], top + keep[-1, 0] - 1e-9, -_STEP)
    xs = np.arange(left + keep[0, -1], right - width - keep[0, 1] + 1e-9, _STEP)
    corners = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    boxes = np.concatenate([corners, corners + size], axis=1)
    covered = np.round(ground.cost(boxes) + TAKEN * overlap(boxes, taken), 3)
    best = int(np.argmin(covered))
    x0, y0, x1, y1 = boxes[best].tolist()
    return (x0, y0, x1, y1), float(covered[best])


def seams(tile: Tile, tiling: Tiling, corner: tuple[float, float]) -> list[Record]:
    """Trim lines towards the sheets before, lay-on lines towards the sheets after, and the assembly marks."""
    left, top, right, bottom = tile.window
    w, h, half = right - left, bottom - top, OVERLAP / 2
    x, y = corner
    records: list[Record] = []
    sides = (
        (0, -1, [(half, 0), (half, h)], (half / 2, h / 2), -90.0),
        (-1, 0, [(0, half), (w, half)], (w / 2, half / 2), 0.0),
        (0, 1, [(w - half, 0), (w - half, h)], (w - half / 2, h / 2), -90.0),
        (1, 0, [(0, h - half), (w, h - half)], (w / 2, h - half / 2), 0.0),
    )
    for rows, columns, ends, words_at, turn in sides:
        other = tiling.neighbour(tile, rows, columns)
        if other is None:
            continue
        trimmed = rows + columns < 0
        words = f"trim along this line and lay on {other.name}" if trimmed else f"{other.name} is laid to this line"
        records += path_records(LineString(np.array(ends) + corner), _FINE if trimmed else _LAID)
        middle = (words_at[0] + x, words_at[1] + y)
        records.append(text_record(words, middle, 8, style.INK_SOFT, turn=turn, ground=style.VEIL))
    for mark in tiling.marks_of(tile):
        records += _assembly(mark, tile, (x - left, y - top))
    return records


def _assembly(mark: AssemblyMark, tile: Tile, shift: tuple[float, float]) -> list[Record]:
    """A crossed diamond; its letter stands on the side that stays to be seen when the sheets are joined."""
    x, y = mark.at[0] + shift[0], mark.at[1] + shift[1]
    d = _DIAMOND
    side = -_LETTER if tile.name == mark.tiles[0] else _LETTER
    letter_at = (x + side, y) if mark.upright else (x, y + side)
    rhomb = Polygon([(x, y - d), (x + d, y), (x, y + d), (x - d, y)])
    strokes = [LineString([(x - d, y), (x + d, y)]), LineString([(x, y - d), (x, y + d)])]
    return [
        *path_records(rhomb, Ink(style.INK_SOFT, 0.2)),
        *(r for s in strokes for r in path_records(s, Ink(style.INK_SOFT, 0.2))),
        text_record(mark.letter, letter_at, 11, style.INK_SOFT, bold=True, ground=style.VEIL),
    ]
