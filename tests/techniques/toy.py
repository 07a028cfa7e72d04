"""A made-up panel and made-up motifs, small enough to reckon in the head."""

import difflib
import functools

import numpy as np
from shapely import box
from shapely.affinity import affine_transform

from festoon.errors import PieceError
from festoon.plane import Pose, from_svg
from festoon.stitches import Thread, from_points, joined, stitched_region
from festoon.stitches.lay import fill
from festoon.techniques import Setting
from festoon.work import Part

RED, BLUE = Thread("#c8412f"), Thread("#2b5fc8", 40.0)
THREADS = {"red": RED, "blue": BLUE}

LETTER_F = joined(
    [
        from_points([[2, 18], [2, 10], [2, 2], [7, 2], [12, 2]], RED),
        from_points([[2, 10], [8, 10]], BLUE),
    ]
)
"""10 mm wide, 16 mm tall, its middle at (7, 10): nothing of it mirrors or turns into itself."""

LINES = {
    "hem": "M 20 200 H 280",
    "wave": "M 20 200 C 100 120 200 280 280 200",
    "corner": "M 20 60 H 220 V 260",
    "square": "M 50 50 H 250 V 250 H 50 Z",
    "round": "M 150 50 A 100 100 0 0 1 150 250 A 100 100 0 0 1 150 50 Z",
    "shortest": "M 100 100 h 1",
}


def thread(name):
    """The thread of that name; the first for no name."""
    if name in THREADS or not name:
        return THREADS[name or "red"]
    near = difflib.get_close_matches(name, THREADS, n=1)
    raise PieceError(f'there is no thread called "{name}" on the bench.', remedy=f"Did you mean {near}?")


def setting(*parts, motif=LETTER_F, size=(300.0, 300.0), loops=(), **lines):
    """A panel with LINES (or others), those in `loops` closing in a seam, and the parts already on it."""
    named = {n: from_svg(d) for n, d in (lines or LINES).items()}
    standing = {p.name: p for p in parts}
    return Setting("front", box(0, 0, *size), named, standing, lambda file: motif, thread, frozenset(loops))


@functools.cache
def _filled(w, h):
    laid = fill(box(-w / 2, -h / 2, w / 2, h / 2), angle=0, thread=BLUE)
    return laid, stitched_region(laid)


def patch(name, x, y, turn=0.0, mirrored=False, size=(20.0, 10.0), element=None):
    """A part: a filled rectangle about its own (0, 0), standing at (x, y)."""
    laid, region = _filled(*size)
    pose = Pose(x, y, turn, mirrored)
    area = affine_transform(region, pose.affine)
    return Part(name, element or name, "front", laid.placed(pose), area, ((0, area),), pose)


def same(a, b):
    """Whether two stitchings are equal to the last bit."""
    return (
        np.array_equal(a.points, b.points)
        and np.array_equal(a.acts, b.acts)
        and np.array_equal(a.thread, b.thread)
        and a.threads == b.threads
    )
