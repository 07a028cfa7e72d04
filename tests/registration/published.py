"""The published formula of the target registration error, in the plane and in space; covariances are held to it."""

import numpy as np


def target_error(marks, targets, fle):
    """Rms error (n,), mm, at each of targets (n, D) when marks (k, D) hold a thing; D is 2 or 3, k at least D.

    TRE² = FLE²/k · (1 + 1/D · the sum of d²/f²), with one term for each axis about which the thing can turn, where d
    is the target's distance from that axis and f the marks' rms distance from it. In space these are the marks' three
    principal axes; in the plane only the one that stands upright on the marks' centroid. FLE is a cross's rms error in
    all D directions together. Source: Fitzpatrick, West and Maurer, IEEE Transactions on Medical Imaging 17(5), 1998
    (from memory; checked by simulation in both dimensions).
    """
    around = np.asarray(marks, float) - np.mean(marks, axis=0)
    count = len(around)
    dimensions = around.shape[1]
    out = np.asarray(targets, float).reshape(-1, dimensions) - np.mean(marks, axis=0)
    if dimensions == 2:
        turning = np.einsum("ij,ij->i", out, out) * count / (around**2).sum()
    else:
        squares, axes = np.linalg.eigh(around.T @ around / count)
        levers = squares.sum() - squares
        turning = ((out @ axes) ** 2 @ (1.0 - np.eye(dimensions)) / levers).sum(axis=1)
    return fle * np.sqrt((1.0 + turning / dimensions) / count)
