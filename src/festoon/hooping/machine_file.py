"""Hooping -> what the machine sews: in hoop axes, after a needle check at the marks."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np

from festoon.errors import HoopingError
from festoon.hooping.values import Hooping, Mark
from festoon.plane.pose import Points
from festoon.stitches import Act, Stitching, joined, needle_check

PLAY = 0.05
"""mm by which stitching may pass the field's edge: half a step of the machine files' 0.1 mm grid."""


def machine_stitching(hooping: Hooping, checked: Sequence[Mark] | None = None) -> Stitching:
    """The hooping's sewing in mm from the middle of the field, y down.

    First the needle goes to each of the marks `checked` and waits (to all, in `check_order`, where they are left out);
    then all is sewn; at the end the thread is cut and the frame returns to the middle. HoopingError, naming the block,
    where a mark or record lies outside the field by more than PLAY.
    """
    to_hoop = hooping.field.inverse()
    sewing = hooping.stitching.placed(to_hoop)
    checked = check_order(hooping) if checked is None else checked
    marks = to_hoop.apply([m.at for m in checked]).reshape(-1, 2)
    _check_inside(hooping, sewing.points, checked, marks)
    check = needle_check(marks)
    return _returned(joined([check, sewing], trim=False))


def check_order(hooping: Hooping) -> tuple[Mark, ...]:
    """The marks in the order of the needle check: on the shortest way from the middle past all to the first stitch."""
    middle, first = (hooping.field.x, hooping.field.y), hooping.stitching.points[0].tolist()

    def way(order: Sequence[Mark]) -> float:
        stations = [middle, *(m.at for m in order), first]
        return round(sum(math.dist(p, q) for p, q in itertools.pairwise(stations)), 6)

    return min(itertools.permutations(hooping.marks), key=way)


def _returned(sewing: Stitching) -> Stitching:
    """The sewing, then a cut and the way back to the middle."""
    points = np.concatenate([sewing.points, sewing.points[-1:], np.zeros((1, 2))])
    acts = np.concatenate([sewing.acts, np.array([Act.TRIM, Act.MOVE], np.uint8)])
    return Stitching(points, acts, np.concatenate([sewing.thread, sewing.thread[-1:].repeat(2)]), sewing.threads)


def _check_inside(hooping: Hooping, records: Points, checked: Sequence[Mark], marks: Points) -> None:
    beyond = _beyond(hooping, records)
    if (beyond > PLAY).any():
        worst = int(np.argmax(beyond))
        raise _leaves(hooping, _block_at(hooping, hooping.stitching.points[worst]), float(beyond[worst]))
    for mark, out in zip(checked, _beyond(hooping, marks), strict=True):
        if out > PLAY:
            raise _leaves(hooping, f"mark {mark.name}", float(out))


def _beyond(hooping: Hooping, points: Points) -> Points:
    """(n,) mm by which points lie outside the field; negative inside."""
    return np.asarray((np.abs(points) - np.array(hooping.hoop.field) / 2).max(axis=1))


def _block_at(hooping: Hooping, point: Points) -> str:
    """What people call the block with the record nearest to a point of the panel."""
    return min(hooping.blocks, key=lambda b: float(np.hypot(*(b.stitching.points - point).T).min())).told


def _leaves(hooping: Hooping, name: str, out: float) -> HoopingError:
    w, h = hooping.hoop.field
    return HoopingError(
        f"it leaves the field of {w:g} × {h:g} mm by {out:.2g} mm.",
        where=f"hooping {hooping.number}, {name}",
        remedy="Move it further into the field, or choose a larger hoop.",
    )
