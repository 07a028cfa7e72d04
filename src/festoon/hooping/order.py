"""In which order the hoopings come: what lies beneath first, and from each to the nearest that may follow."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from festoon.hooping.assignment import Pairs, layers_between
from festoon.plane.pose import Points


def walk(groups: Sequence[tuple[int, ...]], beneath: Pairs, centres: Points) -> list[int]:
    """An order of the groups: layers allow it, and each is the nearest to the one before that may come next.

    centres (g, 2): the middle of each group, mm. It begins with the group that holds the lowest block.
    """
    before = layers_between(groups, beneath)
    left = set(range(len(groups)))
    order: list[int] = []
    while left:
        ready = sorted(g for g in left if not before[g] & left)
        if order:
            here = centres[order[-1]]
            order.append(min(ready, key=lambda g: (round(float(np.hypot(*(centres[g] - here))), 6), g)))
        else:
            order.append(min(ready, key=lambda g: min(groups[g])))
        left.remove(order[-1])
    return order


def direct_before(groups: Sequence[tuple[int, ...]], beneath: Pairs) -> list[tuple[int, ...]]:
    """For groups in order: the positions of those that must come before, without what follows from others."""
    before = layers_between(groups, beneath)
    whole: list[set[int]] = []
    for g in range(len(groups)):
        whole.append(set().union(*(whole[b] | {b} for b in before[g])))
    return [
        tuple(sorted(b for b in before[g] if not any(b in whole[other] for other in before[g])))
        for g in range(len(groups))
    ]
