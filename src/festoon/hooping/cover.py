"""The fewest fields that hold every block, and which block is sewn in which.

First the plain set cover, an integer programme for SciPy's HiGHS (a lower bound: no division can do with fewer), then
the division itself (see `assignment`).
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array
from scipy.sparse.csgraph import maximum_bipartite_matching

from festoon.hooping.assignment import NODE_LIMIT, Groups, Laid, Task, assign
from festoon.hooping.candidates import Candidates, Masks, maximal

JOINT_LIMIT = 600
"""Most block-in-field pairs for which fields and assignment are chosen together; above it, fields first: those that
keep most touching pairs together among equally few."""

EXACT_BLOCKS = 40
"""Most blocks for which every count is settled one after another."""

Peeled = tuple[tuple[tuple[int, ...], int | None], ...]
"""Groups in order, each with the index of the Own whose it is."""


@dataclass(frozen=True, eq=False)
class Own:
    """A hooping that the worker laid herself: it must be one of the division's, and the blocks `holds` are sewn in it.

    real: sets, all with `holds`, of which it sews one or a part; nothing else fits. bound: the same for a lower bound,
    see `Candidates`. holds may be empty: then it sews at least one block of its set.
    """

    holds: frozenset[int]
    real: Masks
    bound: Masks


@dataclass(frozen=True, eq=False)
class Cover:
    """A division of blocks: groups of block indices in an order that layering allows.

    lower_bound: no division can do with fewer. fields_needed: the part of that bound that the field alone demands;
    what lies over what accounts for the rest. own: for every Own that was given, the index of its group.
    """

    groups: Groups
    lower_bound: int
    fields_needed: int
    own: tuple[int, ...] = ()

    @property
    def proven(self) -> bool:
        """Whether no division can do with fewer."""
        return len(self.groups) == self.lower_bound


@dataclass(frozen=True, eq=False)
class _Fields:
    """Fields to choose from: those that anyone may use, then those of each Own (rows of `masks`)."""

    free: Masks
    own: tuple[Masks, ...]

    @property
    def masks(self) -> Masks:
        return np.concatenate([self.free, *self.own])

    @property
    def laid(self) -> tuple[range, ...]:
        ends = np.cumsum([len(self.free), *(len(rows) for rows in self.own)]).tolist()
        return tuple(range(a, b) for a, b in itertools.pairwise(ends))

    def visited(self, copies: int) -> _Fields:
        """The same, with every field that anyone may use so many times."""
        return _Fields(np.repeat(self.free, copies, axis=0), self.own)

    def chosen(self, rows: Sequence[int]) -> _Fields:
        """Only these rows of `masks`."""
        of = np.zeros(len(self.masks), dtype=bool)
        of[list(rows)] = True
        own = zip(self.own, self.laid, strict=True)
        return _Fields(self.free[of[: len(self.free)]], tuple(m[of[k.start : k.stop]] for m, k in own))


def divide_blocks(task: Task, found: Candidates, own: Sequence[Own] = ()) -> Cover:
    """Divide blocks over fields. Every block must be in some row of found.real, and all of `own` must be possible
    together (see `laid`); they are kept, and the bound holds for divisions that keep them.

    Counts are tried from the plain cover's upwards; one that is proven impossible raises the bound. Layering may
    force a field to be visited again: with d hoopings more than the cover needs, at most d + 1 times (two visits to
    one field could be one in a cover with one field less).

    That is done for pieces of up to EXACT_BLOCKS blocks. For more, or above JOINT_LIMIT, the count of the plain cover
    is tried once, and where layering forbids it a division is eased out of its fields and of groups peeled off layer
    by layer; the bound then tells how far that may be from the fewest.
    """
    groups, bound, needed = _divided(task, found, own)
    return Cover(groups, bound, needed, _homes(groups, own))


def _divided(task: Task, found: Candidates, own: Sequence[Own]) -> tuple[Groups, int, int]:
    """(groups, lower bound, the part of it that the fields alone demand)."""
    real = _fields(found.real, own, [o.real for o in own])
    exact = found.bound is found.real and all(o.bound is o.real for o in own)
    chosen, needed = fewest(real.masks, real.laid)
    if not exact:
        loose = _fields(found.bound, own, [o.bound for o in own])
        needed = min(needed, fewest(loose.masks, loose.laid)[1])
    bound = needed
    pairs = int(real.masks.sum())
    peeled = _peeled(task, real, own)
    if pairs > JOINT_LIMIT or task.n > EXACT_BLOCKS:
        fields = real if pairs <= JOINT_LIMIT else real.chosen(_coherent(task, real, chosen))
        groups, _ = assign(task, fields.masks, len(chosen), fields.laid)
        return groups or _eased(task, fields, peeled), bound, needed
    for count in range(len(chosen), len(peeled) + 1):
        for copies in sorted({1, count - needed + 1}):
            if copies * pairs > 2 * JOINT_LIMIT:
                return _eased(task, real, peeled), bound, needed
            fields = real.visited(copies)
            groups, settled = assign(task, fields.masks, count, fields.laid)
            if groups is not None:
                return groups, bound, needed
        if settled and bound == count and exact:
            bound = count + 1
    return tuple(group for group, _ in peeled), bound, needed


def _fields(free: Masks, own: Sequence[Own], rows: Sequence[Masks]) -> _Fields:
    """The fields, without what is sewn in a hooping of the worker's own from all others."""
    held = [b for o in own for b in sorted(o.holds)]
    others = ([b for b in held if b not in o.holds] for o in own)
    return _Fields(
        _without(free, held) if own else free,
        tuple(_without(sets, gone) for sets, gone in zip(rows, others, strict=True)),
    )


