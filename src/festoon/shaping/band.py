"""A band of lace, edging or entredeux laid flat along a line: its two headings, its mitres, and the lace it takes.

The band is a straight strip of one width. Its traced heading lies on the course; the other lies `width` to one side,
its exact parallel. Where the course bends, the heading on the outside lies flat and the inner one is drawn up; at
corners the strip is folded and mitred. Source of the way of working: two heirloom magazine tutorials (lace shaping).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike
from shapely import MultiPolygon, Polygon

from festoon.errors import PieceError
from festoon.plane import CORNER, Path
from festoon.plane.path import MEETING
from festoon.plane.segments import Floats, Point
from festoon.shaping.bend import Bend
from festoon.shaping.easing import eases
from festoon.shaping.headings import Headings, headings
from festoon.shaping.mitre import Mitre
from festoon.shaping.patches import covered, overlaps, patches, what_is_left

Side = Literal["left", "right"]
"""Where the other heading lies, looking along the course: left is above a hem drawn from left to right."""

READABLE_GATHER = 1.5
"""Outer to inner heading up to which a flat shaped lace keeps its pattern readable. Common practice."""
MOST_GATHER = 2.0
"""Outer to inner heading above which shaped lace is better mitred. Common practice."""
LEVEL = 2e-4
"""A smaller share drawn up is none: a fifth of a millimetre on a metre."""


@dataclass(frozen=True, eq=False)
class Stretch:
    """A smooth stretch of the course between corners and inflections, one heading the longer throughout. mm.

    over_length is square across from the course, before mitres trim it or let it run on. most_drawn is the greatest
    share by which the shorter heading is drawn up on it, 1 - shorter/longer at one place, 0 to 1; `at` is that place
    on the course, and radius the shorter heading's there. 'equal': both headings are as long (straight lace), and the
    radius is without bound.
    """

    s0: float
    s1: float
    longer: Literal["course", "over", "equal"]
    course_length: float
    over_length: float
    most_drawn: float
    at: Point
    radius: float


@dataclass(frozen=True, eq=False)
class Tightest:
    """The tightest place of the heading that lies inside: its radius there and its place on the course, mm.

    A radius of 0 or less means that the lace cannot turn there without a mitre. limit is `radius_limit` for
    `READABLE_GATHER`: two widths.
    """

    radius: float
    at: Point
    limit: float


@dataclass(frozen=True, eq=False)
class Overlap:
    """A place where a band lies over itself: a point in it, mm, and its area, mm²."""

    at: Point
    area: float


@dataclass(frozen=True, eq=False)
class Band:
    """A band laid along `course`; `over` is its other heading, travelled the same way. mm.

    closes: whether the end meets the beginning. mitres: in the order of the course. region: the cloth it covers.
    strip_length: the lace it takes, cut as one straight strip, without allowances for seams, joins or matching: the
    longer heading everywhere, and the fold of each mitre whose corner on the course is the inner one. simple: whether
    its outline (both outlines of a ring) nowhere meets itself. tightest: None where nothing bends. possible: False
    where lace cannot be laid so: an inner radius of 0 or less, or a corner that takes more than a leg or reaches beyond
    `MITRE_LIMIT`; `trouble` then tells the places on the course, and over and region are what can still be drawn.
    """

    course: Path
    over: Path
    width: float
    side: Side
    closes: bool
    mitres: tuple[Mitre, ...]
    stretches: tuple[Stretch, ...]
    region: Polygon | MultiPolygon
    simple: bool
    strip_length: float
    tightest: Tightest | None
    possible: bool
    trouble: tuple[Point, ...]
    laid: Headings = field(repr=False)
    bend: Bend = field(repr=False)

    @property
    def course_length(self) -> float:
        """The traced heading's length, mm."""
        return self.course.length

    @property
    def over_length(self) -> float:
        """The other heading's length as it lies, mm."""
        return self.over.length

    def drawn_up(self, s: ArrayLike) -> Floats:
        """The share (n,) drawn up at s (n,) mm along the course: above 0 that of `over`, under 0 that of the course.

        It is 1 - shorter/longer, as the gather ratio (R + w)/R of a ring is longer/shorter. On a closing band s goes
        on round; else it stands for the nearer end.
        """
        at = np.asarray(s, dtype=np.float64).reshape(-1)
        at = (at - self.laid.first) % self.course.length if self.laid.around else np.clip(at, 0.0, self.course.length)
        ratio = _ratio(self.bend.curvature(at), self.laid.distance)
        return np.where(ratio <= 1, 1 - ratio, 1 / np.maximum(ratio, 1) - 1)


