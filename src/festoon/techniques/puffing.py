"""Puffing: a strip of cloth gathered along both edges and set between two lines, straight or curved."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from festoon.measure import Units, fine, show_length
from festoon.plane import Path
from festoon.shaping.band import Band
from festoon.shaping.puffed import Puffed, between
from festoon.techniques.base import Ask, Beginning, Setting, Technique, element_of_line
from festoon.techniques.course import course_of
from festoon.techniques.fastening import supply, told
from festoon.techniques.puffing_limits import findings
from festoon.techniques.puffing_words import Puffing
from festoon.techniques.strip import (
    FINE,
    SLACK,
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
)
from festoon.work.values import Area, Figure, Line, Sentence, Step, Supply, Work

QUARTERS = 4
"""Marks divide strip and lines into so many parts. Common practice."""

GATHERING = 4.0
"""mm, the length of a gathering stitch. Common practice."""

SHARES = np.arange(1, QUARTERS) / QUARTERS


@dataclass(frozen=True, eq=False)
class Laid:
    """Puffing as it came out. band: the strip that it fills along its one line; None between two lines. wide: its
    finished width where it is greatest, mm."""

    words: Puffing
    puffed: Puffed
    band: Band | None
    cut: Cut
    wide: float

    @property
    def strip(self) -> float:
        """The strip between its ends' allowances, mm: fullness times the finished length halfway between the edges."""
        return self.words.fullness * self.puffed.middle

    @property
    def cut_width(self) -> float:
        """How wide the strip is cut, mm."""
        return self.wide + 2 * self.words.edge

    @property
    def edges(self) -> tuple[tuple[str, Path], tuple[str, Path]]:
        """Its two seam lines by name."""
        return ("upper", self.puffed.upper), ("lower", self.puffed.lower)


def laid(words: Puffing, setting: Setting) -> Laid:
    """The puffing at its place. PieceError as course_of."""
    if words.lower is None:
        course, strip = laid_along(words, setting)
        first, second = (strip.course, strip.over) if strip.side == "right" else (strip.over, strip.course)
        puffed, closes = Puffed(first, second, course.closes), course.closes
    else:
        strip = None
        upper = course_of(words, setting)
        under = course_of(words.model_copy(update={"along": words.lower}), setting)
        closes = upper.closes and under.closes
        puffed = between(upper.path, under.path, closes)
    wide = words.width if strip else puffed.width
    return Laid(words, puffed, strip, cut(words, words.fullness * puffed.middle, closes), wide)


def work(words: Puffing, setting: Setting) -> Work:
    """The puffing where it lies, its marks, the strip to cut and gather, and edges that get too full or too thin."""
    one = laid(words, setting)
    units, region = setting.units, one.band.region if one.band else one.puffed.region
    return Work(
        element=words.name,
        panel=setting.panel,
        lines=(
            *(Line("stitching", p.flatten(FINE), p.closed, f"{words.name}: {name} edge") for name, p in one.edges),
            *_ticks(one),
        ),
        areas=() if region.is_empty else (Area("cloth", region, words.name),),
        named=dict(one.edges),
        closes=one.cut.closes,
        handles=handles(words, one.band) if one.band else (),
        figures=_figures(one, units),
        supplies=_supplies(one, units),
        steps=_steps(one, units),
        findings=findings(words, one.puffed, one.band, setting),
        sentences=_sentences(one, units),
    )


def _ticks(one: Laid) -> tuple[Line, ...]:
    """Quarter marks across both seam lines, outside of the puffing."""
    ticks = []
    for (name, line), (_, other) in zip(one.edges, one.edges[::-1], strict=True):
        points, facing = line.points(SHARES * line.length), other.points(SHARES * other.length)
        away = points - facing
        far = np.maximum(np.hypot(away[:, 0], away[:, 1]), SLACK)[:, None]
        ends = points + away / far * TICK
        ticks += [
            Line("trace", np.stack([p, q]), label=f"{name} {n}/{QUARTERS}")
            for n, (p, q) in enumerate(zip(points, ends, strict=True), start=1)
        ]
    return tuple(ticks)


def _figures(one: Laid, units: Units) -> tuple[Figure, ...]:
    words, strip = one.words, one.strip
    return (
        *(Figure(f"{name} edge, finished", show_length(p.length, units)) for name, p in one.edges),
        Figure("width, finished", fine(one.wide, units), "as given" if one.band else "computed: where it is greatest"),
        Figure("strip, between its ends", f"{show_length(strip, units)} × {fine(one.cut_width, units)}"),
        *cut_figures(one.cut, units),
        *(Figure(f"fullness at the {name} edge", f"{strip / p.length:.2f}") for name, p in one.edges),
        Figure("gathering", f"{words.rows} rows at each edge, {fine(words.apart, units)} apart", "as given"),
        *(
            Figure(f"{name} quarter mark", _mark(one, share, units))
            for name, share in zip(("first", "second", "third"), SHARES.tolist(), strict=True)
        ),
        *([Figure("joins", f"{one.cut.joins}")] if one.cut.joins else []),
    )


