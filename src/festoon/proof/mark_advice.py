"""Which cross to move, or where to add one, so that the least sure meeting of a panel misses by less."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.distance import cdist
from shapely import box

from festoon.hooping import Division, Hooping, Mark
from festoon.hooping.marks import APART, MOST, crowded, free_places
from festoon.layout import Layout
from festoon.plane.pose import Points
from festoon.proof.meeting import NOTHING_READ, Trued, places
from festoon.proof.values import MarkAdvice, Meeting
from festoon.registration import PlacingModel

Floats = NDArray[np.float64]

WORTH = 0.05
"""Share by which a change of crosses must lower the misfit to be worth telling (ours)."""

_ROUNDED = 12  # decimals at which two variances count as equal


def mark_advice(
    layout: Layout, division: Division, met: Sequence[Meeting], model: PlacingModel, trued: Trued = NOTHING_READ
) -> tuple[MarkAdvice, ...]:
    """For every panel at most one cross to move and one to add, where that lowers its worst misfit by WORTH or more.

    met: the division's meetings by the same model and readings. Every cross of the two hoopings of the panel's least
    sure meeting is tried at every place it may take (`hooping.marks.free_places`, clear of other crosses or upon one,
    which the hooping then uses too), and one more where a hooping has fewer than MOST. A cross that others use moves
    for them too; hoopings that were trued keep theirs. What counts is the worst of all meetings of the hoopings whose
    crosses change.
    """
    sizes = {p.name: p.size for p in layout.panels}
    found: list[MarkAdvice] = []
    for panel in dict.fromkeys(m.panel for m in met):
        hoopings = {h.number: h for h in division.hoopings if h.panel == panel}
        on_panel = _Panel(hoopings, tuple(m for m in met if m.panel == panel), model, trued)
        found.extend(_on_panel(on_panel, sizes[panel]))
    return tuple(found)


@dataclass(frozen=True, eq=False)
class _Panel:
    """The hoopings of one panel by their numbers, in the order of sewing, and where they meet."""

    hoopings: Mapping[int, Hooping]
    met: tuple[Meeting, ...]
    model: PlacingModel
    trued: Trued

    @property
    def worst(self) -> Meeting:
        return max(self.met, key=lambda m: m.across_sd)


@dataclass(frozen=True, eq=False)
class _Change:
    """Cross `mark` of a hooping, or one more where it is None, to take one of `to` (n, 2); it changes `users`."""

    hooping: int
    mark: Mark | None
    users: tuple[int, ...]
    to: Points


def _on_panel(panel: _Panel, size: tuple[float, float]) -> Iterator[MarkAdvice]:
    before = panel.worst.across_sd
    changes = list(_changes(panel, size))
    for added in (False, True):
        tried = [(change, _after(change, panel)) for change in changes if (change.mark is None) == added]
        if not tried:
            continue
        change, spreads = min(tried, key=lambda one: float(one[1].min()))
        best = int(spreads.argmin())
        if spreads[best] <= (1.0 - WORTH) * before:
            yield _advice(panel, change, best, before, float(spreads[best]))


def _advice(panel: _Panel, change: _Change, best: int, before: float, after: float) -> MarkAdvice:
    x, y = change.to[best].tolist()
    there = (m.name for h in panel.hoopings.values() for m in h.marks if m.at == (x, y))
    name = None if change.mark is None else change.mark.name
    return MarkAdvice(panel.worst.panel, change.hooping, name, (x, y), before, after, next(there, None))


def _changes(panel: _Panel, size: tuple[float, float]) -> Iterator[_Change]:
    """Every change worth trying, with all places that it may take; none without a place."""
    pair = [n for n in dict.fromkeys((panel.worst.first, panel.worst.second)) if n not in panel.trued]
    using: dict[Mark, tuple[int, ...]] = {}
    for n in pair:
        for mark in panel.hoopings[n].marks:
            using[mark] = tuple(k for k, h in panel.hoopings.items() if mark in h.marks)
    wanted = {*pair, *(k for users in using.values() for k in users)} - set(panel.trued)
    free = free_places(list(panel.hoopings.values()), box(0.0, 0.0, *size), wanted)
    tried: list[tuple[int, Mark | None, tuple[int, ...]]] = [
        (next(n for n in pair if n in users), mark, users) for mark, users in using.items() if wanted.issuperset(users)
    ]
    tried.extend((n, None, (n,)) for n in pair if len(panel.hoopings[n].marks) < MOST)
    for n, moved, users in tried:
        to = _room(panel, moved, users, free)
        if len(to):
            yield _Change(n, moved, users, to)


def _room(panel: _Panel, mark: Mark | None, users: Sequence[int], free: Mapping[int, Points]) -> Points:
    """The places (n, 2) that are free for all users of a cross, and APART from their others, and run into none."""
    to = free[users[0]]
    for n in users[1:]:
        to = to[(to[:, None] == free[n]).all(axis=-1).any(axis=1)]
    to = to[~crowded(to, np.array([m.at for h in panel.hoopings.values() for m in h.marks if m != mark]))]
    for n in users:
        others = [m.at for m in panel.hoopings[n].marks if m != mark]
        to = to[(cdist(to, others) >= APART).all(axis=1)]
    return to


def _after(change: _Change, panel: _Panel) -> Floats:
    """(n,) mm: the spread of the worst meeting of all that change, for each place of the change."""
    variances = [
        m.across_sd**2 + _by_crosses(m, panel, change) - _by_crosses(m, panel, None)
        for m in panel.met
        if m.first in change.users or m.second in change.users
    ]
    worst = np.round(np.max(np.broadcast_arrays(*variances), axis=0), _ROUNDED)
    spreads: Floats = np.sqrt(np.maximum(worst, 0.0))
    return spreads


def _by_crosses(m: Meeting, panel: _Panel, change: _Change | None) -> Floats:
    """(n,) or (1,) mm2: the part of a meeting's variance, over the line where they meet, that its crosses account for.

    As `proof.meeting.apart` has it: drawing a cross counts in both hoopings that use it, lining up in each anew. (A
    trued hooping lines up better than this; as its crosses stay, it makes no difference to what a change gains.)
    """
    marking = panel.model.marking**2 / 2.0
    lining_up = (panel.model.reading**2 + panel.model.seating**2) / 2.0
    total: Floats = np.zeros(1)
    sets, pulls = [], []
    for number in (m.first, m.second):
        crosses = _sets(panel.hoopings[number], panel.trued, change)
        pull = _pull(crosses, m)
        total = total + (marking + lining_up) * (pull**2).sum(axis=(1, 2))
        sets.append(crosses)
        pulls.append(pull)
    same = (sets[0][:, :, None] == sets[1][:, None]).all(axis=-1)
    together = (pulls[0][:, :, None] * pulls[1][:, None]).sum(axis=-1)
    variance: Floats = total - 2.0 * marking * np.where(same, together, 0.0).sum(axis=(1, 2))
    return variance


def _sets(hooping: Hooping, trued: Trued, change: _Change | None) -> Points:
    """The crosses that place a hooping, (n, k, 2) for each place of a change that concerns it, else (1, k, 2)."""
    if change is None or hooping.number not in change.users:
        return np.array(places(hooping, trued))[None]
    others = np.array([m.at for m in hooping.marks if m != change.mark])
    kept = np.broadcast_to(others, (len(change.to), *others.shape))
    return np.concatenate([kept, change.to[:, None]], axis=1)


def _pull(crosses: Points, m: Meeting) -> Floats:
    """(n, k, 2): how an error of each cross of n sets (n, k, 2) moves the meeting point over the line.

    `registration.influence`, transposed, times the vector over the line.
    """
    middle = crosses.mean(axis=1, keepdims=True)
    around = crosses - middle
    arm = np.array(m.at) - middle
    turning = (arm[..., 0] * m.across[1] - arm[..., 1] * m.across[0]) / (around**2).sum(axis=(1, 2))[:, None]
    turned = np.stack([-around[..., 1], around[..., 0]], axis=-1)
    pull: Floats = np.array(m.across) / crosses.shape[1] + turning[..., None] * turned
    return pull
