"""What a step of the work is."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal

from festoon.work import Caution

Kind = Literal["care", "mark", "hoop", "thread", "check", "sew", "out"]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do at one hooping.

    name tells it from the other steps of its hooping and stays the same while its stitching does. do: what to do now;
    told: how, and what to know, in sentences. printed: its words beside a box to tick, empty where it has none of its
    own. minutes: how long it takes. thread: the index, from 0, of the thread of the hooping that it is about, or None.
    """

    name: str
    kind: Kind
    do: str
    told: tuple[str, ...] = ()
    printed: str = ""
    minutes: float = 0.0
    thread: int | None = None
    cautions: tuple[Caution, ...] = ()


def printed(steps: Sequence[Step]) -> list[str]:
    """The words beside the boxes of a sheet, in the order of work; what is sewn in several threads has one box."""
    return list(dict.fromkeys(s.printed for s in steps if s.printed))


def minutes_left(steps: Sequence[Step], done: Collection[str]) -> float:
    """Minutes that the steps take which are not yet done, told by their names."""
    return sum(s.minutes for s in steps if s.name not in done)
