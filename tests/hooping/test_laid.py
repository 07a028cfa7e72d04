"""Hoopings that the worker laid herself: kept exactly, against exhaustive search; what cannot be kept is told."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterator, Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point

from festoon.hooping import divide
from festoon.hooping.assignment import Task
from festoon.hooping.candidates import candidates
from festoon.hooping.cover import divide_blocks
from festoon.hooping.fitting import Turns
from festoon.hooping.laid import Ground, kept
from festoon.hooping.values import Block
from festoon.piece import Hoop, Panel
from festoon.piece.model import Laid
from festoon.stitches import Thread, from_points

from .pieces import laid_out, motif
from .test_cover import FIELD, SQUARE, Box, box_fits, boxes_of, corners, has_ring, partitions
from .test_divide import WREATH, check, holes

# Against exhaustive search


def ground(boxes: Sequence[Box], beneath: Sequence[tuple[int, int]]) -> Ground:
    """Boxes b0, b1, ... on a panel of 40 x 40 mm."""
    sewn = from_points([[0.0, 0.0], [1.0, 0.0]], Thread())
    blocks = [Block(f"b{k}", f"b{k}", f"b{k}", k, sewn, Point(0, 0), corners(b)) for k, b in enumerate(boxes)]
    found = candidates([b.corners for b in blocks], FIELD, SQUARE)
    return Ground(Panel(name="front", size=(40.0, 40.0)), blocks, tuple(beneath), found, FIELD, SQUARE, "mm")


def in_field(at: tuple[float, float], box: Box) -> bool:
    left, top = at[0] - FIELD[0] / 2, at[1] - FIELD[1] / 2
    return left <= box[0] and top <= box[1] and box[0] + box[2] <= left + FIELD[0] and box[1] + box[3] <= top + FIELD[1]


def keeps(groups: Sequence[Sequence[int]], boxes: Sequence[Box], wishes: Sequence[Laid]) -> bool:
    """Whether each of the wishes can be given a group of its own, with what it holds and nothing beyond its field."""

    def right(group: Sequence[int], wish: Laid) -> bool:
        holds = {int(name[1:]) for name in wish.holds}
        return holds <= set(group) and (wish.at is None or all(in_field(wish.at, boxes[i]) for i in group))

    own = itertools.permutations(range(len(groups)), len(wishes))
    return any(all(right(groups[g], w) for g, w in zip(order, wishes, strict=True)) for order in own)


def divisions(
    boxes: Sequence[Box], beneath: Sequence[tuple[int, int]], wishes: Sequence[Laid]
) -> Iterator[list[list[int]]]:
    """Every division that fits, that layers allow, and that keeps the wishes."""
    for groups in partitions(len(boxes)):
        if (
            all(box_fits([boxes[i] for i in g]) for g in groups)
            and not has_ring(groups, beneath)
            and keeps(groups, boxes, wishes)
        ):
            yield groups


@st.composite
def wished(draw: st.DrawFn, n: int) -> list[Laid]:
    """Up to three hoopings: no block is held by two of them."""
    owner = draw(st.lists(st.integers(0, 6), min_size=n, max_size=n))
    wishes = []
    for k in range(3):
        at = draw(st.none() | st.tuples(st.integers(3, 25), st.integers(3, 25)).map(lambda p: (p[0] * 1.0, p[1] * 1.0)))
        holds = tuple(f"b{b}" for b in range(n) if owner[b] == k)
        if holds or at:
            wishes.append(Laid(at=at, holds=holds))
    return wishes


@settings(max_examples=100, deadline=None)
@given(boxes_of.filter(lambda b: len(b) <= 6), st.data())
def test_count_and_bound_are_those_of_exhaustive_search_over_all_that_keep_the_wishes(
    boxes: list[Box], data: st.DataObject
) -> None:
    pairs = list(itertools.combinations(range(len(boxes)), 2))
    beneath = tuple(p for p in pairs if data.draw(st.booleans()))
    wishes = data.draw(wished(len(boxes)))
    here = ground(boxes, beneath)
    own, told = kept(list(enumerate(wishes)), here)

    chosen: list[int] = []
    for index in sorted(range(len(wishes)), key=lambda i: not wishes[i].holds):
        if next(divisions(boxes, beneath, [wishes[i] for i in (*chosen, index)]), None) is not None:
            chosen.append(index)
    possible = [wishes[i] for i in sorted(chosen)]
    assert [k.index for k in own] == sorted(chosen), "just what is possible is kept"
    assert len(told) == len(wishes) - len(possible), "and all else is told"

    cover = divide_blocks(Task(len(boxes), beneath), here.found, [k.own for k in own])
    truth = min(len(groups) for groups in divisions(boxes, beneath, possible))
    assert len(cover.groups) == cover.lower_bound == truth
    assert sorted(b for g in cover.groups for b in g) == list(range(len(boxes)))
    assert not has_ring(cover.groups, beneath)
    assert len(set(cover.own)) == len(own)
    for g, k in zip(cover.own, own, strict=True):
        assert keeps([cover.groups[g]], boxes, [k.laid])


@pytest.mark.parametrize("limit", ["EXACT_BLOCKS", "JOINT_LIMIT"])
def test_large_pieces_keep_them_too(limit: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Seven in a row, each over the one before; a field holds two. Held apart are the first two, held together the
    fourth and fifth, and one field is laid round the last alone."""
    monkeypatch.setattr(f"festoon.hooping.cover.{limit}", 0)
    boxes: list[Box] = [(5.0 * k, 0.0, 4.0, 4.0) for k in range(7)]
    beneath = tuple(itertools.pairwise(range(7)))
    here = ground(boxes, beneath)
    wishes = [Laid(holds=("b0",)), Laid(holds=("b1",)), Laid(holds=("b3", "b4")), Laid(at=(34.0, 3.0))]
    own, told = kept(list(enumerate(wishes)), here)
    assert not told
    task = Task(7, beneath, tuple(itertools.pairwise(range(7))))
    cover = divide_blocks(task, here.found, [k.own for k in own])
    assert sorted(b for g in cover.groups for b in g) == list(range(7))
    assert not has_ring(cover.groups, beneath)
    assert cover.lower_bound <= len(cover.groups)
    assert keeps(cover.groups, boxes, wishes)


