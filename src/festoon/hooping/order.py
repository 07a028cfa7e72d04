"""In which order the hoopings come: what lies beneath first, then as the worker wishes, else to the nearest."""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np

from festoon.hooping.assignment import Pairs, layers_between
from festoon.plane.pose import Points


def walk(
    groups: Sequence[tuple[int, ...]], beneath: Pairs, centres: Points, wished: Sequence[Collection[int]] = ()
) -> list[int]:
    """An order of the groups that layers allow: as near to the `wished` one as they let it, each otherwise the nearest
    to the one before that may come next.

    centres (g, 2): the middle of each group, mm. wished: blocks whose groups should come in this order, and before all
    others. It begins with the group that holds the lowest block, where nothing else is wished.
    """
    before = layers_between(groups, beneath)
    rank = _hurried(ranks(groups, wished), before)
    left = set(range(len(groups)))
    order: list[int] = []
    while left:
        ready = sorted(g for g in left if not before[g] & left)
        if order:
            here = centres[order[-1]]
            order.append(min(ready, key=lambda g: (rank[g], round(float(np.hypot(*(centres[g] - here))), 6), g)))
        else:
            order.append(min(ready, key=lambda g: (rank[g], min(groups[g]))))
        left.remove(order[-1])
    return order


def ranks(groups: Sequence[tuple[int, ...]], wished: Sequence[Collection[int]]) -> list[int]:
    """For every group the place of the first of the wished blocks that it holds; behind all, where it holds none."""
    return [next((k for k, blocks in enumerate(wished) if set(blocks) & set(g)), len(wished)) for g in groups]


def _hurried(rank: list[int], before: Sequence[set[int]]) -> list[int]:
    """What must come before a group is in as great a hurry as the group itself."""
    first = list(rank)
    waiting = list(range(len(rank)))
    while waiting:
        g = waiting.pop()
        for b in before[g]:
            if first[g] < first[b]:
                first[b] = first[g]
                waiting.append(b)
    return first


def contrary(
    groups: Sequence[tuple[int, ...]], beneath: Pairs, wished: Sequence[Collection[int]]
) -> list[tuple[int, int]]:
    """Pairs of places in `wished`: the hooping of the first should come before that of the second, but what lies over
    what will not have it so. groups: in an order that layers allow."""
    whole = _all_before(groups, beneath)
    rank = ranks(groups, wished)
    return [(rank[g], rank[b]) for g in range(len(groups)) for b in sorted(whole[g]) if rank[g] < rank[b] < len(wished)]


def direct_before(groups: Sequence[tuple[int, ...]], beneath: Pairs) -> list[tuple[int, ...]]:
    """For groups in order: the positions of those that must come before, without what follows from others."""
    before, whole = layers_between(groups, beneath), _all_before(groups, beneath)
    return [
        tuple(sorted(b for b in before[g] if not any(b in whole[other] for other in before[g])))
        for g in range(len(groups))
    ]


def _all_before(groups: Sequence[tuple[int, ...]], beneath: Pairs) -> list[set[int]]:
    """For groups in order: the positions of all that must come before, straight or by way of others."""
    whole: list[set[int]] = []
    for before in layers_between(groups, beneath):
        whole.append(set().union(*(whole[b] | {b} for b in before)))
    return whole
