"""Beading: a strip with slots for a ribbon, sewn in along a line, and the ribbon that runs through it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator
from shapely import Geometry, LinearRing, LineString

from festoon.measure import Units, fine, show_length
from festoon.shaping.band import Band, band
from festoon.techniques.base import Ask, Beginning, Setting, Technique
from festoon.techniques.course import course_of, needs
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
    FINE,
    SLACK,
    Amiss,
    Cut,
    cut,
    cut_figures,
    cut_told,
    edges,
    finding,
    free_ends_said,
    handles,
    laid_along,
    named,
    said,
    sewing_said,
    sewing_stage,
)
from festoon.work.fields import Length, PositiveLength
from festoon.work.values import Amount, Area, Caution, Figure, Finding, Mend, Sentence, Step, Supply, Work

WIDTH = 16.0
"""mm of beading. Common practice."""

HOLE = 7.0
"""mm, how wide its slots are; 7 mm is one of the usual widths of silk ribbon (ribbon pages)."""

WOVEN = 0.03
"""Share by which a ribbon that goes over and under is longer than its line. Common practice."""

TAIL = 40.0
"""mm of ribbon beyond either end, to be sewn in: 1 1/2 in. Source: a ribbon maker's stitch page."""

LEAST_FILL = 0.6
"""A ribbon that fills less of a slot's width turns over and slides. Common practice."""

LONGEST_TAIL = 140.0
"""mm of a free ribbon end at most, waist and hem, garment open. Source: EN 14682, as a test house's summary of 2007
gives it."""


class Beading(Openwork):
    """A strip with slots for a ribbon, sewn in along a line."""

    kind: Literal["beading"] = Field(description="'beading'.")
    width: PositiveLength = Field(WIDTH, description="Its width, from heading to heading.")
    hole: PositiveLength = Field(HOLE, description="How wide its slots are, across the strip.")
    ribbon: PositiveLength | None = Field(
        None, description="Width of the ribbon that is drawn through. Left out: as wide as the slots."
    )
    tail: Length = Field(TAIL, ge=0, description="Ribbon beyond the strip at either end, to be sewn in or to hang.")

    @model_validator(mode="after")
    def _slots_in_it(self) -> Beading:
        if self.hole >= self.width:
            raise ValueError("its slots are as wide as the strip. Make hole smaller.")
        return self

    @property
    def drawn_through(self) -> float:
        """The ribbon's width, mm, as written or as wide as the slots."""
        return self.ribbon or self.hole


def ribbon_length(words: Beading, line: float) -> float:
    """The ribbon for a line of so many mm: woven over and under, and a tail at both ends."""
    return line * (1 + WOVEN) + 2 * words.tail


def work(words: Beading, setting: Setting) -> Work:
    """The strip and its ribbon where they lie, what to cut, and what does not go through or round."""
    course, laid = laid_along(words, setting)
    made = cut(words, sewn_length(laid), course.closes)
    return Work(
        element=words.name,
        panel=setting.panel,
        lines=edges(laid),
        areas=(Area("lace", laid.region, words.name), Area("ribbon", _ribbon(words, laid, setting), "ribbon")),
        named=named(laid),
        closes=course.closes,
        handles=handles(words, laid),
        figures=_figures(words, laid, made, setting.units),
        supplies=_supplies(words, laid, made, setting.units),
        steps=_steps(words, laid, made, setting),
        cautions=_cautions(setting.units),
        findings=(*limits(words, laid, setting), *_findings(words, setting)),
        sentences=_sentences(words, laid, made, setting),
    )


def _ribbon(words: Beading, laid: Band, setting: Setting) -> Geometry:
    """Where the ribbon lies, in the middle of the strip."""
    if words.lies == "middle":
        middle = course_of(words, setting).path
    else:
        middle = band(laid.course, words.width / 2, laid.side, laid.closes).over
    line = (LinearRing if middle.closed else LineString)(middle.flatten(FINE))
    return line.buffer(min(words.drawn_through, words.width) / 2, cap_style="flat", join_style="mitre")


def _findings(words: Beading, setting: Setting) -> tuple[Finding, ...]:
    found = (_wide(words, setting), _narrow(words, setting), _hanging(words, setting))
    return tuple(f for f in found if f is not None)


def _wide(words: Beading, setting: Setting) -> Finding | None:
    if words.drawn_through <= words.hole + SLACK:
        return None
    amiss = Amiss(
        rule="ribbon wider than its slots",
        verdict="look again",
        reason="The ribbon is wider than the slots: it folds lengthwise in them and pulls at the bars.",
        figure=fine(words.drawn_through, setting.units),
        limit=fine(words.hole, setting.units),
        source="common practice",
        amount=Amount(round(words.drawn_through, 1), "mm"),
    )
    return finding(words, setting, amiss, _as_slots(words, setting), "take beading with wider slots")


def _narrow(words: Beading, setting: Setting) -> Finding | None:
    least = LEAST_FILL * words.hole
    if words.drawn_through >= least - SLACK:
        return None
    amiss = Amiss(
        rule="ribbon narrow for its slots",
        verdict="look again",
        reason="The ribbon is much narrower than the slots: it turns over in them and slides.",
        figure=fine(words.drawn_through, setting.units),
        limit=fine(least, setting.units),
        source="common practice",
        amount=Amount(round(words.drawn_through, 1), "mm", least=True),
    )
    return finding(words, setting, amiss, _as_slots(words, setting), "take beading with narrower slots")


