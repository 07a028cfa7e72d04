"""Draws the tablecloth's motifs: motifs/spray.vp3 for the hem and motifs/corner.vp3 for its corners.

Run it as `python draw_motifs.py`, or with another folder to write to; it always writes the same bytes. The spray is
a flax flower between two stems, and its left and right mirror each other; the hem lies below it. The corner is
drawn for the lower left corner of a cloth: its stems run up and to the right, and mirror each other in the diagonal.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from festoon.plane import Points, Pose, arc_through, polyline, through
from festoon.stitches import Stitching, Thread, from_points, joined, write_stitches
from festoon.stitches.lay import double_run, run, satin, satin_between, unbroken
from festoon.stitches.lay.unbroken import TRAVEL

GREEN = Thread("#6b8f63")
BLUE = Thread("#7391d6")
GOLD = Thread("#e3bd5c")

Floats = NDArray[np.float64]
Spot = tuple[float, float]
Leaf = tuple[Spot, float, float, float]
"""Its foot, mm; where it points, degrees from upright; its length and how far it bends to the right, mm."""

SPACING, PETAL_SPACING = 0.45, 0.5
"""mm, hole to hole on one side of a column."""
LONGEST = 6.6
"""mm, longest stitch: 7 less the rounding of the file, and some ease."""
PETALS = 5
HEART = 2.3
"""mm, radius of the flower's heart."""
UNDER = 3.0
"""mm from the middle of a flower to the end of its stem, which lies under the petals."""
OPEN = 1.7
"""mm from the middle of a flower to where its petals and stamens begin: nothing heaps up under the heart."""


def stem(points: Sequence[Spot], width: float) -> Stitching:
    """A satin stem of even width through points."""
    return unbroken([satin(through(points), width, SPACING, thread=GREEN, underlay="centre")])


def leaf(foot: Spot, turn: float, length: float, bow: float) -> Stitching:
    """A narrow leaf, sewn across from the tip back to the foot."""
    rib = arc_through(foot, Pose(*foot, turn).apply([0.0, -length]), bow)
    back = satin(rib.reversed(), _lance, SPACING, thread=GREEN, tip=0.7)
    return unbroken([run(rib, TRAVEL, thread=GREEN), back])


def _lance(f: Floats) -> Floats:
    """The width of a leaf, mm, from its tip (0) to its foot (1)."""
    width: Floats = 3.4 * (f / 0.6) ** 1.05 * ((1 - f) / 0.4) ** 0.7
    return width


def petal(foot: Spot, turn: float, length: float, half: float) -> list[Stitching]:
    """A petal in two halves, its stitches rising from the middle line to the edge; `half` mm is half its width."""
    f = np.linspace(0.0, 1.0, 41)
    rise = np.sin(f * np.pi / 2)
    across = half * (0.2 * (1 - f) + np.sin(np.pi * f**1.35) ** 0.8)
    across[-1] = 0.0
    pose = Pose(*foot, turn)
    rib = pose.apply(np.stack([0 * f, -length * 0.92 * f], axis=1))

    def edge(side: int) -> Points:
        return pose.apply(np.stack([side * across, -length * rise * (1 + 0.1 * np.sin(np.pi * f))], axis=1))

    up = satin_between(polyline(edge(-1)), polyline(rib), PETAL_SPACING, thread=BLUE, tip=1.0, max_stitch=LONGEST)
    down = satin_between(
        polyline(rib[::-1]), polyline(edge(1)[::-1]), PETAL_SPACING, thread=BLUE, tip=1.0, max_stitch=LONGEST
    )
    return [up, down]


def flower(at: Spot, length: float, half: float) -> list[Stitching]:
    """Five petals, the first upright, and a golden heart with its stamens."""
    turns = [360 / PETALS * k for k in range(PETALS)]
    feet = [(t, *Pose(*at, t).apply([0.0, -OPEN]).tolist()) for t in turns]
    petals = unbroken(half_petal for t, x, y in feet for half_petal in petal((x, y), t, length - OPEN, half))
    round_about = turns[1:] + turns[:1]  # begun beside another petal than the petals were, for both are locked there
    stamens = [
        double_run(polyline(Pose(*at, t).apply([[0.0, -OPEN], [0.0, -5.0]])), 2.2, thread=GOLD) for t in round_about
    ]
    x, y = at
    across = polyline([(x, y - HEART), (x, y + HEART)])
    heart = satin(across, lambda f: 4 * HEART * np.sqrt(f * (1 - f)), SPACING, thread=GOLD, tip=1.0)
    return [petals, unbroken([*stamens, heart])]


