"""Entredeux: a narrow strip of holes between two cloth edges, set between cloth and lace or gathers along a line."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from festoon.measure import Units, fine, show_length
from festoon.shaping.band import Band
from festoon.techniques.base import Ask, Beginning, Setting, Technique
from festoon.techniques.course import needs
from festoon.techniques.fastening import supply, told
from festoon.techniques.openwork import (
    Openwork,
    bought,
    corner_figures,
    corners,
    curve_told,
    limits,
    sewn_length,
)
from festoon.techniques.strip import (
    Cut,
    cut,
    cut_figures,
    cut_told,
    edges,
    free_ends_said,
    handles,
    laid_along,
    named,
    said,
    sewing_said,
    sewing_stage,
)
from festoon.work.fields import Length, PositiveLength
from festoon.work.values import Area, Figure, Sentence, Step, Supply, Work

WIDTH = 2.5
"""mm of the band of holes: 1.5 to 3. Common practice."""

EDGE = 12.0
"""mm of batiste on either side of the holes, as it is sold. Common practice."""

ROLLED = 3.0
"""mm that such an edge is trimmed to before it is rolled and whipped over gathers. Common practice: 1/8 in."""

Edge = Literal["trimmed", "rolled", "seam"]

DONE: dict[Edge, str] = {
    "trimmed": "trim its batiste away close to the bars, and butt what it is sewn to against them",
    "rolled": "trim its batiste to {rolled}, and roll and whip it over the raw edge of the gathers",
    "seam": "leave its batiste as the seam allowance: stitch in the ditch beside the bars, trim, and zigzag the edge",
}
"""What is done with an edge of batiste. Source: heirloom teachers' pages; common practice."""


class Entredeux(Openwork):
    """A narrow strip of holes between two edges of batiste, sewn in along a line."""

    kind: Literal["entredeux"] = Field(description="'entredeux'.")
    width: PositiveLength = Field(WIDTH, description="Width of the band of holes, without its edges of batiste.")
    upper: Edge = Field(
        "trimmed",
        description="What is done with the edge of batiste above it: 'trimmed' away and butted (to lace), 'rolled' and "
        "whipped (over gathers), or left as a 'seam' allowance (to flat cloth).",
    )
    lower: Edge = Field("trimmed", description="The same below it.")
    edge: Length = Field(EDGE, ge=0, description="Width of the batiste on either side, as it is sold.")


def work(words: Entredeux, setting: Setting) -> Work:
    """The strip where it lies, what to cut, and curves that it cannot take."""
    course, laid = laid_along(words, setting)
    made = cut(words, sewn_length(laid), course.closes)
    return Work(
        element=words.name,
        panel=setting.panel,
        lines=edges(laid),
        areas=(Area("lace", laid.region, words.name),),
        named=named(laid),
        closes=course.closes,
        handles=handles(words, laid),
        figures=_figures(words, laid, made, setting.units),
        supplies=_supplies(words, laid, made, setting.units),
        steps=_steps(words, laid, made, setting),
        findings=limits(words, laid, setting),
        sentences=_sentences(words, laid, made, setting),
    )


def _figures(words: Entredeux, laid: Band, made: Cut, units: Units) -> tuple[Figure, ...]:
    return (
        Figure("strip on the line", show_length(sewn_length(laid), units)),
        *cut_figures(made, units),
        Figure("to buy, before it shrinks", show_length(bought(words, made), units), f"assumed: {words.shrink:.0%}"),
        Figure("width with its batiste", f"{fine(words.width + 2 * words.edge, units)}", "as given"),
        *corner_figures(laid),
    )


def _supplies(words: Entredeux, laid: Band, made: Cut, units: Units) -> tuple[Supply, ...]:
    return (
        Supply(
            f"entredeux, {fine(words.width, units)} of holes",
            bought(words, made),
            "mm",
            f"computed: the line, allowances and corners; {words.shrink:.0%} for shrinking",
        ),
        supply(words.sewn, laid.course_length + laid.over_length),
    )


def _steps(words: Entredeux, laid: Band, made: Cut, setting: Setting) -> tuple[Step, ...]:
    name, units = words.name, setting.units
    ready = Step(
        f"ready {name}",
        f"Starch the entredeux and press it dry before it is measured: it shrinks. Then {cut_told(made, units)}.",
        "prepare",
    )
    rolled = fine(ROLLED, units)
    text = [
        f"Above it, {DONE[words.upper].format(rolled=rolled)}. Below it, {DONE[words.lower].format(rolled=rolled)}.",
        f"Sew both edges, the needle once in a hole and once in the cloth or heading: {told(words.sewn, units)}.",
    ]
    if laid.tightest is not None:
        text.insert(0, "Clip its batiste every few millimetres on curves, up to the bars, and shape it damp.")
    if corners(laid):
        text.append("At every corner cut it, mitre both pieces hole on hole, and zigzag them together.")
    if made.joins:
        text.append("Join its pieces, or its two ends, by laying one hole over another.")
    sew = Step(f"sew {name} in", " ".join(text), sewing_stage(words, setting, "join"), (ready.name,))
    return ready, sew


def _sentences(words: Entredeux, laid: Band, made: Cut, setting: Setting) -> tuple[Sentence, ...]:
    units = setting.units
    return (
        said(
            "Entredeux, {width} of holes, follows {along}, {up} to the left of it. Where it lies of the line: {lies}."
        ),
        *free_ends_said(words),
        said("Of its {edge} of batiste on either side, the upper is {upper}, the lower {lower}."),
        said(
            "{allowance} are left over at its ends, {shrink} for shrinking; its edges may differ by {ease} on a curve."
        ),
        sewing_said(),
        Sentence(
            f"The line takes {show_length(sewn_length(laid), units)}: {cut_told(made, units)}, and buy "
            f"{show_length(bought(words, made), units)}."
        ),
        Sentence(curve_told(words, setting)),
    )


BEGINNING = Beginning(
    told="entredeux",
    sentence="A narrow strip of holes between lace, gathers and cloth, along a straight or gently curved line.",
    asks=(Ask("along", "Which line does it follow?"),),
    example={"along": "M 4 20 H 76", "width": 3},
)

TECHNIQUE = Technique(kind="entredeux", model=Entredeux, needs=needs, work=work, told="entredeux", begins=(BEGINNING,))
