"""The outlines that a panel may have, drawn edge by edge."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from numpy.typing import ArrayLike
from shapely import LinearRing, LineString, Polygon
from shapely import Point as ShapelyPoint

from festoon.errors import PieceError
from festoon.measure import Units, fine
from festoon.plane import Arc, Line, Path, Points, Pose, circle, from_svg
from festoon.shaping.allowance import FINENESS, parted
from festoon.work.fields import LONGEST

if TYPE_CHECKING:
    from festoon.piece.panel import Circle, Flared, Ring

ON_EDGE = 0.1
"""mm that a line may lie off the outline and still be an edge of it: a machine's step (own choice)."""

NONE = 1e-6
"""mm: an allowance of no more is none."""

_BROKEN = 1.0
"""Degrees: where an outline turns by so much at once it has a corner (own choice)."""

HEM, WAIST, LEFT, RIGHT, FRONT = "hem", "waist", "left seam", "right seam", "centre front"

Spot = tuple[float, float]


@dataclass(frozen=True)
class Said:
    """The words of a panel that bear on its shape; word: the one that gives it."""

    word: str
    block: Spot | None
    flared: Flared | None
    circle: Circle | None
    ring: Ring | None
    cut: str | None
    at: Spot | None
    seam: float
    hem_allowance: float | None
    centre_front: float | None
    fold: str | None
    closes: bool
    lines: tuple[tuple[str, str], ...]
    units: Units

    def allowance(self, edge: str, hem: str) -> float:
        """By how much an edge of that name is cut wider."""
        wide = self.seam if edge != hem or self.hem_allowance is None else self.hem_allowance
        return wide if edge != self.fold and wide > NONE else 0.0


@dataclass(frozen=True, eq=False)
class Drawn:
    """An outline in mm of its own.

    edges: clockwise as seen, each with the name of its line, '' where it has none. hole: the edge inside, clockwise
    too. lines: the named lines that the edges are, and the middle. hem: the name of the hem.
    """

    edges: tuple[tuple[str, Path], ...]
    lines: dict[str, Path]
    hem: str
    hole: tuple[str, Path] | None = None

    def placed(self, pose: Pose) -> Drawn:
        """The same carried elsewhere."""
        return Drawn(
            tuple((name, path.placed(pose)) for name, path in self.edges),
            {name: path.placed(pose) for name, path in self.lines.items()},
            self.hem,
            None if self.hole is None else (self.hole[0], self.hole[1].placed(pose)),
        )


def drawn(said: Said, own: Mapping[str, Path]) -> Drawn:
    """The outline that the words ask for. Raises PieceError, its `where` the word to blame."""
    if said.flared is not None:
        return _flared(said.flared)
    if said.circle is not None:
        return _circle(said.circle)
    if said.ring is not None:
        return _ring(said.ring)
    return _rectangle(said) if said.cut is None else _traced(said, said.cut, own)


def _flared(words: Flared) -> Drawn:
    """The middle of its waist line at (0, 0), and the middle of its hem straight below."""
    centre, half = (0.0, -words.waist_radius), words.angle / 2
    hem, waist = (Path((Arc(centre, r, 90.0 + half, -words.angle),)) for r in (words.hem_radius, words.waist_radius))
    front = between((0.0, 0.0), (0.0, words.hem_radius - words.waist_radius))
    if words.angle == 360.0:
        lines = {HEM: hem, WAIST: waist, FRONT: front}
        return Drawn(((HEM, hem.reversed()),), lines, HEM, (WAIST, waist.reversed()))
    left, right = between(waist.start, hem.start), between(waist.end, hem.end)
    lines = {HEM: hem, WAIST: waist, LEFT: left, RIGHT: right, FRONT: front}
    return Drawn(((WAIST, waist), (RIGHT, right), (HEM, hem.reversed()), (LEFT, left.reversed())), lines, HEM)


def _circle(words: Circle) -> Drawn:
    edge = circle((0.0, 0.0), words.diameter / 2)
    return Drawn((("edge", edge),), {"edge": edge.reversed()}, "edge")


def _ring(words: Ring) -> Drawn:
    """Either edge with the cloth on its left, as a hem has it."""
    outer, inner = (circle((0.0, 0.0), d / 2) for d in (words.outer, words.inner))
    lines = {"outer edge": outer.reversed(), "inner edge": inner}
    return Drawn((("outer edge", outer),), lines, "outer edge", ("inner edge", inner))


def _rectangle(said: Said) -> Drawn:
    """The seam lines inside a rectangle's cut edge."""
    width, height = said.block or (0.0, 0.0)
    inset = {edge: said.allowance(edge, "bottom") for edge in ("left", "top", "right", "bottom")}
    x0, y0, x1, y1 = inset["left"], inset["top"], width - inset["right"], height - inset["bottom"]
    if x1 - x0 <= ON_EDGE or y1 - y0 <= ON_EDGE:
        raise PieceError(
            f"its allowances leave nothing of a panel of {by((width, height), said.units)}.",
            where="seam" if said.seam else "hem_allowance",
            remedy="Make them smaller, or the panel larger.",
        )
    top, bottom = between((x0, y0), (x1, y0)), between((x0, y1), (x1, y1))
    left, right = between((x0, y0), (x0, y1)), between((x1, y0), (x1, y1))
    lines = {"top": top, "bottom": bottom, "left": left, "right": right}
    edges = (("top", top), ("right", right), ("bottom", bottom.reversed()), ("left", left.reversed()))
    return Drawn(edges, lines, "bottom")


