"""Tucks solved and set at their places on the tucked panel. Not a technique itself: festoon.techniques.tucks is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from festoon.errors import PieceError
from festoon.measure import fine, show_length
from festoon.shaping.tucks import (
    MOST,
    Tuck,
    TwinRow,
    count_to_fill,
    counts_about,
    first_depth,
    gap_within,
    gaps_shown,
    graduated,
    strides,
)
from festoon.techniques.base import Setting
from festoon.techniques.tuck_words import COUNT, USUAL, Tucks

TAKE_UP = 0.7
"""Share of the needles' distance that a twin-needle row takes up, of 0.5 to 0.8 on lawn without a cord. Common
practice; at most 1, for both rows can be drawn together and no further (geometry)."""

ASIDE = 10.0
"""mm from the line between mirrored groups to the first of either, where nothing is said (common practice)."""

STRAIGHT = 0.05
"""mm by which a line may leave the straight and still be one (half a step of the stitch formats)."""

CUT = 0.5
"""mm; nobody cuts cloth more closely, so a reduction met this nearly is met (common practice)."""


@dataclass(frozen=True, slots=True)
class TakeUpShare:
    """Share of the twin needles' distance that a row takes up, and how it is known."""

    value: float
    reckoned: str


@dataclass(frozen=True, slots=True)
class Plan:
    """Tucks at their places, mm on the tucked panel, measured across them.

    first: the one group in the order of its making: from the left or top; of mirrored groups, outward from the line
    between them. second: the other, mirrored. widths: what each of a group covers, from stitching to fold (or from
    needle row to needle row); gaps: what shows between them. counts: the two whole counts nearest to a reduction asked
    for. breadth, length: the panel's, across and along the tucks. start, stop: where their stitching begins and ends.
    about: the line between mirrored groups.
    """

    first: tuple[Tuck | TwinRow, ...]
    second: tuple[Tuck | TwinRow, ...]
    widths: tuple[float, ...]
    gaps: tuple[float, ...]
    counts: tuple[int, int]
    breadth: float
    length: float
    start: float
    stop: float
    about: float
    share: TakeUpShare

    @property
    def tucks(self) -> tuple[Tuck | TwinRow, ...]:
        """All of them, from the left (or top)."""
        return tuple(sorted((*self.first, *self.second), key=lambda t: t.at))

    @property
    def taken(self) -> float:
        """The cloth that all take up."""
        return sum(t.by for t in self.tucks)

    @property
    def flat(self) -> float:
        """The cloth across the tucks before these are sewn: finished + taken up."""
        return self.breadth + self.taken

    @property
    def over(self) -> float:
        """From a group's first stitching to its last."""
        return abs(self.first[-1].at - self.first[0].at)

    @property
    def span(self) -> tuple[float, float]:
        """All that they cover."""
        return min(t.span[0] for t in self.tucks), max(t.span[1] for t in self.tucks)

    @property
    def released(self) -> bool:
        """Whether they end before the panel does."""
        return self.stop < self.length - STRAIGHT


def planned(tucks: Tucks, setting: Setting) -> Plan:
    """Count, depth and gap solved, every tuck at its place. PieceError where they cannot be: no depth is left, or
    stitchings would come to lie on each other."""
    width, height = setting.block or setting.outline.bounds[2:]
    breadth, length = (width, height) if tucks.run == "down" else (height, width)
    share = _share(tucks, setting)
    take = share.value * tucks.distance
    count, depth, counts = _count_and_depth(tucks, take)
    if count > MOST:
        raise PieceError(f"it takes more than {MOST} tucks.", remedy="Make them deeper, or what is asked of them less.")
    step = tucks.step
    widths = graduated(count, tucks.distance - take if tucks.twin else depth, step)
    _refuse_no_depth(tucks, widths, setting)
    ways = _ways(tucks, widths)
    _refuse_no_way(tucks, ways, widths, setting)
    about = _about(tucks, setting, breadth / 2)
    offsets = np.concatenate([[0.0], np.cumsum(ways)]).tolist()
    begins = _first(tucks, offsets[-1], widths[0], about, breadth)
    first: tuple[Tuck | TwinRow, ...]
    if tucks.twin:
        first = tuple(TwinRow(begins + off, tucks.distance, take) for off in offsets)
    else:
        first = tuple(Tuck(begins + off, t, tucks.ahead) for off, t in zip(offsets, widths, strict=True))
    return Plan(
        first=first,
        second=tuple(t.mirrored(about) for t in first) if tucks.mirrored else (),
        widths=widths,
        gaps=gaps_shown(ways, widths, tucks.ahead),
        counts=counts,
        breadth=breadth,
        length=length,
        start=min(tucks.begin, length),
        stop=length if tucks.sewn is None else min(tucks.begin + tucks.sewn, length),
        about=about,
        share=share,
    )


