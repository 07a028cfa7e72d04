"""Hooping and readings -> Truing: the sewing moved to where the cloth lies, or why it must not be sewn so."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Literal

import numpy as np

from festoon.errors import HoopingError
from festoon.hooping import Hooping, Mark
from festoon.hooping.machine_file import PLAY
from festoon.hooping.marks import expected_error
from festoon.piece.near import listed
from festoon.plane.pose import Points, Pose
from festoon.truing import words
from festoon.truing.judge import Judgement, judge
from festoon.truing.values import Reading, Readings, Truing, Verdict

SHIFT_MOST, TURN_MOST = 5.0, 3.0
"""mm at the middle of the field, and degrees, by which cloth may lie askew and still be trued: beyond, grain and the
hold of the hoop suffer, and hooping again is quicker than doubt (common practice)."""

Units = Literal["mm", "inch"]


def true_hooping(hooping: Hooping, readings: Readings, *, fle: float, units: Units = "mm") -> Truing:
    """How the cloth lies in the hoop by readings of two or more marks, and the hooping moved to it.

    A reading (dx, dy) of a mark, mm: with the needle where the mark should be, the cross on the cloth lies dx to the
    right of it and dy below it, as seen facing the machine. fle: rms error of one cross, mm
    (`registration.fiducial_error`). HoopingError for unknown marks, fewer than two readings, or one that is no finite
    number.
    """
    marks = _read(hooping, readings)
    to_hoop = hooping.field.inverse()
    at = to_hoop.apply([m.at for m in marks])
    seen = at + np.array([readings[m.name] for m in marks])
    found = judge(at, seen, fle)
    pose = found.rigid.pose
    moved = replace(hooping, field=hooping.field.after(pose.inverse()))
    expected = expected_error(marks, hooping.stitching.holes, fle)
    trued = replace(moved, marks=_reached(moved), expected=expected_error(marks, hooping.stitching.holes, fle))
    verdict, told = _verdict(found, marks, trued, fle, units)
    lost = [m.name for m in hooping.marks if m not in trued.marks]
    if lost and verdict not in ("misread", "hoop again"):
        told = (*told, words.unreached(lost))
    return Truing(verdict, dict(readings), found.rigid, found.scaled.scale, trued, told)


def _read(hooping: Hooping, readings: Mapping[str, Reading]) -> list[Mark]:
    """The marks that were read, in the order of their names."""
    known = {m.name: m for m in hooping.marks}
    where = f"hooping {hooping.number}"
    for name, reading in readings.items():
        if name not in known:
            raise words.no_mark(hooping, name)
        if not all(math.isfinite(r) for r in reading):
            raise HoopingError(
                "its reading is no finite number.", where=f"{where}, mark {name}", remedy="Read it again."
            )
    if len(readings) < 2:
        raise HoopingError(
            "one reading cannot tell a turn from a shift." if readings else "nothing was read.",
            where=where,
            remedy=f"Read two marks at least, better all: {listed(known, 'and')}.",
        )
    return [known[n] for n in sorted(readings, key=lambda n: (len(n), n))]


def _reached(hooping: Hooping) -> tuple[Mark, ...]:
    """The marks that lie inside the field."""
    inside = _outside(hooping, np.array([m.at for m in hooping.marks])).max(axis=1) <= PLAY
    return tuple(m for m, here in zip(hooping.marks, inside, strict=True) if here)


def _outside(hooping: Hooping, points: Points) -> Points:
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
        return "hoop again", (words.hoop_again(pose, units), *faults, *words.unknowable(names))
    lies, expected = words.lies(pose, units), words.expected(trued.expected, units)
    if not found.stretched:
        return "sound", (lies, expected, *words.unknowable(names))
    middle = np.mean([m.at for m in marks], axis=0)
    reach = float(np.hypot(*(trued.stitching.holes - middle).T).max())
    verdict: Verdict = "stretched or misread" if len(names) == 2 else "stretched"
    return verdict, (lies, *words.stretched(names, scale, reach, units), expected)


def _faults(trued: Hooping, pose: Pose, units: Units) -> list[str]:
    """Why the cloth, lying so, cannot be sewn without hooping again; empty where it can."""
    faults = []
    if math.hypot(pose.x, pose.y) > SHIFT_MOST or abs(pose.turn) > TURN_MOST:
        faults.append(words.too_far(SHIFT_MOST, TURN_MOST, units))
    past = _outside(trued, trued.stitching.points).max(axis=0)
    if past.max() > PLAY:
        faults.append(words.leaves_field(past.tolist(), PLAY, units))
    if not trued.marks:
        faults.append("No mark lies inside the field any more, so nothing could be checked before sewing.")
    return faults
