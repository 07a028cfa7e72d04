"""Edging: lace with one straight heading, flat or gathered, sewn along a line, with more let in round points."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from festoon.measure import Units, fine, show_length
from festoon.shaping.band import Band
from festoon.shaping.gather import Gathers, gathers
from festoon.techniques.base import Ask, Beginning, Setting, Technique
from festoon.techniques.course import needs
from festoon.techniques.edging_limits import findings
from festoon.techniques.edging_words import Edging
from festoon.techniques.fastening import supply, told
from festoon.techniques.strip import (
    FINE,
    TICK,
    Cut,
    cut,
    cut_figures,
    cut_told,
    free_ends_said,
    handles,
    laid_along,
    said,
    sewing_said,
    sewing_stage,
)
from festoon.work.values import Area, Caution, Figure, Line, Sentence, Step, Supply, Work

APART = 2.0
"""mm from one row of gathering stitches to the other, on a narrow heading. Common practice."""

QUARTERS = 4
"""Marks divide line and edging into so many parts. Common practice."""

MOST_TOLD = 6
"""The most points whose marks are told one by one; beyond it they are told together (own choice)."""

FLAT = 1e-3
"""Share by which an edging may be longer than its line and still be laid on flat (a millimetre on a metre)."""

NAMES = ("first", "second", "third")


@dataclass(frozen=True, eq=False)
class Laid:
    """An edging as it came out: where it lies, its gathers, and how it is cut."""

    words: Edging
    band: Band
    gathers: Gathers
    cut: Cut

    @property
    def line(self) -> float:
        """The line's length, mm."""
        return self.band.course.length

    @property
    def gathered(self) -> bool:
        """Whether it must be drawn up anywhere."""
        return self.gathers.length > self.line * (1 + FLAT)

    @property
    def laps(self) -> bool:
        """Whether it lies over itself at inward points, or inside curves tighter than its width."""
        return self.gathers.inward > 0 or self.gathers.fullest <= 0

    @property
    def marks(self) -> tuple[tuple[float, float], ...]:
        """(place on the line, place on the edging), mm, of the quarter marks."""
        end = 0.0 if self.cut.closes else self.words.allowance
        return tuple((s, strip + end) for s, strip in self.gathers.marks(QUARTERS))

    @property
    def measured_from(self) -> str:
        """Where the marks on the edging are measured from, in words."""
        return "the join that closes it" if self.cut.closes else "its cut end"


def laid(words: Edging, setting: Setting) -> Laid:
    """The edging at its place. PieceError as course_of."""
    course, band = laid_along(words, setting)
    gathered = gathers(band, words.fullness, words.at_curves, words.at_points)
    joined = words.ends == "joined" if words.ends else course.closes
    return Laid(words, band, gathered, cut(words, gathered.length, joined))


def work(words: Edging, setting: Setting) -> Work:
    """The edging where it hangs, its marks, what to cut and gather, and where it would not lie flat."""
    one = laid(words, setting)
    units = setting.units
    return Work(
        element=words.name,
        panel=setting.panel,
        lines=(
            Line("stitching", one.band.course.flatten(FINE), one.band.course.closed, f"{words.name}: heading"),
            *_ticks(one),
        ),
        areas=(Area("lace", one.band.region, words.name),),
        named={"heading": one.band.course, **({"outer edge": one.band.over} if one.band.possible else {})},
        closes=one.cut.closes,
        handles=handles(words, one.band),
        figures=_figures(one, setting),
        supplies=_supplies(one, units),
        steps=_steps(one, setting),
        cautions=_CAUTIONS,
        findings=findings(words, one.band, one.gathers, setting),
        sentences=_sentences(one, units),
    )


def _ticks(one: Laid) -> tuple[Line, ...]:
    """Marks across the heading, on the cloth's side of it."""
    s = np.array([at for at, _ in one.marks])
    points, ahead = one.band.course.points(s), one.band.course.tangents(s)
    away = np.stack([ahead[:, 1], -ahead[:, 0]], axis=1) * (TICK if one.band.side == "right" else -TICK)
    return tuple(
        Line("trace", np.stack([p, p + d]), label=f"{n}/{QUARTERS}")
        for n, (p, d) in enumerate(zip(points, away, strict=True), start=1)
    )


def _figures(one: Laid, setting: Setting) -> tuple[Figure, ...]:
    units, words = setting.units, one.words
    quarters = [
        Figure(f"{name} quarter mark", f"edging at {show_length(e, units)}, line at {show_length(s, units)}")
        for name, (s, e) in zip(NAMES, one.marks, strict=True)
    ]
    return (
        Figure("line", show_length(one.line, units)),
        Figure("edging on it", show_length(one.gathers.length, units), "computed: fullness, curves and points"),
        Figure("fullness, all in all", f"{one.gathers.length / one.line:.2f}"),
        *cut_figures(one.cut, units),
        *quarters,
        *_points(one, setting),
        *([Figure("joins", f"{one.cut.joins}")] if one.cut.joins else []),
        *([Figure("inward points", f"{one.gathers.inward}: it lies over itself there")] if one.gathers.inward else []),
        *([Figure("width", show_length(words.width, units), "as given")]),
    )


