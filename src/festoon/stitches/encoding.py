"""Stitching -> bytes of a machine file, holding exactly its records; read back and compared before they are handed on.

The middle of the field is (0, 0) in every format: dst, exp and jef start there, and the extents that pes, jef and vp3
declare are equal on both sides of it, so that a machine that centres a design by its extents does not shift it.
"""

from __future__ import annotations

import io
import struct
from collections.abc import Callable
from typing import Any, Literal, get_args

import numpy as np
import pyembroidery
from pyembroidery import PecWriter, PesWriter
from pyembroidery.EmbPattern import EmbPattern
from pyembroidery.EmbThread import EmbThread

from festoon.errors import StitchFileError
from festoon.stitches import vp3
from festoon.stitches.commands import Command, Orders, Programme, merged, programme, waits, ways, within_reach
from festoon.stitches.decoding import decode
from festoon.stitches.stitching import Stitching
from festoon.stitches.thread import Thread

Format = Literal["dst", "exp", "pes", "jef", "vp3"]
FORMATS: tuple[Format, ...] = get_args(Format)

REACH: dict[str, int] = {"dst": 121, "exp": 127, "pes": 2047, "jef": 127, "vp3": vp3.REACH}
"""How far one record reaches on an axis, 0.1 mm: dst as openly documented; the others from their field widths."""

LABEL = "Festoon"
"""The design's label inside dst and pes."""

MOST_CHANGES = {"pes": 254, "dst": 999}
"""Thread changes and stops that the header's count holds (three digits in dst, as openly documented; a byte in pes)."""

_TRIM_JUMPS = 3
_LIBRARY: Any = pyembroidery
_FIXED_DATE = "20000101000000"


def encode(stitching: Stitching, format: Format) -> bytes:
    """The bytes of a machine file, the same for the same stitching.

    Points are rounded to 0.1 mm first. Long ways are cut into moves; no penetration is added, lost or doubled. A stop
    is written as a change to the same thread, since that is where every machine waits. dst and exp hold no colours,
    jef the nearest of its own palette, vp3 no moves between stitches (see `vp3`). Cuts: exp and vp3 hold
    them; pes as a move that cuts; dst and jef as three moves that come back to their start.

    Raises StitchFileError, naming record and value, for what the format cannot hold, and if what was written does not
    read back the same.
    """
    if format not in FORMATS:
        raise StitchFileError(f"'{format}' cannot be written.", remedy=f"Choose one of {', '.join(FORMATS)}.")
    if not stitching.stitch_count:
        raise StitchFileError("it holds no stitches, so there is no file to write.")
    told = programme(stitching)
    told = vp3.kept(told) if format == "vp3" else Programme(within_reach(told.orders, REACH[format]), told.threads)
    _check_changes(told, format)
    data = vp3.write(told) if format == "vp3" else _WRITERS[format](told)
    _check_same(told, programme(decode(data, format)), format)
    return data


class _Laid(EmbPattern):
    """The library's pattern holding orders just as they are, and declaring the extents that it is given."""

    def __init__(self, told: Programme, extents: tuple[int, int, int, int]) -> None:
        super().__init__()  # type: ignore[no-untyped-call]
        self._extents = extents
        self.stitches = _laid(told.orders)
        self._records = len(self.stitches) - 1 + (_TRIM_JUMPS - 1) * int((told.orders[:, 2] == Command.TRIM).sum())
        self.threadlist = [_thread(t) for t in told.threads]
        self.extras["name"] = LABEL

    def bounds(self) -> tuple[int, int, int, int]:
        """(left, top, right, bottom), 0.1 mm."""
        return self._extents

    def count_stitches(self) -> int:
        """Records before the end mark; a cut takes three."""
        return self._records


def _thread(thread: Thread) -> Any:
    """Its colour and plain name, and nothing of makers, charts or numbers."""
    made: Any = EmbThread
    return made(int(thread.colour[1:], 16), description=thread.name)


_CODES = np.empty(len(Command), int)
_CODES[Command.STITCH] = _LIBRARY.STITCH
_CODES[Command.MOVE] = _LIBRARY.JUMP
_CODES[Command.TRIM] = _LIBRARY.TRIM
_CODES[[Command.STOP, Command.CHANGE]] = _LIBRARY.COLOR_CHANGE


def _laid(orders: Orders) -> list[tuple[int, ...]]:
    """The library's stitches: no wait first, since its writers count threads from the first order, and the end mark."""
    codes = np.column_stack([orders[:, :2], _CODES[orders[:, 2]]])
    opening = [(0, 0, _LIBRARY.JUMP)] if waits(orders[:1]).any() else []
    return [*opening, *zip(*codes.T.tolist(), strict=True), (*codes[-1, :2].tolist(), _LIBRARY.END)]


def _even(told: Programme) -> tuple[int, int, int, int]:
    """Extents as far to one side of the middle as to the other."""
    x, y = np.abs(told.orders[:, :2]).max(axis=0, initial=1).tolist()
    return -x, -y, x, y