# Through the whole division


def wreath(**wish):
    layout = laid_out(*WREATH, **wish)
    division = divide(layout)
    check(layout, division)
    sewn = holes(h.stitching for h in division.hoopings)
    assert sewn == holes(p.stitching for p in layout.parts("front")), "every penetration exactly once"
    return division


def home(division) -> dict[str, int]:
    return {b.name: h.number for h in division.hoopings for b in h.blocks}


def test_a_block_is_held_with_others_in_one_hooping_and_in_no_other():
    division = wreath(laid=[{"holds": ["sprig-1", "stem-1"]}])
    assert home(division)["sprig-1"] == home(division)["stem-1"]
    own = division.hoopings[home(division)["sprig-1"] - 1]
    assert own.laid == 0
    assert [h.laid for h in division.hoopings].count(None) == division.count - 1
    assert division.findings == ()


def test_a_field_stands_where_it_was_laid_turned_as_it_was_laid():
    division = wreath(hoops=(Hoop(name="long", field=(100.0, 140.0)),), laid=[{"at": [201.5, 120], "turn": 90}])
    (own,) = (h for h in division.hoopings if h.laid == 0)
    assert (own.field.x, own.field.y, own.field.turn) == (201.5, 120.0, 90.0)


def test_without_a_turn_it_lies_upright_to_the_grain():
    division = wreath(laid=[{"at": [201.5, 120]}])
    (own,) = (h for h in division.hoopings if h.laid == 0)
    assert (own.field.x, own.field.y, own.field.turn) == (201.5, 120.0, 0.0)


spots = st.tuples(st.integers(12, 28), st.integers(12, 28)).map(lambda p: [p[0] * 10.0, p[1] * 10.0])
names = st.lists(st.sampled_from(["sprig-1", "sprig-3", "stem-2", "heart", "dot", "sprig", "gone"]), max_size=2)