def _points(one: Laid, setting: Setting) -> list[Figure]:
    """What is let in at every outward point; those that are alike are told together."""
    units, points = setting.units, one.gathers.points
    told = []
    for turn, extra in sorted({(round(p.turn, 1), round(p.extra, 2)) for p in points}):
        alike = [p for p in points if (round(p.turn, 1), round(p.extra, 2)) == (turn, extra)]
        at = ", ".join(show_length(p.s, units) for p in alike[:MOST_TOLD])
        more = ", ..." if len(alike) > MOST_TOLD else ""
        told.append(
            Figure(
                f"let in at {len(alike)} outward point{'s' if len(alike) > 1 else ''} of {turn:g}°",
                f"{show_length(extra, units)}, on the line at {at}{more}",
                "computed" if one.words.at_points is None else "as given",
            )
        )
    return told


def _supplies(one: Laid, units: Units) -> tuple[Supply, ...]:
    return (
        Supply(
            f"lace edging, {fine(one.words.width, units)}",
            one.cut.total,
            "mm",
            "computed: fullness along the line, what is let in at curves and points, allowances and pattern matching",
        ),
        supply(one.words.sewn, one.line),
    )


def _steps(one: Laid, setting: Setting) -> tuple[Step, ...]:
    words, units = one.words, setting.units
    name, stage = words.name, sewing_stage(words, setting, "edge")
    ready = Step(
        f"ready {name}",
        f"Wash or steam the edging and press it before it is measured: it shrinks. Then {cut_told(one.cut, units)}"
        + _joining(one.cut),
        "prepare",
    )
    mark = Step(f"mark {name}", _marking(one, setting), "prepare", (ready.name,))
    before = [ready, mark]
    if one.gathered:
        before.append(Step(f"gather {name}", _gathering(words, setting.units), stage, (mark.name,)))
    sew = Step(f"sew {name} on", _sewing(one, setting), stage, (before[-1].name,))
    end = Step(
        f"end {name}",
        "Draw the pull threads to the back, knot them and sew them in."
        + ("" if one.cut.closes else " Roll a narrow hem at either end of the edging, or catch it in the seam."),
        stage,
        (sew.name,),
    )
    return (*before, sew, end)


def _joining(made: Cut) -> str:
    if not made.joins:
        return "."
    what = (
        "the two ends"
        if made.pieces == 1
        else "the pieces" + (", the last to the first as well" if made.closes else "")
    )
    return (
        f", and join {what}: lay one over the other, pattern on pattern, zigzag along the pattern, and trim both close."
    )


def _marking(one: Laid, setting: Setting) -> str:
    units = setting.units
    pairs = "; ".join(
        f"the edging at {show_length(e, units)}, the line at {show_length(s, units)}" for s, e in one.marks
    )
    return f"Mark {pairs}. The edging is measured from {one.measured_from}, the line from its beginning."


def _gathering(words: Edging, units: Units) -> str:
    if words.pull_thread:
        return (
            "Draw up the edging by the strongest thread of its heading, from both ends towards each mark, until marks "
            "lie on marks; wind the thread round a pin."
        )
    return (
        f"Its heading has no thread to pull: sew two rows of long straight stitches along it, {fine(APART, units)} "
        "apart, and draw up both bobbin threads until marks lie on marks."
    )


def _sewing(one: Laid, setting: Setting) -> str:
    units, words = setting.units, one.words
    text = [f"Lay heading against heading or edge, marks on marks, right side up, and sew: {told(words.sewn, units)}."]
    if one.gathered:
        text.append("Stroke the gathers even with a needle before each length is sewn.")
    if any(p.extra for p in one.gathers.points):
        reach = fine(words.width, units)
        text.append(f"Round every outward point let in more, from {reach} before it to {reach} after it.")
    if one.laps:
        text.append("Where the line turns inwards the edging lies over itself; let it, and press the fold to one side.")
    return " ".join(text)


_CAUTIONS = (
    Caution(
        "Pull threads and thread ends: knot them at the back and sew them in, so that on things for an infant nothing "
        "loose is left that a finger or toe can catch in."
    ),
)


def _sentences(one: Laid, units: Units) -> tuple[Sentence, ...]:
    words = one.words
    told = (
        f"The line is {show_length(one.line, units)}, the edging on it {show_length(one.gathers.length, units)}; "
        f"{cut_told(one.cut, units)} of edging."
    )
    quarters = ", ".join(f"{show_length(e, units)} on {show_length(s, units)}" for s, e in one.marks)
    laps = (
        [Sentence("Where the line turns inwards the edging lies over itself: that is as it should be.")]
        if one.laps
        else []
    )
    return (
        said("Edging {width} wide follows {along}, {up} to the left of it, and hangs {lies} it."),
        *free_ends_said(words),
        said("Its fullness is {fullness}, round outward curves {at_curves}; at every outward point {at_points} more."),
        said("A thread to pull: {pull_thread}. Its ends are {ends}, {allowance} left over; pieces of at most {piece}."),
        said("Its pattern repeats every {pattern}."),
        sewing_said(),
        Sentence(told),
        Sentence(f"Quarter marks, on the edging from {one.measured_from} and on the line: {quarters}."),
        *laps,
    )


BEGINNINGS = (
    Beginning(
        told="an edging",
        sentence="Lace edging along a line, laid flat, with what it needs let in round curves and points.",
        asks=(Ask("along", "Which line does it hang from?"),),
        example={"along": "M 4 12 H 76", "width": 14},
    ),
    Beginning(
        told="a gathered edging",
        sentence="Lace edging gathered along a line, with quarter marks on both.",
        asks=(Ask("along", "Which line does it hang from?"),),
        words={"fullness": 2.0},
        example={"along": "M 4 10 C 20 26 60 26 76 10", "width": 12, "fullness": 2.0},
    ),
)

TECHNIQUE = Technique(kind="edging", model=Edging, needs=needs, work=work, told="an edging", begins=BEGINNINGS)
