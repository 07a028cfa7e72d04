"""All stitching of a layout as one run of bytes, so that it travels to the screen once and without text.

Little-endian: the four letters FSTN; u32 version; u32 count; count pairs of float32 x, y (mm on the panel); count u8 of
what the needle does (0 stitch, 1 move, 2 trim, 3 stop); count u8 of the thread, an index into the part's threads. Parts
lie one after another, bottom first, as the piece told counts them.
"""

from __future__ import annotations

import struct

import numpy as np

from festoon.layout import Layout
from festoon.stitches import Stitching, Thread

MAGIC, VERSION = b"FSTN", 1
HEADER = struct.Struct("<4sII")
MOST_THREADS = 256
"""Threads of one part that a byte tells apart; any beyond share the last."""


def thread_data(layout: Layout) -> bytes:
    """The stitching of every part of the layout, in the form above."""
    every = [p.stitching for work in layout.works for p in work.parts]
    points = np.concatenate([np.zeros((0, 2)), *(s.points for s in every)]).astype("<f4")
    acts = np.concatenate([np.zeros(0, np.uint8), *(s.acts for s in every)])
    threads = np.concatenate([np.zeros(0, np.uint8), *(_threads(s) for s in every)])
    return HEADER.pack(MAGIC, VERSION, len(points)) + points.tobytes() + acts.tobytes() + threads.tobytes()


def distinct(stitching: Stitching) -> tuple[Thread, ...]:
    """The threads of a stitching, each once, in the order of first use."""
    return tuple(dict.fromkeys(stitching.threads))[:MOST_THREADS]


def _threads(stitching: Stitching) -> np.ndarray[tuple[int], np.dtype[np.uint8]]:
    number = {thread: n for n, thread in enumerate(distinct(stitching))}
    of_block = np.array([number.get(t, MOST_THREADS - 1) for t in stitching.threads], np.uint8)
    return np.asarray(of_block[stitching.thread], np.uint8)
