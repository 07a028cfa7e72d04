"""Which way of marking the cloth lets hoopings meet more surely: from one whole template, or from one to the next.

Whole: every cross is drawn from one template before anything is sewn, so that crosses err independently; how far two
hoopings then miss each other stands in each `Meeting`.

Carried: the first hooping of a panel is marked from its template; every later one by crosses drawn from what an
earlier one, its neighbour, has sewn, so that hoopings form a tree. Relative to its neighbour a hooping errs by one
step: its own crosses (drawing, reading, seating) and its own shift and turn. Where two hoopings meet, they miss each
other by the steps along the tree from one to the other; the hooping from which both descend moves both alike, so it
is not counted. The draw-in of the two blocks that meet comes on top, whichever way is taken. That of hoopings in
between is not counted, since a template is laid on their stitching as a whole, which draw-in leaves in the middle; nor
is the laying itself, so carried figures are rather too small than too large.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.spatial.distance import cdist

from festoon.hooping import Division, Hooping
from festoon.proof.meeting import NOTHING_READ, Trued, apart, lined_up, places
from festoon.proof.values import Carrying, Meeting
from festoon.registration import PlacingModel, carried_covariance, round_covariance, target_covariance

Matrix = NDArray[np.float64]
"""(2, 2) mm2 on the panel's axes."""


def carrying(
    division: Division, met: Sequence[Meeting], model: PlacingModel, trued: Trued = NOTHING_READ
) -> tuple[Carrying, ...]:
    """How the least sure meeting fares by either way, for every panel on which hoopings meet, in the order of `met`.

    met: the division's meetings by the same model and readings.
    """
    found = []
    for panel in dict.fromkeys(m.panel for m in met):
        on_panel = [h for h in division.hoopings if h.panel == panel]
        found.append(_on_panel(on_panel, [m for m in met if m.panel == panel], model, trued))
    return tuple(found)


def _on_panel(hoopings: Sequence[Hooping], met: Sequence[Meeting], model: PlacingModel, trued: Trued) -> Carrying:
    of = {h.number: h for h in hoopings}
    parents = neighbours(hoopings, met)
    spreads = [_spread(carried_misfit(m, of, parents, model, trued), m.across) for m in met]
    whole, carried = max(met, key=lambda m: m.across_sd), met[int(np.argmax(spreads))]
    return Carrying(
        panel=whole.panel,
        whole=whole.across_sd,
        carried=max(spreads),
        whole_at=(whole.first, whole.second),
        carried_at=(carried.first, carried.second),
        steps=len(chain(parents, carried.first, carried.second)),
    )


def neighbours(hoopings: Iterable[Hooping], met: Iterable[Meeting]) -> dict[int, int]:
    """From which earlier hooping of one panel each is marked, by their numbers; the first of all is marked from none.

    Of those sewn before that it meets, it is the latest, which still lies at hand; where it meets none, the nearest
    (common practice).
    """
    pairs = {(m.first, m.second) for m in met}
    parents: dict[int, int] = {}
    before: list[Hooping] = []
    for h in sorted(hoopings, key=lambda one: one.number):
        meets = [g.number for g in before if {(g.number, h.number), (h.number, g.number)} & pairs]
        if before:
            parents[h.number] = max(meets) if meets else min(before, key=lambda g: _between(g, h)).number
        before.append(h)
    return parents


def _between(a: Hooping, b: Hooping) -> float:
    """mm from corner to corner of what they sew, where nearest; rounded, so that the earlier wins a tie."""
    corners, others = (np.concatenate([block.corners for block in h.blocks]) for h in (a, b))
    return round(float(cdist(corners, others).min()), 6)


def chain(parents: Mapping[int, int], first: int, second: int) -> tuple[int, ...]:
    """The hoopings whose steps part two of them: from each up to, and without, the one that both descend from.

    >>> chain({2: 1, 3: 2, 4: 1}, 3, 4), chain({2: 1, 3: 2, 4: 1}, 1, 3)
    ((3, 2, 4), (3, 2))
    """
    ways = [_upwards(parents, n) for n in (first, second)]
    common = set(ways[0]) & set(ways[1])
    return tuple(n for way in ways for n in way if n not in common)


def _upwards(parents: Mapping[int, int], number: int) -> list[int]:
    way = [number]
    while way[-1] in parents:
        way.append(parents[way[-1]])
    return way


def carried_misfit(
    m: Meeting,
    hoopings: Mapping[int, Hooping],
    parents: Mapping[int, int],
    model: PlacingModel,
    trued: Trued = NOTHING_READ,
) -> Matrix:
    """(2, 2) mm2 of how far the second hooping of a meeting misses the first where crosses are carried.

    hoopings by their numbers; parents as `neighbours` has them.
    """
    drawn_in = m.covariance - apart(hoopings[m.first], hoopings[m.second], m.at, model, trued)
    steps = [step(hoopings[n], m.at, model, trued) for n in chain(parents, m.first, m.second)]
    return carried_covariance([drawn_in, *steps])


def step(hooping: Hooping, at: ArrayLike, model: PlacingModel, trued: Trued = NOTHING_READ) -> Matrix:
    """(2, 2) mm2 by which a hooping errs at a point `at` (2,) relative to the stitching its crosses are drawn from."""
    drawing = target_covariance(places(hooping, trued), at, round_covariance(model.marking))[0]
    total: Matrix = drawing + lined_up(hooping, at, model, trued)
    return total


def _spread(covariance: Matrix, way: ArrayLike) -> float:
    """Standard deviation, mm, along a unit vector (2,)."""
    v = np.asarray(way, dtype=np.float64)
    return math.sqrt(max(0.0, float(v @ covariance @ v)))
