"""The division against exhaustive search over all partitions, and against a separately stated integer programme."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from festoon.hooping.assignment import Task, in_layer_order
from festoon.hooping.candidates import Candidates, candidates, maximal
from festoon.hooping.cover import divide_blocks, fewest
from festoon.hooping.fitting import Turns

Box = tuple[float, float, float, float]
FIELD = (10.0, 10.0)
SQUARE = Turns((0.0,))


def corners(box: Box) -> np.ndarray:
    left, top, width, height = box
    return np.array([[left, top], [left + width, top], [left + width, top + height], [left, top + height]], float)


def partitions(n: int) -> Iterator[list[list[int]]]:
    """Every way of parting 0..n-1 into groups."""
    if n == 0:
        yield []
        return
    for smaller in partitions(n - 1):
        for k in range(len(smaller)):
            yield [*smaller[:k], [*smaller[k], n - 1], *smaller[k + 1 :]]
        yield [*smaller, [n - 1]]


def box_fits(boxes: Sequence[Box]) -> bool:
    left = min(b[0] for b in boxes)
    top = min(b[1] for b in boxes)
    right = max(b[0] + b[2] for b in boxes)
    bottom = max(b[1] + b[3] for b in boxes)
    return right - left <= FIELD[0] and bottom - top <= FIELD[1]


def has_ring(groups: Sequence[Sequence[int]], beneath: Sequence[tuple[int, int]]) -> bool:
    """Whether some hooping would have to come before itself: told by the transitive closure."""
    home = {b: g for g, group in enumerate(groups) for b in group}
    n = len(groups)
    before = np.zeros((n, n), dtype=bool)
    for i, j in beneath:
        if home[i] != home[j]:
            before[home[i], home[j]] = True
    for _ in range(n):
        before |= (before.astype(int) @ before.astype(int)) > 0
    return bool(before.diagonal().any())


def exhaustive(boxes: Sequence[Box], beneath: Sequence[tuple[int, int]]) -> int:
    """Fewest groups over all partitions whose groups fit and whose order goes round in no ring."""
    best = len(boxes)
    for groups in partitions(len(boxes)):
        if (
            len(groups) < best
            and all(box_fits([boxes[i] for i in g]) for g in groups)
            and not has_ring(groups, beneath)
        ):
            best = len(groups)
    return best


side = st.integers(1, 8).map(float)
place = st.integers(0, 24).map(float)
boxes_of = st.lists(st.tuples(place, place, side, side), min_size=1, max_size=7)


@settings(max_examples=120, deadline=None)
@given(boxes_of, st.data())
def test_the_count_is_that_of_exhaustive_search(boxes: list[Box], data: st.DataObject) -> None:
    pairs = list(itertools.combinations(range(len(boxes)), 2))
    beneath = tuple(p for p in pairs if data.draw(st.booleans()))
    cover = divide_blocks(Task(len(boxes), beneath), candidates([corners(b) for b in boxes], FIELD, SQUARE))

    assert sorted(b for g in cover.groups for b in g) == list(range(len(boxes)))
    assert all(box_fits([boxes[i] for i in g]) for g in cover.groups)
    assert in_layer_order(cover.groups, beneath) is not None
    position = {b: g for g, group in enumerate(cover.groups) for b in group}
    assert all(position[i] <= position[j] for i, j in beneath)
    truth = exhaustive(boxes, beneath)
    assert len(cover.groups) == truth
    assert cover.lower_bound == truth


@settings(max_examples=8, deadline=None)
@given(st.lists(st.tuples(place, place, side, side), min_size=8, max_size=8))
def test_eight_blocks_without_layers(boxes: list[Box]) -> None:
    cover = divide_blocks(Task(8), candidates([corners(b) for b in boxes], FIELD, SQUARE))
    assert len(cover.groups) == cover.lower_bound == exhaustive(boxes, ())


def test_layers_can_force_a_field_to_be_visited_again() -> None:
    # Three blocks at one place, two at another too far away, each lying over the one before: no two may be merged.
    boxes = [(0, 0, 5, 5), (40, 0, 5, 5), (0, 0, 5, 5), (40, 0, 5, 5), (0, 0, 5, 5)]
    beneath = ((0, 1), (1, 2), (2, 3), (3, 4))
    cover = divide_blocks(Task(5, beneath), candidates([corners(b) for b in boxes], FIELD, SQUARE))
    assert cover.groups == ((0,), (1,), (2,), (3,), (4,))
    assert cover.lower_bound == 5


def test_a_closed_ring_of_overlapping_work_needs_one_more() -> None:
    # Four large blocks (4 to 7) in a ring, and a small one (0 to 3) beneath each pair of neighbours. A field holds a
    # large one and one of its two small ones, never both: with four fields each would have to come before the next.
    beneath = tuple((b, t) for k in range(4) for b, t in ((k, k + 4), (k, (k + 3) % 4 + 4)))
    masks = np.zeros((8, 8), dtype=bool)
    for k in range(4):
        masks[2 * k, [4 + k, k]] = True
        masks[2 * k + 1, [4 + k, (k + 1) % 4]] = True
    cover = divide_blocks(Task(8, beneath), Candidates(masks, masks))
    assert (len(cover.groups), cover.lower_bound, cover.fields_needed) == (5, 5, 4)


def test_sets_left_unexamined_keep_the_bound_low() -> None:
    # Each of three lies over the one before. The sets that are known to fit part the first two, so two hoopings would
    # wait for each other; a set left unexamined holds both of them, so that two are not proven impossible.
    real = np.array([[True, False, True], [False, True, False]])
    unexamined = np.array([[True, True, False]])
    cover = divide_blocks(Task(3, ((0, 1), (1, 2))), Candidates(real, np.concatenate([real, unexamined])))
    assert (len(cover.groups), cover.lower_bound, cover.proven) == (3, 2, False)


def independent_count(boxes: np.ndarray) -> int:
    """The same question as an assignment programme over every corner position, no set left out or merged."""
    n = len(boxes)
    fields = [(x, y) for x in np.unique(boxes[:, 0]) for y in np.unique(boxes[:, 1])]
    holds = [
        [
            i
            for i, (bx, by, bw, bh) in enumerate(boxes)
            if x <= bx and bx + bw <= x + FIELD[0] and y <= by and by + bh <= y + FIELD[1]
        ]
        for x, y in fields
    ]
    holds = [h for h in holds if h]
    owed = np.zeros((n, len(holds)))
    for f, members in enumerate(holds):
        owed[members, f] = -1.0
    answer = linprog(np.ones(len(holds)), A_ub=owed, b_ub=-np.ones(n), bounds=(0, 1), integrality=1)
    assert answer.status == 0
    return round(answer.fun)


@pytest.mark.parametrize("draw", [1, 2, 3])
def test_two_hundred_and_forty_blocks_against_another_programme(draw: int) -> None:
    rng = np.random.default_rng(draw)
    boxes = np.column_stack([rng.integers(0, 70, (240, 2)), rng.integers(1, 7, (240, 2))]).astype(float)
    found = candidates([corners(tuple(b)) for b in boxes], FIELD, SQUARE)
    cover = divide_blocks(Task(240), found)
    truth = independent_count(boxes)
    assert len(cover.groups) == cover.lower_bound == truth


def test_among_equally_few_touching_blocks_stay_together() -> None:
    # The middle block fits with either neighbour; it touches the right one.
    boxes = [(0, 0, 4, 4), (5, 0, 4, 4), (10, 0, 4, 4)]
    found = candidates([corners(b) for b in boxes], FIELD, SQUARE)
    right = divide_blocks(Task(3, touching=((1, 2),)), found)
    left = divide_blocks(Task(3, touching=((0, 1),)), found)
    assert set(right.groups) == {(0,), (1, 2)}
    assert set(left.groups) == {(0, 1), (2,)}


@pytest.mark.parametrize("pair", [(1, 2), (2, 3)])
def test_where_fields_are_chosen_first_they_too_keep_touching_blocks_together(
    pair: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    # Five in a row, a field holds two neighbours: both ends are needed, and the middle one goes with either side.
    monkeypatch.setattr("festoon.hooping.cover.JOINT_LIMIT", 0)
    boxes = [(5 * k, 0, 4, 4) for k in range(5)]
    found = candidates([corners(b) for b in boxes], FIELD, SQUARE)
    groups = divide_blocks(Task(5, touching=(pair,)), found).groups
    assert len(groups) == 3
    assert any(set(pair) <= set(g) for g in groups)


def test_then_fewer_thread_changes() -> None:
    boxes = [(0, 0, 4, 4), (5, 0, 4, 4), (10, 0, 4, 4)]
    found = candidates([corners(b) for b in boxes], FIELD, SQUARE)
    red, blue = frozenset({0}), frozenset({1})
    assert set(divide_blocks(Task(3, threads=(red, blue, blue)), found).groups) == {(0,), (1, 2)}
    assert set(divide_blocks(Task(3, threads=(red, red, blue)), found).groups) == {(0, 1), (2,)}


@given(st.lists(st.lists(st.booleans(), min_size=6, max_size=6), min_size=1, max_size=12))
def test_maximal_keeps_what_nothing_else_holds(rows: list[list[bool]]) -> None:
    masks = np.array(rows)
    kept = maximal(masks)
    for row in masks[masks.any(axis=1)]:
        assert (kept | ~row).all(axis=1).any()
    for i, row in enumerate(kept):
        assert not any((row <= other).all() for j, other in enumerate(kept) if j != i)


@given(st.lists(st.sets(st.integers(0, 5), min_size=1), min_size=1, max_size=10))
def test_smallest_cover_by_trying_all(sets: list[set[int]]) -> None:
    columns = sorted(set().union(*sets))
    masks = np.array([[c in s for c in columns] for s in sets])
    truth = next(
        k
        for k in range(1, len(sets) + 1)
        if any(masks[list(pick)].any(axis=0).all() for pick in itertools.combinations(range(len(sets)), k))
    )
    chosen, bound = fewest(masks)
    assert len(chosen) == bound == truth
    assert masks[chosen].any(axis=0).all()
