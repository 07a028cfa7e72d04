"""A piece laid out -> what the page is told of it. Pure."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping
from operator import attrgetter
from typing import Any

import numpy as np
import shapely
from shapely import Geometry

from festoon.layout import Layout
from festoon.piece import Panel, Piece, shape_of
from festoon.plane import Path, Pose
from festoon.plane.pose import Points
from festoon.stitches.stitching import empty
from festoon.techniques import technique_of
from festoon.techniques.arrange import ARRANGEMENTS
from festoon.web.accepting import key_told, may_accept
from festoon.web.answers import (
    AreaTold,
    DividingTold,
    ElementTold,
    FindingTold,
    HandleTold,
    HoopTold,
    LineTold,
    PanelTold,
    PartTold,
    PieceTold,
    Spot,
    ThreadTold,
)
from festoon.web.blanks import Blanks, word_of
from festoon.web.panel_words import shape_named
from festoon.web.thread_data import distinct
from festoon.work import Finding, Handle, Part, Work
from festoon.work.findings import findings_json

SIMPLIFIED = 0.1
"""How far an outline may be straightened for the screen, mm: a step of the stitch formats."""

LINE_TOLERANCE = 0.05
"""How far a curve may lie from the straight steps that it is told by, mm: less than half a pixel at 10 pixels a mm."""

REACH = 1.5
"""mm on either side of an element's lines by which it is chosen where it has no area (own choice)."""

MAY = ("at", "turn", "mirror", *ARRANGEMENTS)
"""Words by which any element that has them may be moved, turned, mirrored and set out."""

Words = Mapping[str, Any]
"""The piece file's tables and words as they stand in it."""


def piece_told(layout: Layout, words: Words, revision: str, undo: str | None, redo: str | None) -> PieceTold:
    """All that the page draws and says of the piece as it is laid out."""
    piece = layout.piece
    told = piece.file.piece
    own = {element["name"]: element for element in words.get("element", ())}
    blanks = Blanks(layout)
    return PieceTold(
        revision=revision,
        name=piece.name,
        units=told.units,
        paper=told.paper,
        wearer=told.wearer,
        hoop=piece.hoop.name,
        panels=[_panel(p, blanks) for p in piece.panels],
        parts=_parts(layout),
        elements=[
            _element(element, work, own.get(element.name, {}), blanks)
            for element, work in zip(piece.file.element, layout.works, strict=True)
        ],
        hoops=[
            HoopTold(name=h.name, field=h.field, outer=h.outer_size, inner=h.inner_size, magnetic=h.magnetic)
            for h in piece.bench.hoop
        ],
        dividing=_dividing(piece, words.get("hooping", {})),
        undo=undo,
        redo=redo,
        findings=findings_told(layout.findings),
    )


def _dividing(piece: Piece, words: Words) -> DividingTold:
    turn = piece.file.hooping.turn
    return DividingTold(
        turn=turn if isinstance(turn, str) else list(turn), laid=words.get("laid", []), order=words.get("order", [])
    )


def findings_told(findings: Iterable[Finding]) -> list[FindingTold]:
    """The findings as `festoon prove --json` tells them, each with its key."""
    told = (FindingTold.model_validate(f) for f in json.loads(findings_json(findings)))
    return [
        f.model_copy(update={"key": key_told(f.rule, f.where.panel, f.about)}) if may_accept(f) else f for f in told
    ]


def spots(points: Points) -> list[Spot]:
    """Points (n, 2) as pairs, to 0.001 mm."""
    return [(x, y) for x, y in (np.round(points, 3) + 0.0).tolist()]


def _panel(panel: Panel, blanks: Blanks) -> PanelTold:
    shape = shape_of(panel)
    seams = shapely.line_merge(shapely.difference(shape.finished.boundary, shape.cut.boundary.buffer(LINE_TOLERANCE)))
    edges = [name for name, line in shape.lines.items() if _is_edge(line, shape.finished)]
    straight = [name for name in edges if _is_straight(shape.lines[name])]
    return PanelTold(
        name=panel.name,
        size=panel.size,
        cloth=panel.cloth,
        seam=panel.seam,
        lines={name: spots(line.flatten(LINE_TOLERANCE)) for name, line in shape.lines.items()},
        shaped=panel.shaped,
        outline=_rings(_plain(shape.cut)),
        finished=[spots(shapely.get_coordinates(_plain(run))) for run in shapely.get_parts(seams) if not run.is_empty],
        folds=[spots(shape.fold.flatten(LINE_TOLERANCE))] if shape.fold else [],
        loops=sorted(shape.loops),
        own=[name for name in shape.lines if name not in edges],
        shape=shape_named(panel),
        sentences=blanks.of_shape(panel),
        edges=blanks.of_edges(panel, straight),
    )


def _is_edge(line: Path, finished: Geometry) -> bool:
    return bool(finished.boundary.buffer(LINE_TOLERANCE).covers(shapely.linestrings(line.flatten(LINE_TOLERANCE))))


def _is_straight(line: Path) -> bool:
    return line.length - math.dist(line.start, line.end) <= LINE_TOLERANCE


def _parts(layout: Layout) -> list[PartTold]:
    told: list[PartTold] = []
    first = 0
    for work in layout.works:
        for part in work.parts:
            told.append(_part(part, first))
            first += len(part.stitching)
        if not work.parts:
            told += _unsewn(work, first)
    return told


def _unsewn(work: Work, first: int) -> list[PartTold]:
    """An element that is laid or traced and not sewn by the machine, told as one part; none where nothing is drawn."""
    areas = [area.region for area in work.areas]
    lines = [shapely.linestrings(line.points) for line in work.lines if len(line.points) > 1]
    region = shapely.union_all(areas or shapely.buffer(shapely.simplify(lines, SIMPLIFIED), REACH))
    return [_part(Part(work.element, work.element, work.panel, empty(), region), first)] if not region.is_empty else []


def _part(part: Part, first: int) -> PartTold:
    pose = part.pose
    x, y = spots(pose.shift[None])[0]
    sewn = part.stitching.bounds if len(part.stitching) else part.region.bounds
    left, top, right, bottom = (round(v, 3) for v in sewn)
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


def _plain(region: Geometry) -> Geometry:
    return region.simplify(LINE_TOLERANCE)


def _rings(region: Geometry) -> list[list[Spot]]:
    polygons = shapely.get_parts(region)
    return [spots(shapely.get_coordinates(ring)) for p in polygons for ring in (p.exterior, *p.interiors)]


def _element(element: Any, work: Work, words: Mapping[str, Any], blanks: Blanks) -> ElementTold:
    technique = technique_of(element)
    return ElementTold(
        name=element.name,
        kind=element.kind,
        told=technique.told,
        panel=work.panel,
        may=[word for word in MAY if word in technique.model.model_fields],
        needs=list(technique.needs(element)),
        words=dict(words),
        sentences=blanks.sentences(element, work),
        lines=[LineTold(role=w.role, points=spots(w.points), closed=w.closed, label=w.label) for w in work.lines],
        areas=[AreaTold(material=a.material, rings=_rings(_plain(a.region)), label=a.label) for a in work.areas],
        pins=[(round(x, 2), round(y, 2)) for x, y in (pin.at for pin in work.pins)],
        handles=[_handle(h, element) for h in work.handles],
    )


def _handle(handle: Handle, element: Any) -> HandleTold:
    return HandleTold(
        name=handle.name,
        at=handle.at,
        word=word_of(type(element), handle.field),
        along=handle.along,
        value=None if handle.along is None else attrgetter(handle.field)(element),
    )
