"""What it costs that the worker laid hoopings herself, or ordered the work."""

from __future__ import annotations

from dataclasses import dataclass

from festoon.hooping import Division
from festoon.hooping.words import listed, number_word
from festoon.measure import Units, show_minutes
from festoon.piece import Machine
from festoon.proof.told import reach
from festoon.supplies.minutes import minutes

WHOLE_MINUTE = 1.0
"""Minutes; differences below are not told (ours: the estimate is no finer)."""


@dataclass(frozen=True, slots=True)
class OwnSay:
    """How much more the division takes than it would without the worker's own say; below zero: less.

    kept: how many hoopings of it she laid herself. worst and worst_free: mm, the radius that holds the placing error at
    the worst stitch, with her say and without.
    """

    kept: int
    hoopings: int
    changes: int
    minutes: float
    worst: float
    worst_free: float


def own_say(division: Division, machine: Machine) -> OwnSay | None:
    """What her own say costs, computed from the division and the same piece divided without it; None where she has
    none that is kept."""
    free = division.free
    if free is None:
        return None
    here, there = (minutes([(h.number, h.stitching) for h in d.hoopings], machine) for d in (division, free))
    return OwnSay(
        kept=sum(h.laid is not None for h in division.hoopings),
        hoopings=division.count - free.count,
        changes=sum(m.changes for m in here) - sum(m.changes for m in there),
        minutes=sum(m.total for m in here) - sum(m.total for m in there),
        worst=max((h.expected.mm for h in division.hoopings), default=0.0),
        worst_free=max((h.expected.mm for h in free.hoopings), default=0.0),
    )


def own_say_told(say: OwnSay | None, units: Units) -> str:
    """'Your own say costs one hooping and about 10 minutes; the worst stitch is ...'; nothing where there is none.

    >>> own_say_told(OwnSay(1, 1, -2, 5.2, 0.94, 0.94), "mm")
    'Your own say costs one hooping and about 6 minutes, and saves two changes of thread.'
    >>> own_say_told(OwnSay(1, 0, 0, 0.0, 1.01, 0.88), "mm")
    'Your own say costs no time; the worst stitch is predicted within 1.1 mm of its place rather than 0.9 mm.'
    """
    if say is None:
        return ""
    costs, saves = (_amounts(say, sign) for sign in (1, -1))
    told = [f"{verb} {listed(amounts)}" for verb, amounts in (("costs", costs), ("saves", saves)) if amounts]
    before, after = reach(say.worst_free, units), reach(say.worst, units)
    if before == after:
        return f"Your own say {', and '.join(told) or 'costs nothing'}."
    error = f"the worst stitch is predicted within {after} of its place rather than {before}"
    return f"Your own say {', and '.join(told) or 'costs no time'}; {error}."


def _amounts(say: OwnSay, sign: int) -> list[str]:
    """What there is more of (sign 1) or less of (-1), in words."""
    counts = (
        (say.hoopings * sign, "hooping", "hoopings"),
        (say.changes * sign, "change of thread", "changes of thread"),
    )
    told = [f"{number_word(n)} {one if n == 1 else many}" for n, one, many in counts if n > 0]
    time = say.minutes * sign
    return [*told, f"about {show_minutes(time)}"] if time >= WHOLE_MINUTE else told
