"""How long the machine work takes, hooping by hooping."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from festoon.piece import Machine
from festoon.stitches.stitching import Stitching
from festoon.stitches.thread import Thread


@dataclass(frozen=True, slots=True)
class HoopingMinutes:
    """One hooping: its stitches and changes of thread, and the minutes for sewing, changing and hooping."""

    number: int
    stitches: int
    changes: int
    sewing: float
    changing: float
    hooping: float

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
        changes = 0
        for start, _ in stitching.thread_blocks():
            thread = stitching.threads[int(stitching.thread[start])]
            changes += thread != on_needle
            on_needle = thread
        count = stitching.stitch_count
        told.append(
            HoopingMinutes(
                number,
                count,
                changes,
                count / machine.speed,
                changes * machine.change_minutes,
                machine.hooping_minutes,
            )
        )
    return tuple(told)
