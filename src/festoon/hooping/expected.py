"""How far from its place each stitch of a hooping is predicted to land."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from festoon.hooping.values import Block, ExpectedError, Mark
from festoon.plane.pose import Points, Pose
from festoon.registration import CONFIDENCE, PlacingModel, covariance_radius, stitch_covariance
from festoon.registration.covariance import Matrices


def expected_error(marks: Sequence[Mark], blocks: Sequence[Block], field: Pose, model: PlacingModel) -> ExpectedError:
    """The placing error at the worst hole of a hooping whose field lies at `field`; see `hole_covariances`."""
    holes = np.concatenate([b.stitching.holes for b in blocks])
    covariances = hole_covariances(marks, blocks, field, model)
    squares = np.trace(covariances, axis1=1, axis2=2)
    worst = int(np.argmax(squares))
    x, y = holes[worst].tolist()
    radius = covariance_radius(covariances[worst], CONFIDENCE)
    return ExpectedError((x, y), radius, CONFIDENCE, math.sqrt(squares[worst]), math.sqrt(float(squares.mean())))


def hole_covariances(marks: Sequence[Mark], blocks: Sequence[Block], field: Pose, model: PlacingModel) -> Matrices:
    """(n, 2, 2) mm2 of where each hole of the blocks, one after the other, lands.

    By all parts of the placing error: the crosses', the hooping's own shift and turn, and the draw-in of each block
    towards its middle, along and across its stitches (`registration.stitch_covariance`).
    """
    at = [m.at for m in marks]
    return np.concatenate(
        [
            stitch_covariance(model, at, field.shift, b.stitching.holes, stitch_direction(b), reach(b))
            for b in blocks
            if b.stitching.stitch_count
        ]
    )


def reach(block: Block) -> Points:
    """(n, 2) mm of each hole from the block's middle, towards which its stitching draws the cloth."""
    holes = block.stitching.holes
    away: Points = holes - holes.mean(axis=0)
    return away


def stitch_direction(block: Block) -> Points:
    """Unit vector (2,) along which most thread of a block is laid; any where it is laid all ways alike."""
    i = block.stitching.laid()
    d = block.stitching.points[i] - block.stitching.points[i - 1]
    length = np.hypot(*d.T)
    kept = length > 0
    ways = d[kept] / np.sqrt(length[kept])[:, None]
    direction: Points = np.linalg.eigh(ways.T @ ways)[1][:, -1]
    return direction
