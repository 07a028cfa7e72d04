"""The rules of thumb behind the supplies, and which of them the worker replaced by what she measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from festoon.measure import MM_PER_INCH, Units, show_length
from festoon.piece import Bench
from festoon.piece.bench import INNER_RING
from festoon.registration.model import Part, PlacingModel, placing_model
from festoon.stitches import consumption

Basis = Literal["assumed", "measured", "computed"]


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule of thumb: what it is a rule for, its value (mm where it is a length), and where it comes from."""

    name: str
    value: float
    source: str


THICKNESS = Rule("thickness of cloth and stabiliser", consumption.THICKNESS, "common practice")
TOP_SHARE = Rule(
    "needle thread's share of all thread sewn",
    5 / 8,
    "a thread maker's online glossary 'Thread consumption': 5 m of needle and 3 m of bobbin thread in 1000 stitches",
)
WASTE = Rule(
    "waste added to thread",
    consumption.WASTE,
    "apparel teaching pages and a thread maker's technical bulletin 'Thread consumption': 10 to 20 %",
)
TAIL = Rule("tails of each thread where it is begun and cut", 50.0, "common practice")
STABILISER_MARGIN = Rule("stabiliser beyond the inner hoop on every side", 20.0, "an embroidery teacher's page: 2 cm")
INNER_HOOP = Rule("inside of a hoop beyond its field on every side", INNER_RING, "common practice")
STABILISER_OVERLAP = Rule("overlap of two widths of stabiliser", 20.0, "common practice")

FROM_BENCH = "the bench file"


@dataclass(frozen=True, slots=True)
class Assumption:
    """One figure that the supplies rest on: its name, its value as text, its source, and what it is based on."""

    name: str
    value: str
    source: str
    basis: Basis


def thickness(bench: Bench) -> float:
    """Cloth and stabiliser together, mm: measured, or the rule of thumb."""
    measured = bench.measured.cloth_thickness
    return THICKNESS.value if measured is None else measured


def top_share(bench: Bench) -> float:
    """The needle thread's share of all thread: measured, or the rule of thumb."""
    measured = bench.measured.top_share
    return TOP_SHARE.value if measured is None else measured


def assumptions(bench: Bench, units: Units = "mm") -> tuple[Assumption, ...]:
    """Every figure that the supplies and the placing error of this bench rest on."""
    machine, measured = bench.machine, bench.measured
    return (
        Assumption(
            "thread in one stitch",
            "2 × (stitch length + thickness), needle and bobbin thread together",
            "geometry of the lockstitch",
            "computed",
        ),
        _ruled(THICKNESS, _thin(thickness(bench), units), measured.cloth_thickness is not None),
        _ruled(TOP_SHARE, f"{100 * top_share(bench):g} %", measured.top_share is not None),
        _ruled(WASTE, f"{100 * WASTE.value:g} %"),
        _ruled(TAIL, show_length(TAIL.value, units)),
        *(
            [_ruled(INNER_HOOP, show_length(INNER_HOOP.value, units))]
            if any(h.inner is None for h in bench.hoop)
            else []
        ),
        _ruled(STABILISER_MARGIN, show_length(STABILISER_MARGIN.value, units)),
        _benched("layers of stabiliser", f"{bench.stabiliser.layers}", "layers" in bench.stabiliser.model_fields_set),
        _benched(
            "width of the stabiliser's roll",
            show_length(bench.stabiliser.roll_width, units),
            "roll_width" in bench.stabiliser.model_fields_set,
        ),
        _benched("thread on one bobbin", f"{bench.bobbin.metres:g} m", "metres" in bench.bobbin.model_fields_set),
        _benched("speed of the machine", f"{machine.speed:g} stitches a minute", "speed" in machine.model_fields_set),
        _benched(
            "one change of thread, the first threading counted",
            f"{machine.change_minutes:g} minutes",
            "change_minutes" in machine.model_fields_set,
        ),
        _benched(
            "hooping and lining up once",
            f"{machine.hooping_minutes:g} minutes",
            "hooping_minutes" in machine.model_fields_set,
        ),
        *_placing(placing_model(measured), units),
    )


def _placing(model: PlacingModel, units: Units) -> tuple[Assumption, ...]:
    """The errors behind where stitching is predicted to fall and how well hoopings meet."""
    return (
        *(Assumption(part.name, part_told(part, units), part.source, part.basis) for part in model.parts),
        Assumption(
            "where stitching falls",
            "turn and shift fitted to the crosses by least squares; what the hooping and the draw-in add to it",
            "Fitzpatrick, West and Maurer, IEEE Trans Med Imaging 17(5), 1998, in the plane (from memory)",
            "computed",
        ),
    )


def part_told(part: Part, units: Units) -> str:
    """A part of the placing error with its unit: '0.5 mm', '0.02 in', '1 %', '0.15°'."""
    match part.unit:
        case "mm":
            return _thin(part.value, units)
        case "share":
            return f"{100 * part.value:.3g} %"
        case _:
            return f"{part.value:.3g}°"


def _thin(mm: float, units: Units) -> str:
    """A length of tenths of a millimetre; a sixteenth of an inch would be too coarse for it."""
    return show_length(mm, places=2) if units == "mm" else f"{mm / MM_PER_INCH:.2g} in"


def _ruled(rule: Rule, value: str, measured: bool = False) -> Assumption:
    return Assumption(rule.name, value, FROM_BENCH if measured else rule.source, "measured" if measured else "assumed")


def _benched(name: str, value: str, given: bool) -> Assumption:
    return Assumption(name, value, FROM_BENCH if given else "common practice", "measured" if given else "assumed")
