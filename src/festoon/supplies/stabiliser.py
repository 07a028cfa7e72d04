"""Stabiliser: what to cut for every hooping, and how much of the roll that takes."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from festoon.measure import Units, show_length
from festoon.supplies.assumed import STABILISER_MARGIN, STABILISER_OVERLAP
from festoon.work import Finding

ROUNDING = 1e-9
"""Widths; so that a piece exactly as wide as its share of the roll fits, although floats round. Ours."""


@dataclass(frozen=True, slots=True)
class StabiliserPiece:
    """Pieces of one size: width and height as in the hoop, mm; how many to cut, `layers` for each hooping.

    across is the side that lies across the roll, length the mm of roll that they take together. widths is above one
    where a piece is wider than the roll and is made up of so many strips, overlapped.
    """

    size: tuple[float, float]
    count: int
    layers: int
    across: float
    length: float
    widths: int = 1


@dataclass(frozen=True, slots=True)
class Stabiliser:
    """All the stabiliser: pieces by size, cut from a roll `roll_width` mm wide, and a finding for each too wide."""

    name: str
    roll_width: float
    pieces: tuple[StabiliserPiece, ...]
    findings: tuple[Finding, ...] = ()

    @property
    def metres(self) -> float:
        """Length to cut from the roll, metres."""
        return sum(p.length for p in self.pieces) / 1000


def stabiliser(
    name: str,
    inner_hoops: Iterable[tuple[float, float]],
    roll_width: float,
    layers: int = 1,
    units: Units = "mm",
) -> Stabiliser:
    """The stabiliser for hoopings whose inner hoops have these sizes, (width, height) in mm, one for each hooping.

    A piece is the inner hoop and 20 mm more on every side (an embroidery teacher's page). Pieces of one size lie in
    rows across the roll, upright or turned a quarter, whichever takes less of it; sizes follow one after another.
    """
    margin = 2 * STABILISER_MARGIN.value
    sizes = Counter((w + margin, h + margin) for w, h in inner_hoops)
    pieces = tuple(_cut(size, hoopings * layers, layers, roll_width) for size, hoopings in sizes.items())
    findings = tuple(_too_wide(p, name, roll_width, units) for p in pieces if p.widths > 1)
    return Stabiliser(name, roll_width, pieces, findings)


def _cut(size: tuple[float, float], count: int, layers: int, roll: float) -> StabiliserPiece:
    w, h = size
    ways = [_laid(size, count, layers, roll, across, along) for across, along in ((w, h), (h, w))]
    return min(ways, key=lambda p: (p.widths > 1, p.length))


def _laid(
    size: tuple[float, float], count: int, layers: int, roll: float, across: float, along: float
) -> StabiliserPiece:
    beside = math.floor(roll / across + ROUNDING)
    if beside:
        return StabiliserPiece(size, count, layers, across, math.ceil(count / beside) * along)
    widths = 1 + math.ceil((across - roll) / _gain(roll) - ROUNDING)
    return StabiliserPiece(size, count, layers, across, count * widths * along, widths)


def _gain(roll: float) -> float:
    """What one more overlapped strip adds, mm; half the width of a roll hardly wider than the overlap."""
    return max(roll - STABILISER_OVERLAP.value, roll / 2)


def _too_wide(piece: StabiliserPiece, name: str, roll: float, units: Units) -> Finding:
    w, h, across, wide, overlap = (show_length(v, units) for v in (*piece.size, piece.across, roll, roll - _gain(roll)))
    return Finding(
        "look again",
        f"stabiliser ({name})",
        f"A piece of {w} by {h} is wider than the roll of {wide}.",
        f"Make it of {piece.widths} widths side by side, overlapped by {overlap}, or buy a wider roll.",
        figure=across,
        limit=wide,
    )
