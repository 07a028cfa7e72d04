"""What the swatch sews, and the distances that are measured on it afterwards.

All in mm from the middle of the field, y down.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from shapely import box

from festoon.errors import HoopingError
from festoon.plane import polyline
from festoon.stitches import Act, Stitching, Thread, from_points, joined, needle_check
from festoon.stitches.lay import fill, lock, run, satin
from festoon.stitches.lay.fill import FILL_ROW

Point = tuple[float, float]

SIZE = 80.0
"""mm, the field that the swatch needs each way: the smallest usual hoop holds it with room to spare."""

REACH = 35.0
CROSSES: tuple[Point, ...] = ((-REACH, -REACH), (REACH, -REACH), (REACH, REACH), (-REACH, REACH))
"""Where the crosses are drawn and the needle is checked, in the order of the check."""
PEN_ARM, SEWN_ARM = 4.0, 2.0
"""mm, the arms of a drawn cross and of the one that is sewn into it."""

LINE, BAR_WIDTH, SQUARE = 60.0, 6.0, 30.0
"""Nominal sizes, mm: the reference lines and the bar's length; the bar's width; the side of the fill."""

LEVEL_AT, UPRIGHT_AT, END_BAR = -26.0, -26.0, 1.5
"""Where the level and the upright line lie, and half the length of the short bars at their ends, mm."""
FILL_AT: Point = (-18.0, -18.0)
"""The first needle hole of the fill, at its left upper corner."""
BAR_AT = 34.0
"""The middle of the bar, down from the middle of the field."""

SPACINGS = (0.30, 0.35, 0.40, 0.45, 0.50, 0.60)
"""mm from hole to hole on one side: the trials of cover, about the usual 0.4 (trade magazine, Dec 2016, pp 30-31)."""
TRIAL = (7.0, 5.0)
"""mm, one trial of cover: its length and its width."""
TRIALS_AT: Point = (-20.0, 19.0)
TRIALS_APART = 9.0


@dataclass(frozen=True, slots=True)
class Distance:
    """One distance to be measured: from the hole at `start` to the hole at `end`, both in the block of that name.

    along: whether it runs along the block's stitches (a reference line counts as neither: None).
    """

    letter: str
    name: str
    block: str
    start: Point
    end: Point
    along: bool | None

    @property
    def nominal(self) -> float:
        """What it would be on cloth that nothing draws in, mm."""
        return math.dist(self.start, self.end)

    @property
    def level(self) -> bool:
        """Whether it runs from left to right, so that the level line is its reference."""
        return self.start[1] == self.end[1]


def _expected() -> tuple[Distance, ...]:
    half, (left, top) = LINE / 2, FILL_AT
    right, bottom = left + SQUARE, top + SQUARE
    x, y = left + SQUARE / 2, top + SQUARE / 2
    upper, lower = BAR_AT - BAR_WIDTH / 2, BAR_AT + BAR_WIDTH / 2
    return (
        Distance("a", "the level line", "lines", (-half, LEVEL_AT), (half, LEVEL_AT), None),
        Distance("b", "the upright line", "lines", (UPRIGHT_AT, -half), (UPRIGHT_AT, half), None),
        Distance("c", "the fill, along its stitches", "fill", (left, y), (right, y), True),
        Distance("d", "the fill, across its stitches", "fill", (x, top), (x, bottom), False),
        Distance("e", "the bar, across its stitches", "bar", (-half, BAR_AT), (half, BAR_AT), False),
        Distance("f", "the bar, along its stitches", "bar", (0.0, upper), (0.0, lower), True),
    )


EXPECTED = _expected()
"""The distances, as sewn; each is measured from the middle of one needle hole or end bar to that of the other."""

PLACES = ("p", "q", "r", "s")
"""The letters of the four distances between a drawn cross and the sewn one, in the order of CROSSES."""
COVER = "t"
"""The letter of the widest spacing that covers."""
TWIN = ("u", "v")
"""The letters of the twin needle's trial: what is left from line to line, and the distance of its needles."""
TWIN_ROWS, TWIN_APART = 10, 100.0
"""Rows of that trial, sewn by hand on a strip of the same cloth, and mm from line to line as they were drawn before
(own choice: a tenth of a millimetre misread is 0.005 of needles 2 mm apart)."""


def swatch(field: tuple[float, float], thread: Thread) -> Stitching:
    """The swatch as the machine sews it in a field of this width and height, mm, y down from its middle.

    First the needle goes to the four crosses and waits at each; then the reference lines are sewn, while nothing has
    drawn the cloth yet, then a small cross at each drawn one, the fill, the bar and the trials of cover. At the end
    the thread is cut and the frame returns to the middle. HoopingError where the field is smaller than SIZE.
    """
    if min(field) < SIZE:
        raise HoopingError(
            f"the swatch needs a field of {SIZE:g} × {SIZE:g} mm, and this one has {field[0]:g} × {field[1]:g} mm.",
            remedy="Choose a larger hoop.",
        )
    sewing = joined(blocks(thread).values())
    home = Stitching(
        np.array([sewing.points[-1], (0.0, 0.0)]),
        np.array([Act.TRIM, Act.MOVE], np.uint8),
        np.zeros(2, np.int32),
        (thread,),
    )
    return joined([needle_check(np.array(CROSSES)), joined([sewing, home])], trim=False)


def blocks(thread: Thread) -> dict[str, Stitching]:
    """What is sewn, by name, in the order of sewing: 'lines', 'crosses', 'fill', 'bar', 'trials'."""
    half = LINE / 2
    left, top = FILL_AT
    shape = box(left, top - FILL_ROW / 2, left + SQUARE, top + SQUARE + FILL_ROW / 2)
    return {
        "lines": joined([_line(True, thread), _line(False, thread)]),
        "crosses": joined(_cross(at, thread) for at in CROSSES),
        "fill": lock(fill(shape, angle=0.0, underlay=True, thread=thread)),
        "bar": _satin((-half, BAR_AT), LINE, BAR_WIDTH, thread),
        "trials": joined(
            _satin(at, TRIAL[0], TRIAL[1], thread, spacing) for at, spacing in zip(trials(), SPACINGS, strict=True)
        ),
    }


def trials() -> list[Point]:
    """The left ends of the trials of cover, one for each of SPACINGS."""
    x, y = TRIALS_AT
    return [(x + k * TRIALS_APART, y) for k in range(len(SPACINGS))]


def _line(level: bool, thread: Thread) -> Stitching:
    """A reference line with a short bar across each end."""
    half = LINE / 2
    course = [(-half, -END_BAR), (-half, END_BAR), (-half, 0), (half, 0), (half, -END_BAR), (half, END_BAR)]
    at = np.array([0.0, LEVEL_AT]) if level else np.array([UPRIGHT_AT, 0.0])
    turned = np.array(course) if level else np.array(course)[:, ::-1]
    return lock(run(polyline(turned + at), thread=thread))


def _cross(at: Sequence[float], thread: Thread) -> Stitching:
    """A small cross whose middle is one needle hole."""
    arm = SEWN_ARM
    way = [(-arm, 0), (0, 0), (arm, 0), (0, 0), (0, -arm), (0, 0), (0, arm), (0, 0)]
    return lock(from_points(np.array(way) + at, thread))


def _satin(start: Point, length: float, width: float, thread: Thread, spacing: float | None = None) -> Stitching:
    course = polyline([start, (start[0] + length, start[1])])
    laid = satin(course, width, thread=thread) if spacing is None else satin(course, width, spacing, thread=thread)
    return lock(laid)
