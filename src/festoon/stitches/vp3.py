"""The vp3 file: thread blocks that each begin at a place of their own, and stitches from there.

Both ways are ours, because the library's reader loses a block's place when it lies on an axis and its writer starts
the first block in the middle. The layout follows the library's source. vp3 has no moves: the needle goes from one
penetration straight to the next. So a move before the first stitch of a block becomes the place where the block
begins, later moves fall away, and a stop away from the last penetration is a block of its own without a stitch.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from dataclasses import dataclass, field

from festoon.errors import StitchFileError
from festoon.stitches.building import Builder
from festoon.stitches.commands import WAITS, Command, Order, Programme, merged
from festoon.stitches.stitching import Stitching
from festoon.stitches.thread import Thread

MAGIC = b"%vsm%\0"
MOST_BLOCKS = 255
REACH = 32767

_SHORT = 127
_NOTE = " " * 27
"""The header names the program that wrote the file; ours is left blank, at the usual length."""


@dataclass(slots=True)
class _Block:
    start: tuple[int, int]
    thread: Thread
    orders: list[Order] = field(default_factory=list)

    @property
    def end(self) -> tuple[int, int]:
        stitches = [o for o in self.orders if o.command == Command.STITCH]
        return (stitches[-1].x, stitches[-1].y) if stitches else self.start


def kept(told: Programme) -> Programme:
    """What vp3 keeps of the orders: see the head of this module."""
    held: list[Order] = []
    threads = list(told.threads[:1])
    place, sewn = (0, 0), False
    pending: Order | None = None
    block = 0
    for order in told.orders:
        if order.command == Command.MOVE:
            pending = order
            continue
        if order.command == Command.STOP and pending:
            if sewn:
                held.append(Order(Command.STOP, *place))
                threads.append(told.threads[block])
            held.append(pending)
            pending, place = None, (order.x, order.y)
        if order.command == Command.STITCH:
            if pending and not sewn:
                held.append(pending)
            pending, place, sewn = None, (order.x, order.y), True
        elif order.command in WAITS:
            block += 1
            threads.append(told.threads[block])
            sewn = False
        held.append(Order(order.command, *place))
    return Programme(tuple(merged(held)), tuple(threads))


def write(told: Programme) -> bytes:
    """The file's bytes for orders already `kept`; one thread a block."""
    blocks = _blocks(told)
    if len(blocks) > MOST_BLOCKS:
        raise StitchFileError(
            f"it has {len(blocks)} thread blocks and stops, and a vp3 file holds {MOST_BLOCKS}.",
            remedy="Divide the stitching, or write another format.",
        )
    half_x = max((abs(o.x) for o in told.orders), default=0)
    half_y = max((abs(o.y) for o in told.orders), default=0)
    count = sum(len(b.orders) for b in blocks)
    design = _design(blocks, half_x, half_y)
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
    builder = Builder()
    threads = []
    for block in range(cursor.u16()):
        if block:
            builder.change()
        threads.append(_read_block(cursor, builder, centre_x, centre_y))
    return builder.stitching(threads)


def _blocks(told: Programme) -> list[_Block]:
    threads = iter(told.threads)
    at = (0, 0)
    blocks: list[_Block] = [_Block(at, next(threads, Thread()))]
    for order in told.orders:
        if order.command in WAITS:
            blocks.append(_Block(at, next(threads)))
        elif order.command == Command.MOVE:
            blocks[-1].start = (order.x, order.y)
        else:
            blocks[-1].orders.append(order)
        at = (order.x, order.y)
    return blocks


def _design(blocks: Sequence[_Block], half_x: int, half_y: int) -> bytes:
    body = struct.pack(">2i3x", 0, 0)  # the middle of the design is the middle of the field
    body += struct.pack(">4i", -half_x * 100, half_x * 100, -half_y * 100, half_y * 100)
    body += struct.pack(">2i", half_x * 200, half_y * 200) + _wide("")
    body += b"dd" + struct.pack(">4i", 4096, 0, 0, 4096) + b"xxPP\x01\x00" + _wide(_NOTE)
    body += struct.pack(">H", len(blocks)) + b"".join(_block(b) for b in blocks)
    return _measured(b"\x00\x03\x00", body)


def _block(block: _Block) -> bytes:
    (x0, y0), (x1, y1) = block.start, block.end
    body = struct.pack(">2i", x0 * 100, -y0 * 100) + _thread(block.thread)
    body += struct.pack(">2i", (x1 - x0) * 100, -(y1 - y0) * 100)
    stitches = b"\x0a\xf6\x00"
    x, y = block.start
    for order in block.orders:
        stitches += b"\x80\x03" if order.command == Command.TRIM else _way(order.x - x, order.y - y)
        x, y = order.x, order.y
    return _measured(b"\x00\x05\x00", body + _measured(b"\x00\x01\x00", stitches) + b"\x00")


def _way(dx: int, dy: int) -> bytes:
    if max(abs(dx), abs(dy)) <= _SHORT:
        return struct.pack(">2b", dx, dy)
    return b"\x80\x01" + struct.pack(">2h", dx, dy) + b"\x80\x02"


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


def _read_block(cursor: _Cursor, builder: Builder, centre_x: int, centre_y: int) -> Thread:
    cursor.skip(3)
    length = cursor.i32()
    end = cursor.at + length
    if length < 0:
        raise StitchFileError("its thread blocks are damaged.", remedy="Copy it again from where you bought it.")
    start = cursor.at
    cursor.skip(length)  # all of the block must be there
    cursor.at = start
    x, y = (cursor.i32() + centre_x) / 100, (-cursor.i32() + centre_y) / 100
    thread = _read_thread(cursor)
    cursor.skip(18)
    builder.move(x / 10, y / 10)
    code = cursor.data[cursor.at : end]
    cursor.at = end
    _read_stitches(code, builder, x, y)
    return thread


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


def _read_stitches(code: bytes, builder: Builder, x: float, y: float) -> None:
    i = 0
    while i < len(code) - 1:
        first, second = struct.unpack_from(">2b", code, i)
        i += 2
        if first != -128:
            dx, dy = first, second
        elif second == 1:
            dx, dy = struct.unpack_from(">2h", code, i)
            i += 6  # the way, and the two bytes that close it
        else:
            if second == 3:
                builder.trim()
            continue
        x, y = x + dx, y + dy
        builder.stitch(x / 10, y / 10)