@settings(deadline=None, max_examples=10)
@given(
    st.lists(st.tuples(st.none() | spots, names).filter(lambda w: w[0] or w[1]), max_size=3),
    st.lists(st.sampled_from(["dot", "sprig-4", "stem-1", "heart", "gone"]), max_size=3),
    st.sampled_from(["square", "free"]),
)
def test_every_law_holds_whatever_is_wished(wishes, order, turn):
    laid = [{**({"at": at} if at else {}), "holds": holds} for at, holds in wishes]
    division = wreath(laid=laid, order=order, turn=turn)
    kept_here = [h for h in division.hoopings if h.laid is not None]
    assert Counter(h.laid for h in kept_here).most_common(1)[:1] in ([], [(kept_here[0].laid, 1)] if kept_here else [])
    for h in kept_here:
        at, _ = wishes[h.laid]
        assert at is None or [h.field.x, h.field.y] == at
    assert division.free is None or division.free.lower_bound <= division.lower_bound
    assert len(kept_here) + len(division.findings) >= len(wishes), "kept or told"


def test_without_a_say_of_her_own_nothing_is_different():
    plain = wreath()
    assert plain.free is None
    assert all(h.laid is None for h in plain.hoopings)
    unknown = wreath(laid=[{"holds": ["gone"]}], order=["gone"])
    assert unknown.free is None
    assert [h.field for h in unknown.hoopings] == [h.field for h in plain.hoopings]


def test_all_that_is_not_hers_stays_as_it_was_where_that_costs_nothing():
    plain = wreath()
    own = next(h for h in plain.hoopings if "heart" in h.sews)
    laid = wreath(laid=[{"at": [own.field.x, own.field.y], "holds": list(own.elements)}])
    assert [h.sews for h in laid.hoopings] == [h.sews for h in plain.hoopings]
    assert [h.field for h in laid.hoopings] == [h.field for h in plain.hoopings]


# What it costs


ROW = motif("leaf", "20x20", row={"count": 3, "spacing": 40})


def test_the_headline_says_what_it_costs_and_why_fewer_will_not_do():
    """Three leaves, 100 mm from edge to edge, fit one field; two fields each with a leaf of its own cannot be one."""
    division = divide(laid_out(ROW, laid=[{"holds": ["leaf-1"]}, {"holds": ["leaf-3"]}]))
    assert division.headline == "Two hoopings; your own say costs one: without it one would do."
    assert division.reasons == (
        "Everything fits one field. No division that keeps what you laid yourself does with fewer than two.",
    )
    assert division.free is not None
    assert (division.free.count, division.count, division.lower_bound) == (1, 2, 2)


def test_what_it_costs_beside_a_bound():
    row = motif("leaf", "20x20", row={"count": 4, "spacing": 90})
    division = divide(laid_out(row, motif("dot", "8x8", (200, 200)), laid=[{"at": (200, 200), "holds": ["dot"]}]))
    assert division.headline == (
        "Five hoopings; your own say costs one: without it four would do, and fewer than four is impossible."
    )


# Her own order


def test_the_work_goes_in_her_order():
    division = divide(laid_out(motif("leaf", "90x20", row={"count": 3, "spacing": 110}), order=["leaf-3", "leaf-2"]))
    assert [h.sews for h in division.hoopings] == [("leaf-3",), ("leaf-2",), ("leaf-1",)]
    assert division.hoopings[0].reason == "By your own order; nothing beneath it waits to be sewn."
    assert division.findings == ()


def test_layers_come_before_her_order_and_that_is_told():
    """lid lies over base."""
    layout = laid_out(
        motif("base", "90x90", (100, 200)),
        motif("leaf", "90x20", (300, 200)),
        motif("lid", "90x90-blue", (120, 210)),
        order=["lid", "base", "leaf"],
    )
    division = divide(layout)
    check(layout, division)
    assert [h.sews for h in division.hoopings] == [("base",), ("lid",), ("leaf",)]
    (finding,) = division.findings
    assert finding.where == "your own order of work"
    assert finding.reason.startswith("The hooping of lid cannot come before that of base, since something in it lies")


