"""What is cut from a panel's block: its finished outline, its cut edge, and the lines that its edges are."""

from __future__ import annotations

import functools
import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely import Point as ShapelyPoint

from festoon.errors import PieceError
from festoon.measure import Units, fine
from festoon.piece.drawn import FRONT, LEFT, RIGHT, Drawn, Said, Spot, between, by, drawn, upright
from festoon.piece.near import did_you_mean, listed
from festoon.plane import Path, Pose, from_svg
from festoon.shaping.allowance import FINENESS, Edge, cut_ring, outline_ring

if TYPE_CHECKING:
    from festoon.piece.panel import Panel

SHAPES = ("flared", "circle", "ring", "cut", "file")
"""The words of a panel that give it a shape; it has one of them at most."""

NOUNS = {
    "flared": "flared panel",
    "circle": "circle",
    "ring": "ring",
    "cut": "shape",
    "file": "shape",
    "size": "rectangle",
}
"""What a panel with that word is."""

AROUND = 40.0
"""mm of cloth left round what is cut from a block whose size is not said (own choice: room to handle it)."""

OFF_BLOCK = 0.05
"""mm that rounding may carry a cut edge over its block's (half a file step)."""

MEETS = 0.5
"""mm by which a line's two ends may lie off the seam that closes it, or differ in height there (own choice: a pencil
line)."""

STRAIGHT = 0.5
"""mm by which an edge on the fold may bow (own choice: a pencil line)."""


@dataclass(frozen=True, eq=False)
class PanelShape:
    """What is cut from a panel, in mm of its block.

    block: width and height. finished: from seam line to seam line. cut: with its allowances. lines: every named line,
    the worker's own and those of its edges. loops: the names of those whose two ends meet in the seam that closes the
    panel. hem: the edge with an allowance of its own. fold: all of the cut edge that lies on the fold.
    """

    block: Spot
    finished: Polygon
    cut: Polygon
    lines: Mapping[str, Path]
    loops: frozenset[str]
    hem: Path | None = None
    fold: Path | None = None


def shape_of(panel: Panel, units: Units = "mm") -> PanelShape:
    """The shape of a panel, worked out once for the same words.

    Raises PieceError where its words contradict each other, told in `units`; its `where` is the panel's word to blame,
    'fold' or 'lines.hem'. A panel of a piece that was read has no such contradictions.
    """
    return _shape(_said(panel, units))


def cut_as_drawn(panel: Panel, units: Units) -> Polygon:
    """The cut edge of an outline where it is drawn, wherever its block lies. Raises PieceError as `shape_of`."""
    said = _said(panel, units)
    return _polygons(said, drawn(said, _own(said)))[1]


def _said(panel: Panel, units: Units) -> Said:
    return Said(
        word=next((w for w in SHAPES[::-1] if getattr(panel, w) is not None), "size"),
        block=panel.block,
        flared=panel.flared,
        circle=panel.circle,
        ring=panel.ring,
        cut=panel.cut,
        at=panel.at,
        seam=panel.seam,
        hem_allowance=panel.hem_allowance,
        centre_front=panel.centre_front,
        fold=panel.fold,
        closes=panel.closes,
        lines=tuple(panel.lines.items()),
        units=units,
    )


def _own(said: Said) -> dict[str, Path]:
    """The worker's own lines."""
    return {name: from_svg(data) for name, data in said.lines}


@functools.lru_cache(maxsize=128)
def _shape(said: Said) -> PanelShape:
    if said.word == "file" and said.cut is None:
        raise PieceError("its pattern has not been read.", where="file")
    own = _own(said)
    outline = drawn(said, own)
    finished, cut = _polygons(said, outline)
    pose = _pose(said, cut)
    if pose is not None:
        outline = outline.placed(pose)
        finished, cut = (shapely.transform(p, pose.apply) for p in (finished, cut))
    block = said.block or _block(said, cut)
    _refuse_off_block(said, block, cut)
    edges = {**outline.lines, **_front(said, outline, finished)}
    _refuse_taken(said, edges)
    lines = {**own, **edges}
    return PanelShape(
        block=block,
        finished=finished,
        cut=cut,
        lines=MappingProxyType(lines),
        loops=_loops(said, lines),
        hem=lines.get(outline.hem) if said.hem_allowance is not None else None,
        fold=_fold(said, outline, lines, cut),
    )


def _polygons(said: Said, outline: Drawn) -> tuple[Polygon, Polygon]:
    """The finished outline and the cut edge."""
    edges = [Edge(path, said.allowance(name, outline.hem)) for name, path in outline.edges]
    finished = outline_ring(edges)
    if said.word == "size":
        return Polygon(finished), shapely.box(0.0, 0.0, *(said.block or (0.0, 0.0)))
    try:
        if outline.hole is None:
            shapes = Polygon(finished), Polygon(cut_ring(edges))
        else:
            name, hole = outline.hole
            inner = cut_ring([Edge(hole.reversed(), said.allowance(name, outline.hem))])
            shapes = Polygon(finished, [hole.flatten(FINENESS)]), Polygon(cut_ring(edges), [inner])
    except PieceError as error:
        raise _no_room(said) from error
    if not shapes[1].is_valid or not shapes[1].buffer(OFF_BLOCK).contains(shapes[0]):
        raise _no_room(said)
    return shapes


def _no_room(said: Said) -> PieceError:
    return PieceError(
        "its allowances run into each other where an edge is short or turns tightly.",
        where="seam" if said.seam else "hem_allowance",
        remedy="Make them smaller, or smooth the edge.",
    )


