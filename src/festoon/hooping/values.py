"""What a division of the work is: blocks, fields, hoopings and marks (immutable; mm and degrees on the panel)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from shapely import Geometry

from festoon.hooping.compensate import Widening
from festoon.piece import Hoop
from festoon.plane.pose import Points, Pose
from festoon.stitches.stitching import Stitching
from festoon.work import Finding


@dataclass(frozen=True, eq=False)
class Block:
    """Stitching that stays together in one hooping: a whole part, or a piece of a part too large for the field.

    order is its place in the order in which stitching lies on the cloth (0 lies lowest). corners are the corners of
    the convex hull of its stitching, (k, 2) on the panel. piece is 0 for a whole part, else 1, 2, ... within the part.
    widened says how the stitching was stretched beforehand by what it will draw in; None where it is sewn as drawn.
    region is where it lies in the end: as it was drawn.
    """

    name: str
    part: str
    element: str
    order: int
    stitching: Stitching
    region: Geometry
    corners: Points
    piece: int = 0
    widened: Widening | None = None

    @property
    def told(self) -> str:
        """Its name to people: 'stem', or 'piece 2 of stem'."""
        return f"piece {self.piece} of {self.part}" if self.piece else self.name


@dataclass(frozen=True, slots=True)
class Mark:
    """A cross on the cloth: `name` is unique on the panel ('A', 'B', ... 'AA'); `at` in panel mm."""

    name: str
    at: tuple[float, float]


@dataclass(frozen=True, slots=True)
class ExpectedError:
    """The placing error predicted at the worst stitched point `at` (panel mm).

    mm is the radius that holds the error with probability `confidence`; rms is its root mean square there, and
    mean_rms the same over all the stitching of the hooping.
    """

    at: tuple[float, float]
    mm: float
    confidence: float
    rms: float
    mean_rms: float


@dataclass(frozen=True, eq=False)
class Hooping:
    """One hooping: the hoop on the cloth, what is sewn in it and the marks that place it.

    field carries hoop axes (mm from the middle of the sewing field, y down) to the panel. stitching is the sewing in
    order, on the panel, without the needle check. float_sides names the sides ('left', 'top', ...) where the hoop's
    outline leaves the cloth. reason is one sentence on why it comes at this place in the order. laid is its place among
    the hoopings that the worker laid herself, as they stand in the piece file; None where the division chose it.
    """

    number: int
    panel: str
    hoop: Hoop
    field: Pose
    blocks: tuple[Block, ...]
    stitching: Stitching
    marks: tuple[Mark, ...]
    expected: ExpectedError
    after: tuple[int, ...] = ()
    float_sides: tuple[str, ...] = ()
    reason: str = ""
    laid: int | None = None

    @property
    def elements(self) -> tuple[str, ...]:
        """The names of the parts sewn here, each once, in the order of sewing."""
        return tuple(dict.fromkeys(b.part for b in self.blocks))

    @property
    def sews(self) -> tuple[str, ...]:
        """The same as people are told it: 'stem', or 'piece 2 of stem', 'pieces 2 and 3 of stem'."""
        pieces = {part: [str(b.piece) for b in self.blocks if b.part == part and b.piece] for part in self.elements}
        return tuple(
            part
            if not of
            else f"piece {of[0]} of {part}"
            if len(of) == 1
            else f"pieces {', '.join(of[:-1])} and {of[-1]} of {part}"
            for part, of in pieces.items()
        )


@dataclass(frozen=True, eq=False)
class Division:
    """The whole piece divided.

    `reasons` says per panel how many hoopings, and why fewer will not do; `notes` what was done to the stitching on the
    way. `lower_bound` is that of divisions which keep what the worker laid and ordered herself; `free` is the same
    piece divided without that, None where there is nothing of hers to keep; `findings` tell what of it cannot be kept.
    """

    hoopings: tuple[Hooping, ...]
    lower_bound: int
    fewest_proven: bool
    headline: str
    reasons: tuple[str, ...]
    notes: tuple[str, ...] = ()
    free: Division | None = None
    findings: tuple[Finding, ...] = ()

    @property
    def count(self) -> int:
        """How many hoopings there are."""
        return len(self.hoopings)


Record = dict[str, Any]
