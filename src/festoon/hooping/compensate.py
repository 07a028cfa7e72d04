"""Stitching widened beforehand by what it will draw the cloth in, where that was measured."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from festoon.piece.bench import Measured
from festoon.plane.pose import Points
from festoon.stitches import Stitching

Matrix = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Widening:
    """How a block was widened: stretched about `about` (mm on the panel) by the symmetric matrix `by` (2, 2)."""

    about: tuple[float, float]
    by: Matrix

    def of(self, points: Points) -> Points:
        """Points (n, 2) of the block as drawn -> as they are sewn."""
        middle = np.array(self.about)
        widened: Points = middle + (points - middle) @ self.by
        return widened

    def sewn(self, block: Stitching) -> Stitching:
        """The block as it is sewn: records keep their number, order, acts and threads."""
        return Stitching(self.of(block.points), block.acts, block.thread, block.threads)


def draw_in_known(measured: Measured) -> bool:
    """Whether the worker measured that her stitching draws in at all."""
    return bool(measured.drawn_along or measured.drawn_across)


def widening(block: Stitching, measured: Measured) -> Widening | None:
    """What gives the block back its size once its own stitches have drawn it in; None where it lays no thread.

    Stretched by 1/(1 - drawn_along) along the stitches and 1/(1 - drawn_across) across them, each only where it was
    measured, never by a rule of thumb. Stitches that run several ways share: with their direction tensor D the stretch
    is along·D + across·(1 - D). Where all run one way that is the plain stretch along and across; where they run all
    ways alike it is the mean of the two. The figures are those of satin and fill: running stitch hardly draws in.

    It is stretched about the middle of its own bounds, for stitching draws the cloth towards the middle of itself. A
    piece of a divided part, too: each comes back to just where it was drawn, and so do the edges of the cut between
    them. Were both stretched about the middle of the part, they would be pushed apart by it, and stay apart.
    """
    direction = direction_tensor(block)
    if direction is None:
        return None
    along, across = (1.0 / (1.0 - (share or 0.0)) for share in (measured.drawn_along, measured.drawn_across))
    return Widening(block.centre, along * direction + across * (np.eye(2) - direction))


def direction_tensor(block: Stitching) -> Matrix | None:
    """(2, 2) mean of u·uᵀ over the laid stitches' unit directions u, weighted by length; None where none is laid.

    Symmetric, of trace 1, as fibre science has it: all stitches along one unit vector v give v·vᵀ, all ways alike
    give half the unit matrix.
    """
    i = block.laid()
    way = block.points[i] - block.points[i - 1]
    length = np.hypot(way[:, 0], way[:, 1])
    total = float(length.sum())
    if total == 0.0:
        return None
    moved = length > 0
    weighted = way[moved] / length[moved, None]
    tensor: Matrix = np.einsum("ni,nj,n->ij", weighted, weighted, length[moved]) / total
    return tensor
