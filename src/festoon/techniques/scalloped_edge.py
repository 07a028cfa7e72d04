"""Scalloped edge: satin stitch in scallops along a hem or round a garment's edge, the cloth cut away close to it."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from pydantic import Field, model_validator
from shapely import Geometry, LineString, Polygon

from festoon.measure import Units, fine, show_length, tex_to
from festoon.plane import Path, Points, Pose, polyline
from festoon.shaping.mitred import Edges, arcs_along, mitred
from festoon.shaping.scallop import arc_length
from festoon.shaping.set_out import SetOut, set_out
from festoon.stitches import Stitching, Thread, stitched_region
from festoon.stitches.consumption import WASTE, sewn
from festoon.stitches.lay import SATIN_SPACING, lock, satin_on, satin_spacing
from festoon.stitches.lay.limits import SHORTEST_STITCH
from festoon.stitches.outline import THREAD_WIDTH
from festoon.techniques.base import Ask, Beginning, Setting, Technique
from festoon.techniques.closing import PARITY, Centre, closing_finding
from festoon.techniques.course import Following, course_of, needs
from festoon.techniques.scalloped_limits import Scalloped, findings
from festoon.work.fields import Length, PositiveLength, ThreadName
from festoon.work.values import Figure, Handle, Line, Part, Sentence, Step, Supply, Work

WIDTH = 3.5
"""mm of satin: 3 to 4 is usual for an edge that is cut. Common practice."""

STRETCH = 0.03
"""Share by which a scallop may differ from its wish before it is told: 2 to 3 %. Common practice."""

LAP = 0.5
"""mm that each scallop runs on over the next, so that two hoopings meet at a point. Common practice."""

CUT_AWAY = 0.5
"""mm from the satin to where the cloth is cut: just outside. Common practice."""

COVERS = 30.0
"""wt of the thread that covers an edge closer than the usual 40. Common practice."""

LEAST_SPACING = 0.1
"""mm from hole to hole on one side; nothing lies closer in a stitch file (the formats' step)."""

STABILISER = 20.0
"""mm of tear-away beyond the satin on either side (an embroidery teacher's page: 2 cm)."""

CUT_STEP = 1.0
"""mm between the places at which the line to cut along is reckoned: scissors follow no finer (ours)."""

SIMPLIFIED = 0.02
"""mm by which outlines of the satin may be straightened (ours: a fifth of the formats' step)."""


class ScallopedEdge(Following):
    """Satin stitch in scallops along a line."""

    kind: Literal["scalloped edge"] = Field(description="'scalloped edge'.")
    repeat: PositiveLength = Field(
        50.0, description="The wished width of a scallop, from point to point; the real one is fitted to the line."
    )
    rise: PositiveLength = Field(10.0, description="How far a scallop reaches from the line, from point to round.")
    rounds: Literal["below", "above"] = Field(
        "below",
        description="On which side of the line the rounds lie, looking along it; there the cloth is cut away.",
    )
    centre: Centre = Field(
        "any",
        description="What stands at the middle of the line (of every stretch between its corners): a 'point' between "
        "two scallops, the 'round' of one, or 'any'. A point always stands at the line's ends.",
    )
    stretch: float = Field(
        STRETCH,
        ge=0,
        le=1,
        description="The most by which a scallop may be wider or narrower than wished, as a share: 0.03 is 3 %.",
    )
    width: Length = Field(
        WIDTH,
        ge=SHORTEST_STITCH,
        le=30,
        description="Width of the satin in the rounds; its middle lies on the scallop.",
    )
    at_points: Length | None = Field(
        None, ge=SHORTEST_STITCH, description="Width of the satin at the points. Left out: as in the rounds."
    )
    spacing: Length | None = Field(
        None,
        ge=LEAST_SPACING,
        description="From hole to hole on one side. Left out: what closes with the thread, 0.4 mm for 40 wt.",
    )
    underlay: Literal["none", "centre", "edge"] = Field(
        "edge", description="Runs under the satin: 'edge' (along both edges), 'centre' (along its middle) or 'none'."
    )
    sewn: Literal["machine file", "sewing machine"] = Field(
        "machine file",
        description="'machine file': in the hoopings. 'sewing machine': over a traced line, with its own satin stitch.",
    )
    lap: Length = Field(
        LAP, ge=0, description="How far each scallop of a machine file runs on over the next, where hoopings may part."
    )
    cut_away: Length = Field(CUT_AWAY, ge=0, description="From the satin to the line along which the cloth is cut.")
    thread: ThreadName | None = Field(
        None,
        description="A thread of the bench, for needle and bobbin alike; 30 wt covers closer. Left out: the first.",
    )

    @model_validator(mode="after")
    def _fits_its_scallops(self) -> ScallopedEdge:
        if self.points_width > self.width:
            raise ValueError("its satin is wider at the points than in the rounds. Make at_points the smaller.")
        if self.repeat < self.width / 2:
            raise ValueError("its scallops are too small for satin so wide. Make repeat larger, or width smaller.")
        return self

    @property
    def points_width(self) -> float:
        """Width of the satin at the points, mm."""
        return self.width if self.at_points is None else self.at_points


@dataclass(frozen=True, eq=False)
class _Sewn:
    """A scalloped edge drawn: its line, where its scallops stand, their arcs, and the columns of satin over them."""

    line: Path
    closes: bool
    out: SetOut
    arcs: tuple[Path, ...]
    columns: tuple[Edges, ...]
    thread: Thread
    spacing: float

    @property
    def loop(self) -> bool:
        """Whether the last scallop meets the first on the cloth."""
        return self.line.closed


def work(edge: ScallopedEdge, setting: Setting) -> Work:
    """A part for every scallop, or lines to trace; the line to cut along; and what does not come out well."""
    drawn = _drawn(edge, setting)
    outer = polyline(_outer(edge, drawn.columns))
    by_machine = _files(edge)
    limits = Scalloped(edge.name, edge.rise, edge.width, edge.at_points, _side(edge), drawn.line, drawn.out)
    closing = closing_finding(edge.name, edge.repeat, edge.stretch, edge.centre, drawn.out, setting)
    given = edge.spacing if by_machine else None
    parts = _parts(edge, drawn, setting) if by_machine else ()
    return Work(
        element=edge.name,
        panel=setting.panel,
        parts=parts,
        lines=_lines(edge, drawn, by_machine),
        named={"lower" if edge.rounds == "below" else "upper": outer},
        closes=drawn.closes,
        places=tuple(p.pose.after(Pose(0.0, _side(edge) * edge.rise / 2)) for p in drawn.out.places),
        handles=_handles(edge, drawn),
        figures=_figures(edge, drawn, outer, setting),
        supplies=_supplies(edge, drawn, parts, setting.units),
        steps=_steps(edge, drawn, setting),
        findings=(*([closing] if closing else []), *findings(limits, drawn.columns, given, drawn.thread, setting)),
        sentences=_sentences(edge, drawn, outer, setting),
    )


def _side(edge: ScallopedEdge) -> float:
    """1 where the rounds lie to the right of travel, -1 to the left."""
    return 1.0 if edge.rounds == "below" else -1.0


def _drawn(edge: ScallopedEdge, setting: Setting) -> _Sewn:
    course = course_of(edge, setting)
    out = set_out(course.path, edge.repeat, PARITY[edge.centre])
    arcs = arcs_along(out.places, _side(edge) * edge.rise)
    columns = mitred(arcs, course.path, edge.width, edge.points_width)
    thread = setting.thread(edge.thread or "")
    return _Sewn(course.path, course.closes, out, arcs, columns, thread, edge.spacing or satin_spacing(thread.tex))


def _parts(edge: ScallopedEdge, drawn: _Sewn, setting: Setting) -> tuple[Part, ...]:
    columns = drawn.columns
    parts = []
    for k, column in enumerate(columns):
        after = columns[(k + 1) % len(columns)] if drawn.loop or k + 1 < len(columns) else None
        over = None if after is None or not edge.lap else after.before(edge.lap)
        whole = column.followed_by(over) if over else column
        stitching = lock(satin_on(whole.left, whole.right, drawn.spacing, thread=drawn.thread, underlay=edge.underlay))
        region = _covered([column, over] if over else [column], stitching)
        parts.append(
            Part(
                name=edge.name if len(columns) == 1 else f"{edge.name}-{k + 1}",
                element=edge.name,
                panel=setting.panel,
                stitching=stitching,
                region=region,
                outlines=((0, region),),
            )
        )
    return tuple(parts)


def _covered(columns: Sequence[Edges], stitching: Stitching) -> Geometry:
    """The area of columns, half a thread wider all round as stitched areas are; traced where one folds over itself."""
    rings = [Polygon(np.concatenate([c.left, c.right[::-1]])) for c in columns]
    flat = [ring.simplify(SIMPLIFIED, preserve_topology=False) for ring in rings]
    if all(ring.is_valid for ring in flat):
        area = shapely.union_all(flat).buffer(THREAD_WIDTH / 2, quad_segs=2)
        if shapely.contains_xy(area, stitching.holes).all():
            return area
    return stitched_region(stitching)


def _outer(edge: ScallopedEdge, columns: Sequence[Edges]) -> Points:
    """The outer edge of the satin, where the cloth ends, as one line: (n, 2) mm."""
    sides = [c.right if edge.rounds == "below" else c.left for c in columns]
    line: Points = np.array(LineString(_strung(sides)).simplify(SIMPLIFIED, preserve_topology=False).coords)
    return line


def _strung(sides: Sequence[Points]) -> Points:
    return np.concatenate([sides[0], *(side[1:] for side in sides[1:])])


def _lines(edge: ScallopedEdge, drawn: _Sewn, by_machine: bool) -> tuple[Line, ...]:
    """The middle of the satin, to trace or to place by, and the line along which the cloth is cut."""
    middle = _strung([arc.flatten(SIMPLIFIED) for arc in drawn.arcs])
    more = 2 * edge.cut_away
    beyond = mitred(drawn.arcs, drawn.line, edge.width + more, edge.points_width + more, CUT_STEP)
    cut = _outer(edge, beyond)
    return (
        Line("placement" if by_machine else "trace", middle, drawn.loop, edge.name),
        Line("trim", cut, drawn.loop, f"{edge.name}: cut away"),
    )


def _handles(edge: ScallopedEdge, drawn: _Sewn) -> tuple[Handle, ...]:
    """The round nearest to the middle of the line, which says how far the scallops reach."""
    place = drawn.out.places[drawn.out.count // 2]
    side = _side(edge)
    (x, y), (ox, oy) = place.pose.apply([[0.0, side * edge.rise], [0.0, 0.0]]).tolist()
    return (Handle("rise of the scallops", (x, y), "rise", along=((x - ox) / edge.rise, (y - oy) / edge.rise)),)


def _figures(edge: ScallopedEdge, drawn: _Sewn, outer: Path, setting: Setting) -> tuple[Figure, ...]:
    units, worst = setting.units, drawn.out.worst
    satin = sum(arc.length for arc in drawn.arcs)
    chord = max(p.chord for p in drawn.out.places)
    closed = fine(SATIN_SPACING, units, 2)
    spaced = (
        "as given" if edge.spacing else f"computed: {closed} × the root of the thread's tex over 25, as its diameter"
    )
    return (
        Figure("scallops", f"{drawn.out.count}"),
        Figure("width of a scallop, along the line", fine(worst.pitch, units, 2)),
        Figure("line of one scallop, point to point", fine(arc_length(chord, edge.rise), units, 1)),
        Figure("satin, along its middle", show_length(satin, units)),
        Figure("outer edge", show_length(outer.length, units)),
        Figure("from hole to hole on one side", fine(drawn.spacing, units, 2), spaced),
    )


def _supplies(edge: ScallopedEdge, drawn: _Sewn, parts: Sequence[Part], units: Units) -> tuple[Supply, ...]:
    """What no count of the machine files knows of: thread in the bobbin as in the needle; or, for the sewing machine,
    both threads, and tear-away in strips."""
    thread = edge.thread or drawn.thread.name
    how = f"computed from the length of every stitch, {WASTE:.0%} waste"
    if _files(edge):
        lengths = np.concatenate([np.hypot(*np.diff(p.stitching.holes, axis=0).T) for p in parts])
        half = float(sewn(lengths).sum()) / 2 * (1 + WASTE)
        most = "half of both threads, of which satin draws less from below"
        return (Supply(f"thread {thread}, wound on the bobbin", half, "mm", f"{how}; {most}"),)
    step, pairs = drawn.spacing / 2, zip(drawn.columns, drawn.arcs, strict=True)
    both = sum(float(sewn(np.hypot(c.rungs, step)).mean()) * a.length / step for c, a in pairs)
    wide = math.ceil(edge.rise + edge.width + 2 * STABILISER)
    return (
        Supply(f"thread {thread}, for needle and bobbin", both * (1 + WASTE), "mm", how),
        Supply(
            f"tear-away, {fine(wide, units)} wide",
            drawn.line.length,
            "mm",
            f"computed: {fine(STABILISER, units)} beyond the satin on either side",
        ),
    )


def _steps(edge: ScallopedEdge, drawn: _Sewn, setting: Setting) -> tuple[Step, ...]:
    units, thread = setting.units, edge.thread or drawn.thread.name
    under = Step(
        "tear-away",
        f"Lay tear-away under the whole edge, {show_length(STABILISER, units)} beyond the satin on either side.",
        "prepare",
    )
    bobbin = Step(
        "bobbin",
        f"Wind the bobbin with the needle's thread, {thread}: both sides of the edge are seen.",
        "prepare",
    )
    if _files(edge):
        before: tuple[Step, ...] = (under, bobbin)
        sew = "Sew the scallops as the hoopings come; the line to cut along is not sewn."
    else:
        trace = Step("trace", "Trace the scallops from the template on the right side of the cloth.", "prepare")
        before = (trace, under, bobbin)
        sew = (
            f"Sew satin stitch {fine(edge.width, units)} wide over the traced line{_narrower(edge, units)}, holes "
            f"{fine(drawn.spacing, units, 2)} apart on one side. Slow down in the rounds; at each point stop with the "
            "needle down on the outer side, lift the foot and turn the cloth."
        )
    satin = Step("satin", sew, "embroider", tuple(step.name for step in before))
    tear = Step(
        "tear off",
        "Lay a thumb on the satin and tear the stabiliser away from it; press from the wrong side.",
        "trim",
        (satin.name,),
    )
    cut = Step(
        "cut away",
        f"Cut the cloth away close to the stitching, {fine(edge.cut_away, units)} from it, along the marked line: with "
        "sharp, blunt-tipped scissors, the blade flat, and never into the satin. Clip into the points last.",
        "edge",
        (tear.name,),
    )
    return (*before, satin, tear, cut)


def _narrower(edge: ScallopedEdge, units: Units) -> str:
    if edge.points_width == edge.width:
        return ""
    return f", narrowing to {fine(edge.points_width, units)} at the points"


def _sentences(edge: ScallopedEdge, drawn: _Sewn, outer: Path, setting: Setting) -> tuple[Sentence, ...]:
    units, count, worst = setting.units, drawn.out.count, drawn.out.worst
    each = "One scallop fills" if count == 1 else f"{count} scallops of {fine(worst.pitch, units, 2)} fill"
    closing = " and close it" if drawn.closes else ""
    told = (
        f"{each} {show_length(drawn.line.length, units)}{closing}; their outer edge is "
        f"{show_length(outer.length, units)} long."
    )
    by_machine = "; each runs on over the next by {lap}, {underlay} runs beneath" if _files(edge) else ""
    finer = tex_to(drawn.thread.tex, "wt")
    advice = f" A thread of {COVERS:g} wt covers closer than this of {finer:.0f} wt." if finer > COVERS else ""
    return (
        _said("Scallops along {along}, {up} to the left of it: about {repeat} wide, {rise} deep, rounds {rounds}."),
        _said("At the middle: {centre}. Left free at the ends: {begin} and {end}. The most stretch: {stretch}."),
        Sentence(told),
        _said("Satin {width} wide, at the points {at_points}, holes {spacing} apart, of {thread}."),
        _said(f"Sewn by {{sewn}}{by_machine}; the cloth is cut {{cut_away}} from it."),
        Sentence(f"Holes {fine(drawn.spacing, units, 2)} apart on one side close with this thread.{advice}")
        if edge.spacing is None
        else Sentence(
            f"This thread closes with holes {fine(satin_spacing(drawn.thread.tex), units, 2)} apart.{advice}"
        ),
    )


def _files(edge: ScallopedEdge) -> bool:
    return edge.sewn == "machine file"


def _said(text: str) -> Sentence:
    """A sentence whose gaps are words of the edge."""
    return Sentence(text, tuple((word, word) for word in re.findall(r"{(\w+)}", text)))


def run_on(edge: ScallopedEdge) -> str | None:
    """'lap', where there are parts to run on."""
    return "lap" if _files(edge) else None


BEGINNING = Beginning(
    told="a scalloped edge",
    sentence="Scallops of satin stitch along a hem, in whole repeats, the cloth cut away close to them.",
    asks=(Ask("along", "Which line does it follow?"),),
    example={"along": "M 4 16 H 76", "repeat": 24, "rise": 9, "width": 4, "at_points": 2, "thread": "leaf"},
)

TECHNIQUE = Technique(
    kind="scalloped edge",
    model=ScallopedEdge,
    needs=needs,
    work=work,
    told="a scalloped edge",
    begins=(BEGINNING,),
    run_on=run_on,
)
