"""The sprig of a new piece, drawn and laid here: a stem, four leaves and a blossom of five petals."""

from __future__ import annotations

import numpy as np

from festoon.plane import Pose, through
from festoon.stitches import Stitching, Thread, joined
from festoon.stitches.lay import bean, lock, satin_between

LEAF, ROSE, GOLD = Thread("#66845f"), Thread("#c9808c"), Thread("#d8a848")

_LEAVES = (Pose(-0.6, 9, -62), Pose(0.6, 6, 62), Pose(-0.4, 1, -48), Pose(0.4, -1, 54))
"""Where each leaf grows, and its turn from upright."""
_BLOSSOM = (0.0, -11.0)
_PETALS = 5
_HEART = 2.2
"""mm, radius of the blossom's middle."""
_OPEN = 1.6
"""mm from the blossom's middle to where petals begin, so that nothing heaps up under it."""


def sprig() -> Stitching:
    """About 21 mm wide and 33 mm high, three threads, its own middle near (0, 0)."""
    stem = bean(through([(0, 16), (-0.8, 8), (0, 0), (0, _BLOSSOM[1] + _OPEN)]), thread=LEAF)
    leaves = [_blade(pose, 10.5, 2.3, LEAF) for pose in _LEAVES]
    petals = [_blade(_foot(360 / _PETALS * i), 8.0 - _OPEN, 2.6, ROSE) for i in range(_PETALS)]
    heart = _disc(Pose(*_BLOSSOM, 45), _HEART, GOLD)
    return joined(lock(part) for part in (stem, *leaves, *petals, heart))


def _foot(turn: float) -> Pose:
    """Where a petal begins."""
    x, y = Pose(*_BLOSSOM, turn).apply([0.0, -_OPEN]).tolist()
    return Pose(x, y, turn)


def _blade(pose: Pose, length: float, half: float, thread: Thread) -> Stitching:
    """A leaf or petal: upright from its foot at (0, 0), twice `half` wide at its widest, then carried by `pose`."""
    rise = np.array([0.0, 0.2, 0.55, 0.85, 1.0])
    swell = np.array([0.25, 0.7, 1.0, 0.6, 0.0]) * half
    left, right = (pose.apply(np.column_stack([side * swell, -length * rise])) for side in (-1, 1))
    return satin_between(left, right, thread=thread, underlay="centre")


def _disc(pose: Pose, radius: float, thread: Thread) -> Stitching:
    around = np.linspace(0.0, np.pi, 13)
    x, y = radius * np.sin(around), -radius * np.cos(around)
    left, right = (pose.apply(np.column_stack([side * x, y])) for side in (-1, 1))
    return satin_between(left, right, thread=thread)
