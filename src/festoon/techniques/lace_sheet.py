"""Where pins go in a lace band, and the drawing of it for the stabiliser. Not a technique itself."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely import LineString, Polygon
from shapely.affinity import affine_transform

from festoon.plane import Path, Points, Pose
from festoon.plane.segments import Floats
from festoon.shaping.band import Stretch
from festoon.shaping.set_out import Place, SetOut
from festoon.techniques.lace_shapes import Strip
from festoon.work.values import MATCH, Area, Line, Pin, Template

SHEET = (260.0, 180.0)
"""mm of a printed page that a tracing template may take, upright or turned (computed: A4 and Letter less margins)."""

ALIKE = 0.05
"""mm (and degrees) by which repeats may differ and still be traced from one drawing (computed: half a traced line)."""

BEYOND = 8.0
"""mm that a match line stands out beyond the lace (own choice)."""

STRAIGHT = 50.0
"""mm from pin to pin where the lace lies straight. Common practice."""

ON_LACE = 0.1
"""mm beyond the lace at which a pin still counts as in its heading (computed: the drawing's own error)."""

FINE = 0.02
"""mm within which drawn curves are true."""

MOST_TURN = 120.0
"""Degrees that the repeats of one drawing turn together at most (own choice; at 180 the match lines part nothing)."""

FAR = 1e4
"""mm, farther than anything drawn."""


@dataclass(frozen=True)
class Chain:
    """Repeats that one drawing holds: `count` of them, traced `times` over, each turned by `turn` degrees against the
    one before; mark to mark `chord` mm."""

    count: int
    times: int
    chord: float
    turn: float

    def places(self, beside: int = 0) -> tuple[Place, ...]:
        """Their places, upright about (0, 0), and so many more at either side."""
        bearings = [(k - (self.count - 1) / 2) * self.turn for k in range(-beside, self.count + beside)]
        ahead = [self.chord * np.array([math.cos(math.radians(b)), math.sin(math.radians(b))]) for b in bearings]
        marks = np.concatenate([[np.zeros(2)], np.cumsum(ahead, axis=0)])
        middle = (marks[beside] + marks[beside + self.count]) / 2
        centres = (marks[:-1] + marks[1:]) / 2 - middle
        return tuple(
            Place(Pose(x, y, bearing), self.chord) for (x, y), bearing in zip(centres.tolist(), bearings, strict=True)
        )

    def ends(self) -> tuple[Pose, Pose]:
        """The first and the last mark, turned halfway between the repeats that meet there."""
        places = self.places()
        first, last = places[0].pose, places[-1].pose
        half = self.chord / 2
        (ax, ay), (bx, by) = first.apply([-half, 0.0]).tolist(), last.apply([half, 0.0]).tolist()
        return Pose(ax, ay, first.turn - self.turn / 2), Pose(bx, by, last.turn + self.turn / 2)


def alike(out: SetOut) -> bool:
    """Whether all repeats can be traced from one drawing: as long, and each turned as much as the next, and no more
    than MOST_TURN."""
    chords = [p.chord for p in out.places]
    turns = _turns(out) or [0.0]
    even = max(chords) - min(chords) <= ALIKE and max(turns) - min(turns) <= ALIKE
    return even and abs(turns[0]) <= MOST_TURN


def chain(out: SetOut, height: float) -> Chain:
    """As many repeats as fit a SHEET and divide the count, of repeats that are alike; one where none fits."""
    turns = _turns(out)
    turn = float(np.mean(turns)) if turns else 0.0
    chord = float(np.mean([p.chord for p in out.places]))
    one = Chain(1, out.count, chord, turn)
    fitting = (Chain(k, out.count // k, chord, turn) for k in range(out.count, 0, -1) if out.count % k == 0)
    return next((c for c in fitting if _fits(c, height)), one)


def clipped(line: Points, within: Polygon) -> list[Points]:
    """The pieces of a line (n, 2) that lie within an area."""
    inside = shapely.intersection(LineString(line), within)
    merged = shapely.line_merge(inside) if inside.geom_type == "MultiLineString" else inside
    parts = shapely.get_parts(merged)
    return [np.array(p.coords) for p in parts if p.geom_type == "LineString" and p.length > FINE]


def between_marks(chain: Chain) -> Polygon:
    """All that lies between the first and the last match line of a chain."""
    first, last = chain.ends()
    ahead, behind = ([[0, -FAR], [x, -FAR], [x, FAR], [0, FAR]] for x in (FAR, -FAR))
    within = Polygon(first.apply(ahead)).intersection(Polygon(last.apply(behind)))
    assert isinstance(within, Polygon)
    return within


def point_pins(laid: Strip) -> tuple[Pin, ...]:
    """The pins through both headings of a strip at every mitre."""
    return tuple(
        Pin(at, f"point, {which}")
        for mitre in laid.laid.mitres
        for at, which in zip(_spots([mitre.at, mitre.over]), ("traced heading", "other heading"), strict=True)
        if laid.innermost or which == "other heading"
    )


def pins(laid: Strip, spacing: float) -> tuple[Pin, ...]:
    """Where pins go in one strip: at every mitre; on curves every `spacing` mm of the longer heading and across from
    there through the other; on straight stretches every STRAIGHT mm. A heading that is butted to the strip before it
    has that one's pins."""
    band, stretches = laid.laid, laid.laid.stretches
    each = [_stations(stretch, spacing) for stretch in stretches]
    s = np.concatenate(each)
    course, ahead = band.course.points(s), band.course.tangents(s)
    side = band.width if band.side == "right" else -band.width
    over = course + side * np.stack([-ahead[:, 1], ahead[:, 0]], axis=1)
    traced = _on(laid.course, course) if laid.innermost else np.zeros(len(s), dtype=bool)
    places = list(zip(_spots(course), traced.tolist(), _spots(over), _on(laid.over, over).tolist(), strict=True))
    held: list[Pin] = []
    first = 0
    for stretch, own in zip(stretches, each, strict=True):
        longer, shorter = "longer heading", "shorter heading"
        names = (shorter, longer) if stretch.longer == "over" else (longer, shorter)
        here = places[first : first + len(own)]
        held += [Pin(at, names[0]) for at, is_on, _, _ in here if is_on]
        held += [Pin(at, names[1]) for _, _, at, is_on in here if is_on]
        first += len(own)
    return *point_pins(laid), *held


def _stations(stretch: Stretch, spacing: float) -> Floats:
    """The s of the pins along one stretch, each in the middle of its share."""
    apart = spacing if stretch.longer != "equal" else STRAIGHT
    n = max(1, math.ceil(max(stretch.course_length, stretch.over_length) / apart - ALIKE))
    return stretch.s0 + (np.arange(n) + 0.5) / n * (stretch.s1 - stretch.s0)


def _on(heading: Path, points: Points) -> NDArray[np.bool_]:
    """Which of the points lie on a heading."""
    line = LineString(heading.flatten(FINE))
    shapely.prepare(line)
    return np.asarray(shapely.dwithin(line, shapely.points(points), ON_LACE))


def headings(laid: Strip) -> tuple[Line, ...]:
    """The strip's headings to trace, without the one that the strip before it has already, and its folds."""
    own = [laid.course] if laid.innermost else []
    traced = [Line("trace", p.flatten(FINE), p.closed) for p in (*own, laid.over)]
    return *traced, *(Line("fold", np.array([m.at, m.over]), label="fold") for m in laid.laid.mitres)


def whole(title: str, told: tuple[str, ...], strips: Iterable[Strip], spacing: float, times: int = 1) -> Template:
    """The drawing of strips as they lie, moved so that its middle is at (0, 0)."""
    strips = tuple(strips)
    lines = [line for strip in strips for line in headings(strip)]
    x = np.concatenate([line.points for line in lines])
    middle = (x.min(axis=0) + x.max(axis=0)) / 2
    back = Pose(-float(middle[0]), -float(middle[1]))
    return Template(
        title,
        told,
        tuple(Line(n.role, back.apply(n.points), n.closed, n.label) for n in lines),
        tuple(replace(p, at=_spots([back.apply(p.at)])[0]) for strip in strips for p in pins(strip, spacing)),
        tuple(Area("lace", affine_transform(strip.region, back.affine)) for strip in strips),
        times,
    )


def repeated(title: str, told: tuple[str, ...], drawn: Chain, strips: Iterable[Strip], spacing: float) -> Template:
    """The drawing of a chain's repeats, cut out of strips that run on beside them, with match lines at both ends.

    Pins on the last match line are the next repeat's.
    """
    strips = tuple(strips)
    within = between_marks(drawn)
    near = within.buffer(ON_LACE)
    last = LineString(drawn.ends()[1].apply([[0, -FAR], [0, FAR]]))
    lines: list[Line] = []
    for strip in strips:
        for line in headings(strip):
            if line.role == "fold":
                lines.extend([line] if near.contains(LineString(line.points)) else [])
            else:
                lines.extend(Line(line.role, piece, label=line.label) for piece in clipped(line.points, within))
    held = [p for strip in strips for p in pins(strip, spacing)]
    at = shapely.points([p.at for p in held])
    here = shapely.contains(near, at) & ~shapely.dwithin(last, at, 2 * ON_LACE)
    kept = [p for p, is_here in zip(held, here.tolist(), strict=True) if is_here]
    areas = [shapely.intersection(strip.region, within) for strip in strips]
    return Template(
        title,
        told,
        (*lines, *_match_lines(drawn, lines)),
        tuple(kept),
        tuple(Area("lace", area) for area in areas if not area.is_empty),
        drawn.times,
    )


def size(template: Template) -> tuple[float, float]:
    """Width and height of what is drawn, mm."""
    points = np.concatenate([line.points for line in template.lines])
    width, height = (points.max(axis=0) - points.min(axis=0)).tolist()
    return width, height


def _match_lines(drawn: Chain, lines: list[Line]) -> tuple[Line, Line]:
    """A line across the drawing at its first and last mark, a little longer than the lace is high there."""
    points = np.concatenate([line.points for line in lines])
    out = []
    for mark in drawn.ends():
        own = mark.inverse().apply(points)
        near = np.abs(own[:, 0]) < drawn.chord / 4
        beside = own[near] if near.any() else own
        low, high = float(beside[:, 1].min()) - BEYOND, float(beside[:, 1].max()) + BEYOND
        out.append(Line("placement", mark.apply([[0.0, low], [0.0, high]]), label=MATCH))
    return out[0], out[1]


def _fits(drawn: Chain, height: float) -> bool:
    """Whether a drawing fits a SHEET, and bends so little that its match lines part it from what goes on beside it."""
    turned = abs(drawn.turn) * drawn.count
    if turned > MOST_TURN:
        return False
    places, half = drawn.places(), drawn.chord / 2
    marks = np.array([*(p.pose.carry((-half, 0.0)) for p in places), places[-1].pose.carry((half, 0.0))])
    across, deep = map(float, np.ptp(marks, axis=0))
    short, long = sorted((across + height * math.sin(math.radians(turned / 2)), deep + height))
    return long <= SHEET[0] and short <= SHEET[1]


def _turns(out: SetOut) -> list[float]:
    """Degrees by which each repeat is turned against the one before it."""
    turns = [p.pose.turn for p in out.places]
    return [(b - a + 180.0) % 360.0 - 180.0 for a, b in itertools.pairwise(turns)]


def _spots(points: ArrayLike) -> list[tuple[float, float]]:
    return [(x, y) for x, y in np.round(np.asarray(points, dtype=np.float64), 3).tolist()]
