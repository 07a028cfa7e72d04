"""The fewest fields that hold every block, and which block is sewn in which.

First the plain set cover, an integer programme for SciPy's HiGHS (a lower bound: no division can do with fewer), then
the division itself (see `assignment`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp

from festoon.hooping.assignment import NODE_LIMIT, Groups, Task, assign
from festoon.hooping.candidates import Candidates, Masks, maximal

JOINT_LIMIT = 600
"""Most block-in-field pairs for which fields and assignment are chosen together; above it, fields first: those that
keep most touching pairs together among equally few."""

EXACT_BLOCKS = 40
"""Most blocks for which every count is settled one after another."""


@dataclass(frozen=True, eq=False)
class Cover:
    """A division of blocks: groups of block indices in an order that layering allows.

    lower_bound: no division can do with fewer. fields_needed: the part of that bound that the field alone demands;
    what lies over what accounts for the rest.
    """

    groups: Groups
    lower_bound: int
    fields_needed: int

    @property
    def proven(self) -> bool:
        """Whether no division can do with fewer."""
        return len(self.groups) == self.lower_bound


def divide_blocks(task: Task, found: Candidates) -> Cover:
    """Divide blocks over fields. Every block must be in some row of found.real.

    Counts are tried from the plain cover's upwards; one that is proven impossible raises the bound. Layering may
    force a field to be visited again: with d hoopings more than the cover needs, at most d + 1 times (two visits to
    one field could be one in a cover with one field less).

    That is done for pieces of up to EXACT_BLOCKS blocks. For more, or above JOINT_LIMIT, the count of the plain cover
    is tried once, and where layering forbids it a division is eased out of its fields and of groups peeled off layer
    by layer; the bound then tells how far that may be from the fewest.
    """
    chosen, needed = fewest(found.real)
    if found.bound is not found.real:
        needed = min(needed, fewest(found.bound)[1])
    bound = needed
    pairs = int(found.real.sum())
    peeled = _peeled(task, found.real)
    if pairs > JOINT_LIMIT or task.n > EXACT_BLOCKS:
        fields = found.real if pairs <= JOINT_LIMIT else found.real[_coherent(task, found.real, chosen)]
        groups, _ = assign(task, fields, len(chosen))
        return Cover(groups or _eased(task, fields, peeled), bound, needed)
    for count in range(len(chosen), len(peeled) + 1):
        for copies in sorted({1, count - needed + 1}):
            if copies * pairs > 2 * JOINT_LIMIT:
                return Cover(_eased(task, found.real, peeled), bound, needed)
            groups, settled = assign(task, np.repeat(found.real, copies, axis=0), count)
            if groups is not None:
                return Cover(groups, bound, needed)
        if settled and bound == count and found.bound is found.real:
            bound = count + 1
    return Cover(peeled, bound, needed)


def fewest(masks: Masks) -> tuple[list[int], int]:
    """(rows of a smallest cover, proven lower bound) of the set-cover problem; every column must be in some row."""
    rows = _undominated_columns(masks)
    answer = milp(
        np.ones(len(masks)),
        constraints=LinearConstraint(rows.astype(np.float64), lb=1.0),
        integrality=np.ones(len(masks), dtype=int),
        bounds=Bounds(0, 1),
        options={"node_limit": NODE_LIMIT, "mip_rel_gap": 0.0},
    )
    if answer.x is None:
        return _greedy(masks), 1
    bound = int(np.ceil(float(answer.mip_dual_bound) - 1e-6))
    return np.flatnonzero(answer.x > 0.5).tolist(), bound


def _undominated_columns(masks: Masks) -> NDArray[np.bool_]:
    """The cover's rows (one a block), without blocks that are held whenever some other block is held."""
    need = ~maximal(~masks.T) if len(masks) else masks.T
    return need if len(need) else masks.T[:1]


def _greedy(masks: Masks) -> list[int]:
    left = np.ones(masks.shape[1], dtype=bool)
    chosen = []
    while left.any():
        best = int((masks & left).sum(axis=1).argmax())
        chosen.append(best)
        left &= ~masks[best]
    return chosen


def _coherent(task: Task, masks: Masks, chosen: list[int]) -> list[int]:
    """Rows of a cover as small as `chosen` whose fields hold as many touching pairs as may be."""
    if not task.touching:
        return chosen
    i, j = np.array(task.touching).T
    together = (masks[:, i] & masks[:, j]).sum(axis=1)
    n = len(masks)
    answer = milp(
        -together.astype(np.float64),
        constraints=[
            LinearConstraint(_undominated_columns(masks).astype(np.float64), lb=1.0),
            LinearConstraint(np.ones((1, n)), ub=len(chosen)),
        ],
        integrality=np.ones(n, dtype=int),
        bounds=Bounds(0, 1),
        options={"node_limit": 200, "mip_rel_gap": 0.01},
    )
    return chosen if answer.x is None else np.flatnonzero(answer.x > 0.5).tolist()


def _eased(task: Task, fields: Masks, peeled: Groups) -> Groups:
    """The fewest groups that layering allows, taken from the cover's fields and the peeled groups; at worst these."""
    groups, _ = assign(task, np.concatenate([fields, _as_masks(peeled, task.n)]), len(peeled), fewest=True)
    return groups or peeled


def _as_masks(groups: Groups, n: int) -> Masks:
    masks = np.zeros((len(groups), n), dtype=bool)
    for row, group in zip(masks, groups, strict=True):
        row[list(group)] = True
    return masks


def _peeled(task: Task, masks: Masks) -> Groups:
    """Groups taken off layer by layer, each the field that holds most of what nothing unsewn lies beneath."""
    below: list[set[int]] = [set() for _ in range(task.n)]
    for low, high in task.beneath:
        below[high].add(low)
    left = set(range(task.n))
    groups: list[tuple[int, ...]] = []
    while left:
        groups.append(max((_sewable(row, left, below) for row in masks), key=len))
        left -= set(groups[-1])
    return tuple(groups)


def _sewable(row: NDArray[np.bool_], left: set[int], below: list[set[int]]) -> tuple[int, ...]:
    """Blocks of one field that can be sewn now: everything beneath them is sewn, or is in the same group."""
    group = {int(b) for b in np.flatnonzero(row)} & left
    while True:
        stuck = {b for b in group if below[b] & (left - group)}
        if not stuck:
            return tuple(sorted(group))
        group -= stuck