def band(course: Path, width: float, side: Side = "left", closes: bool = False, corner: float = CORNER) -> Band:
    """The band `width` mm wide along a course, on its left or right. corner: degrees from which a break is mitred.

    A smaller break is eased within half a width to either side (common practice). A closing band on a path that ends
    where it began is mitred or eased there too; every other one has its ends cut square. PieceError where the width
    is not a length above nothing.
    """
    if not (math.isfinite(width) and width > 0):
        raise PieceError(f"A band of lace {width:g} mm wide cannot be laid.", remedy="Give its width, above nothing.")
    distance = width if side == "right" else -width
    laid = headings(course, distance, closes, corner)
    bend = Bend(laid.cells, eases(laid), distance)
    possible = not laid.trouble
    over = laid.over if possible else what_is_left(course, distance)
    stretches = _stretches(laid, bend)
    mitres = _mitres(laid, bend)
    region, simple = covered(laid, course, over)
    strip = sum(max(x.course_length, x.over_length) for x in stretches) + sum(m.fold for m in mitres if m.inside)
    return Band(
        course=course,
        over=over,
        width=float(width),
        side=side,
        closes=closes,
        mitres=mitres,
        stretches=stretches,
        region=region,
        simple=simple,
        strip_length=strip,
        tightest=_tightest(stretches, width),
        possible=possible,
        trouble=tuple(laid.trouble),
        laid=laid,
        bend=bend,
    )


def lies_over_itself(laid: Band) -> tuple[Overlap, ...]:
    """The places where a band lies over itself, the largest first; none where it only touches.

    A band whose outline is simple covers what it covers once: laid without a fold it winds around each place as often
    as its outline does (degree theory), and that is once.
    """
    if laid.simple:
        return ()
    return tuple(Overlap(at, area) for at, area in overlaps(patches(laid.laid)))


def radius_limit(width: float, gather: float) -> float:
    """The tightest inner radius at which the outer heading is `gather` times the inner: w/(gather - 1), mm.

    Source: geometry, ring ratio (R + w)/R.

    >>> [round(radius_limit(15, g), 3) for g in (1.3, 1.5, 2.0, 2.5)]
    [50.0, 30.0, 15.0, 10.0]
    """
    return width / (gather - 1)


def _ratio(curvature: Floats, distance: float) -> Floats:
    """Length of the other heading to that of the course, never below nothing."""
    return np.maximum(1 - curvature * distance, 0.0)


def _mitres(laid: Headings, bend: Bend) -> tuple[Mitre, ...]:
    folded = [j for j in laid.joints if j.mitred]
    curved = [j for j in folded if not j.straight]
    takes = iter(bend.strips([span for j in curved for span in ((j.before, j.arrives), (j.leaves, j.after))]))
    folds = [
        2 * abs(laid.distance) * abs(math.tan(j.turn / 2)) if j.straight else next(takes) + next(takes) for j in folded
    ]
    return tuple(
        Mitre(j.at, j.over, math.degrees(j.turn), fold, j.outside) for j, fold in zip(folded, folds, strict=True)
    )


def _stretches(laid: Headings, bend: Bend) -> tuple[Stretch, ...]:
    """Knot to knot the bend is of one kind; neighbours of one kind in a leg are one stretch."""
    middles = (bend.knots[:-1] + bend.knots[1:]) / 2
    bent = bend.mean(middles) * laid.distance
    kinds = np.where(np.abs(bent) < LEVEL, 0, np.where(bent > 0, 1, -1))
    corners = [a - MEETING for a, _ in laid.spans]
    begins = np.flatnonzero(np.diff(kinds, prepend=2) != 0).tolist()
    begins = sorted({*begins, *np.searchsorted(bend.knots, corners).tolist()})
    spans = list(zip(begins, [*begins[1:], len(kinds)], strict=True))
    over = bend.over(bend.knots[[k for span in spans for k in span]]).reshape(-1, 2)
    lengths, most, knots = np.diff(over, axis=1)[:, 0].tolist(), bend.most(spans), bend.knots.tolist()
    return tuple(
        _stretch(laid, bend, (knots[a], knots[b]), length, int(kinds[a]), bent)
        for (a, b), length, bent in zip(spans, lengths, most, strict=True)
    )


def _stretch(
    laid: Headings, bend: Bend, span: tuple[float, float], over_length: float, kind: int, bent: tuple[float, float]
) -> Stretch:
    (s0, s1), (most, at) = span, bent
    ratio = max(1 - most * laid.distance, 0.0)
    drawn, radius = 0.0, math.inf
    if kind:
        drawn = 1 - min(ratio, 1 / ratio if ratio else 0.0)
        radius = 1 / abs(most) - (abs(laid.distance) if kind > 0 else 0.0)
    shift = laid.first - (laid.cells[-1].s1 if s0 + laid.first >= laid.cells[-1].s1 - MEETING else 0.0)
    longer: Literal["course", "over", "equal"] = "equal" if kind == 0 else "course" if kind > 0 else "over"
    where = laid.cells[bend.cell(at)].at(at)
    return Stretch(s0 + shift, s1 + shift, longer, s1 - s0, over_length, drawn, where, radius)


def _tightest(stretches: tuple[Stretch, ...], width: float) -> Tightest | None:
    worst = min(stretches, key=lambda x: x.radius)
    if not math.isfinite(worst.radius):
        return None
    return Tightest(worst.radius, worst.at, radius_limit(width, READABLE_GATHER))
