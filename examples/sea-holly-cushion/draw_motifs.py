"""Draws the cushion's motifs: motifs/sprig.vp3 and motifs/sprig-small.vp3.

Run it as `python draw_motifs.py`, or with a folder to write to. It always writes the same bytes.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path as Folder

from parts import Blade, Head, sewn, stem

from shapely import LineString, Polygon

from festoon.plane import Pose
from festoon.stitches import Stitching, Thread, joined, write_stitches
from festoon.stitches.lay import lock

STEM = Thread("#4f6b45")
SAGE = Thread("#7f9a84")
SILVER = Thread("#b9cbb8")
STEEL = Thread("#6f8fc0")
ICE = Thread("#dbe6f4")
VIOLET = Thread("#3d3f92")

LEAF, BRACT = 0.46, 0.46


def ruff(heart: tuple[float, float], head: Head, rays: Sequence[tuple[float, float, float]], half: float) -> list[Blade]:
    """Bracts round a heart, (turn, reach, bow) each: they spring from under the head, well inside its edge."""
    egg = Polygon(head.ring(0.62, 180).flatten())
    out = []
    for turn, reach, bow in rays:
        ray = LineString([heart, Pose(*heart, turn).apply([0.0, -reach])])
        under = ray.intersection(egg).length
        foot = Pose(*heart, turn).apply([0.0, -under])
        out.append(Blade((float(foot[0]), float(foot[1])), turn, reach - under, half, bow, 3 if reach > 12 else 2, 0.9 * half))
    return out


def sprig() -> Stitching:
    """The large sprig: one big head and a small one, about 46 mm wide and 62 mm tall."""
    heart, bud = (-0.2, -5.0), (13.8, 13.2)
    head = Head((-0.6, -1.8), 10, 12.0, 14.5)
    side = Head((13.2, 15.2), 40, 6.4, 7.4)
    stems = [
        stem([(13.2, 15), (8.5, 20.5), (1.5, 24.0)], 1.4, 1.5, STEM),
        stem([(-21, 24.5), (-13, 27.3), (-5.5, 27.4), (-0.3, 23.0), (0.8, 13), (-1.0, -2)], 2.4, 2.0, STEM),
    ]
    leaves = [
        Blade((-2.5, 26.2), -60, 20.5, 2.5, 1.6, 4),
        Blade((0.2, 21), -38, 16, 2.2, -1.2, 3),
        Blade((-0.4, 24.2), 95, 18, 2.3, -1.4, 4),
        Blade((0.8, 15), 34, 11, 1.9, 0.8, 3),
    ]
    behind = ruff(
        heart,
        head,
        (
            (-104, 19.5, -1.0), (110, 19.5, 1.0), (-78, 21.5, -0.9), (84, 21.5, 0.9), (-54, 22.5, -0.6),
            (60, 22.5, 0.6), (-30, 24, -0.5), (38, 24, 0.5), (-8, 25.5, -0.3), (17, 26, 0.3),
        ),
        2.15,
    )
    before = ruff(heart, head, ((-132, 17, -1.0), (138, 17, 1.0), (-158, 14.5, -0.5), (164, 14.5, 0.5), (-177, 12.5, 0)), 1.9)
    few = ruff(
        bud,
        side,
        ((-74, 8.5, -0.4), (154, 8.5, 0.4), (-46, 9, -0.3), (126, 9, 0.3), (-16, 9.5, 0), (96, 9.5, 0), (20, 10.5, 0), (60, 10.5, 0)),
        1.3,
    )
    bracts = [*few, *behind, *before]
    return joined(
        [
            *(lock(s) for s in stems),
            *(sewn(b.halves(SAGE, LEAF)) for b in leaves),
            *(sewn([b.vein(SILVER)]) for b in leaves),
            *(sewn(h for b in some for h in b.halves(STEEL, BRACT)) for some in (few, [*behind, *before])),
            *(sewn(b.vein(ICE, 0.0) for b in some) for some in (few, [*behind, *before])),
            *(lock(h.ground(VIOLET)) for h in (side, head)),
            side.pinned(((0.82, 1.1), (0.45, 0.74)), 1.1, STEEL),
            head.pinned(((0.9, 1.09), (0.68, 0.87), (0.46, 0.65), (0.26, 0.43)), 1.2, STEEL),
            head.pinned(((0.34, 0.42), (0.57, 0.64), (0.8, 0.87)), 2.1, ICE),
            side.pinned(((0.64, 0.78),), 1.9, ICE),
        ]
    )


MOTIFS = {"sprig.vp3": sprig}


def main() -> None:
    """Write every motif."""
    folder = Folder(sys.argv[1]) if len(sys.argv) > 1 else Folder(__file__).parent / "motifs"
    for name, drawn in MOTIFS.items():
        write_stitches(drawn(), folder / name)


if __name__ == "__main__":
    main()
