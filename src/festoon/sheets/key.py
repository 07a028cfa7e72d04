"""The key: lines, grounds and signs with their meaning, as many as occur."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

import shapely
from shapely import LineString

from festoon.sheets import style
from festoon.sheets.drawing import CROSS, LINES, Ink, Record, area_shapes, path_records, pin_shapes
from festoon.sheets.labels import cross
from festoon.work.values import Area, Line, Material, Pin

BOX = (16.0, 6.0)
"""Width and height of a sign's box, mm."""

_ROLES = {
    "trace": "trace this line",
    "stitching": "stitching line",
    "fold": "fold line",
    "cut": "cut along this line",
    "trim": "trim along this line",
    "placement": "placement line",
}
_MATERIALS: dict[Material, str] = {"lace": "lace", "ribbon": "ribbon", "cloth": "cloth laid on"}

Entry = dict[str, Any]


def entry(records: list[Record], words: str) -> Entry:
    """One sign, drawn in a BOX, and its words."""
    return {"records": records, "words": words}


def line_entry(ink: Ink, words: str) -> Entry:
    """A line as it is drawn, and its words."""
    return entry(path_records(LineString([(0.0, 3.0), (BOX[0], 3.0)]), ink), words)


def stitched() -> Entry:
    """Stitching by thread."""
    ink = Ink(style.INK_SOFT, 0.1, fill=style.tint(style.INK_SOFT))
    return entry(path_records(shapely.box(1.0, 1.0, 15.0, 5.0), ink), "stitching, by thread")


def crossed() -> Entry:
    """A cross to mark."""
    strokes = [r for stroke in cross((8.0, 3.0), 3.0) for r in path_records(stroke, CROSS)]
    return entry(strokes, "a cross to mark on the cloth")


def of_techniques(
    lines: Iterable[Line], areas: Iterable[Area], pins: Iterable[Pin], signs: Mapping[str, int]
) -> list[Entry]:
    """What techniques draw: the roles of their lines, their materials and what pins hold, each once."""
    roles: Collection[str] = {line.role for line in lines}
    materials = {a.material for a in areas}
    held = dict.fromkeys(p.holds for p in pins)
    box = shapely.box(1.0, 0.8, 15.0, 5.2)
    return [
        *(line_entry(LINES[role], words) for role, words in _ROLES.items() if role in roles),
        *(
            entry([r for s in area_shapes([Area(m, box)]) for r in path_records(s.geometry, s.ink)], words)
            for m, words in _MATERIALS.items()
            if m in materials
        ),
        *(
            entry(
                [r for s in pin_shapes([Pin((8.0, 3.0), h)], signs) for r in path_records(s.geometry, s.ink)],
                f"pin: {h}",
            )
            for h in held
        ),
    ]
