"""How long the machine work takes, hooping by hooping and thread by thread."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from festoon.piece import Machine
from festoon.stitches.stitching import Stitching
from festoon.stitches.thread import Thread


@dataclass(frozen=True, slots=True)
class ThreadMinutes:
    """One thread of a hooping, in its turn: whether it must be put on the needle, its stitches, and the minutes."""

    thread: Thread
    changed: bool
    stitches: int
    sewing: float
    changing: float


@dataclass(frozen=True, slots=True)
class HoopingMinutes:
    """One hooping: its threads in the order of sewing, and the minutes for hooping; the rest is their sum."""

    number: int
    threads: tuple[ThreadMinutes, ...]
    hooping: float

    @property
    def stitches(self) -> int:
        """How often the needle goes down."""
        return sum(t.stitches for t in self.threads)

    @property
    def changes(self) -> int:
        """How often a thread is put on the needle."""
        return sum(t.changed for t in self.threads)

    @property
    def sewing(self) -> float:
        """Minutes that the machine sews."""
        return math.fsum(t.sewing for t in self.threads)

    @property
    def changing(self) -> float:
        """Minutes for the changes of thread."""
        return math.fsum(t.changing for t in self.threads)

    @property
    def total(self) -> float:
        """All of it, minutes."""
        return self.sewing + self.changing + self.hooping


def minutes(stitchings: Sequence[tuple[int, Stitching]], machine: Machine) -> tuple[HoopingMinutes, ...]:
    """The minutes of every hooping, given as (number, stitching) in the order in which they are sewn.

    Stitches / speed + changes × minutes for one + hooping (arithmetic, with the bench's figures). A change is counted
    wherever another thread comes on the needle, the very first one and those between two hoopings too.
    """
    told: list[HoopingMinutes] = []
    on_needle: Thread | None = None
    for number, stitching in stitchings:
        threads = []
        for start, stop in stitching.thread_blocks():
            thread = stitching.threads[int(stitching.thread[start])]
            changed, count = thread != on_needle, int(stitching.is_stitch[start:stop].sum())
            threads.append(
                ThreadMinutes(thread, changed, count, count / machine.speed, changed * machine.change_minutes)
            )
            on_needle = thread
        told.append(HoopingMinutes(number, tuple(threads), machine.hooping_minutes))
    return tuple(told)
