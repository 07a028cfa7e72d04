"""Hooping and readings -> Truing: the sewing moved to where the cloth lies, or why it must not be sewn so."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from festoon.errors import HoopingError
from festoon.hooping import Hooping, Mark, check_order
from festoon.hooping.expected import expected_error
from festoon.hooping.machine_file import PLAY
from festoon.hooping.words import listed
from festoon.measure import Units
from festoon.plane.pose import Points, Pose
from festoon.registration import PlacingModel
from festoon.truing import words
from festoon.truing.judge import Judgement, judge
from festoon.truing.values import Readings, Truing, Verdict

SHIFT_MOST, TURN_MOST = 5.0, 3.0
"""mm at the middle of the field, and degrees, by which cloth may lie askew and still be trued: beyond, grain and the
hold of the hoop suffer, and hooping again is quicker than doubt (common practice)."""


def true_hooping(hooping: Hooping, readings: Readings, *, model: PlacingModel, units: Units = "mm") -> Truing:
    """How the cloth lies in the hoop by readings of two or more marks, and the hooping moved to it.

    For what a reading is see `values.Reading`. The readings err by what `PlacingModel.trued` leaves of `model`. The
    residuals only judge the readings; how well the stitching is placed follows from that and
    where the marks stand, for small residuals do not mean a small placing error (Fitzpatrick, Proc. SPIE 7261, 2009,
    from memory; checked by simulation). HoopingError for unknown marks, fewer than two readings, or one that is no
    finite number or leads out of the hoop.
    """
    left = model.trued
    marks = _read(hooping, readings)
    at = hooping.field.inverse().apply([m.at for m in marks])
    seen = at + np.array([readings[m.name] for m in marks])
    _refuse_outside(hooping, marks, seen)
    found = judge(at, seen, left.cross)
    trued = replace(
        hooping,
        field=hooping.field.after(found.rigid.pose.inverse()),
        expected=expected_error(marks, hooping.blocks, hooping.field, left),
    )
    trued = replace(trued, marks=tuple(m for m in check_order(hooping) if _past(trued, [m.at]).max() <= PLAY))
    verdict, told = _verdict(found, marks, trued, left.cross, units)
    lost = [m.name for m in hooping.marks if m not in trued.marks]
    if lost and verdict not in ("misread", "hoop again"):
        told = (*told, words.unreached(lost))
    told = (words.understood({m.name: readings[m.name] for m in marks}, units), *told)
    return Truing(verdict, dict(readings), found.rigid, found.scaled.scale, trued, told)


def _read(hooping: Hooping, readings: Readings) -> list[Mark]:
    """The marks that were read, in the order of their names."""
    known = {m.name: m for m in hooping.marks}
    where = f"hooping {hooping.number}"
    for name, reading in readings.items():
        if name not in known:
            raise words.no_mark(hooping, name)
        if not all(math.isfinite(r) for r in reading):
            raise HoopingError("its reading is no number.", where=f"{where}, mark {name}", remedy="Read it again.")
    if len(readings) < 2:
        raise HoopingError(
            "one reading cannot tell a turn from a shift." if readings else "nothing was read.",
            where=where,
            remedy=f"Read two marks at least, better all: {listed(sorted(known, key=_by_letters))}.",
        )
    return [known[n] for n in sorted(readings, key=_by_letters)]


def _refuse_outside(hooping: Hooping, marks: list[Mark], seen: Points) -> None:
    """HoopingError for a cross that cannot have been seen where it was read, because no cloth is in the hoop there."""
    outside = (np.abs(seen) > np.array(hooping.hoop.outer_size) / 2.0).any(axis=1)
    if outside.any():
        raise HoopingError(
            "read so, the cross would lie outside the hoop.",
            where=f"hooping {hooping.number}, mark {marks[int(outside.argmax())].name}",
            remedy="Look at its unit, and whether you read how far it is off or where it is in the hoop.",
        )


def _by_letters(name: str) -> tuple[int, str]:
    """A, B, ... Z, AA, AB, ..."""
    return len(name), name


def _past(hooping: Hooping, points: Points | list[tuple[float, float]]) -> Points:
    """(n, 4) mm by which points on the panel lie beyond the field's left, top, right and bottom; negative inside."""
    places = hooping.field.inverse().apply(points)
    half = np.array(hooping.hoop.field) / 2.0
    return np.hstack([-places - half, places - half])


def _verdict(
    found: Judgement, marks: list[Mark], trued: Hooping, fle: float, units: Units
) -> tuple[Verdict, tuple[str, ...]]:
    names, pose, scale = [m.name for m in marks], found.rigid.pose, found.scaled.scale
    if not found.agree:
        return "misread", words.misread(names, found.suspects, found.rigid.rms, fle, scale, units)
    if faults := _faults(trued, pose, units):
        return "hoop again", (words.hoop_again(pose, _is_far(pose), units), *faults, *words.unknowable(names))
    lies = words.lies(pose, units, agreed=not found.stretched)
    expected = words.expected(trued.expected, units)
    if not found.stretched:
        return "sound", (lies, expected, *words.unknowable(names))
    middle = np.mean([m.at for m in marks], axis=0)
    reach = float(np.hypot(*(trued.stitching.holes - middle).T).max())
    verdict: Verdict = "stretched or misread" if len(names) == 2 else "stretched"
    return verdict, (lies, *words.stretched(names, scale, reach, units), expected)


def _is_far(pose: Pose) -> bool:
    return math.hypot(pose.x, pose.y) > SHIFT_MOST or abs(pose.turn) > TURN_MOST


def _faults(trued: Hooping, pose: Pose, units: Units) -> list[str]:
    """Why the cloth, lying so, cannot be sewn without hooping again; empty where it can."""
    faults = []
    if _is_far(pose):
        faults.append(words.too_far(SHIFT_MOST, TURN_MOST, units))
    past = _past(trued, trued.stitching.points).max(axis=0)
    if past.max() > PLAY:
        faults.append(words.leaves_field(past.tolist(), PLAY, units))
    if not trued.marks:
        faults.append("No mark lies inside the field any more, so nothing could be checked before sewing.")
    return faults
