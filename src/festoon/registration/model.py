"""Where a hooping's placing error comes from, part by part; each part can be measured and put in place of its guess."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from festoon.piece.bench import Measured
from festoon.registration.predict import MARKING, READING, SEATING, fiducial_error

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

    @property
    def measured(self) -> bool:
        """Whether it is the worker's own figure."""
        return self.basis == "measured"


@dataclass(frozen=True, slots=True)
class PlacingModel:
    """What the placing error is made of; independent parts, whose squares add up.

    Every cross errs by marking (drawing it), reading (setting the needle over it) and seating (the hoop in its
    carrier): mm, the root mean square of the distance from its place. shift (mm) and turn (degrees) are what is left
    of the hooping as a whole after lining up, root mean square. drawn_along and drawn_across are the shares by which
    stitching draws the cloth in along and across its stitches; digitising allows for some of it, so half of each is
    taken as the spread. `measured` names the parts that the worker measured, `learned` those that readings after
    hooping have changed since. ValueError for a value below zero.
    """

    marking: float = MARKING
    reading: float = READING
    seating: float = SEATING
    shift: float = SHIFT
    turn: float = TURN
    drawn_along: float = DRAWN_ALONG
    drawn_across: float = DRAWN_ACROSS
    measured: frozenset[str] = frozenset()
    learned: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        for name in _WORDS:
            value = getattr(self, name)
            if not (math.isfinite(value) and value >= 0):
                raise ValueError(f"{name} is {value}; an error is 0 or more")

    @property
    def cross(self) -> float:
        """Rms error of one cross, mm: its drawing, its reading and the hoop's seat together."""
        return fiducial_error(self.marking, self.reading, self.seating)

    @property
    def trued(self) -> PlacingModel:
        """What is left of it where the crosses were read after hooping, and the sewing moved to where they lie.

        Drawing and reading a cross, and the draw-in: the shift and turn of the whole hooping are read, and the hoop
        stays in its carrier from the reading to the sewing.
        """
        return replace(self, seating=0.0, shift=0.0, turn=0.0)

    @property
    def parts(self) -> tuple[Part, ...]:
        """Every part, for showing."""
        return tuple(
            Part(
                words,
                getattr(self, name),
                unit,
                self._source(name),
                "measured" if name in self.measured | self.learned else "assumed",
            )
            for name, (words, unit) in _WORDS.items()
        )

    def _source(self, name: str) -> str:
        told = "the bench file" if name in self.measured else "common practice"
        return f"{told}, and readings after hooping" if name in self.learned else told


_RMS = ", root mean square"

_WORDS = {
    "marking": (f"drawing a cross{_RMS}", "mm"),
    "reading": (f"setting the needle over a cross{_RMS}", "mm"),
    "seating": (f"the hoop's seat in its carrier{_RMS}", "mm"),
    "shift": (f"shift of the whole hooping after lining up{_RMS}", "mm"),
    "turn": (f"turn of the whole hooping after lining up{_RMS}", "degrees"),
    "drawn_along": ("stitching draws the cloth in along its stitches", "share"),
    "drawn_across": ("stitching draws the cloth in across its stitches", "share"),
}


def placing_model(measured: Measured) -> PlacingModel:
    """The placing error of this bench: each part as measured, else the rule of thumb."""
    own = {name: value for name in _WORDS if (value := getattr(measured, name)) is not None}
    return PlacingModel(**own, measured=frozenset(own))


def measured_names(model: PlacingModel) -> tuple[str, ...]:
    """What the worker measured of it, in words."""
    return tuple(p.name.removesuffix(_RMS) for p in model.parts if p.measured)
