"""Arrangements: one thing set out several times, in a row, a ring, a mirrored pair, along a line, or in each place of
another element.

Not a technique itself: the words here are shared by every technique that can be repeated.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from pydantic import Field, model_validator

from festoon.errors import PieceError
from festoon.measure import Units, fine, normal_turn
from festoon.plane import Path, Pose, fit_repeats
from festoon.techniques.base import Setting, element_of_line
from festoon.work.fields import Angle, Length, LineName, PositiveLength, Table
from festoon.work.values import Handle

MOST = 1000
"""The most repeats of one element; more is a slip of the pen (own choice)."""

MITRE = 2.0
"""A motif beside a sharp corner stands at most so many times `aside` from it (own choice)."""


class Row(Table):
    """A straight row, its middle at the element's place."""

    count: int = Field(ge=1, le=MOST, description="How many.")
    spacing: PositiveLength = Field(description="From one to the next.")
    direction: Angle = Field(0.0, description="Where the row runs: 0 is to the right, 90 down.")


class Ring(Table):
    """A ring about the element's place."""

    count: int = Field(ge=1, le=MOST, description="How many.")
    radius: PositiveLength = Field(description="From the middle of the ring to each.")
    start: Angle = Field(0.0, description="Where the first stands, clockwise from the top.")
    follow: bool = Field(True, description="true turns each with the ring; false keeps all upright.")


class Pair(Table):
    """Two that mirror each other in a line through the element's place."""

    apart: PositiveLength = Field(description="From one to the other.")
    axis: Angle = Field(0.0, description="Turn of the mirror line, clockwise from upright.")


class Along(Table):
    """Repeated along a line a whole number of times: the count is rounded, never the closing."""

    line: LineName = Field(
        description="A named line of the panel, another element's line ('hem lace/lower'), or SVG path data in mm."
    )
    spacing: PositiveLength = Field(description="The wished distance; the real one is fitted to the line.")
    corners: bool = Field(
        False, description="true sets one on every corner and end; false keeps half a repeat away from them."
    )
    clear: Length = Field(
        0.0, ge=0, description="Length left free at every corner and end, for a motif of its own; not with corners."
    )
    aside: Length = Field(0.0, description="How far to the right of the line, looking along it.")
    follow: bool = Field(True, description="true turns each with the line; false keeps all upright.")

    @model_validator(mode="after")
    def _free_or_filled(self) -> Along:
        if self.corners and self.clear:
            raise ValueError('"corners" fills the corners that "clear" would leave free. Keep one of them.')
        return self


ARRANGEMENTS = ("row", "ring", "pair", "along", "on")
"""The words of an element that set it out several times; it has one of them at most."""


def needs(element: Any) -> tuple[str, ...]:
    """The elements on which an arrangement leans: the one in whose places it stands, or whose line it follows."""
    if element.on is not None:
        return (element.on,)
    return element_of_line(element.along.line) if element.along else ()


def arranged(element: Any, at: tuple[float, float], setting: Setting) -> list[Pose]:
    """Poses of an element with the words turn, mirror, row, ring, pair, along and on, which stands at `at`.

    Raises PieceError as Setting.line, along_line and in_places.
    """
    if element.row:
        return in_row(element.row, at, element.turn, element.mirror)
    if element.ring:
        return in_ring(element.ring, at, element.turn, element.mirror)
    if element.pair:
        return in_pair(element.pair, at, element.turn, element.mirror)
    if element.along:
        line = setting.line(element.along.line)
        return along_line(element.along, line, element.turn, element.mirror, setting.units)
    if element.on is not None:
        return in_places(element.on, setting, element.turn, element.mirror)
    return [Pose(at[0], at[1], element.turn, element.mirror)]


def middle(setting: Setting) -> tuple[float, float]:
    """The middle of the panel, where something stands that does not say where."""
    left, top, right, bottom = setting.outline.bounds
    return (left + right) / 2, (top + bottom) / 2


def singly(element: Any, setting: Setting) -> tuple[dict[str, Any], ...]:
    """Technique.singly for such an element: places to 0.0001 mm, turns to a millionth of a degree."""
    if all(getattr(element, word) is None for word in ARRANGEMENTS):
        return ({},)
    gone: dict[str, Any] = dict.fromkeys(ARRANGEMENTS)
    return tuple(
        {
            "at": [round(pose.x, 4) + 0.0, round(pose.y, 4) + 0.0],
            "turn": round(normal_turn(pose.turn), 6) or None,
            "mirror": pose.mirrored or None,
            **gone,
        }
        for pose in arranged(element, element.at or middle(setting), setting)
    )


def spread(element: Any, at: tuple[float, float]) -> tuple[Handle, ...]:
    """The handle by which a row, ring or pair about `at` is made wider, clear of what is set out where it can be."""
    if element.row:
        row = element.row
        return (_outward("spacing of the row", "row.spacing", at, row.direction, row.spacing, row.count / 2),)
    if element.ring:
        ring = element.ring
        between = ring.start + 180.0 / ring.count - 90.0
        return (_outward("radius of the ring", "ring.radius", at, between, ring.radius, 1.0),)
    if element.pair:
        pair = element.pair
        return (_outward("width of the pair", "pair.apart", at, pair.axis, pair.apart, 0.5),)
    return ()


