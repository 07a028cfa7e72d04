"""The vp3 file: thread blocks that each begin at a place of their own, and stitches from there.

Both ways are ours, because the library's reader loses a block's place when it lies on an axis and its writer starts
the first block in the middle. The layout follows the library's source. vp3 has no moves: the needle goes from one
penetration straight to the next. So a move before the first stitch of a block becomes the place where the block
begins, later moves fall away, and a stop away from the last penetration is a block of its own without a stitch.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from festoon.errors import StitchFileError
from festoon.stitches.building import built
from festoon.stitches.commands import Command, Orders, Programme, at_last, last, merged, waits
from festoon.stitches.pairs import MARK, heads, pairs_of
from festoon.stitches.stitching import Stitching
from festoon.stitches.thread import Thread

MAGIC = b"%vsm%\0"
MOST_BLOCKS = 255
REACH = 32767

_SHORT = 127
_LONG, _CUT = 1, 3
_NOTE = " " * 27
"""The header names the program that wrote the file; ours is left blank, at the usual length."""


def kept(told: Programme) -> Programme:
    """What vp3 keeps of the orders: see the head of this module."""
    orders, wait = told.orders, waits(told.orders)
    command = orders[:, 2]
    stop, still = command == Command.STOP, command != Command.MOVE
    placing = stop | (command == Command.STITCH)
    move = last(~still)
    moved = placing & (move > np.append(-1, last(placing))[:-1])
    sewn = np.append(-1, last(command == Command.STITCH))[:-1] > np.append(-1, last(wait))[:-1]
    # every row: an order, and the index of the thread on the needle after it
    rows = np.column_stack([at_last(placing, orders), command, np.cumsum(wait)])[still]
    parted = np.flatnonzero((moved & stop & sewn)[still])
    opened = np.flatnonzero((moved & (stop | ~sewn))[still])
    before = np.vstack([rows[parted - 1], rows[opened]])
    before[:, 2] = np.repeat([Command.STOP, Command.MOVE], [len(parted), len(opened)])
    before[len(parted) :, :2] = orders[move[still][opened], :2]
    rows = merged(np.insert(rows, np.concatenate([parted, opened]), before, axis=0))
    needle = [0, *rows[waits(rows), 3].tolist()]
    return Programme(rows[:, :3], tuple(told.threads[k] for k in needle))


def write(told: Programme) -> bytes:
    """The file's bytes for orders already `kept`; one thread a block."""
    blocks = _blocks(told)
    if len(blocks) > MOST_BLOCKS:
        raise StitchFileError(
            f"it has {len(blocks)} thread blocks and stops, and a vp3 file holds {MOST_BLOCKS}.",
            remedy="Divide the stitching, or write another format.",
        )
    half_x, half_y = np.abs(told.orders[:, :2]).max(axis=0, initial=0).tolist()
    count = sum(len(orders) - 1 for orders in blocks)
    design = _design(blocks, told.threads, half_x, half_y)
    body = _wide("") + struct.pack(">4i", half_x * 100, half_y * 100, -half_x * 100, -half_y * 100)
    body += struct.pack(">I5B", count, 0, len(blocks), 12, 0, 1) + design
    return MAGIC + _wide(_NOTE) + _measured(b"\x00\x02\x00", body)


def read(data: bytes) -> Stitching:
    """The stitching of the file's bytes; StitchFileError where they end too soon or are damaged."""
    cursor = _Cursor(data, len(MAGIC))
    cursor.skip(cursor.u16())
    cursor.skip(7)
    cursor.skip(cursor.u16())
    cursor.skip(32)
    centre_x, centre_y = cursor.i32(), -cursor.i32()
    cursor.skip(27)
    cursor.skip(cursor.u16())
    cursor.skip(24)
    cursor.skip(cursor.u16())
    orders: list[Orders] = [np.zeros((0, 3))]
    threads = []
    for block in range(cursor.u16()):
        thread, sewn = _read_block(cursor, centre_x, centre_y)
        threads.append(thread)
        orders += [np.array([[0.0, 0.0, Command.CHANGE]] * bool(block)).reshape(-1, 3), sewn]
    return built(np.concatenate(orders), threads)


def _blocks(told: Programme) -> list[Orders]:
    """The orders of every thread block: a move to where it begins, then stitches and cuts."""
    orders = np.vstack([[0, 0, Command.MOVE], told.orders])
    edges = waits(orders)
    orders[edges, 2] = Command.MOVE
    parts = np.split(orders, np.flatnonzero(edges))
    return [part[1:] if (part[1:2, 2] == Command.MOVE).any() else part for part in parts]


def _design(blocks: Sequence[Orders], threads: Sequence[Thread], half_x: int, half_y: int) -> bytes:
    body = struct.pack(">2i3x", 0, 0)  # the middle of the design is the middle of the field
    body += struct.pack(">4i", -half_x * 100, half_x * 100, -half_y * 100, half_y * 100)
    body += struct.pack(">2i", half_x * 200, half_y * 200) + _wide("")
    body += b"dd" + struct.pack(">4i", 4096, 0, 0, 4096) + b"xxPP\x01\x00" + _wide(_NOTE)
    body += struct.pack(">H", len(blocks)) + b"".join(map(_block, blocks, threads))
    return _measured(b"\x00\x03\x00", body)