def _write_dst(told: Programme) -> bytes:
    """The extents of dst are counted from the start, upwards: the library hands them on the other way round."""
    left, top = told.orders[:, :2].min(axis=0, initial=0).tolist()
    right, bottom = told.orders[:, :2].max(axis=0, initial=0).tolist()
    stream = io.BytesIO()
    pattern = _Laid(told, (left, -bottom, right, -top))
    _LIBRARY.EmbPattern.write_dst(pattern, stream, {"encode": False, "trim_at": _TRIM_JUMPS})
    return stream.getvalue()


def _write_exp(told: Programme) -> bytes:
    stream = io.BytesIO()
    _LIBRARY.EmbPattern.write_exp(_Laid(told, _even(told)), stream, {"encode": False})
    return stream.getvalue()


def _write_jef(told: Programme) -> bytes:
    settings = {"encode": False, "trims": True, "trim_at": _TRIM_JUMPS, "date": _FIXED_DATE}
    stream = io.BytesIO()
    _LIBRARY.EmbPattern.write_jef(_Laid(told, _even(told)), stream, settings)
    return stream.getvalue()


def _write_pes(told: Programme) -> bytes:
    """Version 6 without the drawing for a computer's screen: machines sew from the second half, with true colours.

    The stitches are written here, because the library adds a penetration where moves end.
    """
    pattern: Any = _Laid(told, _even(told))
    writer: Any = PesWriter
    pec: Any = PecWriter
    stream = io.BytesIO()
    stream.write(b"#PES0060\0\0\0\0")
    writer.write_pes_header_v6(pattern, stream, pattern.threadlist, 0)
    stream.write(bytes(9))
    start = stream.tell()
    colours = pec.write_pec_header(pattern, stream, pattern.threadlist)
    stream.write(_pec_block(told))
    pec.write_pec_graphics(pattern, stream, pattern.bounds())
    writer.write_pes_addendum(stream, colours)
    stream.write(bytes(2))
    stream.seek(8)
    stream.write(struct.pack("<I", start))
    return stream.getvalue()


def _pec_block(told: Programme) -> bytes:
    left, top, right, bottom = _even(told)
    stitches = _pec_stitches(told.orders) + b"\xff"
    head = b"\x31\xff\xf0" + struct.pack("<4H", right - left, bottom - top, 0x1E0, 0x1B0)
    return b"\0\0" + (len(head) + len(stitches) + 5).to_bytes(3, "little") + head + stitches


_PEC_MOVE, _PEC_CUT = 0x10, 0x20


def _pec_stitches(orders: Orders) -> bytes:
    """Two bytes for a short way on an axis or four for a long one; the move after a cut cuts, or one to nowhere."""
    command, way = orders[:, 2], ways(orders)
    waiting, sewn, cut = waits(orders), command == Command.STITCH, command == Command.TRIM
    moved = np.append(False, cut)[:-1] & (command == Command.MOVE)  # and cuts
    flag = np.select([cut | moved, command == Command.MOVE], [_PEC_CUT, _PEC_MOVE])
    long = ~sewn[:, None] | (way <= -64) | (way >= 63)
    word = np.where(long, 0x8000 | flag[:, None] << 8 | way & 0xFFF, way & 0x7F)
    code = np.stack([word >> 8, word & 0xFF], axis=2).reshape(-1, 4)
    used = np.repeat(long, 2, axis=1) | np.array([False, True] * 2)
    code[waiting, :2] = 0xFE, 0xB0
    code[waiting, 2] = 2 - np.arange(waiting.sum()) % 2
    used[waiting, 3] = False
    used[np.append(moved, False)[1:]] = False
    return bytes(code[used].astype(np.uint8))


_WRITERS: dict[str, Callable[[Programme], bytes]] = {
    "dst": _write_dst,
    "exp": _write_exp,
    "pes": _write_pes,
    "jef": _write_jef,
}


def _check_changes(told: Programme, format: str) -> None:
    changes, most = len(told.threads) - 1, MOST_CHANGES.get(format)
    if most is not None and changes > most:
        raise StitchFileError(
            f"it has {changes} thread changes and stops, and a {format} file holds {most}.",
            remedy="Divide the stitching, or write another format.",
        )


def _check_same(told: Programme, back: Programme, format: str) -> None:
    """Every penetration, move and wait at its place, every cut; moves taken for cuts in dst and jef are no loss."""
    sent, got = _story(told), _story(back)
    both = min(len(sent), len(got))
    wrong = np.flatnonzero((sent[:both] != got[:both]).any(axis=1))
    if len(wrong):
        k = int(wrong[0])
        raise StitchFileError(f"order {k + 1}, {_told(sent[k])}, reads back from {format} as {_told(got[k])}.")
    if len(sent) != len(got) or not np.isin(_cuts(told), _cuts(back)).all():
        raise StitchFileError(f"{len(sent)} orders read back from {format} as {len(got)}.")


def _told(order: Orders) -> str:
    x, y, command = order.tolist()
    return f"{Command(command).name.lower()} at ({x / 10:g}, {y / 10:g}) mm"


def _story(told: Programme) -> Orders:
    """Without cuts, and with stops as the changes that they are in the file."""
    plain = merged(told.orders[told.orders[:, 2] != Command.TRIM])
    plain[waits(plain), 2] = Command.CHANGE
    return plain


def _cuts(told: Programme) -> Orders:
    """How many penetrations lie before each cut."""
    command = told.orders[:, 2]
    return np.asarray(np.cumsum(command == Command.STITCH)[command == Command.TRIM])
