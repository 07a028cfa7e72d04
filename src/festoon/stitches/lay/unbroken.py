"""Several pieces of one thread sewn as one run, with no cut between them."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from festoon.errors import PieceError
from festoon.plane import Points, polyline
from festoon.stitches.lay.lock import lock
from festoon.stitches.lay.run import run
from festoon.stitches.stitching import Stitching, from_points

NEAREST = 0.5
"""mm between one hole and the next; nearer ones cut the cloth (common practice)."""

TRAVEL = 2.6
"""mm, stitch length of a run that lies hidden underneath (common practice)."""


def unbroken(pieces: Iterable[Stitching], travel: float = TRAVEL) -> Stitching:
    """One uncut run through all pieces, locked at both ends; it runs underneath from the end of each to the next.

    The thread is the last piece's. Holes nearer than `NEAREST` to the one before are left out, the first and last
    stay. travel: stitch length of the ways between, mm. PieceError without a piece.
    """
    given = list(pieces)
    if not given:
        raise PieceError("There is nothing to sew in one run.")
    thread = given[-1].threads[0]
    holes: list[Points] = []
    for piece in given:
        if holes and math.dist(holes[-1][-1], piece.points[0]) > NEAREST:
            holes.append(run(polyline([holes[-1][-1], piece.points[0]]), travel, thread=thread).points[1:-1])
        holes.append(piece.holes)
    return lock(from_points(_apart(np.concatenate(holes)), thread))


def _apart(holes: Points) -> Points:
    kept = [0]
    for k in range(1, len(holes)):
        if math.dist(holes[kept[-1]], holes[k]) >= NEAREST:
            kept.append(k)
    kept[-1] = len(holes) - 1
    return holes[kept]
