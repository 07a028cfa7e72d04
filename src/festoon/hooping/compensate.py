"""Stitching widened beforehand by what it will draw the cloth in, where that was measured."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from festoon.piece.bench import Measured
from festoon.plane.pose import Points
from festoon.stitches import Stitching

Matrix = NDArray[np.float64]


def compensated(block: Stitching, measured: Measured) -> Stitching:
    """The block stretched about the middle of its bounds by what its own stitches will draw in; else unchanged.

    1/(1 - drawn_along) along the stitches and 1/(1 - drawn_across) across them, each only where it was measured,
    never by a rule of thumb. Stitches that run several ways share: with the mean D of u·uᵀ over the stitches'
    directions u, weighted by their lengths (the direction tensor, as fibre science has it), the block is stretched by
    the matrix along·D + across·(1 - D). Where all run one way that is the plain stretch along and across; where they
    run all ways alike it is the mean of the two. Records keep their number, order, acts and threads.

    The figures are those of fill and satin. A running stitch hardly draws in at all and should be left out.
    """
    along, across = (1.0 / (1.0 - (share or 0.0)) for share in (measured.drawn_along, measured.drawn_across))
    direction = direction_tensor(block)
    if direction is None:
        return block
    stretch = along * direction + across * (np.eye(2) - direction)
    middle = np.array(block.centre)
    points: Points = middle + (block.points - middle) @ stretch.T
    return Stitching(points, block.acts, block.thread, block.threads)


def direction_tensor(block: Stitching) -> Matrix | None:
    """(2, 2) mean of u·uᵀ over the laid stitches' unit directions u, weighted by length; None where none is laid.

    Symmetric, of trace 1: all stitches along one unit vector v give v·vᵀ, all ways alike give half the unit matrix.
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
