"""Arrangements: one thing set out several times, in a row, a ring, a mirrored pair or along a line.

Not a technique itself: the words here are shared by every technique that can be repeated.
"""

from __future__ import annotations

import math

import numpy as np
from pydantic import Field

from festoon.errors import PieceError
from festoon.plane import Path, Pose, fit_repeats
from festoon.work.fields import Angle, Length, PositiveLength, Table

MOST = 1000
"""The most repeats of one element; more is a slip of the pen (common practice)."""


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

    line: str = Field(description="A named line of the panel, or SVG path data in mm.")
    spacing: PositiveLength = Field(description="The wished distance; the real one is fitted to the line.")
    corners: bool = Field(
        False, description="true sets one on every corner and end; false keeps half a repeat away from them."
    )
    aside: Length = Field(0.0, description="How far to the right of the line, looking along it.")
    follow: bool = Field(True, description="true turns each with the line; false keeps all upright.")


def in_row(row: Row, at: tuple[float, float], turn: float, mirrored: bool) -> list[Pose]:
    """Poses of a row, from its beginning to its end."""
    run = math.radians(row.direction)
    step = row.spacing * np.array([math.cos(run), math.sin(run)])
    middle = (row.count - 1) / 2
    return [Pose(*(np.array(at) + (i - middle) * step).tolist(), turn, mirrored) for i in range(row.count)]


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
    right = Pose(*across.apply([pair.apart / 2, 0.0]).tolist(), turn, mirrored)
    left = Pose(*across.apply([-pair.apart / 2, 0.0]).tolist(), 2 * pair.axis - turn, not mirrored)
    return [left, right]


def along_line(along: Along, line: Path, turn: float, mirrored: bool) -> list[Pose]:
    """Poses along a line, in its own direction, whole repeats on every stretch between corners."""
    legs = line.legs()
    whole_loop = line.closed and len(legs) == 1
    poses: list[Pose] = []
    for k, leg in enumerate(legs):
        count = fit_repeats(leg.length, along.spacing).count
        if along.corners and not whole_loop:
            stops = np.linspace(0.0, leg.length, count + 1)
            stops = stops[: count + 1 if k == len(legs) - 1 and not line.closed else count]
        else:
            stops = (np.arange(count) + (0.0 if whole_loop else 0.5)) * leg.length / count
        at, bearings = leg.points(stops), leg.turns(stops)
        if along.corners and not whole_loop and (k > 0 or line.closed):
            before = legs[k - 1].turns(np.array([legs[k - 1].length]))[0]
            bearings = bearings.copy()
            bearings[0] = before + _signed(bearings[0] - before) / 2
        for (x, y), bearing in zip(at.tolist(), bearings.tolist(), strict=True):
            beside = Pose(x, y, bearing).apply([0.0, along.aside]).tolist()
            poses.append(Pose(beside[0], beside[1], turn + (bearing if along.follow else 0.0), mirrored))
    if len(poses) > MOST:
        raise PieceError(
            f"the spacing of {along.spacing:g} mm would set out {len(poses)} repeats.",
            remedy=f"Festoon sets out at most {MOST}; make the spacing larger.",
        )
    return poses


def _signed(turn: float) -> float:
    return (turn + 180.0) % 360.0 - 180.0