def _as_slots(words: Beading, setting: Setting) -> tuple[Mend, ...]:
    return (Mend(f"Make ribbon {fine(words.hole, setting.units)}", words.name, "ribbon", words.hole),)


def _hanging(words: Beading, setting: Setting) -> Finding | None:
    if words.tail <= LONGEST_TAIL + SLACK:
        return None
    longest = show_length(LONGEST_TAIL, setting.units)
    amiss = Amiss(
        rule="long ribbon end",
        verdict="look again",
        reason="A ribbon end so long can catch. On a child's garment none may hang longer at waist and hem, and at the "
        "neck of a child under 7 none may hang at all; the rules of the place come first.",
        figure=show_length(words.tail, setting.units),
        limit=longest,
        source="EN 14682, as a test house's summary gives it",
        amount=Amount(round(words.tail, 1), "mm"),
    )
    mend = Mend(f"Make tail {longest}", words.name, "tail", LONGEST_TAIL)
    return finding(words, setting, amiss, (mend,), "sew both ends in")


def _figures(words: Beading, laid: Band, made: Cut, units: Units) -> tuple[Figure, ...]:
    ribbon = ribbon_length(words, sewn_length(laid))
    return (
        Figure("strip on the line", show_length(sewn_length(laid), units)),
        *cut_figures(made, units),
        Figure("to buy, before it shrinks", show_length(bought(words, made), units), f"assumed: {words.shrink:.0%}"),
        Figure(
            "ribbon", f"{show_length(ribbon, units)}, {fine(words.drawn_through, units)} wide", "computed: with tails"
        ),
        *corner_figures(laid),
    )


def _supplies(words: Beading, laid: Band, made: Cut, units: Units) -> tuple[Supply, ...]:
    return (
        Supply(
            f"beading, {fine(words.width, units)}, slots {fine(words.hole, units)}",
            bought(words, made),
            "mm",
            f"computed: the line, allowances and corners; {words.shrink:.0%} for shrinking",
        ),
        Supply(
            f"ribbon, {fine(words.drawn_through, units)}",
            ribbon_length(words, sewn_length(laid)),
            "mm",
            f"computed: the line, {WOVEN:.0%} for going over and under, a tail at both ends",
        ),
        supply(words.sewn, laid.course_length + laid.over_length),
    )


def _steps(words: Beading, laid: Band, made: Cut, setting: Setting) -> tuple[Step, ...]:
    name, units = words.name, setting.units
    ready = Step(
        f"ready {name}",
        f"Starch the beading and press it dry before it is measured: it shrinks. Then {cut_told(made, units)}.",
        "prepare",
    )
    text = [f"Lay headings and edges side by side, butted, and sew both edges: {told(words.sewn, units)}."]
    if laid.tightest is not None:
        text.insert(0, "Shape it damp on curves, and clip what cloth it has at its edges.")
    if corners(laid):
        text.append("At every corner cut it between two slots, mitre both pieces, and zigzag them together.")
    if made.joins:
        text.append("Join its pieces, or its two ends, by laying one bar over another.")
    sew = Step(f"sew {name} in", " ".join(text), sewing_stage(words, setting, "join"), (ready.name,))
    ribbon = Step(
        f"ribbon through {name}",
        f"Draw the ribbon through with a blunt needle or bodkin, right side up, {show_length(words.tail, units)} "
        "beyond either end; sew it fast at its middle and at both ends.",
        "finish",
        (sew.name,),
    )
    return ready, sew, ribbon


def _cautions(units: Units) -> tuple[Caution, ...]:
    return (
        Caution(
            "Ribbon in beading on a child's garment: sew it fast at its middle and at both ends, so that it can "
            "neither be drawn out nor drawn tight. Under 7 years none that draws or ties at head or neck; at waist and "
            f"hem free ends of at most {show_length(LONGEST_TAIL, units)}, none at the back. The rules of the place "
            "where it is worn come first.",
            "EN 14682:2014, as an authority's guidance and a test house's summary give it",
        ),
    )


def _sentences(words: Beading, laid: Band, made: Cut, setting: Setting) -> tuple[Sentence, ...]:
    units = setting.units
    ribbon = ribbon_length(words, sewn_length(laid))
    return (
        said("Beading {width} wide follows {along}, {up} to the left of it. Where it lies of the line: {lies}."),
        *free_ends_said(words),
        said("Its slots are {hole} wide; the ribbon in them is {ribbon} wide, with {tail} more at either end."),
        said(
            "{allowance} are left over at its ends, {shrink} for shrinking; on a curve its edges may differ by {ease}."
        ),
        sewing_said(),
        Sentence(
            f"The line takes {show_length(sewn_length(laid), units)}: {cut_told(made, units)}, buy "
            f"{show_length(bought(words, made), units)}, and {show_length(ribbon, units)} of ribbon."
        ),
        Sentence(curve_told(words, setting)),
    )


BEGINNING = Beginning(
    told="beading",
    sentence="A strip with slots along a line, and a ribbon drawn through it.",
    asks=(Ask("along", "Which line does it follow?"),),
    example={"along": "M 4 20 H 76", "width": 14, "hole": 6},
)

TECHNIQUE = Technique(kind="beading", model=Beading, needs=needs, work=work, told="beading", begins=(BEGINNING,))
