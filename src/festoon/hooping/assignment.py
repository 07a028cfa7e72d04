"""Which block is sewn in which hooping: an integer programme for SciPy's HiGHS.

Every block goes into exactly one hooping; hoopings can be put in an order in which what lies beneath is sewn no later;
among all such divisions fewest touching blocks in different hoopings, then fewest thread changes, then most of the
pairs together that should rather stay so.
"""

from __future__ import annotations

import itertools
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from festoon.hooping.candidates import Masks

NODE_LIMIT = 2000
"""Branch-and-bound nodes after which the solver's best is taken: a count, not a clock, so that answers repeat."""

EASY_NODES, EASY_GAP = 50, 0.03
"""Nodes and relative gap that will do where no proof hangs on the answer."""

ROUNDS, EASY_ROUNDS = 40, 12
"""How often rings of hoopings are forbidden one by one before the order is put into the programme itself; and how often
where near the best will do (own choice: what has not settled by then seldom does, and every round is slower)."""

RANK_LIMIT = 250
"""Most block-in-field pairs for which that is tried; its rows are too weak for more."""

INFEASIBLE = 2
"""The status that SciPy's milp gives when no solution exists."""

Pairs = Sequence[tuple[int, int]]
Groups = tuple[tuple[int, ...], ...]
Ring = list[tuple[int, int]]
"""Steps round a ring of hoopings: block i lies beneath block j, which is sewn together with the next step's i."""
Laid = Sequence[Sequence[int]]
"""For every hooping that the worker laid herself, the fields of which one must be used."""


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be divided: n blocks; (i, j) in `beneath` where j lies over i; (i, j) in `touching`; the threads
    that each block uses, as small integers; the touching pairs that should rather stay together, all else equal."""

    n: int
    beneath: tuple[tuple[int, int], ...] = ()
    touching: tuple[tuple[int, int], ...] = ()
    threads: tuple[frozenset[int], ...] = ()
    together: frozenset[tuple[int, int]] = frozenset()


def assign(
    task: Task, fields: Masks, count: int, laid: Laid = (), *, fewest: bool = False
) -> tuple[Groups | None, bool]:
    """(groups for at most `count` of the fields, certain): groups are None where none were found, and then `certain`
    says whether there are none. Just one field of each in `laid` is used, and something is sewn in it. With `fewest`,
    fewer fields come before all other wishes, and near the best will do.

    Layers are left out at first, for they seldom matter: only rings of hoopings that come up are forbidden, and the
    order itself enters the programme where that does not end.
    """
    model = Model(task, fields, count, laid, fewest)
    for _ in range(EASY_ROUNDS if fewest else ROUNDS):
        sewn, settled = _solve(model)
        if sewn is None:
            return None, settled
        ordered = in_layer_order(_groups(sewn), task.beneath)
        if ordered is not None:
            return ordered, True
        for ring in _rings(sewn, task.beneath):
            model.forbid(ring)
    if len(model.y) > RANK_LIMIT:
        return None, False
    model.rank(task, count)
    sewn, settled = _solve(model)
    return (None, settled) if sewn is None else (in_layer_order(_groups(sewn), task.beneath), True)


def _groups(sewn: NDArray[np.bool_]) -> Groups:
    return tuple(tuple(np.flatnonzero(row).tolist()) for row in sewn if row.any())


def in_layer_order(groups: Sequence[tuple[int, ...]], beneath: Pairs) -> tuple[tuple[int, ...], ...] | None:
    """The groups in an order in which no block is sewn before one beneath it; None where they go round in a ring."""
    before = layers_between(groups, beneath)
    left = list(range(len(groups)))
    order: list[int] = []
    while left:
        ready = [g for g in left if not (before[g] & set(left))]
        if not ready:
            return None
        order.append(min(ready, key=lambda g: min(groups[g])))
        left.remove(order[-1])
    return tuple(groups[g] for g in order)


def layers_between(groups: Sequence[tuple[int, ...]], beneath: Pairs) -> list[set[int]]:
    """For every group, the groups that hold something beneath it."""
    home = {b: g for g, group in enumerate(groups) for b in group}
    before: list[set[int]] = [set() for _ in groups]
    for low, high in beneath:
        if home[low] != home[high]:
            before[home[high]].add(home[low])
    return before


def _rings(sewn: NDArray[np.bool_], beneath: Pairs) -> Iterator[Ring]:
    """Rings in the order of the fields: every pair that would each come before the other, else one shortest ring."""
    home = sewn.argmax(axis=0).tolist()
    steps: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for i, j in beneath:
        if home[i] != home[j]:
            steps.setdefault((home[i], home[j]), []).append((i, j))
    found = False
    for (f, g), there in steps.items():
        for back in steps.get((g, f), ()) if f < g else ():
            found = True
            yield from ([step, back] for step in there)
    if not found:
        yield [steps[way][0] for way in _shortest_ring(steps)]


def _shortest_ring(steps: dict[tuple[int, int], list[tuple[int, int]]]) -> list[tuple[int, int]]:
    after: dict[int, list[int]] = {}
    for f, g in steps:
        after.setdefault(f, []).append(g)
    best: list[int] = []
    for start in after:
        came: dict[int, int] = {}
        queue = deque([start])
        while queue and start not in came:
            f = queue.popleft()
            for g in after.get(f, ()):
                if g not in came:
                    came[g] = f
                    queue.append(g)
        if start in came:
            way = [start]
            while len(way) == 1 or way[-1] != start:
                way.append(came[way[-1]])
            if not best or len(way) < len(best):
                best = way[::-1]
    return list(itertools.pairwise(best))


class Model:
    """The division as an integer programme, built up one kind of row after another.

    Variables: x_f field used, y_bf block b in field f, whether a pair of blocks is parted or together, z_ft thread t
    used in field f, and, once `rank` is called, r_b the place of block b's hooping in the order and R_f that of the
    field.
    """

    def __init__(self, task: Task, fields: Masks, count: int, laid: Laid, fewest: bool) -> None:
        self.fields = fields
        self.eased = fewest
        self.cost: list[float] = []
        self.whole: list[int] = []
        self.high: list[float] = []
        self._rows: list[tuple[dict[int, float], float, float]] = []
        self._apart: dict[tuple[int, int], int] = {}
        self._with: dict[tuple[int, int], int] = {}
        used = [self._add(0.0) for _ in fields]
        self.y = {(int(b), int(f)): self._add(0.0) for f, b in np.argwhere(fields)}
        self.homes: list[list[int]] = [np.flatnonzero(fields[:, b]).tolist() for b in range(task.n)]
        self._row(dict.fromkeys(used, 1.0), 0, count)
        for b in range(task.n):
            self._row({self.y[b, f]: 1.0 for f in self.homes[b]}, 1, 1)
        for (_, f), y in self.y.items():
            self._row({y: 1.0, used[f]: -1.0}, -np.inf, 0)
        for own in laid:
            self._row({used[f]: 1.0 for f in own}, 1, 1)
            for f in own:
                self._row({used[f]: -1.0, **{self.y[b, f]: 1.0 for b in np.flatnonzero(fields[f]).tolist()}}, 0, np.inf)
        changes = self._threads(task)
        for i, j in task.touching:
            self._parted(i, j, cost=changes + 1.0 + ((i, j) in task.together) / (len(task.together) + 1.0))
        if fewest:
            for x in used:
                self.cost[x] = (changes + 1.0) * (len(task.touching) + 1.0)

    def _add(self, cost: float, high: float = 1.0, whole: bool = True) -> int:
        self.cost.append(cost)
        self.high.append(high)
        self.whole.append(int(whole))
        return len(self.cost) - 1

    def _row(self, terms: dict[int, float], low: float, high: float) -> None:
        self._rows.append((terms, low, high))

    def _threads(self, task: Task) -> int:
        """One variable for every thread that a field may need; a change costs 1. Gives how many there are."""
        z: dict[tuple[int, int], int] = {}
        for (b, f), y in self.y.items():
            for t in sorted(task.threads[b]) if task.threads else ():
                if (f, t) not in z:
                    z[f, t] = self._add(1.0, whole=False)
                self._row({y: 1.0, z[f, t]: -1.0}, -np.inf, 0)
        return len(z)

    def _parted(self, i: int, j: int, cost: float = 0.0) -> int:
        """The variable that is 1 where blocks i and j are sewn in different hoopings."""
        if (i, j) not in self._apart:
            self._apart[i, j] = parted = self._add(cost, whole=False)
            for f in self.homes[i]:
                terms = {self.y[i, f]: 1.0, parted: -1.0}
                if (j, f) in self.y:
                    terms[self.y[j, f]] = -1.0
                self._row(terms, -np.inf, 0)
        return self._apart[i, j]

    def _together(self, i: int, j: int) -> int:
        """The variable that is 1 where blocks i and j are sewn in the same hooping."""
        if (i, j) not in self._with:
            self._with[i, j] = both = self._add(0.0, whole=False)
            for f in self.homes[i]:
                if (j, f) in self.y:
                    self._row({self.y[i, f]: 1.0, self.y[j, f]: 1.0, both: -1.0}, -np.inf, 1)
        return self._with[i, j]

    def forbid(self, ring: Ring) -> None:
        """Not all of these steps from hooping to hooping at once, for then one would come before itself.

        Said of blocks, not of fields, so that one row rules the ring out wherever its hoopings lie.
        """
        terms = {self._parted(i, j): 1.0 for i, j in ring}
        for (_, upper), (lower, _) in zip(ring, [*ring[1:], ring[0]], strict=True):
            if upper != lower:
                terms[self._together(upper, lower)] = 1.0
        self._row(terms, -np.inf, len(terms) - 1)

    def rank(self, task: Task, count: int) -> None:
        """Put the order of the hoopings into the programme."""
        ranks = [self._add(0.0, high=count - 1.0, whole=False) for _ in self.fields]
        layered = sorted({b for pair in task.beneath for b in pair})
        r = {b: self._add(0.0, high=count - 1.0, whole=False) for b in layered}
        for b in layered:
            for f in self.homes[b]:
                self._row({r[b]: 1.0, ranks[f]: -1.0, self.y[b, f]: count}, -np.inf, count)
                self._row({ranks[f]: 1.0, r[b]: -1.0, self.y[b, f]: count}, -np.inf, count)
        for low, high in task.beneath:
            for f in self.homes[low]:
                terms = {r[high]: 1.0, r[low]: -1.0, self.y[low, f]: -1.0}
                if (high, f) in self.y:
                    terms[self.y[high, f]] = 1.0
                self._row(terms, 0, np.inf)

    def matrix(self) -> LinearConstraint:
        """All rows as one sparse constraint."""
        entries = [(i, j, v) for i, (terms, _, _) in enumerate(self._rows) for j, v in terms.items()]
        row, column, value = (np.array(part) for part in zip(*entries, strict=True))
        shape = (len(self._rows), len(self.cost))
        a = coo_array((value.astype(np.float64), (row, column)), shape=shape).tocsc()
        return LinearConstraint(a, [low for _, low, _ in self._rows], [high for _, _, high in self._rows])


def _solve(model: Model) -> tuple[NDArray[np.bool_] | None, bool]:
    """((fields, blocks) true where the block is sewn in the field, or None; whether a None is proven)."""
    answer = milp(
        np.array(model.cost),
        constraints=model.matrix(),
        integrality=np.array(model.whole),
        bounds=Bounds(0, np.array(model.high)),
        options={
            "node_limit": EASY_NODES if model.eased else NODE_LIMIT,
            "mip_rel_gap": EASY_GAP if model.eased else 0.0,
        },
    )
    if answer.x is None:
        return None, answer.status == INFEASIBLE
    sewn = np.zeros(model.fields.shape, dtype=bool)
    for (b, f), y in model.y.items():
        sewn[f, b] = answer.x[y] > 0.5
    return sewn, True