def _without(masks: Masks, blocks: Sequence[int]) -> Masks:
    left = masks.copy()
    left[:, blocks] = False
    return maximal(left)


def _homes(groups: Groups, own: Sequence[Own]) -> tuple[int, ...]:
    """Which group is whose: by what it holds, else any that fits, so that each has one of its own."""
    if not own:
        return ()
    may = np.zeros((len(own), len(groups)), dtype=int)
    for k, o in enumerate(own):
        for g, group in enumerate(groups):
            may[k, g] = o.holds <= set(group) and bool(o.real[:, list(group)].all(axis=1).any())
    return tuple(maximum_bipartite_matching(csr_array(may), perm_type="column").tolist())


def fewest(masks: Masks, laid: Laid = ()) -> tuple[list[int], int]:
    """(rows of a smallest cover, proven lower bound) of the set-cover problem; every column must be in some row, and
    just one row of each in `laid` is taken."""
    answer = _covered(np.ones(len(masks)), masks, laid, {"node_limit": NODE_LIMIT, "mip_rel_gap": 0.0})
    if answer.x is None:
        return _greedy(masks, laid), max(1, len(laid))
    bound = int(np.ceil(float(answer.mip_dual_bound) - 1e-6))
    return np.flatnonzero(answer.x > 0.5).tolist(), bound


def _covered(cost: NDArray[np.float64], masks: Masks, laid: Laid, options: Any, most: int = 0) -> Any:
    """The cheapest cover, of at most `most` rows (0: however many)."""
    n = len(masks)
    rules = [LinearConstraint(_undominated_columns(masks).astype(np.float64), lb=1.0)]
    if most:
        rules.append(LinearConstraint(np.ones((1, n)), ub=most))
    if laid:
        rows = np.zeros((len(laid), n))
        for row, own in zip(rows, laid, strict=True):
            row[list(own)] = 1.0
        rules.append(LinearConstraint(rows, 1.0, 1.0))
    return milp(cost, constraints=rules, integrality=np.ones(n, dtype=int), bounds=Bounds(0, 1), options=options)


def _undominated_columns(masks: Masks) -> NDArray[np.bool_]:
    """The cover's rows (one a block), without blocks that are held whenever some other block is held."""
    need = ~maximal(~masks.T) if len(masks) else masks.T
    return need if len(need) else masks.T[:1]


def _greedy(masks: Masks, laid: Laid) -> list[int]:
    chosen = [max(own, key=lambda f: int(masks[f].sum())) for own in laid]
    own = {f for rows in laid for f in rows}
    free = np.array([f not in own for f in range(len(masks))])
    left = ~masks[chosen].any(axis=0)
    while left.any():
        best = int(((masks & left).sum(axis=1) * free).argmax())
        chosen.append(best)
        left &= ~masks[best]
    return chosen