def _share(tucks: Tucks, setting: Setting) -> TakeUpShare:
    if tucks.take_up is not None:
        return TakeUpShare(tucks.take_up, "as given")
    if setting.twin_take_up is not None:
        return TakeUpShare(setting.twin_take_up, "measured")
    return TakeUpShare(TAKE_UP, f"assumed {TAKE_UP:g} of the needles' distance")


def _count_and_depth(tucks: Tucks, take: float) -> tuple[int, float, tuple[int, int]]:
    """How many in a group, how deep the first, and the two counts that a reduction lies between. take: of a row."""
    own = take / 2 if tucks.twin else USUAL[tucks.sort].depth if tucks.depth is None else tucks.depth
    if tucks.reduce_by is not None:
        return _reducing(tucks, tucks.reduce_by / tucks.groups, own)
    if tucks.over is None:
        count = tucks.count or COUNT
        return count, own, (count, count)
    covered = tucks.distance - take if tucks.twin else own
    count = tucks.count or _filling(tucks, tucks.over, covered)
    if tucks.sort == "blind" or (tucks.count and tucks.gap is not None and tucks.depth is None):
        between = count - 1
        middle = (between - 1) / 2 if tucks.ahead else (between + 1) / 2
        own = tucks.over / between - (tucks.gap or 0.0) - tucks.step * middle
    return count, own, (count, count)


def _reducing(tucks: Tucks, each: float, depth: float) -> tuple[int, float, tuple[int, int]]:
    """For a group to take up `each`: the depth where the count is known, else the nearest whole count, and a depth that
    was not said is fitted to it."""
    count = tucks.count
    if count is None and tucks.over is not None and tucks.apart is not None:
        count = _filling(tucks, tucks.over, 0.0)
    if count is not None:
        return count, first_depth(each, count, tucks.step), (count, count)
    if depth <= 0:
        raise PieceError("rows that take up nothing reduce nothing.", remedy="Give take_up, or leave reduce_by out.")
    lower, upper = counts_about(each, depth, tucks.step)
    low, high = (sum(graduated(n, 2 * depth, 2 * tucks.step)) for n in (lower, upper))
    nearest = lower if lower and each - low <= high - each else upper
    if tucks.depth is None and not tucks.twin:
        return nearest, first_depth(each, nearest, tucks.step), (nearest, nearest)
    return nearest, depth, (lower, upper)


def _filling(tucks: Tucks, over: float, covered: float) -> int:
    if tucks.apart is not None:
        return count_to_fill(over, 0.0, tucks.apart)
    gap = USUAL[tucks.sort].gap if tucks.gap is None else tucks.gap
    return count_to_fill(over, covered, gap, tucks.step, tucks.ahead)


def _ways(tucks: Tucks, widths: tuple[float, ...]) -> tuple[float, ...]:
    """From each stitching to the next."""
    between = len(widths) - 1
    if tucks.apart is not None:
        return (tucks.apart if tucks.over is None else tucks.over / between,) * between
    if tucks.over is not None and between:
        return strides(widths, gap_within(tucks.over, widths, tucks.ahead), tucks.ahead)
    return strides(widths, USUAL[tucks.sort].gap if tucks.gap is None else tucks.gap, tucks.ahead)


def _about(tucks: Tucks, setting: Setting, middle: float) -> float:
    """Where the line between mirrored groups lies."""
    if tucks.about is None:
        return middle
    points = setting.line(tucks.about).flatten(STRAIGHT / 2)[:, 0 if tucks.run == "down" else 1]
    if np.ptp(points) > 2 * STRAIGHT:
        way = "straight down" if tucks.run == "down" else "straight across"
        raise PieceError(
            f'the line "{tucks.about}" does not run {way}, as the tucks do.',
            remedy="Name another in about, or leave it out for the middle of the panel.",
        )
    return float(points.mean())


def _first(tucks: Tucks, over: float, width: float, about: float, breadth: float) -> float:
    """Where the first group's first stitching lies."""
    origin = about if tucks.mirrored else 0.0
    if tucks.first is not None:
        return origin + tucks.first
    if tucks.middle is not None:
        return origin + tucks.middle - over / 2
    if tucks.mirrored:
        return origin + ASIDE + (0.0 if tucks.ahead else width)
    return (breadth - over) / 2


def _refuse_no_depth(tucks: Tucks, widths: tuple[float, ...], setting: Setting) -> None:
    least = min(widths)
    if least > 0 or (tucks.twin and least >= 0):
        return
    number = widths.index(least) + 1
    remedy = "Set grow nearer to 0." if tucks.step else "Make gap smaller, or over larger."
    raise PieceError(
        f"nothing is left of tuck {number}: its depth comes to {fine(least, setting.units)}.", remedy=remedy
    )


def _refuse_no_way(tucks: Tucks, ways: tuple[float, ...], widths: tuple[float, ...], setting: Setting) -> None:
    if not ways or min(ways) > STRAIGHT:
        return
    raise PieceError(
        f"from one stitching to the next is {show_length(min(ways), setting.units)}, so that they lie on each other.",
        remedy=f"Take fewer, or set them {show_length(max(widths), setting.units)} apart at least.",
    )