def _outward(name: str, field: str, at: tuple[float, float], direction: float, length: float, times: float) -> Handle:
    """The handle `times` the length from a place, in a direction: 0 is to the right, 90 down."""
    out = np.array([math.cos(math.radians(direction)), math.sin(math.radians(direction))])
    x, y = (np.array(at) + times * length * out).tolist()
    across, down = (out / times).tolist()
    return Handle(name, (x, y), field, along=(across, down))


def in_row(row: Row, at: tuple[float, float], turn: float, mirrored: bool) -> list[Pose]:
    """Poses of a row, from its beginning to its end."""
    run = math.radians(row.direction)
    step = row.spacing * np.array([math.cos(run), math.sin(run)])
    middle = (row.count - 1) / 2
    places = (np.array(at) + (i - middle) * step for i in range(row.count))
    return [Pose(float(x), float(y), turn, mirrored) for x, y in places]


def in_ring(ring: Ring, at: tuple[float, float], turn: float, mirrored: bool) -> list[Pose]:
    """Poses of a ring, clockwise from its first."""
    poses = []
    for i in range(ring.count):
        bearing = ring.start + 360.0 * i / ring.count
        outward = Pose(at[0], at[1], bearing)
        x, y = outward.apply([0.0, -ring.radius]).tolist()
        poses.append(Pose(x, y, turn + (bearing if ring.follow else 0.0), mirrored))
    return poses


def in_pair(pair: Pair, at: tuple[float, float], turn: float, mirrored: bool) -> list[Pose]:
    """The two poses of a mirrored pair: the element as it is on the right of the line, mirrored on the left."""
    across = Pose(at[0], at[1], pair.axis)
    (xl, yl), (xr, yr) = across.apply([[-pair.apart / 2, 0.0], [pair.apart / 2, 0.0]]).tolist()
    return [Pose(xl, yl, 2 * pair.axis - turn, not mirrored), Pose(xr, yr, turn, mirrored)]


def in_places(name: str, setting: Setting, turn: float, mirrored: bool) -> list[Pose]:
    """One pose in each place of the element `name`, turned and mirrored as that place is. Raises PieceError where
    there is no such element, or it has no places."""
    if name in setting.places:
        return [place.after(Pose(0.0, 0.0, turn, mirrored)) for place in setting.places[name]]
    if name in setting.others or setting.members(name):
        raise PieceError(
            f'"{name}" has no places for anything to stand in.',
            remedy="Name an element in repeats that leave room, such as pointed ovals of lace.",
        )
    raise setting.no_part(name)


def along_line(along: Along, line: Path, turn: float, mirrored: bool, units: Units = "mm") -> list[Pose]:
    """Poses along a line, in its own direction, whole repeats on every stretch between corners.

    A loop without corners begins at the line's start. At a corner the motif's bearing halves the turn, and beside the
    line it stands where the rows of both stretches meet. Raises PieceError for more than MOST repeats.
    """
    legs = line.legs()
    smooth_loop = line.closed and not line.corners()
    if sum(leg.length for leg in legs) / along.spacing > 2 * MOST:
        raise _too_many(along, units)
    poses: list[Pose] = []
    for k, leg in enumerate(legs):
        free = 0.0 if smooth_loop else along.clear
        if leg.length <= 2 * free:
            raise _no_room(along, leg.length, units)
        count = fit_repeats(leg.length - 2 * free, along.spacing).count
        beginning = 0.0 if smooth_loop or along.corners else 0.5
        ends_here = along.corners and not line.closed and k == len(legs) - 1
        stops = free + (np.arange(count + ends_here) + beginning) * (leg.length - 2 * free) / count
        bearings, aside = leg.turns(stops), np.full(len(stops), along.aside)
        if along.corners and not smooth_loop and (k > 0 or line.closed):
            before = float(legs[k - 1].turns([legs[k - 1].length])[0])
            half = ((bearings[0] - before + 180.0) % 360.0 - 180.0) / 2
            bearings[0], aside[0] = before + half, along.aside / max(math.cos(math.radians(half)), 1 / MITRE)
        for (x, y), bearing, by in zip(leg.points(stops).tolist(), bearings.tolist(), aside.tolist(), strict=True):
            across, down = Pose(x, y, bearing).apply([0.0, by]).tolist()
            poses.append(Pose(across, down, turn + (bearing if along.follow else 0.0), mirrored))
    if len(poses) > MOST:
        raise _too_many(along, units)
    return poses


def _no_room(along: Along, length: float, units: Units) -> PieceError:
    return PieceError(
        f"{fine(along.clear, units)} left free at either end uses up a stretch of {fine(length, units)}.",
        remedy="Make clear smaller, or the line longer.",
    )


def _too_many(along: Along, units: Units) -> PieceError:
    return PieceError(
        f"the spacing of {fine(along.spacing, units)} would set out more than {MOST} repeats.",
        remedy=f"Festoon sets out at most {MOST}; make the spacing larger.",
    )
