"""A piece laid out -> what the page is told of it. Pure."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np
import shapely
from shapely import Geometry

from festoon.layout import Layout
from festoon.measure import show_length
from festoon.piece import Panel
from festoon.piece.words import inside, kind_of_measure, words_of
from festoon.plane import Pose, from_svg
from festoon.plane.pose import Points
from festoon.report_proof import findings_json
from festoon.web.answers import (
    ElementTold,
    FindingTold,
    GapTold,
    HandleTold,
    HoopTold,
    LineTold,
    PanelTold,
    PartTold,
    PieceTold,
    SentenceTold,
    Spot,
    ThreadTold,
)
from festoon.web.thread_data import distinct
from festoon.work import Finding, Part, Sentence, Work

SIMPLIFIED = 0.1
"""How far an outline may be straightened for the screen, mm: a step of the stitch formats."""

LINE_TOLERANCE = 0.05
"""How far a curve may lie from the straight steps that it is told by, mm: less than half a pixel at 10 pixels a mm."""

Words = Mapping[str, Mapping[str, Any]]
"""Element's name -> its words as they stand in the piece file."""


def piece_told(layout: Layout, words: Words, revision: str, undo: str | None, redo: str | None) -> PieceTold:
    """All that the page draws and says of the piece as it is laid out."""
    piece = layout.piece
    told = piece.file.piece
    return PieceTold(
        revision=revision,
        name=piece.name,
        units=told.units,
        paper=told.paper,
        hoop=piece.hoop.name,
        panels=[_panel(p) for p in piece.panels],
        parts=_parts(layout),
        elements=[
            _element(element, work, words.get(element.name, {}), told.units)
            for element, work in zip(piece.file.element, layout.works, strict=True)
        ],
        hoops=[
            HoopTold(name=h.name, field=h.field, outer=h.outer_size, inner=h.inner_size, magnetic=h.magnetic)
            for h in piece.bench.hoop
        ],
        undo=undo,
        redo=redo,
        findings=findings_told(layout.findings),
    )


def findings_told(findings: Iterable[Finding]) -> list[FindingTold]:
    """The findings as `festoon prove --json` tells them."""
    return [FindingTold.model_validate(f) for f in json.loads(findings_json(findings))]


def spots(points: Points) -> list[Spot]:
    """Points (n, 2) as pairs, to 0.001 mm."""
    return [(x, y) for x, y in (np.round(points, 3) + 0.0).tolist()]


def _panel(panel: Panel) -> PanelTold:
    lines = {name: spots(from_svg(data).flatten(LINE_TOLERANCE)) for name, data in panel.lines.items()}
    return PanelTold(name=panel.name, size=panel.size, cloth=panel.cloth, seam=panel.seam, lines=lines)


def _parts(layout: Layout) -> list[PartTold]:
    told: list[PartTold] = []
    first = 0
    for part in (p for work in layout.works for p in work.parts):
        told.append(_part(part, first))
        first += len(part.stitching)
    return told


def _part(part: Part, first: int) -> PartTold:
    pose = part.pose
    x, y = spots(pose.shift[None])[0]
    left, top, right, bottom = (round(v, 3) for v in part.stitching.bounds)
    return PartTold(
        name=part.name,
        element=part.element,
        panel=part.panel,
        turn=pose.turn % 360.0,
        mirrored=pose.mirrored,
        at=None if pose == Pose() else (x, y),
        bounds=(left, top, right, bottom),
        outline=_rings(part.region.simplify(SIMPLIFIED)),
        threads=[ThreadTold(colour=t.colour, name=t.name) for t in distinct(part.stitching)],
        first=first,
        count=len(part.stitching),
    )


def _rings(region: Geometry) -> list[list[Spot]]:
    polygons = shapely.get_parts(region)
    return [spots(shapely.get_coordinates(ring)) for p in polygons for ring in (p.exterior, *p.interiors)]


def _element(element: Any, work: Work, words: Mapping[str, Any], units: Any) -> ElementTold:
    stands = {h.field: h.at for h in work.handles}
    return ElementTold(
        name=element.name,
        kind=element.kind,
        panel=work.panel,
        words=dict(words),
        sentences=[_sentence(s, element, stands, units) for s in work.sentences],
        lines=[LineTold(role=w.role, points=spots(w.points), closed=w.closed, label=w.label) for w in work.lines],
        handles=[HandleTold(name=h.name, at=h.at, word=_word(type(element), h.field)) for h in work.handles],
    )


def _sentence(sentence: Sentence, element: Any, stands: Mapping[str, Spot], units: Any) -> SentenceTold:
    return SentenceTold(
        text=sentence.text, gaps=[_gap(gap, field, element, stands, units) for gap, field in sentence.gaps]
    )


def _gap(gap: str, field: str, element: Any, stands: Mapping[str, Spot], units: Any) -> GapTold:
    value, kind = element, type(element)
    for step in field.split("."):
        value, kind = None if value is None else getattr(value, step), inside(kind, step)
    seen = stands.get(field) if value is None else value
    return GapTold(gap=gap, word=_word(type(element), field), value=value, shown=shown(seen, kind, units))


def _word(model: Any, field: str) -> str:
    """The word of the piece file for a field: 'from' for start; a dot before a word of a table within."""
    first, dot, rest = field.partition(".")
    aliases = {f: word for word, info in words_of(model).items() for f, i in model.model_fields.items() if i is info}
    return aliases.get(first, first) + dot + rest


def shown(value: Any, kind: Any, units: Any) -> str:
    """A value as it is read in a sentence, by the kind that its field has; lengths in the piece's units.

    >>> shown(None, None, "mm"), shown(True, bool, "mm"), shown(["a", "b"], tuple[str, ...], "mm")
    ('as usual', 'yes', 'a, b')
    """
    if value is None:
        return "as usual"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, Sequence):
        return _several(value, kind, units)
    measure = kind_of_measure(kind)
    if measure == "length":
        return show_length(value, units)
    return f"{value:g}°" if measure == "angle" else f"{value:g}"


def _several(values: Sequence[Any], kind: Any, units: Any) -> str:
    each = [shown(v, inside(kind, n), units) for n, v in enumerate(values)]
    if len(each) == 2 and kind_of_measure(inside(kind, 0)) == "length":
        return f"{each[0]} right, {each[1]} down"
    return ", ".join(each) or "none"
