"""The sentences on how many hoopings there are, and why."""

import numpy as np
import pytest
from shapely import box

from festoon.hooping.cover import Cover
from festoon.hooping.fitting import Turns
from festoon.hooping.values import Block
from festoon.hooping.words import headline, listed, number_word, order_reason, why
from festoon.stitches import Thread, from_points


def test_numbers_are_words_up_to_twenty():
    assert [number_word(n) for n in (0, 1, 7, 12, 13, 20, 21, 105)] == [
        "no",
        "one",
        "seven",
        "twelve",
        "thirteen",
        "twenty",
        "21",
        "105",
    ]


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (["a"], "a"),
        (["a", "b"], "a and b"),
        (["a", "b", "c"], "a, b and c"),
        ([f"n{k}" for k in range(15)], "n0, n1, n2, n3, n4, n5, n6, n7, n8, n9, n10, n11 and 3 more"),
    ],
)
def test_names_are_listed(names, told):
    assert listed(names) == told


def test_another_joint():
    assert listed(["two", "three"], joint="or") == "two or three"


@pytest.mark.parametrize(
    ("count", "bound", "told"),
    [
        (0, 0, "Nothing to sew, so no hoopings."),
        (1, 1, "One hooping: everything fits one field."),
        (7, 7, "Seven hoopings; fewer than seven is impossible."),
        (8, 7, "Eight hoopings; at least seven are needed."),
        (2, 1, "Two hoopings; at least one is needed."),
        (24, 22, "24 hoopings; at least 22 are needed."),
    ],
)
def test_headlines(count, bound, told):
    assert headline(count, bound) == told


@pytest.mark.parametrize(
    ("count", "bound", "told"),
    [
        (8, 8, "Eight hoopings; fewer than eight is impossible, with the large parts divided where they are."),
        (8, 7, "Eight hoopings; at least seven are needed, with the large parts divided where they are."),
        (1, 1, "One hooping: everything fits one field."),
    ],
)
def test_a_headline_over_divided_parts_claims_no_more_than_was_proven(count, bound, told):
    """Cut elsewhere, a large part may need fewer: a ring sewn from another point on (computed)."""
    assert headline(count, bound, cut=True) == told


@pytest.mark.parametrize(
    ("count", "bound", "free", "told"),
    [
        (8, 8, (8, 8), "Eight hoopings; fewer than eight is impossible."),
        (
            8,
            8,
            (7, 7),
            "Eight hoopings; your own say costs one: without it seven would do, and fewer than seven is impossible.",
        ),
        (9, 9, (7, 6), "Nine hoopings; your own say costs two: without it seven would do."),
        (2, 2, (1, 1), "Two hoopings; your own say costs one: without it one would do."),
        (
            9,
            8,
            (7, 7),
            "Nine hoopings; at least eight are needed with your own say. Without it seven would do, and fewer than "
            "seven is impossible.",
        ),
        (7, 7, (8, 6), "Seven hoopings; fewer than seven is impossible."),
    ],
)
def test_a_headline_says_what_her_own_say_costs(count, bound, free, told):
    assert headline(count, bound, free=free) == told
    if free[0] < count:
        assert (
            headline(count, bound, cut=True, free=free) == f"{told[:-1]}, with the large parts divided where they are."
        )


def test_her_own_order_is_a_reason():
    assert order_reason(1, [], [], wished=True) == "By your own order; nothing beneath it waits to be sewn."
    assert order_reason(4, [2], [("stem", "leaf")], wished=True) == "After 2: stem lies over leaf."


@pytest.mark.parametrize(
    ("number", "after", "over", "told"),
    [
        (1, [], [], "First: nothing lies beneath it."),
        (4, [], [], "Nothing beneath it waits to be sewn."),
        (4, [2], [("stem", "leaf")], "After 2: stem lies over leaf."),
        (
            5,
            [2, 4],
            [("stem", "leaf"), ("stem", "bud"), ("a", "b")],
            "After 2 and 4: stem lies over leaf (and two more).",
        ),
    ],
)
def test_the_reason_for_a_place_in_the_order(number, after, over, told):
    assert order_reason(number, after, over) == told


# Why so many: blocks of 10 x 10 mm on a field of 25 x 25 mm, and what one field holds said by hand


def told(names, sets, groups, bound, needed, **words):
    blocks = []
    for k, name in enumerate(names):
        corners = np.array([[20 * k, 0], [20 * k + 10, 0], [20 * k + 10, 10], [20 * k, 10]], float)
        run = from_points(corners, Thread())
        blocks.append(Block(name, name, name.split("-")[0], k, run, box(20 * k, 0, 20 * k + 10, 10), corners))
    cover = Cover(groups, bound, needed)
    masks = np.array([[k in s for k in range(len(names))] for s in sets])
    return why(blocks, masks, cover, (25.0, 25.0), words.pop("turns", Turns()), words.pop("units", "mm"))


def test_the_pair_that_lacks_least_is_measured():
    names, sets = ("a", "b", "c"), [{0}, {1}, {2}]
    assert told(names, sets, ((0,), (1,), (2,)), 3, 3) == (
        "These three can't share a field two by two: a, b and c; even a and b need 30 mm x 10 mm, and the field is "
        "25 mm x 25 mm."
    )


def test_in_inches_and_turned_anyhow():
    assert told(("a", "b"), [{0}, {1}], ((0,), (1,)), 2, 2, turns=Turns(free=True), units="inch").startswith(
        "a and b can't share a field; together they need 1 "
    )


def test_likes_are_counted_where_no_company_explains_it():
    """Of five in a ring each field holds two neighbours: two apart share none, but three are needed."""
    names = [f"leaf-{k}" for k in range(1, 6)]
    sets = [{k, (k + 1) % 5} for k in range(5)]
    assert told(names, sets, ((0, 1), (2, 3), (4,)), 3, 3) == (
        "No field holds more than two of the five blocks of leaf, so five need at least three."
    )


def test_else_every_placing_was_compared():
    names, sets = ("a", "b", "c", "d", "e"), [{k, (k + 1) % 5} for k in range(5)]
    assert told(names, sets, ((0, 1), (2, 3), (4,)), 3, 3) == (
        "Every placing of the field was compared: no two of them hold all the stitching."
    )
    names, sets = ("a", "b", "c"), [{0, 1}, {1, 2}, {0, 2}]
    assert told(names, sets, ((0, 1), (2,)), 2, 2) == (
        "Every placing of the field was compared: no single one holds all the stitching."
    )


def test_a_ring_and_what_is_not_proven_are_told():
    names, sets = ("a", "b"), [{0}, {1}]
    assert told(names, sets, ((0,), (1,), (0,), (1,)), 4, 2).endswith(
        " Nor will two or three do: what lies over what would go round in a ring, each hooping waiting for the next."
    )
    assert told(names, sets, ((0,), (1,), (0,)), 2, 2).endswith(" Whether fewer than three can do is not proven.")


def test_where_nothing_is_proven_nothing_is_claimed():
    assert told(("a", "b"), [{0}, {1}], ((0,), (1,)), 1, 1) == (
        "No single field was found to hold all the stitching. Whether fewer than two can do is not proven."
    )


def test_one_hooping_needs_no_reason():
    assert told(("a",), [{0}], ((0,),), 1, 1) == "Everything fits one field."
