"""Where names and numbers stand so that they hide no cross and not one another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Geometry, LineString, Polygon

from festoon.hooping.values import Hooping, Mark
from festoon.sheets.ground import Ground, overlap

DISC = 4.2
"""Radius of the disc behind a hooping's number, mm on paper."""
NAME_HEIGHT = 4.2
"""Height of a cross's name with the room round it, mm on paper."""
NAME_WIDTH = 2.7
"""Width of one capital of a cross's name, mm on paper."""

STITCHING, OUTLINE, LINE, CROSS = 1.0, 2.5, 1.5, 8.0
"""How much it matters that a word stays off stitching, a hooping's outline, another line, a cross (own choice)."""
LAID = 0.05
"""The same for lace, ribbon or cloth: words may lie on it sooner than across a line."""
TAKEN, OUTSIDE = 20.0, 2.0
"""The same for a place already taken, and for paper beyond the cloth (own choice)."""

FAR = 0.3
"""What it costs to stand off a place twice as far as need be, as a share of a label over stitching (own choice)."""

_AROUND = ((1, -1), (1, 1), (-1, -1), (-1, 1))
"""The four quarters between the arms of a cross: right above first, as a right-handed worker writes it."""
_ALIKE = 0.5
"""Costs that differ by less, mm² on paper, count as equal: the earlier offer is taken."""


@dataclass(frozen=True, slots=True)
class Label:
    """A word or number: the middle of its box and the box's size, in the drawing's mm."""

    text: str
    at: tuple[float, float]
    size: tuple[float, float]

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom of the room that it takes."""
        (x, y), (w, h) = self.at, self.size
        return x - w / 2, y - h / 2, x + w / 2, y + h / 2

    def lies_in(self, window: tuple[float, float, float, float]) -> bool:
        """Whether all of it lies inside (left, top, right, bottom)."""
        left, top, right, bottom = self.box
        return left >= window[0] and top >= window[1] and right <= window[2] and bottom <= window[3]


def around(box: tuple[float, float, float, float]) -> Label:
    """A label that takes a box (left, top, right, bottom) and says nothing."""
    left, top, right, bottom = box
    return Label("", ((left + right) / 2, (top + bottom) / 2), (right - left, bottom - top))


def cross(at: tuple[float, float], arm: float) -> tuple[LineString, LineString]:
    """The two strokes of a cross whose arms are `arm` long from its middle."""
    x, y = at
    return LineString([(x - arm, y), (x + arm, y)]), LineString([(x, y - arm), (x, y + arm)])


def field_outline(hooping: Hooping) -> Polygon:
    """The sewing field on the panel, a turned rectangle."""
    w, h = (s / 2 for s in hooping.hoop.field)
    return Polygon(hooping.field.apply([(-w, -h), (w, -h), (w, h), (-w, h)]))


def drawn_ground(
    size: tuple[float, float],
    regions: Sequence[Geometry],
    lines: Sequence[Geometry],
    hoopings: Sequence[Hooping],
    marks: Sequence[Mark],
    arm: float,
    unit: float,
    laid: Sequence[Geometry] = (),
) -> Ground:
    """How full a drawing is of stitching, lines, hoopings' outlines, crosses and what is `laid` on the cloth. unit: mm
    of it to one mm on paper."""
    return Ground(
        size,
        unit / 2,
        [
            (LAID, laid),
            (STITCHING, regions),
            (LINE, lines),
            (OUTLINE, [field_outline(h).exterior for h in hoopings]),
            (CROSS, [stroke for m in marks for stroke in cross(m.at, arm)]),
        ],
    )


def name_marks(marks: Sequence[Mark], ground: Ground, taken: Iterable[Label] = (), unit: float = 1.0) -> list[Label]:
    """A name beside every cross, in the quarter between its arms where least else lies; taken are labels to avoid."""
    placed: list[Label] = []
    obstacles = [t.box for t in taken]
    for mark in marks:
        w, h = (len(mark.name) * NAME_WIDTH + 1.0) * unit, NAME_HEIGHT * unit
        away_x, away_y = w / 2 + 0.9 * unit, h / 2 + 0.9 * unit
        x, y = mark.at
        offers = [Label(mark.name, (x + sx * away_x, y + sy * away_y), (w, h)) for sx, sy in _AROUND]
        best = _best(offers, ground, obstacles, unit)
        placed.append(best)
        obstacles.append(best.box)
    return placed


def number_hoopings(
    hoopings: Sequence[Hooping],
    ground: Ground,
    taken: Iterable[Label] = (),
    unit: float = 1.0,
    within: tuple[float, float, float, float] | None = None,
) -> list[Label]:
    """A number on every field's outline, where least else lies: off stitching, crosses and the other fields.

    taken are labels to avoid. within (left, top, right, bottom) leaves out the hoopings whose outline has no place
    for the number inside it.
    """
    placed: list[Label] = []
    obstacles = [t.box for t in taken]
    side = 2 * DISC * unit
    for hooping in hoopings:
        around = _round(field_outline(hooping))
        offers = [Label(str(hooping.number), (float(x), float(y)), (side, side)) for x, y in around]
        offers = [o for o in offers if within is None or o.lies_in(within)]
        if offers:
            best = _best(offers, ground, obstacles, unit)
            placed.append(best)
            obstacles.append(best.box)
    return placed


def beside(
    named: Sequence[tuple[str, tuple[float, float]]],
    ground: Ground,
    taken: Iterable[tuple[float, float, float, float]],
    side: float,
    reach: float,
) -> list[Label]:
    """A square label `side` wide for every (text, place), some way off the place, where least else lies.

    The middles stand `reach` off the place or up to four times as far, the nearer the better. taken are boxes to
    avoid. All in the drawing's mm.
    """
    placed: list[Label] = []
    obstacles = list(taken)
    turns = np.radians(np.arange(-45.0, 315.0, 22.5))
    ways = np.concatenate([far * np.column_stack([np.cos(turns), np.sin(turns)]) for far in (1.0, 1.6, 2.4, 4.0)])
    off = np.repeat((1.0, 1.6, 2.4, 4.0), len(turns)) - 1.0
    for text, at in named:
        middles = np.array(at) + reach * ways
        boxes = np.hstack([middles - side / 2, middles + side / 2])
        lying = ground.cost(boxes) + TAKEN * overlap(boxes, obstacles) + OUTSIDE * ground.outside(boxes)
        x, y = middles[int(np.argmin(np.round(lying / side**2 + FAR * off, 6)))].tolist()
        placed.append(Label(text, (x, y), (side, side)))
        obstacles.append(placed[-1].box)
    return placed


def _round(outline: Polygon) -> NDArray[np.float64]:
    """Places along a field's outline: corners first, then the middles, the quarters and the eighths of its sides."""
    corners = shapely.get_coordinates(outline)[:4]
    following = np.roll(corners, -1, axis=0)
    shares = (0.0, 0.5, 0.25, 0.75, 0.125, 0.375, 0.625, 0.875)
    return np.concatenate([corners + share * (following - corners) for share in shares])


def _best(
    offers: Sequence[Label], ground: Ground, taken: Sequence[tuple[float, float, float, float]], unit: float
) -> Label:
    boxes = np.array([o.box for o in offers])
    costs = ground.cost(boxes) + TAKEN * overlap(boxes, taken) + OUTSIDE * ground.outside(boxes)
    return offers[int(np.flatnonzero(costs <= costs.min() + _ALIKE * unit**2)[0])]