def bud(foot: Spot, turn: float) -> Stitching:
    """A bud that is about to open: two petals from the sides of the stem's end, and one over them."""
    pieces = []
    for side in (-1, 1, 0):
        x, y = Pose(*foot, turn).apply([0.8 * side, -0.6 * abs(side)]).tolist()
        pieces.append(bud_petal((x, y), turn + 24 * side, 6.0 if side else 8.0))
    return unbroken(pieces)


def bud_petal(foot: Spot, turn: float, length: float) -> Stitching:
    """A petal still rolled up: one column, sewn across from its tip back to the foot."""
    rib = polyline([foot, Pose(*foot, turn).apply([0.0, -length])])
    over = satin(rib.reversed(), _rolled, SPACING, thread=BLUE, tip=1.0)
    return from_points(np.concatenate([run(rib, TRAVEL, thread=BLUE).points[:-1], over.points]), BLUE)


def _rolled(f: Floats) -> Floats:
    """The width of a bud's petal, mm, from its tip (0) to its foot (1)."""
    width: Floats = 5.4 * f**0.6 * (1 - f) ** 0.75
    return width


def mirrored(right: Stitching) -> Stitching:
    """The same on the left."""
    return right.placed(Pose(mirrored=True))


def ornament(
    at: Spot, petal_size: Spot, course: Sequence[Spot], leaves: Sequence[Leaf], turn: float
) -> list[Stitching]:
    """A flower above the middle of a stem with a bud at either end.

    course: the stem's right half from the middle on. leaves: those on the right. turn: where the right bud points.
    """
    green = [leaf(*one) for one in leaves]
    whole = [(-x, y) for x, y in course[:0:-1]] + list(course)
    bloom = bud(course[-1], turn)
    return [
        *green,
        *map(mirrored, green),
        stem([(at[0], at[1] + UNDER), course[0]], 1.7),
        stem(whole, 1.6),
        bloom,
        mirrored(bloom),
        *flower(at, *petal_size),
    ]


def spray() -> Stitching:
    """The ornament of the hem, about 58 mm wide and 40 mm tall."""
    leaves: list[Leaf] = [
        ((4.0, 14.9), 118, 9.0, 0.9),
        ((8.2, 14.8), 58, 9.5, -0.9),
        ((12.5, 15.0), 112, 10.5, 1.1),
        ((17.5, 12.0), 4, 9.5, -0.9),
        ((20.4, 8.8), 66, 9.0, 0.9),
    ]
    course = [(0.0, 13.6), (7.0, 15.2), (14.0, 14.6), (20.0, 9.4), (22.6, 1.6)]
    return centred(ornament((0.0, -4.5), (14.6, 5.0), course, leaves, 12))


def corner() -> Stitching:
    """The ornament of a corner: the flower inside, the stems along both sides of the cloth."""
    leaves: list[Leaf] = [
        ((5.4, 15.0), 98, 9.2, 1.0),
        ((12.6, 8.6), 86, 10.0, 1.0),
        ((18.6, 1.6), -4, 9.0, -0.8),
        ((19.8, 0.0), 78, 10.0, 1.0),
        ((24.4, -7.0), -20, 9.0, -0.8),
        ((25.6, -9.4), 58, 9.0, 0.9),
    ]
    course = [(0.0, 16.6), (8.0, 12.8), (16.0, 4.8), (23.4, -5.2), (27.6, -15.0)]
    return centred(ornament((0.0, -4.0), (14.6, 5.0), course, leaves, 10), turn=45)


def centred(pieces: Sequence[Stitching], turn: float = 0.0) -> Stitching:
    """All pieces, one colour after the other, turned, their middle at (0, 0)."""
    order = {GREEN: 0, BLUE: 1, GOLD: 2}
    drawn = joined(sorted(pieces, key=lambda piece: order[piece.threads[0]])).placed(Pose(turn=turn))
    x, y = drawn.centre
    return drawn.placed(Pose(-x, -y))


MOTIFS = {"spray": spray, "corner": corner}


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
