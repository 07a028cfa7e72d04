"""Draws the cushion's motifs: motifs/sprig.vp3, and motifs/sprig-small.vp3 for where there is less room.

Run it as `python draw_motifs.py`, or with another folder to write to; it always writes the same bytes. Both sprigs
are drawn as they stand at the top of the wreath: outwards is up, and the wreath runs from left to right. A join comes
to the foot of the stem at ARRIVE and leaves it at LEAVE, mm right and down from the middle of the motif's bounds. Nine
large sprigs on a ring of 88 mm radius make a wreath 240 mm across; a small one in their midst stands on 81 mm. Joins
2.2 mm wide with a bow of -3.9 mm then run on where the stems point, without a bend.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from sea_holly import Blade, Head, Stem
from shapely import LineString

from festoon.plane import Pose
from festoon.stitches import Stitching, Thread, joined, write_stitches
from festoon.stitches.lay import unbroken

STEM = Thread("#4a6a4b")
SAGE = Thread("#7f9a84")
SILVER = Thread("#b9cbb8")
STEEL = Thread("#7f9dcc")
ICE = Thread("#dbe6f4")
VIOLET = Thread("#35348c")

UNDER = 0.5
"""mm that the bracts reach under the head: enough to close, too little to heap up in its middle."""
SPINES_APART = 5.2
"""mm from one spine of a bract to the next, about."""
ARRIVE = {"sprig": (-19.5, 27.1), "sprig-small": (-16.9, 20.0)}
LEAVE = {"sprig": (-8.8, 25.1), "sprig-small": (-8.7, 18.5)}


@dataclass(frozen=True)
class Flower:
    """A head and the ruff of bracts round it."""

    head: Head
    bracts: tuple[Blade, ...]

    def bracts_sewn(self) -> Stitching:
        """All bracts, one after the other, their feet under the head."""
        return unbroken(piece for bract in self.bracts for piece in bract.laid(STEEL))

    def veins_sewn(self) -> Stitching:
        """The pale rib of every bract, out to its tip."""
        return unbroken(bract.vein(ICE, 0.0) for bract in self.bracts)


def flower(head: Head, heart: tuple[float, float], half: float, rays: Sequence[tuple[float, float, float]]) -> Flower:
    """Bracts round a heart, each (turn, reach, bow), `half` mm half as wide: they spring from under the head."""
    hidden = head.outline.buffer(-UNDER)
    bracts = []
    for turn, reach, bow in rays:
        tip = Pose(*heart, turn).apply([0.0, -reach])
        under = LineString([heart, tip]).intersection(hidden).length
        x, y = Pose(*heart, turn).apply([0.0, -under]).tolist()
        spines = round((reach - under) / SPINES_APART)
        bracts.append(Blade((x, y), turn, reach - under, half, bow, spines, slant=max(half, 1.3)))
    return Flower(head, tuple(bracts))


def plant(
    stems: Sequence[Stem],
    sage: Sequence[Blade],
    silver: Sequence[Blade],
    flowers: Sequence[Flower],
    heads: Sequence[Stitching],
) -> Stitching:
    """The whole sprig in the order of sewing, its middle at (0, 0): what lies behind is sewn first."""
    drawn = joined(
        [
            *(unbroken(leaf.halves(SAGE)) for leaf in sage),
            *(unbroken(leaf.laid(SILVER)) for leaf in silver),
            *(unbroken([leaf.vein(SILVER, 0.38)]) for leaf in sage),
            *(stem.sewn(STEM) for stem in stems),
            *(f.bracts_sewn() for f in flowers),
            *(f.veins_sewn() for f in flowers),
            *heads,
        ]
    )
    x, y = drawn.centre
    return drawn.placed(Pose(-x, -y))


def sprig() -> Stitching:
    """The large sprig: a big head and a small one, about 45 mm wide and 63 mm tall."""
    head, side = Head((0.6, -2.6), 14, 12.0, 14.5), Head((14.4, 13.8), 42, 6.4, 7.4)
    big = flower(
        head,
        (1.0, -5.8),
        1.75,
        (
            (-102, 19.5, -1.0),
            (114, 19.0, 1.0),
            (-76, 21.5, -0.9),
            (89, 20.5, 0.9),
            (-51, 22.5, -0.6),
            (65, 21.5, 0.6),
            (-27, 24.0, -0.5),
            (42, 23.5, 0.5),
            (-4, 25.5, -0.3),
            (20, 25.5, 0.3),
            (-130, 17.5, -0.8),
            (140, 16.0, 0.8),
            (-160, 15.0, -0.4),
            (169, 14.5, 0.4),
        ),
    )
    bud = flower(
        side,
        (14.8, 11.8),
        1.15,
        (
            (-72, 8.5, -0.4),
            (156, 8.5, 0.4),
            (-44, 9.0, -0.3),
            (128, 9.0, 0.3),
            (-14, 9.5, 0.0),
            (98, 9.5, 0.0),
            (20, 10.5, 0.0),
            (60, 10.0, 0.0),
        ),
    )
    stems = [
        Stem(((14.5, 13.6), (10.2, 17.6), (4.4, 19.4), (-0.2, 20.0)), 1.4, 1.6),
        Stem(((-18.5, 27.6), (-12.0, 26.7), (-6.0, 25.0), (-1.2, 21.0), (1.2, 13.0), (0.8, 2.2)), 2.2, 1.8),
    ]
    sage = [
        Blade((-6.3, 24.2), -52, 17.5, 1.9, 1.8, 4),
        Blade((0.2, 19.0), -36, 15.0, 1.75, -1.2, 3),
        Blade((6.0, 20.0), 98, 11.6, 1.9, 0.7, 2),
        Blade((-7.0, 26.1), 117, 12.9, 1.7, 0.8, 2),
    ]
    silver = [
        Blade((1.2, 14.5), 34, 9.5, 1.4, 0.6, 2, slant=1.5),
        Blade((-12.6, 26.5), -72, 8.9, 1.25, 0.9),
    ]
    heads = [
        side.ground(VIOLET),
        head.ground(VIOLET),
        head.pinned(((0.88, 1.1),), 0.95, VIOLET, -98, 104),
        side.pinned(((0.84, 1.12),), 1.0, VIOLET, -92, 100),
        side.pinned(((0.56, 0.84),), 1.5, STEEL, -70, 84),
        head.pinned(((0.72, 0.9), (0.48, 0.66)), 1.8, STEEL, -76, 86),
        head.pinned(((0.36, 0.46), (0.58, 0.7), (0.82, 0.95)), 1.8, ICE, -70, 44),
        side.pinned(((0.74, 0.94),), 1.6, ICE, -70, 44),
    ]
    return plant(stems, sage, silver, [bud, big], heads)


def small_sprig() -> Stitching:
    """The small sprig: one head and a bud that is still closed, about 39 mm wide and 47 mm tall."""
    head, side = Head((1.0, -2.0), 16, 9.6, 11.6), Head((13.2, 10.7), 48, 4.6, 5.6)
    big = flower(
        head,
        (1.3, -4.4),
        1.45,
        (
            (-95, 17.5, -0.9),
            (118, 14.5, 0.9),
            (-70, 18.0, -0.7),
            (90, 15.5, 0.7),
            (-42, 18.0, -0.5),
            (64, 16.5, 0.5),
            (-14, 19.0, -0.3),
            (38, 18.0, 0.3),
            (12, 19.0, 0.0),
            (-124, 13.2, -0.7),
            (146, 12.5, 0.7),
            (-160, 11.2, -0.3),
        ),
    )
    bud = flower(
        side,
        (13.6, 9.7),
        0.95,
        (
            (-50, 6.5, -0.3),
            (146, 6.5, 0.3),
            (-16, 7.0, 0.0),
            (112, 7.5, 0.0),
            (22, 7.5, 0.0),
            (72, 7.5, 0.0),
        ),
    )
    stems = [
        Stem(((13.3, 10.8), (7.8, 14.4), (3.0, 15.8), (0.0, 16.2)), 1.3, 1.5),
        Stem(((-16.0, 20.6), (-10.5, 19.8), (-5.0, 18.2), (-0.8, 14.8), (1.0, 9.0), (0.8, 0.8)), 2.2, 1.7),
    ]
    sage = [
        Blade((-4.5, 18.0), -54, 15.5, 1.7, 1.5, 3),
        Blade((3.0, 16.4), 97, 12.0, 1.7, 0.9, 2),
        Blade((-5.6, 18.9), 116, 10.6, 1.5, 0.7, 2),
    ]
    silver = [
        Blade((0.9, 10.7), -42, 9.2, 1.4, -0.6, 2, slant=1.5),
        Blade((-10.6, 19.6), -70, 8.0, 1.2, 0.8),
    ]
    heads = [
        side.ground(VIOLET),
        head.ground(VIOLET),
        head.pinned(((0.86, 1.1),), 0.9, VIOLET, -96, 104),
        side.pinned(((0.8, 1.14),), 1.15, VIOLET, -80, 96),
        side.pinned(((0.56, 0.84),), 1.5, STEEL, -70, 84),
        head.pinned(((0.7, 0.9), (0.44, 0.62)), 1.8, STEEL, -76, 86),
        head.pinned(((0.54, 0.66), (0.81, 0.95)), 1.8, ICE, -70, 44),
    ]
    return plant(stems, sage, silver, [bud, big], heads)


MOTIFS = {"sprig": sprig, "sprig-small": small_sprig}


def main() -> None:
    """Write every motif, and say how large it is and where joins meet it."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "motifs"
    for name, draw in MOTIFS.items():
        drawn = draw()
        write_stitches(drawn, folder / f"{name}.vp3")
        left, top, right, bottom = drawn.bounds
        size = f"{right - left:.1f} by {bottom - top:.1f} mm"
        print(f"{name}: {drawn.stitch_count:,} stitches, {size}, arrive {ARRIVE[name]}, leave {LEAVE[name]}")


if __name__ == "__main__":
    main()
