"""A needle check: the machine goes to marks on the cloth and waits at each, before it sews."""

from __future__ import annotations

import numpy as np

from festoon.plane.pose import Points
from festoon.stitches.stitching import Act, Stitching
from festoon.stitches.thread import Thread

PEN = Thread("#2b5fc8")
"""Stands for the washable pen in machine files: a machine that names its threads shows blue at each mark."""


def needle_check(marks: Points) -> Stitching:
    """A move to each mark and a stop there, without a penetration; marks of shape (n, 2), mm.

    Each mark is a thread block of its own, because that is how all five formats make a machine wait. Put it before
    the sewing with `joined([needle_check(marks), sewing], trim=False)`.
    """
    places = np.asarray(marks, dtype=np.float64).reshape(-1, 2)
    n = len(places)
    acts = np.tile(np.array([Act.MOVE, Act.STOP], np.uint8), n)
    return Stitching(np.repeat(places, 2, axis=0), acts, np.repeat(np.arange(n, dtype=np.int32), 2), (PEN,) * n)
