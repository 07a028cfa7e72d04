"""The words of tucks. Not a technique itself: festoon.techniques.tucks is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from pydantic import Field, model_validator

from festoon.shaping.tucks import MOST
from festoon.techniques.base import ElementBase
from festoon.techniques.fastening import Fastening
from festoon.work.fields import Length, LineName, PositiveLength

Sort = Literal["pin", "spaced", "wide", "blind", "graduated", "twin needle"]


@dataclass(frozen=True, slots=True)
class Usual:
    """What a sort of tuck has where nothing else is said: depth of the (first) tuck and gap that shows, mm."""

    depth: float
    gap: float


USUAL: dict[str, Usual] = {
    "pin": Usual(2.0, 6.0),
    "spaced": Usual(6.0, 9.0),
    "wide": Usual(25.0, 25.0),
    "blind": Usual(10.0, 0.0),
    "graduated": Usual(4.0, 8.0),
    "twin needle": Usual(0.0, 3.0),
}
"""Pin tucks are 1 to 3 mm deep (a sewing glossary); blind ones meet ("Hand-Sewing Lessons", Model 6); the rest common
practice."""

COUNT = 5
"""Tucks of a group that says nothing of how many (common practice)."""

GROW = 2.0
"""mm by which each graduated tuck is deeper than the one before it (common practice)."""

NEEDLES = 2.0
"""mm between twin needles: 1.6, 2.0 and 2.5 are for tucks. Source: three guides to pin-tuck feet."""


class TuckSewing(Fastening):
    """How tucks are sewn by the sewing machine: a straight stitch, its length, the needle and the thread."""

    stitch: Literal["straight"] = Field("straight", description="'straight'.")


class Tucks(ElementBase):
    """A group of tucks, or two that mirror each other."""

    kind: Literal["tucks"] = Field(description="'tucks'.")
    sort: Sort = Field(
        "spaced",
        description="'pin', 'spaced', 'wide', 'blind' (each fold meets the next stitching), 'graduated' (each deeper "
        "than the one before it) or 'twin needle' (ridges between two rows).",
    )
    run: Literal["down", "across"] = Field(
        "down", description="'down' the panel, which makes it narrower, or 'across' it, which makes it shorter."
    )
    count: int | None = Field(
        None, ge=1, le=MOST, description="How many in a group. Left out: as many as reduce_by or over asks for, else 5."
    )
    depth: PositiveLength | None = Field(
        None,
        description="From stitching to fold edge; of graduated ones, that of the first. Left out: fitted to reduce_by, "
        "or to over with count and gap; else 2 mm for pin, 6 for spaced, 25 for wide, 10 for blind and 4 for graduated "
        "ones.",
    )
    grow: Length | None = Field(
        None, description="By how much each graduated tuck is deeper than the one before it. Left out: 2 mm."
    )
    gap: Length | None = Field(
        None,
        description="What shows between a fold edge and the next stitching; less than 0: the fold lies over it. Left "
        "out: solved from over; else 6 mm for pin, 9 for spaced, 25 for wide, 8 for graduated ones, none for blind and "
        "3 between twin-needle rows.",
    )
    apart: PositiveLength | None = Field(None, description="Instead of gap: from one stitching to the next.")
    over: PositiveLength | None = Field(
        None,
        description="Finished width of a group, from the first stitching to the last. Without count, as many tucks as "
        "it takes for no gap to be wider than wished.",
    )
    reduce_by: PositiveLength | None = Field(
        None,
        description="Cloth that they take up together (both groups, where mirrored), as from a skirt's width to the "
        "waist. With count the depth is solved, with depth the count; with neither, both, near the usual depth.",
    )
    first: Length | None = Field(
        None,
        description="Where the first stitching lies on the tucked panel: from its left edge, or from its top where "
        "they run across. Of mirrored groups, how far from the line between them.",
    )
    middle: Length | None = Field(
        None,
        description="Instead of first: where the middle of the group's stitchings lies. With neither, it stands in the "
        "middle of the panel; mirrored groups begin 10 mm from the line between them.",
    )
    mirrored: bool = Field(
        False, description="true sets a second group, folded the other way, as the first is seen in a mirror."
    )
    about: LineName | None = Field(
        None,
        description="The line in which they mirror each other: a straight line of the panel that runs as they do "
        "('centre front'), or SVG path data in mm. Left out: the middle of the panel.",
    )
    press: Literal["left", "right", "up", "down", "away", "towards"] | None = Field(
        None,
        description="The side that the folds are pressed to. 'away' and 'towards' are said of the line between "
        "mirrored groups. Left out: right, or down where they run across; mirrored groups away from the line.",
    )
    begin: Length = Field(0.0, ge=0, description="Where their stitching begins, from the top (the left) edge.")
    sewn: PositiveLength | None = Field(
        None, description="How far they are sewn; below, they are released. Left out: to the other edge."
    )
    needles: PositiveLength | None = Field(
        None, description="Distance of the twin needles, as their packet says: 1.6, 2.0 or 2.5 mm. Left out: 2 mm."
    )
    take_up: float | None = Field(
        None,
        ge=0,
        le=1,
        description="Share of the twin needles' distance that each row takes up. Left out: as measured on the swatch, "
        "else 0.7.",
    )
    cloth_width: PositiveLength | None = Field(
        None, description="The most flat cloth that you have for the panel, measured across the tucks."
    )
    sewing: TuckSewing = Field(TuckSewing(), description="How they are sewn by the sewing machine.")

    @model_validator(mode="after")
    def _one_way(self) -> Tucks:
        for told in (_belongs(self), _said_twice(self), _turned(self)):
            if told:
                raise ValueError(told)
        return self

    @property
    def twin(self) -> bool:
        """Whether they are ridges of a twin needle."""
        return self.sort == "twin needle"

    @property
    def groups(self) -> int:
        """One, or two that mirror each other."""
        return 2 if self.mirrored else 1

    @property
    def step(self) -> float:
        """By how much each is deeper than the one before it, mm."""
        if self.sort != "graduated":
            return 0.0
        return GROW if self.grow is None else self.grow

    @property
    def distance(self) -> float:
        """Of the twin needles, mm."""
        return NEEDLES if self.needles is None else self.needles

    @property
    def pressed(self) -> Literal["left", "right", "up", "down", "away", "towards"]:
        """The side that the folds are pressed to, said or usual."""
        if self.press is not None:
            return self.press
        return "away" if self.mirrored else "right" if self.run == "down" else "down"

    @property
    def ahead(self) -> bool:
        """Whether the first group is folded to the right (or down)."""
        return self.pressed in ("right", "down", "away")

    def says(self, *words: str) -> bool:
        """Whether it says all of these words."""
        return all(getattr(self, word) is not None for word in words)


def _belongs(tucks: Tucks) -> str:
    """The sentence for a word that another sort has."""
    if tucks.sort != "graduated" and not tucks.twin and tucks.says("grow"):
        return '"grow" belongs to graduated tucks. Take it out, or write sort = "graduated".'
    for word in ("needles", "take_up"):
        if not tucks.twin and tucks.says(word):
            return f'"{word}" belongs to twin-needle tucks. Take it out, or write sort = "twin needle".'
    for word in ("depth", "grow", "press"):
        if tucks.twin and tucks.says(word):
            return f'twin-needle tucks stand up by themselves. Take out "{word}".'
    for word in ("gap", "apart"):
        if tucks.sort == "blind" and tucks.says(word):
            return f'blind tucks meet. Take out "{word}", or write sort = "spaced".'
    if tucks.about is not None and not tucks.mirrored:
        return '"about" belongs to mirrored groups. Add mirrored = true, or take it out.'
    return ""


_SAME = (("first", "middle"), ("gap", "apart"))
"""Words that say the same."""

_TOO_MUCH = (
    ("count", "depth", "reduce_by"),
    ("count", "over", "apart"),
    ("count", "over", "depth", "gap"),
    ("over", "reduce_by", "gap"),
    ("over", "reduce_by", "apart", "depth"),
)
"""Words of which each follows from the others of its row."""

_TOO_MUCH_TWIN = (("count", "reduce_by"), ("count", "over", "gap"), ("over", "reduce_by", "apart"))
_TOO_MUCH_BLIND = (("count", "depth", "over"), ("over", "reduce_by"))


def _said_twice(tucks: Tucks) -> str:
    """The sentence for words that say the same in two ways."""
    extra = _TOO_MUCH_TWIN if tucks.twin else _TOO_MUCH_BLIND if tucks.sort == "blind" else ()
    for words in (*_SAME, *extra, *_TOO_MUCH):
        if tucks.says(*words):
            told = ", ".join(f'"{word}"' for word in words[:-1])
            why = "are two ways to say it" if words in _SAME else "say too much: each follows from the others"
            return f'{told} and "{words[-1]}" {why}. Take one of them out.'
    if tucks.over is not None and tucks.count == 1:
        return 'one tuck has no way from the first stitching to the last. Take out "over" or "count".'
    return ""


def _turned(tucks: Tucks) -> str:
    """The sentence for folds pressed to a side that is none of theirs."""
    if tucks.press is None:
        return ""
    if tucks.mirrored != (tucks.press in ("away", "towards")):
        if tucks.mirrored:
            return f'mirrored groups are folded to both sides. Write press = "away" or "towards", not "{tucks.press}".'
        return f'"{tucks.press}" is said of mirrored groups. Write a side, or mirrored = true.'
    sides = ("left", "right") if tucks.run == "down" else ("up", "down")
    if not tucks.mirrored and tucks.press not in sides:
        return f'tucks that run {tucks.run} are pressed "{sides[0]}" or "{sides[1]}". Write one of them.'
    return ""