def test_what_lies_beneath_is_in_as_great_a_hurry():
    layout = laid_out(
        motif("leaf", "90x20", (300, 200)),
        motif("base", "90x90", (100, 200)),
        motif("lid", "90x90-blue", (120, 210)),
        order=["lid", "leaf"],
    )
    division = divide(layout)
    assert [h.sews for h in division.hoopings] == [("base",), ("lid",), ("leaf",)]
    assert division.findings == ()


@pytest.mark.parametrize("pair", [(0, 1), (1, 2)])
def test_all_else_equal_what_was_together_stays_together(pair: tuple[int, int]) -> None:
    """Three in a row, each touching the next; a field holds two of them."""
    here = ground([(0.0, 0.0, 4.0, 4.0), (5.0, 0.0, 4.0, 4.0), (10.0, 0.0, 4.0, 4.0)], ())
    task = Task(3, touching=((0, 1), (1, 2)), together=frozenset({pair}))
    assert pair in divide_blocks(task, here.found).groups


# What cannot be


@pytest.mark.parametrize(
    ("wishes", "where", "reason", "remedy"),
    [
        (
            [{"holds": ["leaf-9"]}],
            "the hooping that you laid for leaf-9",
            'Nothing called "leaf-9" is sewn on front.',
            'Did you mean "leaf-3"?',
        ),
        (
            [{"panel": "frond", "holds": ["leaf-1"]}],
            "the hooping that you laid for leaf-1",
            'There is no panel "frond".',
            'Did you mean "front"?',
        ),
        (
            [{"holds": ["leaf-1", "leaf-3"]}],
            "the hooping that you laid for leaf-1 and leaf-3",
            "leaf-1 and leaf-3 together need 180 mm x 18 mm, and the field is 100 mm x 100 mm.",
            "Hold fewer of them here.",
        ),
        (
            [{"at": [162, 200], "holds": ["leaf-1"]}],
            "the hooping that you laid at 162 mm from the left and 200 mm from the top",
            "leaf-1 does not lie wholly in its field.",
            "Lay its middle at 160 mm from the left",
        ),
        (
            [{"at": [40, 40]}],
            "the hooping that you laid at 40 mm from the left and 40 mm from the top",
            "Nothing lies wholly in its field; leaf-1 comes nearest.",
            "Lay its middle at ",
        ),
        (
            [{"at": [120, 200], "turn": 30}],
            "the hooping that you laid at 120 mm from the left and 200 mm from the top",
            "Its hoop is turned by 30°, and the turns allowed on front are 0° and 90°.",
            "Turn it to 0°, or allow more turns under [hooping].",
        ),
        (
            [{"holds": ["leaf-1"]}, {"at": [120, 200], "holds": ["leaf-1"]}],
            "the hooping that you laid at 120 mm from the left and 200 mm from the top",
            "It holds leaf-1, and so does the hooping that you laid for leaf-1, which comes first and keeps it.",
            "Let one of the two go.",
        ),
    ],
)
def test_what_cannot_be_kept_is_told_with_the_nearest_that_will_do(wishes, where, reason, remedy):
    told = next(f for f in division_of(wishes).findings if f.reason == reason)
    assert (told.where, told.verdict) == (where, "look again")
    assert told.remedy.startswith(remedy)


def division_of(wishes):
    return divide(laid_out(motif("leaf", "20x20", row={"count": 3, "spacing": 80}), laid=wishes))


@pytest.mark.parametrize("units", ["mm", "inch"])
@pytest.mark.parametrize("turn", [0, 37, 90])
@pytest.mark.parametrize("at", [(103.3, 260.7), (160, 150), (40, 40)])
def test_the_nearest_place_that_is_told_will_do(at, turn, units):
    elements = (motif("leaf", "60x40", (120, 200)),)
    words = {"turn": "free", "units": units}
    wish = {"at": at, "turn": turn, "holds": ["leaf"]}
    (finding,) = divide(laid_out(*elements, laid=[wish], **words)).findings
    assert finding.at is not None
    assert divide(laid_out(*elements, laid=[{**wish, "at": finding.at}], **words)).findings == ()