def _mark(one: Laid, share: float, units: Units) -> str:
    """Where one mark lies on the strip and on both lines, in words."""
    end = 0.0 if one.cut.closes else one.words.allowance
    lines = ", ".join(f"the {name} line at {show_length(share * p.length, units)}" for name, p in one.edges)
    return f"the strip at {show_length(share * one.strip + end, units)}, {lines}"


def _supplies(one: Laid, units: Units) -> tuple[Supply, ...]:
    words = one.words
    row = words.sewn.model_copy(update={"stitch": "straight", "length": GATHERING, "rows": 1})
    return (
        Supply(
            f"cloth for puffing, strips {fine(one.cut_width, units)} wide",
            one.cut.total,
            "mm",
            "computed: fullness times the finished length halfway between the edges, and allowances",
        ),
        supply(row, 2 * words.rows * one.cut.total),
        supply(words.sewn, one.puffed.upper.length + one.puffed.lower.length),
    )


def _steps(one: Laid, units: Units) -> tuple[Step, ...]:
    words, name = one.words, one.words.name
    joins = ""
    if one.cut.joins:
        joins = ", and join them to a ring" if one.cut.closes else ", and join them"
        joins += " with narrow seams, pressed open"
    cutting = Step(
        f"cut {name}",
        f"From cloth with its grain along the strip, {cut_told(one.cut, units)}, {fine(one.cut_width, units)} "
        f"wide{joins}.",
        "prepare",
    )
    marks = "; ".join(_mark(one, share, units) for share in SHARES.tolist())
    start = "the join that closes it" if one.cut.closes else "its cut end"
    mark = Step(f"mark {name}", f"Mark {marks}. The strip is measured from {start}.", "prepare", (cutting.name,))
    gather = Step(
        f"gather {name}",
        f"Along each long edge sew {words.rows} rows of straight stitches {fine(GATHERING, units)} long, "
        f"{fine(words.apart, units)} apart, spread evenly over the seam line {fine(words.edge, units)} from the edge. "
        "Draw up the bobbin threads until marks lie on marks, and stroke the gathers straight across the strip.",
        "join",
        (mark.name,),
    )
    clip = ", the shorter edge's allowance clipped" if one.puffed.longer > one.puffed.shorter * (1 + SLACK) else ""
    sew = Step(
        f"sew {name} in",
        f"Sew both edges on their lines, marks on marks{clip}: {told(words.sewn, units)}. Trim the allowance, roll and "
        "whip it, and take out the rows that show. Do not press the puffs flat.",
        "join",
        (gather.name,),
    )
    return cutting, mark, gather, sew


def _sentences(one: Laid, units: Units) -> tuple[Sentence, ...]:
    words = one.words
    if words.lower is None:
        where = said("Puffing {width} wide follows {along}, {up} to the left of it. Where it lies of the line: {lies}.")
    else:
        where = said("Puffing lies between {along} and {lower}, {up} to the left of both.")
    upper, lower = (p.length for _, p in one.edges)
    return (
        where,
        *free_ends_said(words),
        said("Its strip is {fullness} times as long; {rows} rows of gathering at each edge, {apart} apart."),
        said("{edge} are allowed at each edge, {allowance} at its ends; strips of at most {piece}."),
        sewing_said(),
        Sentence(
            f"The upper edge is {show_length(upper, units)}, the lower {show_length(lower, units)}; "
            f"{cut_told(one.cut, units)} of strip, {fine(one.cut_width, units)} wide. It is gathered "
            f"{one.strip / upper:.2f} : 1 at the upper edge and {one.strip / lower:.2f} : 1 at the lower."
        ),
    )


def needs(words: Puffing) -> tuple[str, ...]:
    """The elements whose lines its edges follow."""
    return tuple(dict.fromkeys((*element_of_line(words.along), *element_of_line(words.lower or ""))))


BEGINNINGS = (
    Beginning(
        told="puffing",
        sentence="A strip of cloth gathered along both edges, set along a line.",
        asks=(Ask("along", "Which line is its upper edge?"),),
        example={"along": "M 4 10 H 76", "width": 20},
    ),
    Beginning(
        told="puffing between two lines",
        sentence="A strip of cloth gathered along both edges, set between two lines that may differ in length.",
        asks=(Ask("along", "Which line is its upper edge?"), Ask("lower", "Which line is its lower edge?")),
        example={"along": "M 12 8 Q 40 20 68 8", "lower": "M 4 22 Q 40 44 76 22"},
    ),
)

TECHNIQUE = Technique(kind="puffing", model=Puffing, needs=needs, work=work, told="puffing", begins=BEGINNINGS)
