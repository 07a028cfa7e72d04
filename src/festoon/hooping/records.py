"""Division -> `hoopings.json`: the open record of every hooping, for other tools and for later.

A stitch at (u, v) in a machine file, mm from the middle of the field and y down, lies on the panel at
centre + R(turn) · (u, v), with turn in degrees, clockwise as seen.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from festoon.hooping.compensate import Widening
from festoon.hooping.machine_file import check_order
from festoon.hooping.values import Block, Division, ExpectedError, Hooping, Mark, Record
from festoon.plane.pose import Pose

RECORD = "hoopings.json"
"""The file that holds it, beside the machine files."""


def record(division: Division, files: Mapping[int, str], lengthened: Sequence[Record] = ()) -> Record:
    """The division as one JSON object; files maps each hooping's number to the name of its machine file.
    `lengthened` says what is longer than in the piece file.

    Lengths in mm on the panel (`in_hoop`: from the middle of the field), rounded to 0.001; turns from 0 up to 360.
    """
    return {
        "unit": "mm",
        "count": division.count,
        "lower_bound": division.lower_bound,
        "fewest_proven": division.fewest_proven,
        "hoopings": [_hooping(h, files[h.number]) for h in division.hoopings],
        "lengthened": list(lengthened),
    }


def _hooping(hooping: Hooping, file: str) -> Record:
    to_hoop = hooping.field.inverse()
    return {
        "number": hooping.number,
        "panel": hooping.panel,
        "hoop": hooping.hoop.name,
        "field": _rounded(hooping.hoop.field),
        "centre": _rounded((hooping.field.x, hooping.field.y)),
        "turn": _round(hooping.field.turn % 360.0) % 360.0,
        "file": file,
        "stitches": hooping.stitching.stitch_count,
        "threads": [{"name": t.name, "colour": t.colour, "tex": _round(t.tex)} for t in hooping.stitching.threads],
        "elements": list(hooping.elements),
        "marks": [_mark(m, to_hoop) for m in check_order(hooping)],
        "expected_error": _expected(hooping.expected),
        "after": list(hooping.after),
        "laid": hooping.laid is not None,
        "widened": [_widened(b, b.widened) for b in hooping.blocks if b.widened is not None],
    }


def _widened(block: Block, widening: Widening) -> Record:
    """The stretch to 0.000001, so that it carries every hole of a large field to 0.001 mm."""
    return {
        "part": block.part,
        "piece": block.piece,
        "about": _rounded(widening.about),
        "by": [[round(float(v), 6) + 0.0 for v in row] for row in widening.by],
    }


def _mark(mark: Mark, to_hoop: Pose) -> Record:
    return {"name": mark.name, "at": _rounded(mark.at), "in_hoop": _rounded(to_hoop.apply(mark.at).tolist())}


def _expected(expected: ExpectedError) -> Record:
    return {"at": _rounded(expected.at), "mm": _round(expected.mm), "confidence": _round(expected.confidence)}


def _rounded(numbers: Iterable[float]) -> list[float]:
    return [_round(n) for n in numbers]


def _round(number: float) -> float:
    """To 0.001, and never minus zero."""
    return round(float(number), 3) + 0.0
