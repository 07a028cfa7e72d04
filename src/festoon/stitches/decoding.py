"""Bytes of a machine file -> Stitching, by way of the stitch-file library; vp3 by our own reader."""

from __future__ import annotations

import io
from collections.abc import Iterable
from functools import cache
from typing import Any

import pyembroidery
from pyembroidery.EmbPattern import EmbPattern

from festoon.stitches import vp3
from festoon.stitches.building import STAND_INS, Builder
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
        """Keep what the format's reader takes for a cut; `Builder` applies it."""
        self.jumps_for_trim = jumps_to_require_trim
        self.distance_for_trim = distance_to_require_trim

    def add_thread(self, thread: Any) -> None:
        """Take a thread, or a stand-in where the file has none and the library would draw lots."""
        if isinstance(thread, dict) and thread.get("color") == "random":
            thread = int(STAND_INS[len(self.threadlist) % len(STAND_INS)].colour[1:], 16)
        super().add_thread(thread)  # type: ignore[no-untyped-call]


def _stitching(pattern: _Plain) -> Stitching:
    builder = Builder(pattern.jumps_for_trim, pattern.distance_for_trim)
    for x, y, flags in pattern.stitches:
        command = flags & _LIBRARY.COMMAND_MASK
        x, y = x / 10, y / 10
        if command in _STITCHES:
            builder.stitch(x, y)
        elif command in _MOVES:
            builder.move(x, y)
        elif command == _LIBRARY.TRIM:
            builder.trim()
        elif command in _WAITS:
            if (x, y) != (0, 0):  # the library gives (0, 0) to commands without a place
                builder.move(x, y)
            builder.stop() if command == _LIBRARY.STOP else builder.change(first_counts=command != _LIBRARY.NEEDLE_SET)
        elif command == _LIBRARY.END:
            break
    return builder.stitching(_threads(pattern.threadlist))


_STITCHES = (_LIBRARY.STITCH, _LIBRARY.SEW_TO, _LIBRARY.NEEDLE_AT)
_MOVES = (_LIBRARY.JUMP, _LIBRARY.SEQUIN_EJECT)
_WAITS = (_LIBRARY.STOP, _LIBRARY.COLOR_CHANGE, _LIBRARY.COLOR_BREAK, _LIBRARY.NEEDLE_SET)


def _threads(found: Iterable[Any]) -> list[Thread]:
    return [Thread(f"#{thread.color & 0xFFFFFF:06x}") for thread in found if thread is not None]
