"""What entredeux and beading have in common: strips of holes that cannot be drawn up. Not a technique itself."""

from __future__ import annotations

import math

from pydantic import Field

from festoon.measure import fine, show_length
from festoon.shaping.band import Band, Tightest
from festoon.techniques.base import Setting
from festoon.techniques.fastening import needle_finding
from festoon.techniques.strip import SLACK, TENTH, Amiss, Cut, Strip, finding, said
from festoon.work.fields import Length
from festoon.work.values import Amount, Figure, Finding, Mend, Sentence

EASE = 0.05
"""Share by which the outer edge of such a strip may be longer than its inner one on a curve: the embroidered bars give
so much when damp, and no more. Common practice."""

SHRINK = 0.03
"""Share that is bought more, since it shrinks when it is starched and pressed. Source: an heirloom sewing magazine says
that it shrinks; how much is common practice."""

ALLOWANCE = 12.7
"""mm at each end: half an inch. Common practice."""

LEAST_WIDTH = 1.5
"""mm: the narrowest band of holes. Common practice."""


class Openwork(Strip):
    """A strip of holes between bars of stitching."""

    allowance: Length = Field(ALLOWANCE, ge=0, description="Left over at either end of every piece.")
    shrink: float = Field(
        SHRINK,
        ge=0,
        lt=0.5,
        description="Share that is bought more, since it shrinks when it is starched and pressed before measuring.",
    )
    ease: float = Field(
        EASE,
        gt=0,
        le=1,
        description="The most by which its outer edge may be longer than its inner one on a curve, as a share: it "
        "cannot be drawn up.",
    )


def bought(words: Openwork, made: Cut) -> float:
    """What is bought, mm, so that `made` is left when it has shrunk."""
    return made.total / (1 - words.shrink)


def sewn_length(laid: Band) -> float:
    """The strip that lies on the line, mm: the longer edge on every curve; at a corner it is cut, and both pieces run
    on to the mitre."""
    return laid.strip_length


def corners(laid: Band) -> int:
    """At how many corners it is cut."""
    return len(laid.mitres)


def corner_figures(laid: Band) -> tuple[Figure, ...]:
    """How often it is cut at corners, where it is."""
    count = corners(laid)
    return (Figure("cut at corners", f"{count}, its holes matched in a mitre"),) if count else ()


def limits(words: Openwork, laid: Band, setting: Setting) -> tuple[Finding, ...]:
    """A curve too tight for it, and a needle too fine for the thread."""
    found = (_bent(words, laid, setting), needle_finding(words.sewn, words.name, setting.panel, setting.units))
    return tuple(f for f in found if f is not None)


def gentlest(words: Openwork) -> float:
    """The tightest curve that it can take, inside radius in mm: w/ease (geometry, ring ratio (R + w)/R)."""
    return words.width / words.ease


def ends_said() -> tuple[Sentence, ...]:
    """The sentences on allowances, shrinking, curves and pieces."""
    return (
        said(
            "{allowance} are left over at its ends, {shrink} is lost by shrinking; on a curve its edges differ by up "
            "to {ease}."
        ),
        said("Pieces of at most {piece}; its pattern repeats every {pattern}."),
    )


def curve_told(words: Openwork, setting: Setting) -> str:
    """How tight a curve it takes, in a sentence."""
    return (
        f"It cannot be drawn up: it takes straight lines, and curves of {show_length(gentlest(words), setting.units)} "
        "radius or more, its edges clipped."
    )


def _bent(words: Openwork, laid: Band, setting: Setting) -> Finding | None:
    tightest = laid.tightest
    if tightest is None or (laid.possible and tightest.radius * words.ease >= words.width * (1 - SLACK)):
        return None
    units = setting.units
    mends = _narrower(words, tightest, laid, setting)
    told = Amiss(
        rule="no drawing up on a curve",
        verdict="will not work",
        reason=f"Inside, it bends round a radius of {fine(max(tightest.radius, 0.0), units)}: a strip of holes "
        f"{fine(words.width, units)} wide cannot be drawn up so far.",
        figure=fine(max(tightest.radius, 0.0), units),
        limit=fine(gentlest(words), units),
        source="geometry: ring ratio (R + w)/R; how much it gives is common practice",
        amount=Amount(round(max(tightest.radius, 0.0), 1), "mm", least=True),
        at=tightest.at,
    )
    return finding(words, setting, told, mends, "smooth the line, or take lace with a thread to draw it up by")


def _narrower(words: Openwork, tightest: Tightest, laid: Band, setting: Setting) -> tuple[Mend, ...]:
    """The widest that would take the curve, where any is made so narrow. Inside, the radius is the line's less what
    lies on that side of it."""
    inner_is_course = min(laid.stretches, key=lambda stretch: stretch.radius).longer == "over"
    share = 0.5 if words.lies == "middle" else 0.0 if inner_is_course else 1.0
    line = tightest.radius + share * words.width
    wide = math.floor(words.ease * line / (1 + words.ease * share) / TENTH + SLACK) * TENTH
    if wide < LEAST_WIDTH:
        return ()
    return (Mend(f"Make width {fine(wide, setting.units)}", words.name, "width", round(wide, 1)),)
