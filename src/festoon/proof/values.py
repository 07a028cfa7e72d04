"""What a proof is: findings, the places where hoopings meet, and how thick the stitching gets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from festoon.piece.model import Accepted
from festoon.registration.model import PlacingModel
from festoon.work import Finding, Verdict

MeetingKind = Literal["end", "cut", "side"]

WORST_FIRST: tuple[Verdict, ...] = ("will not work", "look again", "sound")


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The same findings, the worst verdicts first, what is accepted behind its like; else they keep their order."""
    return tuple(sorted(findings, key=lambda f: (WORST_FIRST.index(f.verdict), bool(f.accepted))))


@dataclass(frozen=True, eq=False)
class Meeting:
    """A place where stitching of two hoopings touches, overlaps or is linked by a join.

    first and second are hooping numbers in the order of sewing, parts the names of the part of each. at: mm on the
    panel. across: unit vector over the line where they meet, from the first's stitching to the second's. covariance:
    (2, 2) mm2, of the second's misfit relative to the first, on the panel's axes. across_sd, along_sd: its spread
    over and along that line, mm. lap: how far the two overlap over the line, mm; 0 where they only touch.
    gap_chance: that cloth shows between them; pile_chance: that they overlap uglily; lap_wanted: mm of overlap that
    brings the gap's chance under 5 per cent. learned: whether readings after hooping have a share in the spread.
    """

    panel: str
    first: int
    second: int
    parts: tuple[str, str]
    at: tuple[float, float]
    across: tuple[float, float]
    covariance: NDArray[np.float64]
    across_sd: float
    along_sd: float
    lap: float
    gap_chance: float
    pile_chance: float
    lap_wanted: float
    kind: MeetingKind = "side"
    learned: bool = False


@dataclass(frozen=True, eq=False)
class Thickness:
    """How thick the stitching of one panel gets, in square cells of `cell` mm; row r, column c covers
    (x, y) = origin + cell * (c, r) up to the next.

    length: (rows, columns) mm of thread laid in the cell. holes: penetrations in the cell. layers: how many threads
    lie over each other there: area of thread laid, its length times its diameter, over the cell's area.
    """

    panel: str
    cell: float
    origin: tuple[float, float]
    length: NDArray[np.float32]
    holes: NDArray[np.int32]
    layers: NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Carrying:
    """How the least sure meeting of one panel fares by either way of marking the cloth.

    whole: spread (standard deviation, mm) over the line where they meet when every cross is drawn from one whole
    template, so that crosses err independently; carried: the same when each hooping's crosses are drawn from what the
    hooping before it sewed, so that errors add up along the chain. Each is the worst of all meetings of the panel, at
    the hoopings whole_at and carried_at; steps: how many hoopings' errors add up from one of the latter to the other.
    """

    panel: str
    whole: float
    carried: float
    whole_at: tuple[int, int]
    carried_at: tuple[int, int]
    steps: int


@dataclass(frozen=True, slots=True)
class MarkAdvice:
    """One change of crosses that lowers the misfit of the panel's least sure meeting.

    mark: the cross to move, or None where one is to be added; hooping: the number of the hooping that it helps; to:
    mm on the panel; onto: the cross that stands there already, to be used instead or as well, or None. before: the
    spread of that meeting over the line where the hoopings meet, mm; after: the worst such spread of all meetings of
    the hoopings whose crosses change, once they have.
    """

    panel: str
    hooping: int
    mark: str | None
    to: tuple[float, float]
    before: float
    after: float
    onto: str | None = None


@dataclass(frozen=True, eq=False)
class Learned:
    """What readings after hooping have taught so far.

    model: the placing error as it is reckoned with now. trued: numbers of the hoopings whose crosses were read, and the
    names of those crosses. told: both in sentences, lengths in the piece's units.
    """

    model: PlacingModel
    trued: Mapping[int, frozenset[str]]
    told: str


@dataclass(frozen=True, eq=False)
class Proof:
    """All that was found, worst first; the places where hoopings meet; the maps, one a panel; and advice on marks.

    learned: what of it rests on readings after hooping; None where nothing was read. measured: names of the worker's
    own figures that it rests on, from the bench file. unneeded: acceptances of what was not found.
    """

    findings: tuple[Finding, ...]
    meetings: tuple[Meeting, ...]
    thickness: tuple[Thickness, ...]
    carrying: tuple[Carrying, ...] = ()
    advice: tuple[MarkAdvice, ...] = ()
    learned: Learned | None = None
    measured: tuple[str, ...] = ()
    unneeded: tuple[Accepted, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """The worst verdict, what is accepted included; 'sound' where nothing was found."""
        found = {f.verdict for f in self.findings}
        return next((v for v in WORST_FIRST if v in found), "sound")
