"""The smallest move of one part that takes a place under its limits."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from festoon.measure import Units
from festoon.proof.heap import Place, Spread, judge
from festoon.proof.words import fine

FARTHEST = 10
"""mm, the farthest move that is tried, along either axis."""
_WAYS = ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (1, -1), (-1, 1), (-1, -1))


@dataclass(frozen=True, slots=True)
class Shift:
    """A move in whole mm, right and down."""

    right: int
    down: int

    def told(self, units: Units = "mm") -> str:
        """'4 mm to the right', or '2 mm to the left and 2 mm up'.

        >>> Shift(4, 0).told(), Shift(-2, -2).told()
        ('4 mm to the right', '2 mm to the left and 2 mm up')
        """
        across = f"{fine(abs(self.right), units)} to the {'right' if self.right > 0 else 'left'}"
        along = f"{fine(abs(self.down), units)} {'down' if self.down > 0 else 'up'}"
        return " and ".join(t for t, by in ((across, self.right), (along, self.down)) if by)


def smallest_shift(
    place: Place,
    heaped: Spread,
    part: Spread,
    holes_limit: tuple[float, float],
    cell: float,
    room: tuple[float, float, float, float],
) -> Shift | None:
    """The shortest of the moves in eight directions, whole mm up to FARTHEST, that clears the place.

    part: the part to move, one of those that `heaped` holds. room: how far it may go left, up,
    right and down. A move may make no other place too thick. None where no move will do, or cells do not divide 1 mm.
    """
    step = round(1 / cell)
    if not math.isclose(step * cell, 1.0):
        return None
    reach = FARTHEST * step
    corner = part.corner[0] - reach, part.corner[1] - reach
    shape = part.shape[0] + 2 * reach, part.shape[1] + 2 * reach
    cells = _cells(place, heaped, corner, shape)
    if cells is None:
        return None
    before = heaped.cut(corner, shape)
    rest = before.without(part)
    allowed = judge(before, holes_limit).over & ~cells
    for shift in _shifts(room):
        moved = rest.with_part(part.moved(shift.down * step, shift.right * step))
        if not (judge(moved, holes_limit).over & ~allowed).any():
            return shift
    return None


def _shifts(room: tuple[float, float, float, float]) -> list[Shift]:
    """All moves that stay on the panel, the shortest first."""
    left, up, right, down = room
    ways = [Shift(n * x, n * y) for n in range(1, FARTHEST + 1) for x, y in _WAYS]
    ways = [s for s in ways if -left <= s.right <= right and -up <= s.down <= down]
    return sorted(ways, key=lambda s: math.hypot(s.right, s.down))


def _cells(place: Place, heaped: Spread, corner: tuple[int, int], shape: tuple[int, int]) -> NDArray[np.bool_] | None:
    """The place's cells on that window; None where it goes on outside."""
    here = place.cells + np.subtract(heaped.corner, corner)
    if (here < 0).any() or (here >= shape).any():
        return None
    cells = np.zeros(shape, np.bool_)
    cells[tuple(here.T)] = True
    return cells
