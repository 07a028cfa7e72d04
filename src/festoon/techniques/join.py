"""Join: stitching along a curve that links one motif to the next, its ends tucked under (or over) them."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Any, Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from pydantic import ConfigDict, Field, model_validator
from shapely import Geometry, LineString, Point
from shapely.ops import nearest_points

from festoon.errors import PieceError
from festoon.measure import Units, fine
from festoon.plane import Path, Points, arc_through, through
from festoon.stitches import Stitching, Thread, traced
from festoon.stitches.lay import SATIN_SPACING, ZIGZAG_SPACING, lock, run, satin, zigzag
from festoon.techniques.base import Ask, Beginning, ElementBase, Setting, Technique, element_of_line
from festoon.work.fields import ElementName, Length, LineName, PartName, PositiveLength, Spot, ThreadName
from festoon.work.values import Amount, Finding, Handle, Line, Part, Sentence, Work

TOUCHING = 0.05
"""mm; parts nearer than this need no join between them (half the step of the stitch formats)."""

ALIKE = 0.3
"""mm; places of an edge whose distances differ by no more are equally near (two outlines, each known to 0.15 mm)."""

EDGE_STEP = 0.25
"""mm between the places of an edge that are looked at for the nearest (computed: a tenth of a usual column)."""


LEAST_SPACING = 0.1
"""mm from hole to hole on one side; nothing lies closer in a stitch file (the formats' step)."""

LEAST_LENGTH = 0.3
"""mm, stitch length; shorter ones heap up in one place (common practice)."""


class Join(ElementBase):
    """A column or line of stitching from one motif to the next."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)

    kind: Literal["join"] = Field(description="'join'.")
    start: PartName | None = Field(None, alias="from", description="The part that it leaves: 'sprig-2'.")
    end: PartName | None = Field(None, alias="to", description="The part that it comes to: 'sprig-3'.")
    through: ElementName | None = Field(
        None, description="Instead of from and to: an element, whose parts are linked in order."
    )
    closed: bool = Field(False, description="With through: true links the last part to the first as well.")
    path: LineName | None = Field(
        None,
        description="Instead of parts: a named line of the panel, another element's line ('hem lace/lower'), or SVG "
        "path data in mm.",
    )
    leave: Spot | None = Field(
        None,
        description="The point it leaves, right and down from the motif's own point, before the motif is turned. "
        "Left out: the nearest stitched edge.",
    )
    arrive: Spot | None = Field(None, description="The point it comes to, said in the same way.")
    bow: Length = Field(
        0.0, description="How far the curve swings to the right of the straight way; less than 0: left."
    )
    via: tuple[Spot, ...] = Field((), description="Points on the panel that the curve passes smoothly, instead of bow.")
    stitch: Literal["satin", "zigzag", "running"] = Field("satin", description="'satin', 'zigzag' or 'running'.")
    width: PositiveLength = Field(2.4, description="Width of the column.")
    spacing: Length | None = Field(
        None,
        ge=LEAST_SPACING,
        description="From hole to hole on one side. Left out: 0.4 mm for satin, 1.0 mm for zigzag.",
    )
    length: Length = Field(2.5, ge=LEAST_LENGTH, description="Stitch length of a running join.")
    taper: Length = Field(0.0, ge=0, description="Length over which the width grows from the tip at either end.")
    tip: PositiveLength = Field(0.8, description="Width at the very ends of a tapered join.")
    tuck: Length = Field(3.0, ge=0, description="How far each end runs on over (or under) the motif it meets.")
    thread: ThreadName | None = Field(None, description="A thread of the bench. Left out: the first on the bench.")

    @model_validator(mode="after")
    def _one_way(self) -> Join:
        ways = [self.path is not None, self.through is not None, self.start is not None or self.end is not None]
        if sum(ways) != 1:
            raise ValueError('say where it runs in one way: "from" and "to", or "through", or "path".')
        if (self.start is None) != (self.end is None):
            missing = "to" if self.end is None else "from"
            raise ValueError(f'it says only one end. Add "{missing}".')
        if self.start is not None and self.start == self.end:
            raise ValueError(f'it goes from "{self.start}" to itself. Name two different parts.')
        if self.taper and self.tip > self.width:
            raise ValueError("its tip is wider than its width. Make tip the smaller of the two.")
        if self.via and self.bow:
            raise ValueError('"via" and "bow" both say how it bends. Keep one of them.')
        if self.via and self.start is None:
            raise ValueError('"via" bends one way only, so it belongs to "from" and "to". Take it out.')
        if self.closed and self.through is None:
            raise ValueError('"closed" belongs to "through". Take it out.')
        idle = [word for word in ("leave", "arrive", "bow", "via") if self.path is not None and getattr(self, word)]
        if idle:
            raise ValueError(f'"path" already says where it runs. Take out "{idle[0]}".')
        return self


def needs(join: Join) -> tuple[str, ...]:
    """The parts or elements that must stand before the join can be laid."""
    if join.path is not None:
        return element_of_line(join.path)
    return tuple(n for n in (join.start, join.end, join.through) if n is not None)


def work(join: Join, setting: Setting) -> Work:
    """One part for every link, and a finding for every end that finds nothing to tuck under."""
    links = _links(join, setting)
    thread = setting.thread(join.thread or "")
    courses = [_course(join, setting, link) for link in links]
    parts, findings = [], []
    for i, (course, link) in enumerate(zip(courses, links, strict=True), start=1):
        name = join.name if len(links) == 1 else f"{join.name}-{i}"
        stitching = laid(join, course, thread)
        region, outlines = traced(stitching)
        parts.append(
            Part(
                name=name,
                element=join.name,
                panel=setting.panel,
                stitching=stitching,
                region=region,
                outlines=outlines,
            )
        )
        if link:
            findings.extend(_loose_ends(name, course, join.tuck, link, setting.units))
    return Work(
        element=join.name,
        panel=setting.panel,
        parts=tuple(parts),
        lines=tuple(Line("placement", c.flatten(0.05), label=p.name) for c, p in zip(courses, parts, strict=True)),
        handles=_handles(join, courses, parts),
        findings=tuple(findings),
        sentences=_sentences(join),
    )


def laid(join: Join, course: Path, thread: Thread) -> Stitching:
    """The join's stitching along its course, with lock stitches at both ends."""
    width = tapered(join.width, join.tip, join.taper, course.length)
    if join.stitch == "running":
        return lock(run(course, join.length, thread=thread))
    least = min(join.tip, join.width)
    if join.stitch == "zigzag":
        return lock(zigzag(course, width, join.spacing or ZIGZAG_SPACING, thread=thread, tip=least))
    return lock(satin(course, width, join.spacing or SATIN_SPACING, thread=thread, tip=least))


def tapered(
    width: float, tip: float, taper: float, length: float
) -> Callable[[NDArray[np.float64]], NDArray[np.float64]]:
    """Width (mm) at fraction f of a column `length` mm long: at both ends it eases from `tip` to `width` in `taper` mm.

    Where the column is shorter than two tapers they meet in its middle.
    """

    def at(f: NDArray[np.float64]) -> NDArray[np.float64]:
        if taper <= 0:
            return np.full(np.shape(f), width)
        reach = min(taper / length, 0.5)
        t = np.clip(np.minimum(f, 1.0 - f) / reach, 0.0, 1.0)
        return tip + (width - tip) * t * t * (3 - 2 * t)

    return at


def _links(join: Join, setting: Setting) -> list[tuple[Part, Part] | None]:
    if join.path is not None:
        return [None]
    if join.through is not None:
        parts = _parts(join.through, setting)
        if len(parts) < 2:
            raise PieceError(
                f'"{join.through}" is a single part, so there is nothing to join.',
                remedy='Give it a row, ring, pair or line, or say "from" and "to".',
            )
        after = [*parts[1:], parts[0]] if join.closed else list(parts[1:])
        return list(zip(parts, after, strict=False))
    start, end = (_parts(str(n), setting) for n in (join.start, join.end))
    for name, found in ((join.start, start), (join.end, end)):
        if len(found) > 1:
            raise PieceError(
                f'"{name}" stands {len(found)} times on the panel.',
                remedy=f'Say which one: "{found[0].name}", for example.',
            )
    return [(start[0], end[0])]


def _parts(name: str, setting: Setting) -> tuple[Part, ...]:
    parts = setting.members(name)
    if not parts:
        raise setting.no_part(name)
    return parts


def _course(join: Join, setting: Setting, link: tuple[Part, Part] | None) -> Path:
    if link is None:
        return setting.line(str(join.path))
    first, last = link
    a, b = _ends(join, first, last)
    if np.hypot(*(b - a)) < TOUCHING and not join.via:
        raise PieceError(
            f'"{first.name}" and "{last.name}" touch already, so there is no way between them to sew.',
            remedy="Move them apart, or say with leave and arrive where the join begins and ends.",
        )
    bare = through(np.array([a, *join.via, b])) if join.via else arc_through(a, b, join.bow)
    return bare.extended(join.tuck, join.tuck)


def _ends(join: Join, first: Part, last: Part) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Where the bare curve begins and ends: the said points, else the nearest stitched edges."""
    a = None if join.leave is None else first.pose.apply(join.leave)
    b = None if join.arrive is None else last.pose.apply(join.arrive)
    ahead: Geometry = Point(join.via[0]) if join.via else (last.region if b is None else Point(b))
    behind: Geometry = Point(join.via[-1]) if join.via else (first.region if a is None else Point(a))
    return (_facing(first.region, ahead) if a is None else a), (_facing(last.region, behind) if b is None else b)


def _facing(region: Geometry, other: Geometry) -> NDArray[np.float64]:
    """The point of a region nearest to a point; towards another region, the middle of the stretch that faces it."""
    nearest = np.array(nearest_points(region, other)[0].coords[0])
    if isinstance(other, Point) or region.intersects(other):
        return nearest
    edge = shapely.get_coordinates(shapely.segmentize(region.boundary, EDGE_STEP))
    facing = edge[shapely.dwithin(shapely.points(edge), other, region.distance(other) + ALIKE)]
    middle: NDArray[np.float64] = np.concatenate([[nearest], facing]).mean(axis=0)
    at: NDArray[np.float64] = facing[np.hypot(*(facing - middle).T).argmin()] if len(facing) else nearest
    return at


def _loose_ends(name: str, course: Path, tuck: float, link: tuple[Part, Part], units: Units) -> list[Finding]:
    """An end whose tuck nowhere lies on its motif leaves a gap between them."""
    loose = []
    ends = ((link[0], 0.0, 0.0, tuck), (link[1], course.length, course.length - tuck, course.length))
    for part, tip, a, b in ends:
        gap = LineString(course.points([a, b])).distance(part.region)
        if gap > TOUCHING:
            loose.append(
                Finding(
                    verdict="look again",
                    where=f'join "{name}" at "{part.name}"',
                    reason=f"Its end stops {fine(gap, units)} short of the stitching of {part.name}.",
                    remedy="Move its leave or arrive point onto the motif, or lengthen tuck.",
                    figure=fine(gap, units),
                    limit=fine(0.0, units),
                    panel=part.panel,
                    at=_place(course.at(tip)),
                    rule="loose end",
                    about=(name, part.name),
                    amount=Amount(round(gap, 1), "mm"),
                )
            )
    return loose


def _place(point: Points) -> tuple[float, float]:
    x, y = point.round(3).tolist()
    return x, y


def _bends(join: Join) -> bool:
    """Whether it is `bow` that says how it bends."""
    return join.path is None and not join.via


def _handles(join: Join, courses: list[Path], parts: list[Part]) -> tuple[Handle, ...]:
    """The middle of every link, which the bow moves to the right of the straight way; or the points it passes."""
    if not _bends(join):
        return tuple(Handle(f"point {n + 1}", at, f"via.{n}") for n, at in enumerate(join.via))
    return tuple(_bowed(p.name, c, join.tuck) for c, p in zip(courses, parts, strict=True))


def _bowed(name: str, course: Path, tuck: float) -> Handle:
    start, middle, end = course.points([tuck, course.length / 2, course.length - tuck])
    across, down = (end - start).tolist()
    chord = math.hypot(across, down)
    x, y = middle.tolist()
    return Handle(name, (x, y), "bow", along=(-down / chord, across / chord))


def _sentences(join: Join) -> tuple[Sentence, ...]:
    if join.path is not None:
        way = Sentence("It follows {path}.", (("path", "path"),))
    elif join.through is not None:
        gaps = (("through", "through"), ("closed", "closed"))
        way = _way("It links {through} one to the next, the last with the first as well: {closed}", gaps, join)
    else:
        way = _way("It goes from {from} to {to}", (("from", "start"), ("to", "end")), join)
    if join.stitch == "running":
        column = "Its {stitch} stitch is {length} long"
    else:
        column = "Its {stitch} is {width} wide, with holes {spacing} apart"
    tucked = "" if join.path is not None else ", tucked {tuck} at each end"
    tips = "" if join.stitch == "running" else "Its ends taper over {taper} to {tip}. "
    sewn = _said(f"{column}{tucked}."), _said(f"{tips}Its thread: {{thread}}.")
    if join.path is not None:
        return way, *sewn
    ends = "It leaves {leave} of the one motif's own point, and arrives {arrive} of the other's."
    return way, _said(ends), *sewn


def _said(text: str) -> Sentence:
    """A sentence whose gaps are words of the join."""
    return Sentence(text, tuple((word, word) for word in re.findall(r"{(\w+)}", text)))


def _way(text: str, gaps: tuple[tuple[str, str], ...], join: Join) -> Sentence:
    if _bends(join):
        return Sentence(text + ", bowed {bow}.", (*gaps, ("bow", "bow")))
    return Sentence(text + ", past {via}.", (*gaps, ("via", "via")))


def run_on(join: Join) -> str | None:
    """'tuck'; None for a join on a path, which alone says where it ends."""
    return "tuck" if join.path is None else None


def singly(join: Join, setting: Setting) -> tuple[dict[str, Any], ...]:
    """A join through an element as one from part to part for each of its links."""
    if join.through is None:
        return ({},)
    names = [part.name for part in setting.members(join.through)]
    links = zip(names, [*names[1:], names[0]] if join.closed else names[1:], strict=False)
    return tuple({"through": None, "closed": None, "from": first, "to": last} for first, last in links)


BEGINNINGS = (
    Beginning(
        told="a join",
        sentence="A column of stitching that leads from one part to another, its ends tucked under both.",
        asks=(Ask("from", "Which part does it leave?"), Ask("to", "Which part does it come to?")),
        example={"path": "M 6 29 C 22 6 30 8 40 20 S 60 34 74 11", "width": 5.0, "thread": "leaf"},
        under=True,
    ),
    Beginning(
        told="joins from one to the next",
        sentence="Every part of a row or ring linked with the next, and the last with the first.",
        asks=(Ask("through", "Which parts shall be linked? Choose one of them."),),
        words={"closed": True},
        example={"path": "M 4 13 C 12 32 25 33 32 20 S 53 6 60 20 S 72 32 76 17", "width": 4.0, "thread": "leaf"},
        under=True,
    ),
    Beginning(
        told="a line of stitching",
        sentence="A column of stitching along a line of the cloth.",
        asks=(Ask("path", "Which line does it follow?"),),
        example={"path": "M 6 30 H 60 Q 74 30 74 16 V 6", "width": 3.0, "stitch": "zigzag", "thread": "leaf"},
    ),
)

TECHNIQUE = Technique(
    kind="join", model=Join, needs=needs, work=work, told="a join", begins=BEGINNINGS, run_on=run_on, singly=singly
)
