"""What all strips by the metre have in common: their words, how they are cut and joined, handles and findings. Not a
technique itself."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Literal

from pydantic import Field, model_validator

from festoon.measure import Units, show_length
from festoon.plane import Path
from festoon.plane.segments import Point
from festoon.shaping.band import Band, band
from festoon.techniques.base import Setting, element_of_line
from festoon.techniques.course import Course, Following, course_of
from festoon.techniques.fastening import Fastening
from festoon.work.fields import Length, PositiveLength
from festoon.work.values import Amount, Figure, Finding, Handle, Line, Mend, Sentence, Stage, Verdict

Lies = Literal["above", "below", "middle"]

FINE = 0.05
"""mm by which a drawn line may lie from the true one: half a machine's step."""

TENTH = 0.1
"""mm, the step in which a better length is offered."""

SLACK = 1e-6
"""By which figures that meet their limit exactly may pass it (computed: rounding)."""

TICK = 4.0
"""mm, how long a mark across a line is drawn (own choice)."""


class Strip(Following):
    """A strip bought or cut by the metre and sewn along a line."""

    width: PositiveLength = Field(description="Its width.")
    lies: Lies = Field(
        "middle",
        description="Where it lies of the line: 'above' it (to the left, looking along it), 'below' it, or with its "
        "'middle' on it.",
    )
    allowance: Length = Field(0.0, ge=0, description="Left over at either end.")
    pattern: Length = Field(
        0.0, ge=0, description="Repeat of its own pattern; up to one is cut away to match it at every join."
    )
    piece: PositiveLength | None = Field(
        None, description="The longest piece that you have; where more is needed, pieces are joined. Left out: any."
    )
    sewn: Fastening = Field(Fastening(), description="How it is sewn on.")

    @model_validator(mode="after")
    def _long_enough(self) -> Strip:
        if self.piece is not None and self.piece <= 2 * self.allowance + self.pattern:
            raise ValueError("a piece of it is no longer than the allowances at its ends. Make piece longer.")
        return self


@dataclass(frozen=True, slots=True)
class Cut:
    """A strip as it is cut: so many pieces of `each`, mm, ends and joins included; closes: whether the last is joined
    to the first as well."""

    pieces: int
    each: float
    closes: bool

    @property
    def total(self) -> float:
        """All pieces together, mm."""
        return self.pieces * self.each

    @property
    def joins(self) -> int:
        """How many joins there are."""
        return self.pieces if self.closes else self.pieces - 1


def cut(words: Strip, sewn: float, closes: bool) -> Cut:
    """The pieces for `sewn` mm of strip: as few as `piece` allows, all alike.

    Every piece has the allowance at both its ends, and at every join, where it closes as well, up to one repeat of the
    pattern is cut away.
    """
    to_match = words.pattern if closes else 0.0
    pieces = 1
    if words.piece is not None and sewn + 2 * words.allowance + to_match > words.piece + SLACK:
        room = words.piece - 2 * words.allowance - words.pattern
        pieces = math.ceil((sewn + to_match - words.pattern) / room - SLACK)
    return Cut(pieces, (sewn + to_match + (pieces - 1) * words.pattern) / pieces + 2 * words.allowance, closes)


def laid_along(words: Strip, setting: Setting) -> tuple[Course, Band]:
    """The line that the strip follows, and the strip beside it; with its middle on the line, one edge half a width away
    is the course. PieceError as course_of."""
    if words.lies == "middle":
        words = words.model_copy(update={"up": words.up - words.width / 2})
    course = course_of(words, setting)
    return course, band(course.path, words.width, "right" if words.lies == "below" else "left", course.closes)


def edges(laid: Band) -> tuple[Line, Line]:
    """Both edges of a strip as lines to place it by."""
    lower, upper = ("lower edge", "upper edge") if laid.side == "left" else ("upper edge", "lower edge")
    return (
        Line("placement", laid.course.flatten(FINE), laid.course.closed, lower),
        Line("placement", laid.over.flatten(FINE), laid.over.closed, upper),
    )


def named(laid: Band) -> dict[str, Path]:
    """Both edges of a strip for other elements to follow: 'lower' and 'upper'."""
    lower, upper = (laid.course, laid.over) if laid.side == "left" else (laid.over, laid.course)
    return {"lower": lower, "upper": upper}


