"""The words of a lace band. Not a technique itself: festoon.techniques.lace_band is."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from festoon.shaping.band import READABLE_GATHER
from festoon.techniques.closing import Centre
from festoon.techniques.course import Following
from festoon.techniques.fastening import Fastening, Stitch
from festoon.work.fields import Length, PositiveLength

STRETCH = 0.1
"""Share by which a repeat may differ from its wish. Common practice; neighbours alike, nobody measures it."""

ALLOWANCE = 25.4
"""mm left at either end of a strip: 1 in, as two heirloom magazine tutorials leave it at mitred sleeve points."""

PIN_SPACING = 8.0
"""mm from pin to pin: 1/4 to 3/8 in. Source: two heirloom magazine tutorials."""

WIDTH = 13.0
"""mm: insertion of 1/2 in, one of the usual widths. Common practice."""

Shape = Literal["along", "scallops", "pointed ovals", "vees", "diamonds", "squares", "rings", "loops"]

REPEATED = ("scallops", "pointed ovals", "vees", "diamonds", "squares", "rings", "loops")
"""Shapes that stand along the line in whole repeats."""

PAIRED = ("pointed ovals", "diamonds", "squares")
"""Shapes of two bands that mirror each other, or of closed pieces one by one."""


class OnCloth(Fastening):
    """How its headings are sewn to the cloth by the sewing machine."""

    stitch: Stitch = Field(
        "straight and zigzag",
        description="'straight and zigzag' (the cloth cut away behind in between), 'zigzag', 'butted zigzag', 'pin "
        "stitch' or 'straight'.",
    )


class LaceBand(Following):
    """A strip of lace with two headings, shaped flat along a line of the panel."""

    kind: Literal["lace band"] = Field(description="'lace band'.")
    width: PositiveLength = Field(WIDTH, description="Width of the lace, from heading to heading.")
    shape: Shape = Field(
        "along",
        description="'along' the line as it runs, straight, curved, mitred at its corners or closed to a ring; or in "
        "whole repeats on it: 'scallops', 'pointed ovals', 'vees', 'diamonds', 'squares' (on their corners), 'rings' "
        "or 'loops'.",
    )
    lies: Literal["above", "below", "middle"] = Field(
        "above",
        description="Where one band lies of the line or shape that is drawn: 'above' it (to the left, looking along "
        "it), 'below' it, or with its 'middle' on it. A pair of bands lies outside its ovals or diamonds, and a "
        "closed piece inside what is drawn.",
    )
    repeat: PositiveLength = Field(
        100.0, description="The wished length of a repeat, from point to point; the real one is fitted to the line."
    )
    rise: PositiveLength = Field(
        25.0,
        description="How far a repeat reaches from the line: from point to round. Of an oval or a diamond, half its "
        "height. Not for squares and rings.",
    )
    rounds: Literal["below", "above"] = Field(
        "below",
        description="On which side of the line the rounds of scallops, the tips of vees or the loops lie. The points "
        "between them lie on the line.",
    )
    across: PositiveLength = Field(20.0, description="How wide a loop is; less than its rise.")
    between: Length = Field(
        0.0,
        ge=0,
        description="Straight stretch from one scallop, oval, vee or diamond to the next, or the cloth left from one "
        "closed piece to the next.",
    )
    centre: Centre = Field(
        "any",
        description="What stands at the middle of the line (of every stretch between its corners): a 'point' between "
        "two repeats, or the 'round' of one. A point always stands at the line's ends, so at the seam of one that "
        "closes.",
    )
    stretch: float = Field(
        STRETCH,
        ge=0,
        le=1,
        description="The most by which a repeat may be wider or narrower than wished, as a share: 0.1 is a tenth.",
    )
    each: bool = Field(
        False, description="Of ovals, diamonds and squares: true makes each a closed piece of lace; false two bands."
    )
    behind: bool = Field(
        False, description="Of ovals, diamonds, squares and rings: true lays a straight strip behind, along the middle."
    )
    strips: int = Field(1, ge=1, le=20, description="How many strips lie side by side, their headings butted.")
    gather: float = Field(
        READABLE_GATHER,
        gt=1,
        le=5,
        description="The most that the lace may be drawn up: its longer heading to its shorter.",
    )
    pull_thread: bool = Field(
        True, description="Whether a heading has a thread to draw it up by; without one it goes straight or is mitred."
    )
    allowance: Length = Field(ALLOWANCE, ge=0, description="Lace left over at either end of a strip.")
    pattern: Length = Field(
        0.0, ge=0, description="Repeat of the lace's own pattern; up to one is cut away to match it at every seam."
    )
    pins: PositiveLength = Field(PIN_SPACING, description="From pin to pin on a curve.")
    sewn: OnCloth = Field(OnCloth(), description="How its headings are sewn to the cloth.")
    butted: Fastening = Field(Fastening(), description="How headings that lie side by side are sewn to each other.")

    @model_validator(mode="after")
    def _room_for_the_lace(self) -> LaceBand:
        if self.shape in REPEATED and self.between >= self.repeat:
            raise ValueError("its straight stretch between is as long as the whole repeat. Make between smaller.")
        if self.shape in REPEATED and self.repeat < self.total / 2:
            raise ValueError("its repeat is too short for lace so wide. Make repeat longer, or the lace narrower.")
        return self

    @property
    def total(self) -> float:
        """Width of all strips together, mm."""
        return self.strips * self.width

    @property
    def closed_pieces(self) -> bool:
        """Whether every repeat is a closed piece of lace."""
        return self.shape == "rings" or (self.each and self.shape in PAIRED)
