"""The swatch on paper: one page with the drawing at true size, what to do, and a form to write the figures on."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np
import shapely
from shapely import LineString, MultiLineString

from festoon.piece import Hoop
from festoon.sheets import style
from festoon.sheets.captions import check_line
from festoon.sheets.drawing import CROSS, Ink, Record, path_records, text_record
from festoon.sheets.labels import cross
from festoon.sheets.tiles import paper_named
from festoon.sheets.typeset import typeset
from festoon.stitches import Thread, stitched_region
from festoon.supplies.cautions import cautions
from festoon.swatch.design import (
    COVER,
    CROSSES,
    EXPECTED,
    PEN_ARM,
    PLACES,
    SIZE,
    SPACINGS,
    TRIAL,
    TWIN,
    TWIN_APART,
    TWIN_ROWS,
    Distance,
    Point,
    blocks,
    swatch,
    trials,
)

MIDDLE: Point = (47.5, 47.5)
DRAWING = (99.0, 102.0)
"""Where the middle of the swatch lies on its drawing, and how large that is, mm: the swatch and its dimensions."""

OFFSETS = {
    "a": (-2.5, -20.0),
    "b": (-2.5, -20.0),
    "c": (-16.0, -18.5),
    "d": (16.0, 18.5),
    "e": (4.0, 14.5),
    "f": (31.0, 41.5),
}
"""How far beside what it measures a dimension's extension lines begin, and the dimension is drawn, mm: down for level
ones, to the right for upright ones."""

_PAST, _TICK = 1.2, 0.9
"""mm: how far an extension line goes past the dimension; half a tick's width, drawn at 45 degrees."""
_ROOM, _BESIDE = 10.0, 3.0
"""A dimension shorter than the first has its letter this far beside it, mm."""
DIMENSION = Ink(style.WORK, 0.2)
EXTENSION = Ink(style.DRAFT, 0.1)
_SEWN = Ink(style.INK_SOFT, 0.1, fill=style.TISSUE)
_RUN = Ink(style.INK, 0.25)


def sheet(thread: Thread, hoops: Sequence[Hoop], file: str, paper: str) -> bytes:
    """The page as a PDF. file: the machine file's name. paper: 'A4' or 'Letter'. MeasureError for another paper."""
    size = paper_named(paper)
    data: dict[str, Any] = {
        "paper": [size.width, size.height],
        "size": list(DRAWING),
        "records": drawing(thread),
        "file": file,
        "field": f"{SIZE:g} × {SIZE:g} mm",
        "stitches": f"{swatch((SIZE, SIZE), thread).stitch_count:,}",
        "sizes": [[d.letter, d.name, f"{d.nominal:g} mm"] for d in EXPECTED],
        "places": list(PLACES),
        "cover": COVER,
        "twin": list(TWIN),
        "ridges": [f"{TWIN_ROWS}", f"{TWIN_APART:g} mm"],
        "command": 'festoon swatch FOLDER --measured "a=59.8 b=59.9 c=29.5 …" --cloth "…" --stabiliser "…"',
        "cautions": [c.text for c in cautions(hoops)],
        "check": check_line(1.0, 3.0),
    }
    return typeset("swatch", data)


def drawing(thread: Thread) -> list[Record]:
    """The swatch at true size with its dimensions, as records of the drawing; its middle lies at MIDDLE."""
    sewn = blocks(thread)
    records: list[Record] = []
    for name in ("fill", "bar", "trials"):
        records += path_records(_moved(stitched_region(sewn[name])), _SEWN)
    for name in ("lines", "crosses"):
        records += path_records(_moved(MultiLineString(_runs(sewn[name].runs(), sewn[name].points))), _RUN)
    for at in CROSSES:
        for stroke in cross(at, PEN_ARM):
            records += path_records(_moved(stroke), CROSS)
    for letter, (x, y) in zip(PLACES, CROSSES, strict=True):
        out = (1 if x > 0 else -1, 1 if y > 0 else -1)
        records.append(_letter(letter, (x + 3.0 * out[0], y + 3.0 * out[1])))
    for spacing, (x, y) in zip(SPACINGS, trials(), strict=True):
        below = _paper((x + TRIAL[0] / 2, y + TRIAL[1] / 2 + 2.4))
        records.append(text_record(f"{spacing:.2f}", below, 7.5, style.INK_SOFT))
    records.append(_letter(COVER, (trials()[-1][0] + TRIAL[0] + 2.6, trials()[-1][1])))
    for distance in EXPECTED:
        records += dimension(distance)
    return records


def dimension(distance: Distance) -> list[Record]:
    """A dimension of a distance: the line, of exactly its length, its ticks, extension lines and letter."""
    near, far = OFFSETS[distance.letter]
    past = far + math.copysign(_PAST, far)
    away = np.array([0.0, 1.0] if distance.level else [1.0, 0.0])
    points = np.array([distance.start, distance.end])
    ends = points + far * away
    records = path_records(_moved(LineString(ends)), DIMENSION)
    for point, end in zip(points, ends, strict=True):
        tick = np.array([[-_TICK, _TICK], [_TICK, -_TICK]])
        records += path_records(_moved(LineString(end + tick)), DIMENSION)
        records += path_records(_moved(LineString([point + near * away, point + past * away])), EXTENSION)
    beside = away * _BESIDE if distance.nominal < _ROOM else 0.0
    x, y = (ends.mean(axis=0) + beside).tolist()
    records.append(_letter(distance.letter, (x, y)))
    return records


def _letter(letter: str, at: Point) -> Record:
    return text_record(letter, _paper(at), 11, style.WORK, bold=True, ground=style.WHITE)


def _paper(at: Point) -> Point:
    return at[0] + MIDDLE[0], at[1] + MIDDLE[1]


def _moved(geometry: shapely.Geometry) -> shapely.Geometry:
    return shapely.transform(geometry, lambda p: p + MIDDLE)


def _runs(ranges: Iterable[tuple[int, int]], points: Any) -> list[LineString]:
    return [LineString(points[first:past]) for first, past in ranges]
