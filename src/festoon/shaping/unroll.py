"""A laid band flattened back to the straight strip of lace that it was."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from festoon.errors import PieceError
from festoon.plane import Points
from festoon.plane.segments import Floats
from festoon.shaping.band import Band
from festoon.shaping.cells import Cell, square
from festoon.shaping.headings import Joint


@dataclass(frozen=True, eq=False)
class Unrolled:
    """Rulings square across a strip in order, each with what shows of it.

    u (n,) mm along the strip from its cut beginning to its cut end; v_low and v_high (n,) mm across it from the traced
    heading (0) to the other (the width), cut short where a mitre or an eased break folds the rest away; low and high
    (n, 2) where those two ends of the ruling lie on the cloth.
    """

    u: Floats
    v_low: Floats
    v_high: Floats
    low: Points
    high: Points

    @property
    def length(self) -> float:
        """The strip's length, mm."""
        return float(self.u[-1] - self.u[0])


@dataclass(frozen=True, eq=False)
class _Rulings:
    """Whole rulings from the traced heading (n, 2) to the other (n, 2), and from which to which share each shows."""

    foot: Points
    top: Points
    first: Floats
    last: Floats

    @property
    def steps(self) -> Floats:
        """From one ruling to the next along the strip, the longer of both headings' steps; 0 before the first."""
        both = [np.hypot(*np.diff(p, axis=0).T) for p in (self.foot, self.top)]
        return np.concatenate([[0.0], np.maximum(*both)])


def unrolled(laid: Band, step: float = 1.0) -> Unrolled:
    """The strip of a band, measured by chords between rulings at most `step` mm apart along the course.

    A ruling stands square across the course, one width long less what a mitre or an eased break takes from it. From
    one to the next the strip goes on by the longer of the steps of both headings, the other's taken before it is
    trimmed. Where it runs on to a mitre point the lace goes straight on, and is folded along the mitre; an eased break
    is flattened as if it were folded, which takes more than easing where it bends against the curve beside it.
    PieceError where the band is not possible.
    """
    if not laid.possible:
        raise PieceError("A band that cannot be laid has no strip to unroll.", remedy="Mend the band first.")
    joints, distance = laid.laid.joints, laid.laid.distance
    leave, arrive = ({getattr(j, end): j for j in joints if j.outside} for end in ("leaves", "arrives"))
    trimmed = [j for j in joints if not j.outside]
    parts: list[_Rulings] = []
    for cell in laid.laid.cells:
        if cell.s0 in leave:
            parts.append(_run_on(cell, leave[cell.s0], 0.0, trimmed, distance, step))
        parts.append(_across(cell, trimmed, distance, step))
        if cell.s1 in arrive:
            parts.append(_run_on(cell, arrive[cell.s1], 1.0, trimmed, distance, step))
    foot, top = np.concatenate([p.foot for p in parts]), np.concatenate([p.top for p in parts])
    first, last = np.concatenate([p.first for p in parts]), np.concatenate([p.last for p in parts])
    u = np.cumsum(np.concatenate([p.steps for p in parts]))
    whole = np.hypot(*(top - foot).T)
    low, high = (foot + x[:, None] * (top - foot) for x in (first, last))
    return Unrolled(u, first * whole, last * whole, low, high)


def _across(cell: Cell, trimmed: list[Joint], distance: float, step: float) -> _Rulings:
    """The rulings of a cell, each as far as it stands clear of the folds."""
    sides = [(j, *side) for j in trimmed for side in ((j.before, j.arrives), (j.leaves, j.after))]
    near = [(j, a, b) for j, a, b in sides if a < cell.s1 and b > cell.s0]
    longer = max(cell.s1 - cell.s0, cell.over.length if cell.over else 0.0)
    even = np.linspace(cell.s0, cell.s1, max(2, math.ceil(longer / step) + 1))
    ends = [s for _, a, b in near for s in (a, b) if cell.s0 < s < cell.s1]
    s = np.unique(np.concatenate([even, ends]))
    t = cell.course.t_at(s - cell.s0)
    foot = cell.course.point(t)
    across = square(cell.course.tangent(t), distance)
    last = np.ones(len(s))
    for j, a, b in near:
        here = (s >= a) & (s <= b)
        last[here] = np.minimum(last[here], _clear(j, foot[here], across[here]))
    return _Rulings(foot, foot + across, np.zeros(len(s)), last)


def _run_on(cell: Cell, joint: Joint, end: float, trimmed: list[Joint], distance: float, step: float) -> _Rulings:
    """The rulings on which the lace runs straight on from an end of a cell to the mitre, or from the mitre to it; a
    fold that reaches so far takes its part of them too."""
    along = np.array(cell.last if end else cell.first)
    reach = abs(distance * math.tan(joint.turn / 2))
    share = np.linspace(0.0, 1.0, max(2, math.ceil(reach / step) + 1))
    share = share if end else share[::-1]
    away = (reach if end else -reach) * share
    foot, across = np.array(joint.at) + away[:, None] * along, square(along, distance)
    last, s = np.ones(len(share)), cell.s1 if end else cell.s0
    for j in trimmed:
        behind, ahead = j.leaves < s <= j.after, j.before <= s < j.arrives
        if j.leaves < s < j.after or j.before < s < j.arrives or (behind if end else ahead):
            last = np.minimum(last, _clear(j, foot, np.broadcast_to(across, foot.shape)))
    return _Rulings(foot, foot + across, share, np.maximum(last, share))


def _clear(joint: Joint, foot: Points, across: Points) -> Floats:
    """The share of each ruling that stands clear of a fold."""
    fold = np.subtract(joint.over, joint.at)
    share: Floats = np.clip(_cross(np.array(joint.at) - foot, fold) / _cross(across, fold), 0.0, 1.0)
    return share


def _cross(a: Points, b: Points) -> Floats:
    out: Floats = a[..., 0] * b[1] - a[..., 1] * b[0]
    return out
