"""Bytes of a machine file -> Stitching, by way of the stitch-file library; vp3 by our own reader."""

from __future__ import annotations

import io
from collections.abc import Iterable
from functools import cache
from itertools import chain
from typing import Any

import numpy as np
import pyembroidery
from pyembroidery.EmbPattern import EmbPattern

from festoon.stitches import vp3
from festoon.stitches.building import STAND_INS, built
from festoon.stitches.commands import Command, waits
from festoon.stitches.stitching import Stitching
from festoon.stitches.thread import Thread

_LIBRARY: Any = pyembroidery

_SETTINGS = {"jef": {"trims": True}}
"""jef cuts by moves to nowhere, as dst does by moves that come back."""


@cache
def readers() -> dict[str, Any]:
    """The library's reader of every suffix (lower case, no dot) whose files hold stitches."""
    found: dict[str, Any] = {}
    for kind in _LIBRARY.supported_formats():
        if kind.get("reader") is None or kind.get("category") == "color":
            continue
        suffixes = kind["extensions"]
        for suffix in (suffixes,) if isinstance(suffixes, str) else suffixes:
            found.setdefault(suffix.lstrip("."), kind["reader"])
    return found


def decode(data: bytes, suffix: str) -> Stitching:
    """What the bytes of a file of this suffix hold; any exception at all where they are not what they should be."""
    if suffix == "vp3":
        return vp3.read(data)
    pattern = _Plain()
    reader = readers()[suffix]
    stream: Any = io.BytesIO(data)
    if getattr(reader, "READ_FILE_IN_TEXT_MODE", False):
        stream = io.StringIO(data.decode("utf-8"), newline="")
    reader.read(stream, pattern, _SETTINGS.get(suffix))
    return _stitching(pattern)


class _Plain(EmbPattern):
    """The library's pattern without its second thoughts: repeated colours stay, jumps stay, no colour is random."""

    def __init__(self) -> None:
        super().__init__()  # type: ignore[no-untyped-call]
        self.jumps_for_trim: int | None = None
        self.distance_for_trim: float | None = None

    def interpolate_duplicate_color_as_stop(self) -> None:
        """Leave a change between equal threads a change: the machine waits at it all the same."""

    def interpolate_trims(
        self,
        jumps_to_require_trim: int | None = None,
        distance_to_require_trim: float | None = None,
        clipping: bool = True,
    ) -> None:
        """Keep what the format's reader takes for a cut; `built` applies it."""
        self.jumps_for_trim = jumps_to_require_trim
        self.distance_for_trim = distance_to_require_trim

    def add_thread(self, thread: Any) -> None:
        """Take a thread, or a stand-in where the file has none and the library would draw lots."""
        if isinstance(thread, dict) and thread.get("color") == "random":
            thread = int(STAND_INS[len(self.threadlist) % len(STAND_INS)].colour[1:], 16)
        super().add_thread(thread)  # type: ignore[no-untyped-call]


def _stitching(pattern: _Plain) -> Stitching:
    orders = np.fromiter(chain.from_iterable(pattern.stitches), np.float64).reshape(-1, 3)
    flags = orders[:, 2].astype(np.int64) & _LIBRARY.COMMAND_MASK
    orders[:, 2] = _COMMANDS[flags]
    orders = orders[np.logical_and.accumulate(flags != _LIBRARY.END) & (orders[:, 2] != _UNKNOWN)]
    # the library gives (0, 0) to commands without a place; any other place, the needle goes to
    there = np.flatnonzero(waits(orders) & orders[:, :2].any(axis=1))
    moves = np.column_stack([orders[there, :2], np.full(len(there), Command.MOVE)])
    orders = np.insert(orders, there, moves, axis=0)
    return built(orders, _threads(pattern.threadlist), pattern.jumps_for_trim, pattern.distance_for_trim)


_UNKNOWN = -1
_COMMANDS = np.full(_LIBRARY.COMMAND_MASK + 1, _UNKNOWN)
_COMMANDS[[_LIBRARY.STITCH, _LIBRARY.SEW_TO, _LIBRARY.NEEDLE_AT]] = Command.STITCH
_COMMANDS[[_LIBRARY.JUMP, _LIBRARY.SEQUIN_EJECT]] = Command.MOVE
_COMMANDS[_LIBRARY.TRIM] = Command.TRIM
_COMMANDS[_LIBRARY.STOP] = Command.STOP
_COMMANDS[[_LIBRARY.COLOR_CHANGE, _LIBRARY.COLOR_BREAK]] = Command.CHANGE
_COMMANDS[_LIBRARY.NEEDLE_SET] = Command.CHOICE


def _threads(found: Iterable[Any]) -> list[Thread]:
    return [Thread(f"#{thread.color & 0xFFFFFF:06x}") for thread in found if thread is not None]