def _pose(said: Said, cut: Polygon) -> Pose | None:
    """Where the shape goes on its block; None for one drawn in its place."""
    if said.flared is None and said.circle is None and said.ring is None:
        return None
    if said.at is not None:
        return Pose(*said.at)
    left, top, right, bottom = cut.bounds
    if said.block is None:
        return Pose(AROUND - left, AROUND - top)
    return Pose((said.block[0] - left - right) / 2, (said.block[1] - top - bottom) / 2)


def _block(said: Said, cut: Polygon) -> Spot:
    """A block with AROUND on every side, in whole mm."""
    _, _, right, bottom = cut.bounds
    return math.ceil(right + AROUND - OFF_BLOCK), math.ceil(bottom + AROUND - OFF_BLOCK)


def _refuse_off_block(said: Said, block: Spot, cut: Polygon) -> None:
    left, top, right, bottom = cut.bounds
    needs = right - left, bottom - top
    if any(n > b + OFF_BLOCK for n, b in zip(needs, block, strict=True)):
        raise PieceError(
            f"it is cut {by(needs, said.units)} with its allowances, and its block is {by(block, said.units)}.",
            where="size",
            remedy='Make "size" larger, or leave it out.',
        )
    over = {"left": -left, "upper": -top, "right": right - block[0], "lower": bottom - block[1]}
    side, most = max(over.items(), key=lambda item: item[1])
    if most > OFF_BLOCK:
        raise PieceError(
            f"its cut edge reaches {fine(most, said.units)} beyond the {side} edge of its block.",
            where="at" if said.at is not None else said.word,
            remedy="Move the shape, or make the block larger." if said.block else "Move the shape.",
        )


def _front(said: Said, outline: Drawn, finished: Polygon) -> dict[str, Path]:
    """The centre front: where the worker says, else on the fold; a flared panel has one of its own."""
    if said.centre_front is not None:
        return {FRONT: upright(said.centre_front, finished)}
    if FRONT in outline.lines and said.fold in outline.lines:
        return {FRONT: outline.lines[said.fold]}
    return {}


def _refuse_taken(said: Said, edges: Mapping[str, Path]) -> None:
    """The worker's own lines do not take the names that the panel's edges have."""
    for name, _ in said.lines:
        if name in edges:
            raise PieceError(
                f'"{name}" is a line of this panel already: {_what_it_is(name, said)}.',
                where=f"lines.{name}",
                remedy="Give your own line another name.",
            )


def _what_it_is(name: str, said: Said) -> str:
    return "its centre front" if name == FRONT else f"an edge of the {NOUNS[said.word]}"


def _fold(said: Said, outline: Drawn, lines: Mapping[str, Path], cut: Polygon) -> Path | None:
    """All of the cut edge that lies on the fold. Raises PieceError for an edge that cannot lie there."""
    if said.fold is None:
        return None
    edges = [name for name, _ in outline.edges if name]
    if said.fold not in lines:
        known = listed((f'"{name}"' for name in (edges or lines)), "and") if edges or lines else ""
        raise PieceError(
            f'no line of it is called "{said.fold}".',
            where="fold",
            remedy=did_you_mean(
                said.fold, edges or lines, f"There is {known}." if known else "Name the edge as a line."
            ),
        )
    line = lines[said.fold]
    if said.fold not in edges or not _straight(line):
        raise PieceError(
            f'"{said.fold}" is no straight edge of it, so it cannot lie on a fold.',
            where="fold",
            remedy="Name the straight edge that lies on the fold.",
        )
    return _along(line, cut)


def _along(line: Path, cut: Polygon) -> Path:
    """The part of a cut edge that goes on straight from an edge without allowance, at both its ends."""
    start, way = line.start, (line.end - line.start) / math.dist(line.start, line.end)
    away = shapely.get_coordinates(cut) - start
    on = away[np.abs(away @ [-way[1], way[0]]) <= STRAIGHT] @ way
    return between(start + on.min() * way, start + on.max() * way)


def _straight(line: Path) -> bool:
    chord = LineString([line.start, line.end])
    return not line.closed and bool(shapely.distance(chord, shapely.points(line.flatten(FINENESS))).max() <= STRAIGHT)


def _loops(said: Said, lines: Mapping[str, Path]) -> frozenset[str]:
    """The lines that run from one of the two seams to the other, at the same height."""
    if not said.closes:
        return frozenset()
    seams = ("left", "right") if said.word == "size" else (LEFT, RIGHT)
    if not all(name in lines for name in seams):
        raise PieceError(_no_seams(said), where="closes", remedy=_seams_remedy(said))
    if said.fold in seams:
        raise PieceError(
            f'its "{said.fold}" cannot lie on the fold and be sewn in a seam.',
            where="fold",
            remedy="Take fold or closes out.",
        )
    left, right = (LineString(lines[name].flatten(FINENESS)) for name in seams)
    return frozenset(name for name, line in lines.items() if _from_seam_to_seam(line, left, right))


def _no_seams(said: Said) -> str:
    if said.word in ("flared", "circle", "ring"):
        return "it closes on itself already and has no left and right seam."
    return 'it has no lines called "left seam" and "right seam" to be sewn to each other.'


def _seams_remedy(said: Said) -> str:
    whole = said.word in ("flared", "circle", "ring")
    return "Take closes out." if whole else "Name the two edges among its lines, or take closes out."


def _from_seam_to_seam(line: Path, left: LineString, right: LineString) -> bool:
    ends = ShapelyPoint(line.start), ShapelyPoint(line.end)
    return any(_meet(a, b, left, right) for a, b in (ends, ends[::-1]))


def _meet(one: ShapelyPoint, other: ShapelyPoint, left: LineString, right: LineString) -> bool:
    off = np.array([left.distance(one), right.distance(other), left.project(one) - right.project(other)])
    return bool((np.abs(off) <= MEETS).all())
