"""Division and bench -> Supplies."""

from __future__ import annotations

import math
from dataclasses import dataclass

from festoon.hooping import Division
from festoon.measure import Units
from festoon.piece import Bench
from festoon.supplies.assumed import Assumption, assumptions, thickness, top_share
from festoon.supplies.cautions import cautions
from festoon.supplies.minutes import HoopingMinutes, minutes
from festoon.supplies.stabiliser import Stabiliser, stabiliser
from festoon.supplies.thread_use import ThreadUse, merged, thread_use
from festoon.work import Caution, Finding


@dataclass(frozen=True, slots=True)
class Supplies:
    """Everything that a division uses up.

    threads: needle thread by thread, in the order of first use. bobbins: how many bobbins of the bench's, full when
    begun. minutes: one entry a hooping. assumptions: every figure that the rest was reckoned with.
    """

    threads: tuple[ThreadUse, ...]
    bobbins: int
    stabiliser: Stabiliser
    minutes: tuple[HoopingMinutes, ...]
    assumptions: tuple[Assumption, ...]
    cautions: tuple[Caution, ...]
    findings: tuple[Finding, ...]

    @property
    def bobbin_metres(self) -> float:
        """Bobbin thread below all of them, metres."""
        return sum(t.bobbin_mm for t in self.threads) / 1000

    @property
    def stitches(self) -> int:
        """How often the needle goes down in all."""
        return sum(t.stitches for t in self.threads)

    @property
    def total_minutes(self) -> float:
        """All hoopings, minutes."""
        return sum(m.total for m in self.minutes)


def count(division: Division, bench: Bench, units: Units = "mm", wearing: tuple[Caution, ...] = ()) -> Supplies:
    """What the hoopings of a division use up, reckoned with the bench's own figures where it has them.

    Thread and minutes are computed from the stitching (see `thread_use`, `minutes`), stabiliser from the hoops' inner
    size (see `stabiliser`); what was assumed on the way stands in the result, told in `units`. wearing: the cautions
    for who wears it (see `wearing_cautions`), which stand after those for the work.
    """
    hoopings = division.hoopings
    by_thread = merged(use for h in hoopings for use in thread_use(h.stitching, thickness(bench), top_share(bench)))
    roll = bench.stabiliser
    under = stabiliser(roll.name, [h.hoop.inner_size for h in hoopings], roll.roll_width, roll.layers, units)
    return Supplies(
        threads=by_thread,
        bobbins=math.ceil(sum(t.bobbin_mm for t in by_thread) / (1000 * bench.bobbin.metres)),
        stabiliser=under,
        minutes=minutes([(h.number, h.stitching) for h in hoopings], bench.machine),
        assumptions=assumptions(bench, units),
        cautions=(*cautions(h.hoop for h in hoopings), *wearing),
        findings=under.findings,
    )
