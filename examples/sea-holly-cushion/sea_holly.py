"""The parts of a sea holly, each one laid as an uncut run: stems, leaves, bracts, and the domed head with its pins.

Everything is drawn in mm, x right and y down, where it stands in the motif; a turn of 0 points up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

from festoon.plane import Path, Points, Pose, arc_through, polyline, through
from festoon.stitches import Stitching, Thread
from festoon.stitches.lay import double_run, fill, lock, run, satin, satin_between, unbroken
from festoon.stitches.lay.unbroken import TRAVEL

Floats = NDArray[np.float64]

LONGEST = 6.6
"""mm, longest stitch: 7 less the rounding of the file, and some ease."""
STEM_SPACING, BLADE_SPACING = 0.45, 0.5
"""mm, hole to hole on one side of a column."""
NARROW = 1.3
"""mm, half the width of a blade that is sewn as one column, not as two halves."""
BLADE_TIP = 0.9
"""mm, the shortest satin stitch of a blade."""


@dataclass(frozen=True)
class Stem:
    """A satin stem along a smooth curve through points, its width going evenly from `start` to `end` mm."""

    points: tuple[tuple[float, float], ...]
    start: float
    end: float

    def sewn(self, thread: Thread) -> Stitching:
        """The stem, locked."""
        width = np.array([self.start, self.end])
        column = satin(
            through(self.points),
            lambda f: np.interp(f, [0.0, 1.0], width),
            STEM_SPACING,
            thread=thread,
            underlay="centre",
            max_stitch=LONGEST,
        )
        return unbroken([column])


@dataclass(frozen=True)
class Blade:
    """A leaf or bract: from its foot towards `turn` degrees, bent `bow` mm to the right in the middle.

    half: mm, half its greatest width. spines: how many on each side. slant: mm that its stitches run up from the rib.
    belly: where along it is widest, 0 to 1. point: how
    hollow it runs out into its tip; 1 is straight.
    """

    foot: tuple[float, float]
    turn: float
    length: float
    half: float
    bow: float = 0.0
    spines: int = 0
    slant: float = 2.2
    belly: float = 0.36
    point: float = 1.2

    @property
    def rib(self) -> Path:
        """Its middle line, from the foot to the tip."""
        return arc_through(self.foot, Pose(*self.foot, self.turn).apply([0.0, -self.length]), self.bow)

    def halves(self, thread: Thread) -> list[Stitching]:
        """Satin up the left half to the tip and down the right half, slanting from the rib to the edge.

        Halves so narrow need no run underneath, which would only fill the rib with holes.
        """
        (edge, rib, up), (far_edge, _, down) = self._rails(-1), self._rails(1)
        sew = partial(satin_between, spacing=BLADE_SPACING, thread=thread, tip=BLADE_TIP, max_stitch=LONGEST)
        return [
            sew(edge, rib, rungs=up),
            sew(rib.reversed(), far_edge.reversed(), rungs=[(1 - b, 1 - a) for a, b in down[::-1]]),
        ]

    def laid(self, thread: Thread) -> list[Stitching]:
        """Two halves, or where they would be too narrow one column from edge to edge: half as many holes."""
        return self.halves(thread) if self.half >= NARROW else self.whole(thread)

    def whole(self, thread: Thread) -> list[Stitching]:
        """A run along the rib to the tip, and over it one column of satin from edge to edge, back to the foot."""
        (left, *_), (right, *_) = self._rails(-1), self._rails(1)
        over = satin_between(
            right.reversed(), left.reversed(), BLADE_SPACING, thread=thread, tip=BLADE_TIP, max_stitch=LONGEST
        )
        return [run(self.rib, TRAVEL, thread=thread), over]

    def vein(self, thread: Thread, start: float = 0.12, end: float = 1.0) -> Stitching:
        """A line along the rib, ending as the spine at its tip, and back, but for its last stitch.

        So its two locks do not cut the cloth in one place.
        """
        s = self.rib.length
        there = double_run(self.rib.trimmed(start * s, end * s), 1.9, thread=thread)
        return there.part(0, len(there.points) - 1)

    def _rails(self, side: int) -> tuple[Path, Path, list[tuple[float, float]]]:
        """The edge without its first piece, the rib without its last, and the rungs between them (edge, rib)."""
        rib, lean = self.rib, min(self.slant / self.length, 0.4)
        f = np.linspace(0.0, 1.0, 161)
        t = lean + (1 - lean) * f
        ahead = rib.tangents(t * rib.length)
        out = np.stack([-ahead[:, 1], ahead[:, 0]], axis=1) * side
        edge = rib.points(t * rib.length) + out * (self.half * self._swell(t))[:, None]
        along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(edge, axis=0).T))])
        along /= along[-1]
        rungs = [(float(along[k]), float(f[k])) for k in range(8, 160, 8)]
        return polyline(edge), rib.trimmed(0.0, (1 - lean) * rib.length), rungs

    def _swell(self, t: Floats) -> Floats:
        """Half the width at t, 0 to 1, in parts of the greatest: a lance, its edge drawn out into spines."""
        rise = self.point * self.belly / (1 - self.belly)
        lance = (t / self.belly) ** rise * ((1 - t) / (1 - self.belly)) ** self.point
        if not self.spines:
            return lance
        phase = (t - 0.1) / 0.76 * self.spines  # the spines stand between a tenth and 0.86 of the length
        v = phase % 1.0
        spine = np.where(v < 0.84, (v / 0.84) ** 2.2, (1 - v) / 0.16)
        ease = np.clip(np.minimum(phase, self.spines - phase) * 4, 0.0, 1.0)
        swell: Floats = lance * (1 + (1.1 * spine - 0.48) * ease)
        return swell


@dataclass(frozen=True)
class Head:
    """The domed head: an egg on its foot, its axis towards `turn` degrees; mm."""

    foot: tuple[float, float]
    turn: float
    width: float
    height: float

    def ring(self, share: float, first: float = -104.0, last: float = 104.0) -> Path:
        """The egg's outline at a share of its size, from `first` to `last` degrees right of the axis."""
        return through(self._egg(np.radians(np.linspace(first, last, 25)), share))

    @property
    def outline(self) -> Polygon:
        """The whole egg."""
        return Polygon(self._egg(np.radians(np.arange(-180, 180, 6)), 1.0))

    def ground(self, thread: Thread) -> Stitching:
        """The whole egg filled, its rows across the axis."""
        return lock(fill(self.outline, angle=self.turn, row=0.4, length=3.4, underlay=True, thread=thread))

    def pinned(
        self,
        rows: Sequence[tuple[float, float]],
        spacing: float,
        thread: Thread,
        first: float = -104.0,
        last: float = 104.0,
    ) -> Stitching:
        """Rows of pins that radiate from the foot, each between two shares of the head's size, sewn to and fro."""
        pins = []
        for k, (inner, outer) in enumerate(rows):
            a, b = self.ring(inner, first, last), self.ring(outer, first, last)
            a, b = (a.reversed(), b.reversed()) if k % 2 else (a, b)
            pins.append(satin_between(a, b, spacing, thread=thread, tip=1.0, max_stitch=LONGEST))
        return unbroken(pins)

    def _egg(self, angle: Floats, share: float) -> Points:
        """Points at angles from the axis as seen from the egg's heart, shrunk towards the foot."""
        across = self.width / 2 * np.sin(angle) * (1 - 0.1 * np.cos(angle))
        up = self.height / 2 * (np.cos(angle) + 1)
        return Pose(*self.foot, self.turn).apply(share * np.stack([across, -up], axis=1))