def _coherent(task: Task, fields: _Fields, chosen: list[int]) -> list[int]:
    """Rows of a cover as small as `chosen` whose fields hold as many touching pairs as may be."""
    if not task.touching:
        return chosen
    masks = fields.masks
    i, j = np.array(task.touching).T
    together = (masks[:, i] & masks[:, j]).sum(axis=1)
    options = {"node_limit": 200, "mip_rel_gap": 0.01}
    answer = _covered(-together.astype(np.float64), masks, fields.laid, options, most=len(chosen))
    return chosen if answer.x is None else np.flatnonzero(answer.x > 0.5).tolist()


def _eased(task: Task, fields: _Fields, peeled: Peeled) -> Groups:
    """The fewest groups that layering allows, taken from the cover's fields and the peeled groups; at worst these."""
    more = [_as_masks([g for g, whose in peeled if whose == k], task.n) for k in (None, *range(len(fields.own)))]
    both = _Fields(
        np.concatenate([fields.free, more[0]]),
        tuple(np.concatenate([rows, extra]) for rows, extra in zip(fields.own, more[1:], strict=True)),
    )
    groups, _ = assign(task, both.masks, len(peeled), both.laid, fewest=True)
    return groups or tuple(group for group, _ in peeled)


def _as_masks(groups: Sequence[tuple[int, ...]], n: int) -> Masks:
    masks = np.zeros((len(groups), n), dtype=bool)
    for row, group in zip(masks, groups, strict=True):
        row[list(group)] = True
    return masks


def _peeled(task: Task, fields: _Fields, own: Sequence[Own]) -> Peeled:
    """Groups taken off layer by layer, each the field that holds most of what nothing unsewn lies beneath.

    A hooping of the worker's own comes as soon as all that it must hold can be sewn; one that must hold nothing keeps a
    block for itself.
    """
    below: list[set[int]] = [set() for _ in range(task.n)]
    for low, high in task.beneath:
        below[high].add(low)
    needs = [o.holds or {seed} for o, seed in zip(own, seeds(fields.own, [o.holds for o in own]), strict=True)]
    kept = set[int]().union(*needs)
    left, waiting = set(range(task.n)), list(range(len(own)))
    groups: list[tuple[tuple[int, ...], int | None]] = []
    while left:
        group, whose = _first_whole(fields.own, needs, kept, waiting, left, below)
        if whose is None:
            group = max((_sewable(row, left - kept, below, left) for row in fields.free), key=len)
        else:
            waiting.remove(whose)
        groups.append((group, whose))
        left -= set(group)
    return tuple(groups)


def _first_whole(
    rows: Sequence[Masks],
    needs: Sequence[Collection[int]],
    kept: set[int],
    waiting: Sequence[int],
    left: set[int],
    below: list[set[int]],
) -> tuple[tuple[int, ...], int | None]:
    """(group, whose) for the first hooping of the worker's own that can be sewn whole now; whose is None for none."""
    for k in waiting:
        may = left - (kept - set(needs[k]))
        sewable = [_sewable(row, may, below, left) for row in rows[k]]
        whole = [group for group in sewable if set(needs[k]) <= set(group)]
        if whole:
            return max(whole, key=len), k
    return (), None


def seeds(rows: Sequence[Masks], holds: Sequence[Collection[int]]) -> list[int]:
    """For each hooping of the worker's own that must hold nothing, a block that only it keeps; -1 where there is none,
    and for all others."""
    taken = sorted({b for held in holds for b in held})
    may = np.array(
        [m.any(axis=0) if not held else np.zeros(m.shape[1], bool) for m, held in zip(rows, holds, strict=True)]
    )
    if not len(may):
        return []
    may[:, taken] = False
    return [int(b) for b in maximum_bipartite_matching(csr_array(may.astype(int)), perm_type="column")]


def _sewable(row: NDArray[np.bool_], may: set[int], below: list[set[int]], left: set[int]) -> tuple[int, ...]:
    """Blocks of one field, of those that may be, that can be sewn now: all beneath is sewn, or in the same group."""
    group = {int(b) for b in np.flatnonzero(row)} & may
    while True:
        stuck = {b for b in group if below[b] & (left - group)}
        if not stuck:
            return tuple(sorted(group))
        group -= stuck
