"""Draws the gown's motif, motifs/snowdrops.vp3: two snowdrops that lean together over their leaves.

Run it as `python draw_motifs.py`, or with another folder to write to; it always writes the same bytes. It is light and
open, for lawn: one layer of stitching nearly everywhere, no stitch longer than 6 mm.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from festoon.plane import Pose, polyline, through
from festoon.stitches import Stitching, Thread, joined, write_stitches
from festoon.stitches.lay import run, satin, satin_between, unbroken
from festoon.stitches.lay.unbroken import TRAVEL

GREEN = Thread("#9db89a")
BLUE = Thread("#b7c7e2")

Floats = NDArray[np.float64]
Spot = tuple[float, float]

SPACING = 0.56
"""mm, hole to hole on one side of a column: open, for batiste, which many holes would cut."""


def leaf(tip: Spot, middle: Spot, foot: Spot) -> Stitching:
    """A narrow leaf through three points, sewn across from its tip to its foot."""
    return satin(through([tip, middle, foot]), _lance, SPACING, thread=GREEN, tip=1.0)


def _lance(f: Floats) -> Floats:
    """The width of a leaf, mm, from its tip (0) to its foot (1)."""
    width: Floats = 1.0 + 1.6 * np.sin(np.pi * f**0.95) ** 1.1
    return width


def stem(points: list[Spot]) -> list[Stitching]:
    """A thin stem from its foot: out as a run, back as satin over it, thickened where the flower hangs."""
    line = through(points)
    return [run(line, TRAVEL, thread=GREEN), satin(line.reversed(), _thickened, SPACING, thread=GREEN, tip=1.0)]


def _thickened(f: Floats) -> Floats:
    """The width of a stem, mm, from its flower (0) to its foot (1)."""
    width: Floats = 1.1 + 1.1 * np.exp(-(((f - 0.05) / 0.05) ** 2))
    return width


def bell(at: Spot, turn: float) -> list[Stitching]:
    """A snowdrop that hangs from `at`: two petals that spread and one over them, each sewn from its tip."""
    return [petal(at, turn + spread, bend) for spread, bend in ((-30.0, 1.2), (30.0, -1.2), (0.0, 0.0))]


def petal(at: Spot, turn: float, bend: float) -> Stitching:
    """A petal hanging from its foot, 8 mm long, bent to its right by `bend` mm."""
    pose = Pose(*at, turn)
    f = np.linspace(1.0, 0.07, 27)
    half = 1.75 * np.sin(np.pi * f**0.95) ** 0.85 + 0.05
    middle = bend * np.sin(np.pi * f)
    left = pose.apply(np.stack([middle - half, 8.0 * f], axis=1))
    right = pose.apply(np.stack([middle + half, 8.0 * f], axis=1))
    return satin_between(polyline(left), polyline(right), SPACING, thread=BLUE, tip=1.0)


def snowdrops() -> Stitching:
    """The motif, about 36 mm wide and 20 mm tall, its middle at (0, 0), green before blue."""
    right = [(0.9, 11.5), (2.6, 2.0), (6.6, -6.5), (10.8, -8.2), (12.9, -5.0)]
    left = [(-x, y) for x, y in right]
    leaves = [
        leaf((-8.6, 1.0), (-5.2, 4.8), (-1.9, 10.0)),
        leaf((8.6, 1.0), (5.2, 4.8), (1.9, 10.0)),
    ]
    green = [*leaves, *stem(left), *stem(right)]
    drawn = joined([unbroken(green), unbroken(bell((-13.0, -4.4), 8.0)), unbroken(bell((13.0, -4.4), -8.0))])
    x, y = drawn.centre
    return drawn.placed(Pose(-x, -y))


MOTIFS = {"snowdrops": snowdrops}


def main() -> None:
    """Write every motif, and say how large it is."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "motifs"
    for name, draw in MOTIFS.items():
        drawn = draw()
        write_stitches(drawn, folder / f"{name}.vp3")
        left, top, right, bottom = drawn.bounds
        print(f"{name}: {drawn.stitch_count:,} stitches, {right - left:.1f} by {bottom - top:.1f} mm")


if __name__ == "__main__":
    main()