def _block(orders: Orders, thread: Thread) -> bytes:
    (x0, y0), (x1, y1) = orders[[0, -1], :2].tolist()
    body = struct.pack(">2i", x0 * 100, -y0 * 100) + _thread(thread)
    body += struct.pack(">2i", (x1 - x0) * 100, -(y1 - y0) * 100)
    stitches = b"\x0a\xf6\x00" + _stitches(orders)
    return _measured(b"\x00\x05\x00", body + _measured(b"\x00\x01\x00", stitches) + b"\x00")


def _stitches(orders: Orders) -> bytes:
    """Two bytes for a cut or a short way, eight for a long one."""
    way = np.diff(orders[:, :2], axis=0)
    length = np.abs(way).max(axis=1)
    if (length > REACH).any():
        raise StitchFileError(
            f"a stitch is {length.max() / 10:g} mm long on one axis, and a vp3 file holds {REACH / 10:g} mm.",
            remedy="Place stitches between, or write another format.",
        )
    short = length <= _SHORT
    code = np.tile(np.array([MARK, _LONG, 0, 0, 0, 0, MARK, 2], np.uint8), (len(way), 1))
    code[:, 2:6] = way.astype(">i2").view(np.uint8)
    code[short, :2] = way[short].astype(np.int8).view(np.uint8)
    code[orders[1:, 2] == Command.TRIM, :2] = MARK, _CUT
    used = np.ones(code.shape, bool)
    used[short, 2:] = False
    return code[used].tobytes()


def _thread(thread: Thread) -> bytes:
    """One colour; no number, its plain name, no maker."""
    name = thread.name.encode("ascii")
    return b"\x01\x00" + bytes(thread.rgb) + b"\x00\x00\x00\x05\x28" + b"\x00\x00" + _counted(name) + b"\x00\x00"


def _wide(text: str) -> bytes:
    return _counted(text.encode("utf-16-be"))


def _counted(data: bytes) -> bytes:
    return struct.pack(">H", len(data)) + data


def _measured(mark: bytes, body: bytes) -> bytes:
    return mark + struct.pack(">I", len(body)) + body


class _Cursor:
    """Reads big-endian numbers and tells where the bytes ran out."""

    def __init__(self, data: bytes, at: int) -> None:
        self.data, self.at = data, at

    def take(self, count: int) -> bytes:
        if self.at + count > len(self.data):
            raise StitchFileError(
                f"the file ends too soon (byte {len(self.data):,} of at least {self.at + count:,}).",
                remedy="Copy it again from where you bought it.",
            )
        self.at += count
        return self.data[self.at - count : self.at]

    def skip(self, count: int) -> None:
        self.take(count)

    def u8(self) -> int:
        return self.take(1)[0]

    def u16(self) -> int:
        return int.from_bytes(self.take(2), "big")

    def i32(self) -> int:
        return int.from_bytes(self.take(4), "big", signed=True)


def _read_block(cursor: _Cursor, centre_x: int, centre_y: int) -> tuple[Thread, Orders]:
    cursor.skip(3)
    length = cursor.i32()
    end = cursor.at + length
    if length < 0:
        raise StitchFileError("its thread blocks are damaged.", remedy="Copy it again from where you bought it.")
    cursor.skip(length)  # all of the block must be there
    cursor.at -= length
    start = np.array([cursor.i32() + centre_x, -cursor.i32() + centre_y]) / 100
    thread = _read_thread(cursor)
    cursor.skip(18)
    code = cursor.data[cursor.at : end]
    cursor.at = end
    return thread, _read_stitches(code, start)


def _read_thread(cursor: _Cursor) -> Thread:
    colours = cursor.u8()
    cursor.skip(1)
    rgb = b"\0\0\0"
    for _ in range(colours):
        rgb = cursor.take(3)
        cursor.skip(3)
    cursor.skip(2)
    for _ in range(3):
        cursor.skip(cursor.u16())
    return Thread(f"#{rgb.hex()}")


def _read_stitches(code: bytes, start: NDArray[np.float64]) -> Orders:
    """A move to the start, then the stitches and cuts."""
    pairs = pairs_of(code)
    marked = pairs[:, 0] == MARK
    long = heads(np.flatnonzero(marked & (pairs[:, 1] == _LONG)), 4)
    sewn, cut = ~marked, marked & (pairs[:, 1] == _CUT)
    way = pairs.view(np.int8).astype(int)
    way[long] = pairs[long[:, None] + [1, 2]].view(">i2")[..., 0]
    sewn[long] = True
    within = (long[:, None] + [1, 2, 3]).ravel()
    within = within[within < len(pairs)]  # the two bytes that close the last one may be missing
    sewn[within] = cut[within] = False
    way[~sewn] = 0
    orders = np.column_stack([start + np.cumsum(way, axis=0), np.where(cut, Command.TRIM, Command.STITCH)])
    return np.vstack([[*start, Command.MOVE], orders[sewn | cut]])
