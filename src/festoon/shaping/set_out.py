"""Whole repeats set out along a line, each on the straight way from one mark of the line to the next."""

from __future__ import annotations

import math
from dataclasses import dataclass

from festoon.errors import PieceError
from festoon.plane import Parity, Path, Pose, Repeats, fit_repeats
from festoon.plane.segments import Segment

MOST = 1000
"""The most repeats on one line; more is a slip of the pen (own choice)."""

LEAST_CHORD = 0.5
"""A repeat whose two marks lie nearer than this share of its length along the line has turned back on itself (own
choice: on a circle two repeats have 0.64, one has none)."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where one repeat stands: its own axes have x along the chord and y to the right of travel (below a hem drawn
    from left to right), its marks lie at (-chord/2, 0) and (chord/2, 0). mm."""

    pose: Pose
    chord: float


@dataclass(frozen=True, slots=True)
class SetOut:
    """Repeats on a line: their places in order, and how each stretch of the line between corners was divided."""

    places: tuple[Place, ...]
    stretches: tuple[Repeats, ...]

    @property
    def count(self) -> int:
        """How many repeats there are."""
        return len(self.places)

    @property
    def worst(self) -> Repeats:
        """The division whose repeats are farthest from the wished width."""
        return max(self.stretches, key=lambda repeats: abs(repeats.stretch))


def set_out(line: Path, nominal: float, parity: Parity = "any") -> SetOut:
    """Repeats of about `nominal` mm (measured along the line) from its beginning to its end, so that a mark falls on
    every corner and on both ends: one that closes then closes at a mark.

    parity holds on every stretch between corners. PieceError for more than MOST, where the line turns back on itself
    within a repeat, and as fit_repeats.
    """
    if line.length > MOST * nominal:
        raise PieceError(
            f"its repeats would be more than {MOST}.",
            remedy=f"Festoon sets out at most {MOST}; make repeat larger.",
        )
    places: list[Place] = []
    stretches = []
    for leg in line.legs():
        repeats = fit_repeats(leg.length, nominal, parity)
        stretches.append(repeats)
        marks = leg.points(repeats.marks)
        for (ax, ay), (bx, by) in zip(marks[:-1].tolist(), marks[1:].tolist(), strict=True):
            chord = math.hypot(bx - ax, by - ay)
            if chord < LEAST_CHORD * repeats.pitch:
                raise PieceError(
                    f"the line turns back on itself within a repeat of {repeats.pitch:.1f} mm.",
                    remedy="Make the repeat smaller, so that the line takes more of them.",
                )
            turn = math.degrees(math.atan2(by - ay, bx - ax))
            places.append(Place(Pose((ax + bx) / 2, (ay + by) / 2, turn), chord))
    return SetOut(tuple(places), tuple(stretches))


def strung(placed: list[tuple[Segment, ...]], places: tuple[Place, ...]) -> Path:
    """One line through repeats drawn in their own axes, each beginning where the one before it ended."""
    pairs = zip(placed, places, strict=True)
    return Path(tuple(segment.placed(place.pose) for drawn, place in pairs for segment in drawn))
