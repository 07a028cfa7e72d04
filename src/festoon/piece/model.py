"""The piece as a value: panels, elements in the order in which they lie, how to divide, and the bench."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path as File
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, FiniteFloat, model_validator

from festoon.measure import Units
from festoon.piece.bench import Bench, Hoop
from festoon.piece.panel import Panel
from festoon.techniques import Element
from festoon.work.fields import Angle, Length, Spot, Table

MADE = "made"
"""The folder inside the piece's own that results go to unless told otherwise."""

MOST_OVERLAP = 20.0
"""mm that a divided run may be sewn over again; more would be sewn twice for nothing (common practice)."""


LONGEST_NOTE = 500
"""Characters of a note: a few lines on a sheet (ours)."""


class Laid(Table):
    """A hooping of your own: where its field lies, what is sewn in it, or both. Write each as [[hooping.laid]]."""

    panel: str | None = Field(None, description="The panel it lies on. Left out: that of what it holds, or the first.")
    at: Spot | None = Field(
        None, description="The middle of its field, on the panel. Left out: where it holds best what is sewn in it."
    )
    turn: Angle | None = Field(
        None,
        description="The hoop's turn, clockwise; one that `turn` allows. Left out: upright to the grain where `at` is "
        "given, else any that is allowed.",
    )
    holds: tuple[str, ...] = Field(
        (),
        description="What is sewn here and nowhere else, with whatever else fits: parts ('sprig-3'), pieces of a "
        "divided part ('hem/2'), or all of an element ('sprig').",
    )

    @model_validator(mode="after")
    def _somewhere(self) -> Laid:
        if self.at is None and not self.holds:
            raise ValueError('it says neither where it lies nor what it holds. Give it "at", "holds" or both.')
        return self


class Dividing(Table):
    """How the work is divided into hoopings."""

    hoop: str | None = Field(None, description="Name of the hoop to use. Left out: the first on the bench.")
    turn: Literal["square", "quarter", "free"] | Annotated[tuple[Angle, ...], Field(min_length=1)] = Field(
        "quarter",
        description="How the hoop may lie to the grain: 'square' (upright), 'quarter' (also turned a quarter), "
        "'free' (any way), or a list of angles.",
    )
    overlap: Length = Field(
        2.0, ge=0, le=MOST_OVERLAP, description="How far a divided run is sewn over again at the cut."
    )
    marks: int = Field(4, ge=2, le=4, description="The most crosses for one hooping.")
    margin: Length = Field(0.0, ge=0, le=50, description="Keep stitching this far inside the field's edge.")
    compensate: bool = Field(
        True,
        description="true sews satin and fill wider by what they draw the cloth in, where that was measured; false as "
        "drawn.",
    )
    order: tuple[str, ...] = Field(
        (),
        description="Your own order of work: what is sewn in these, named as in `holds`, comes in this order as far as "
        "what lies over what allows.",
    )
    laid: tuple[Laid, ...] = Field((), description="Hoopings of your own, which the division keeps.")


def _note(text: str) -> str:
    line = " ".join(text.split())
    if not line or not line.isprintable():
        raise ValueError("the note has no words that can be printed. Say why you let it be.")
    return line


class Accepted(Table):
    """What the proof would have you look at again, and you have, and let it be. What will not work stays so."""

    rule: str = Field(min_length=1, description="What was asked, as the proof calls it: 'too thick', 'gap'.")
    panel: str = Field("", description="The panel that it is on.")
    about: tuple[str, ...] = Field(
        (),
        description="What it concerns, in any order: the parts ('sprig-3'), what the hooping sews ('hem/2'), or the "
        "thread.",
    )
    amount: FiniteFloat = Field(
        description="The figure as it stood: mm, a share from 0 to 1, layers and so on. Worse than this is told again."
    )
    note: Annotated[str, AfterValidator(_note)] = Field(
        max_length=LONGEST_NOTE, description="Why you let it be; it stands on the sheets."
    )


Wearer = Literal["infant", "child", "grown"]
"""Who wears a piece: under 3 years, under 14, or older (the ages of 16 CFR 1501 and EN 14682)."""


class PieceTable(Table):
    """[piece]: what the whole is called and how its lengths are shown."""

    name: str = Field(min_length=1, description="The piece's name, as on the sheets.")
    units: Units = Field("mm", description="How lengths are shown.")
    paper: Literal["A4", "Letter"] = Field("A4", description="Paper of templates and work sheet.")
    wearer: Wearer | None = Field(
        None,
        description="Who wears it, for the cautions on the sheets: an 'infant' (under 3 years), a 'child' (under 14) "
        "or someone 'grown'. Left out: not said.",
    )


class PieceFile(Table):
    """piece.toml as a whole."""

    piece: PieceTable = Field(description="What the whole is called and how its lengths are shown.")
    panel: tuple[Panel, ...] = Field(min_length=1, description="The panels of cloth.")
    hooping: Dividing = Field(Dividing(), description="How the work is divided into hoopings.")
    element: tuple[Element, ...] = Field((), description="What is sewn, in the order in which it lies, bottom first.")
    accepted: tuple[Accepted, ...] = Field(
        (), description="What the proof would have you look at again and you let be, each with your note."
    )


@dataclass(frozen=True, eq=False)
class Piece:
    """A piece read from its folder.

    Every element of `file` names its panel: reading fills in the only one where it was left out. `lines` gives the
    line of the piece file at which each element begins.
    """

    folder: File
    file: PieceFile
    bench: Bench
    lines: dict[str, int]

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.file.piece.name

    @property
    def panels(self) -> tuple[Panel, ...]:
        """Its panels in the order of the file."""
        return self.file.panel

    @property
    def hoop(self) -> Hoop:
        """The hoop that the division uses."""
        wanted = self.file.hooping.hoop
        return next((h for h in self.bench.hoop if h.name == wanted), self.bench.hoop[0])