def _traced(said: Said, data: str, own: Mapping[str, Path]) -> Drawn:
    """An outline of the worker's, parted where its hem and its fold lie."""
    outline = from_svg(data)
    if not outline.closed:
        raise PieceError(
            "its outline does not come back to where it begins.", where=said.word, remedy='End its path data with "Z".'
        )
    if outline.length > LONGEST:
        what = f"its outline is longer than {LONGEST / 1000:g} m."
        raise PieceError(what, where=said.word, remedy="Look at the units of its path data: they are mm.")
    ring = LinearRing(outline.flatten(FINENESS))
    if not Polygon(ring).is_valid:
        raise PieceError("its outline crosses itself.", where=said.word, remedy="Take the crossing out.")
    outline = outline if ring.is_ccw else outline.reversed()  # y points up there
    if said.at is not None:
        outline = outline.placed(Pose(*said.at))
    return Drawn(_edges(outline, _marked(said, outline, own)), {}, HEM)


def _marked(said: Said, outline: Path, own: Mapping[str, Path]) -> dict[str, Path]:
    """The hem and the fold, where they differ from the rest of an outline."""
    marked: dict[str, Path] = {}
    if said.hem_allowance is not None:
        if HEM not in own:
            raise PieceError(
                'it has a hem allowance, and no line called "hem".',
                where="hem_allowance",
                remedy="Name the edge that is the hem among its lines, or leave hem_allowance out.",
            )
        marked[HEM] = own[HEM]
    if said.fold == FRONT and FRONT not in own and said.centre_front is not None:
        marked[FRONT] = upright(said.centre_front, Polygon(outline.flatten(FINENESS)))
    elif said.fold is not None and said.fold in own:
        marked[said.fold] = own[said.fold]
    for name, line in marked.items():
        if line.closed or _off(outline, line) > ON_EDGE:
            raise PieceError(
                f'the line "{name}" is no edge of it.',
                where="fold" if name == said.fold else "hem_allowance",
                remedy="Draw the line along the outline, from corner to corner.",
            )
    return marked


def _off(outline: Path, line: Path) -> float:
    """How far a line strays from an outline, mm; one that is longer than the outline strays without bound."""
    if line.length > outline.length:
        return math.inf
    points = shapely.points(np.concatenate([line.flatten(FINENESS), line.sample(1.0)]))
    return float(shapely.distance(LineString(outline.flatten(FINENESS)), points).max())


def _edges(outline: Path, marked: Mapping[str, Path]) -> tuple[tuple[str, Path], ...]:
    """A clockwise outline as its marked edges and what lies between them."""
    if not marked:
        return (("", outline),)
    cuts = [_place_on(outline, end) for line in marked.values() for end in (line.start, line.end)]
    return tuple((_whose(part, marked), part) for part in parted(outline, cuts))


def _place_on(outline: Path, spot: Points) -> float:
    """How far along an outline a place on it lies: at its corner where it has one there."""
    corners = outline.corners(_BROKEN)
    off = np.hypot(*(outline.points(corners) - spot).T) if corners else np.array([np.inf])
    if off.min() <= 2 * ON_EDGE:
        return corners[int(off.argmin())]
    ring = LineString(outline.flatten(FINENESS))
    return float(ring.project(ShapelyPoint(spot)) * outline.length / ring.length)


def _whose(part: Path, marked: Mapping[str, Path]) -> str:
    """The marked edge that a part of the outline is; '' for none."""
    middle = ShapelyPoint(part.at(part.length / 2))
    near = (name for name, line in marked.items() if LineString(line.flatten(FINENESS)).distance(middle) <= 2 * ON_EDGE)
    return next(near, "")


def upright(x: float, outline: Polygon) -> Path:
    """The line straight down an outline, x from the block's left edge: the lowest where it is crossed more than once.

    Raises PieceError where there is none.
    """
    _, top, _, bottom = outline.bounds
    line = LineString([(x, top - 1.0), (x, bottom + 1.0)])
    runs = [g for g in shapely.get_parts(outline.buffer(1e-6).intersection(line)) if g.length > ON_EDGE]
    if not runs:
        raise PieceError(
            "its centre front lies outside of it.",
            where="centre_front",
            remedy="Give how far from the block's left edge it runs.",
        )
    lowest = max(runs, key=lambda g: float(g.bounds[3]))
    return between((x, lowest.bounds[1] + 1e-6), (x, lowest.bounds[3] - 1e-6))


def between(start: ArrayLike, end: ArrayLike) -> Path:
    """The straight line from one place to another."""
    (x0, y0), (x1, y1) = np.asarray(start).tolist(), np.asarray(end).tolist()
    return Path((Line((x0, y0), (x1, y1)),))


def by(size: Spot, units: Units) -> str:
    """'400.0 mm by 300.0 mm'."""
    return " by ".join(fine(v, units) for v in size)
