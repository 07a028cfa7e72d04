"""Where a hooping's placing error comes from, part by part; each part can be measured and put in place of its guess."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from festoon.piece.bench import Measured
from festoon.registration.predict import MARKING, READING, SEATING

SHIFT = 0.3
"""mm rms, a whole hooping's shift that the needle check leaves (common practice; measure your own)."""

TURN = 0.15
"""Degrees rms, a whole hooping's turn that the needle check leaves (common practice; measure your own)."""

DRAWN_ALONG = 0.01
"""Share by which stitching draws the cloth in along its stitches (common practice: cloth strains 0.3 to 1 %)."""

DRAWN_ACROSS = 0.003
"""The same across its stitches (common practice: cloth strains 0.3 to 1 %)."""

Basis = Literal["assumed", "measured"]


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the placing error: its name in words, its value, unit and source, and what it is based on."""

    name: str
    value: float
    unit: str
    source: str
    basis: Basis


@dataclass(frozen=True, slots=True)
class PlacingModel:
    """What the placing error is made of; independent parts, whose squares add up.

    Every cross errs by marking (drawing it), reading (setting the needle over it) and seating (the hoop in its
    carrier): mm, the root mean square of the distance from its place. shift (mm) and turn (degrees) are what is left
    of the hooping as a whole after lining up, root mean square. drawn_along and drawn_across are the shares by which
    stitching draws the cloth in along and across its stitches; digitising allows for some of it, so half of each is
    taken as the spread. `measured` names the parts that the worker measured. ValueError for a value below zero.
    """

    marking: float = MARKING
    reading: float = READING
    seating: float = SEATING
    shift: float = SHIFT
    turn: float = TURN
    drawn_along: float = DRAWN_ALONG
    drawn_across: float = DRAWN_ACROSS
    measured: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        for name in _WORDS:
            value = getattr(self, name)
            if not (math.isfinite(value) and value >= 0):
                raise ValueError(f"{name} is {value}; an error is 0 or more")

    @property
    def parts(self) -> tuple[Part, ...]:
        """Every part, for showing."""
        return tuple(
            Part(
                words,
                getattr(self, name),
                unit,
                "the bench file" if name in self.measured else "common practice",
                "measured" if name in self.measured else "assumed",
            )
            for name, (words, unit) in _WORDS.items()
        )


_WORDS = {
    "marking": ("drawing a cross, rms", "mm"),
    "reading": ("setting the needle over a cross, rms", "mm"),
    "seating": ("the hoop's seat in its carrier, rms", "mm"),
    "shift": ("shift of the whole hooping after lining up, rms", "mm"),
    "turn": ("turn of the whole hooping after lining up, rms", "degrees"),
    "drawn_along": ("stitching draws the cloth in along its stitches", "share"),
    "drawn_across": ("stitching draws the cloth in across its stitches", "share"),
}


def placing_model(measured: Measured) -> PlacingModel:
    """The placing error of this bench: each part as measured, else the rule of thumb."""
    own = {name: value for name in _WORDS if (value := getattr(measured, name)) is not None}
    return PlacingModel(**own, measured=frozenset(own))
