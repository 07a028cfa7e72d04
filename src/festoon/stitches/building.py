"""Gathers a machine file's commands, one after another, into a Stitching."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from festoon.stitches.stitching import Act, Stitching
from festoon.stitches.thread import Thread

STAND_INS = tuple(
    Thread(colour)
    for colour in ("#2f6db5", "#c8412f", "#3f8a4d", "#e0a52a", "#7a4a9e", "#2a9d9a", "#d2698f", "#6b4a30")
)
"""Colours, one a block and over again, for files that carry none (dst, exp): unlike one another, and no more."""


class Builder:
    """Takes commands in mm and keeps the rules of Stitching: no thread block is empty.

    Moves in a row become one. `jumps_for_trim` moves in a row, or one farther than `distance_for_trim` (0.1 mm) on
    an axis, count as a cut, in formats that have no other. A change right after a change leaves a block of one stop.
    """

    def __init__(self, jumps_for_trim: int | None = None, distance_for_trim: float | None = None) -> None:
        self._points: list[tuple[float, float]] = []
        self._acts: list[Act] = []
        self._blocks: list[int] = []
        self._block = 0
        self._filled = False
        self._at = (0.0, 0.0)
        self._from = (0.0, 0.0)
        self._moves = 0
        self._uncut = False
        self._jumps_for_trim = jumps_for_trim
        self._distance_for_trim = distance_for_trim

    def stitch(self, x: float, y: float) -> None:
        """The needle goes down at (x, y)."""
        self._settle()
        self._at = (x, y)
        self._record(Act.STITCH)
        self._uncut = True

    def move(self, x: float, y: float) -> None:
        """The frame moves to (x, y)."""
        if not self._moves:
            self._from = self._at
        self._moves += 1
        self._at = (x, y)

    def trim(self) -> None:
        """The thread is cut, if any was sewn since it was last cut."""
        self._settle()
        if self._uncut:
            self._record(Act.TRIM)
            self._uncut = False

    def stop(self) -> None:
        """The machine waits."""
        self._settle()
        self._record(Act.STOP)
        self._uncut = False

    def change(self, *, first_counts: bool = True) -> None:
        """The thread changes; before anything is sewn that is only the choice of the first, unless `first_counts`."""
        self._settle()
        if not self._filled:
            if not first_counts and not self._acts:
                return
            self._record(Act.STOP)
        self._block += 1
        self._filled = False
        self._uncut = False

    def stitching(self, threads: Sequence[Thread]) -> Stitching:
        """All of it. Blocks beyond the end of `threads` take the stand-ins."""
        self._settle()
        if not self._filled and self._block:
            self._block -= 1
            if self._acts[-1] != Act.STOP:
                self._record(Act.STOP)
        blocks = self._block + 1 if self._acts else 0
        known = list(threads[:blocks]) + [STAND_INS[i % len(STAND_INS)] for i in range(len(threads), blocks)]
        return Stitching(
            np.array(self._points).reshape(-1, 2),
            np.array(self._acts, np.uint8),
            np.array(self._blocks, np.int32),
            tuple(known),
        )

    def _settle(self) -> None:
        if not self._moves:
            return
        to, moves = self._at, self._moves
        self._moves = 0
        if self._uncut and self._is_cut(to, moves):
            self._at = self._from
            self._record(Act.TRIM)
            self._uncut = False
            self._at = to
        if to != self._from:
            self._record(Act.MOVE)

    def _is_cut(self, to: tuple[float, float], moves: int) -> bool:
        far = max(abs(to[0] - self._from[0]), abs(to[1] - self._from[1])) * 10
        counted = self._jumps_for_trim is not None and moves >= self._jumps_for_trim
        return counted or (self._distance_for_trim is not None and far > self._distance_for_trim)

    def _record(self, act: Act) -> None:
        self._points.append(self._at)
        self._acts.append(act)
        self._blocks.append(self._block)
        self._filled = True