def handles(words: Strip, laid: Band) -> tuple[Handle, ...]:
    """How far up it lies, and its width."""
    s = laid.course.length / 4
    at = laid.course.at(s)
    tx, ty = laid.course.tangents([s])[0].tolist()
    away = 1.0 if laid.side == "left" else -1.0
    wide = 2 * away if words.lies == "middle" else away
    out = (at[0] + away * words.width * ty, at[1] - away * words.width * tx)
    return (
        Handle("distance up", spot(at.tolist()), "up", along=(ty, -tx)),
        Handle("width", spot(out), "width", along=(wide * ty, -wide * tx)),
    )


def cut_figures(made: Cut, units: Units) -> tuple[Figure, ...]:
    """What is cut, for the making sheet's table."""
    whole = Figure("to cut", show_length(made.each, units), "computed: allowances at its ends counted in")
    if made.pieces == 1:
        return (whole,)
    return (
        Figure(
            "to cut",
            f"{made.pieces} pieces of {show_length(made.each, units)}, {show_length(made.total, units)} in all",
            "computed: allowances at ends and joins counted in",
        ),
    )


def cut_told(made: Cut, units: Units) -> str:
    """What is cut, in words: 'cut 520 mm', 'cut 3 pieces of 420 mm'."""
    pieces = f"{made.pieces} pieces of " if made.pieces > 1 else ""
    return f"cut {pieces}{show_length(made.each, units)}"


def sewing_stage(words: Following, setting: Setting, otherwise: Stage) -> Stage:
    """When it is sewn on: while the element whose line it follows is shaped, where that is."""
    return "shape" if setting.shaped.intersection(element_of_line(words.along)) else otherwise


def said(text: str, **ways: str) -> Sentence:
    """A sentence whose gaps are words of the element; `ways` says which, where a gap is called otherwise.

    >>> said("Sewn with {stitch}, {width} wide.", stitch="sewn.stitch").gaps
    (('stitch', 'sewn.stitch'), ('width', 'width'))
    """
    return Sentence(text, tuple((gap, ways.get(gap, gap)) for gap in dict.fromkeys(re.findall(r"{(\w+)}", text))))


def sewing_said() -> Sentence:
    """The sentence on how it is sewn on."""
    return said(
        "It is sewn on with {stitch}, {stitch_width} wide and {stitch_length} long, rows: {rows}, needle {needle}.",
        stitch="sewn.stitch",
        stitch_width="sewn.width",
        stitch_length="sewn.length",
        rows="sewn.rows",
        needle="sewn.needle",
    )


def free_ends_said(words: Following) -> tuple[Sentence, ...]:
    """The sentence on what is left free at the line's ends, where anything is."""
    if not (words.begin or words.end):
        return ()
    return (said("{begin} of the line are left free at its beginning, {end} at its end."),)


def spot(point: Point | list[float]) -> Point:
    """A place to the thousandth of a millimetre."""
    x, y = point
    return round(x, 3), round(y, 3)


@dataclass(frozen=True, slots=True)
class Amiss:
    """What a finding tells: its rule, the reason, figure against limit, and where."""

    rule: str
    verdict: Verdict
    reason: str
    figure: str
    limit: str
    source: str
    amount: Amount
    at: Point | None = None


def finding(words: Following, setting: Setting, amiss: Amiss, mends: tuple[Mend, ...], otherwise: str) -> Finding:
    """The finding; what mends it stands first, then what else helps."""
    told = [mend.told[0].lower() + mend.told[1:] for mend in mends]
    remedy = "; or ".join([*told, otherwise])
    return Finding(
        verdict=amiss.verdict,
        where=f'"{words.name}" on {setting.panel}',
        reason=amiss.reason,
        remedy=f"{remedy[0].upper()}{remedy[1:]}.",
        figure=amiss.figure,
        limit=amiss.limit,
        source=amiss.source,
        panel=setting.panel,
        at=None if amiss.at is None else spot(amiss.at),
        rule=amiss.rule,
        about=(words.name,),
        amount=amiss.amount,
        mends=mends,
    )