def test_what_lies_between_must_be_held_too():
    """b lies over a and under c: held with both it fits, and comes along; too far away it is told."""
    stack = [motif(n, "60x60", (200, 200)) for n in ("a", "c")]
    near = laid_out(stack[0], motif("b", "60x60-blue", (210, 200)), stack[1], laid=[{"holds": ["a", "c"]}])
    assert {b for h in divide(near).hoopings if h.laid == 0 for b in h.elements} == {"a", "b", "c"}
    far = laid_out(stack[0], motif("b", "60x60-blue", (245, 200)), stack[1], laid=[{"holds": ["a", "c"]}])
    (finding,) = divide(far).findings
    assert finding.reason.startswith(
        "With what it holds it must hold b, which lies over some of it and under the rest."
    )


def test_two_that_would_wait_for_each_other():
    """b lies over a, and d over c: a with d waits for b with c, and that for it."""
    layout = laid_out(
        motif("a", "40x40", (120, 200)),
        motif("b", "40x40-blue", (140, 210)),
        motif("c", "40x40", (200, 200)),
        motif("d", "40x40-blue", (220, 210)),
        laid=[{"holds": ["a", "d"]}, {"holds": ["b", "c"]}],
        hoops=(Hoop(name="wide", field=(150.0, 150.0)),),
    )
    division = divide(layout)
    check(layout, division)
    (finding,) = division.findings
    assert finding.where == "the hooping that you laid for b and c"
    assert finding.reason.startswith(
        "What lies over what would make it wait for the hooping that you laid for a and d,"
    )


def test_a_field_that_is_left_with_nothing():
    wishes = [{"at": [120, 200]}, {"holds": ["leaf-1"]}]
    (finding,) = division_of(wishes).findings
    assert finding.reason == "All that lies in its field is held by other hoopings that you laid."


def test_a_hooping_on_another_panel_is_found_by_what_it_holds():
    layout = laid_out(
        motif("leaf", "20x20"),
        {**motif("bud", "20x20", row={"count": 2, "spacing": 60}), "panel": "back"},
        panels=((400.0, 400.0), (400.0, 400.0)),
        laid=[{"holds": ["bud-1"]}, {"holds": ["bud-2"]}],
    )
    division = divide(layout)
    assert [(h.panel, h.sews, h.laid) for h in division.hoopings] == [
        ("front", ("leaf",), None),
        ("back", ("bud-1",), 0),
        ("back", ("bud-2",), 1),
    ]
    assert division.reasons[1].endswith("No division that keeps what you laid yourself does with fewer than two.")


def test_a_tight_field_laid_where_the_record_says_holds_what_it_held():
    """Turned anyhow, a leaf as long as the field's diagonal allows fits at one turn and place only."""
    slim = (Hoop(name="slim", field=(60.0, 160.0)),)
    leaf = motif("leaf", "30x20", row={"count": 4, "spacing": 42, "direction": 45}, turn=45)
    plain = divide(laid_out(leaf, hoops=slim, turn="free"))
    (own,) = plain.hoopings
    at, turn = [round(v, 3) for v in (own.field.x, own.field.y)], round(own.field.turn, 3)
    again = divide(
        laid_out(leaf, hoops=slim, turn="free", laid=[{"at": at, "turn": turn, "holds": list(own.elements)}])
    )
    assert again.findings == ()
    assert np.allclose((again.hoopings[0].field.x, again.hoopings[0].field.y), at)


def test_an_exact_fit_is_kept_when_rounded_to_what_the_record_says():
    here = ground([(0.0, 0.0, 10.0, 10.0)], ())
    assert kept([(0, Laid(at=(5.0004, 4.9996), holds=("b0",)))], here)[1] == ()
    assert len(kept([(0, Laid(at=(5.01, 5.0), holds=("b0",)))], here)[1]) == 1


def test_turns_are_those_of_the_field():
    """For a square field a quarter turn is no turn; for a long one it is."""
    square = ground([(0.0, 0.0, 4.0, 4.0)], ())
    assert kept([(0, Laid(holds=("b0",), turn=90.0))], square)[1] == ()
    long = Ground(square.panel, square.blocks, (), square.found, (10.0, 12.0), Turns((0.0,)), "mm")
    assert len(kept([(0, Laid(holds=("b0",), turn=90.0))], long)[1]) == 1
    assert kept([(0, Laid(holds=("b0",), turn=180.0))], long)[1] == ()
