"""How findings are told: in whole sentences, like ones together, no place lost, in the piece's own units."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from festoon.proof.words import PLACES, against, alike, others, sentence, spot
from festoon.work import Finding

WIDE = Finding(
    "look again",
    "sprig-1 on front, 10 mm from the left and 20 mm from the top",
    "Its satin is wide.",
    "Make sprig-1 2 mm narrower.",
    "8 mm",
    "7 mm",
    "usual teaching",
    panel="front",
    elements=("sprig-1",),
)


def like(k: int, figure: str = "7.5 mm") -> Finding:
    return replace(
        WIDE,
        where=f"sprig-{k} on front, {k} mm from the left and 20 mm from the top",
        remedy=f"Make sprig-{k} {k}.5 mm narrower.",
        figure=figure,
        elements=(f"sprig-{k}",),
    )


def test_a_finding_as_a_sentence() -> None:
    assert sentence((WIDE,)) == (
        "sprig-1 on front, 10 mm from the left and 20 mm from the top: Its satin is wide. Found 8 mm; the limit is 7 "
        "mm. Make sprig-1 2 mm narrower. (usual teaching)"
    )
    assert against(replace(WIDE, limit="")) == "Found 8 mm."
    assert sentence((Finding("look again", "here", "It is so."),)) == "here: It is so. (computed)"
    assert spot((1.0, 2.55)) == ", 1 mm from the left and 2.5 mm from the top"
    assert spot((1.0, 2.55), "inch") == ", 1/16 in from the left and 1/8 in from the top"


def test_like_findings_are_told_as_one_with_how_many_and_where() -> None:
    (group,) = alike([WIDE, like(2), like(3)])
    told = sentence(group)
    assert told.count("Its satin is wide.") == 1
    assert told.endswith(
        "The same at two more places: sprig-2 on front, 2 mm from the left and 20 mm from the top (7.5 mm); sprig-3 on "
        "front, 3 mm from the left and 20 mm from the top (7.5 mm)."
    )


def test_many_places_are_counted() -> None:
    (group,) = alike([WIDE, *(like(k) for k in range(2, 12))])
    told = others(group)
    assert told.startswith("The same at ten more places: ")
    assert told.count("sprig-") == PLACES
    assert told.endswith("; and seven more.")
    assert others(group[:2]).startswith("The same at one more place: ")
    assert others(group[:1]) == ""


def test_other_places_of_the_same_parts_do_not_name_them_again() -> None:
    there = "sprig-1 on front, 90 mm from the left and 20 mm from the top"
    again = replace(WIDE, where=there, figure="3 layers over a square of 2 mm")
    assert others((WIDE, again)) == "The same at one more place: 90 mm from the left and 20 mm from the top (3 layers)."
    several = [replace(WIDE, where=f"a, {n} on front, 1 mm from the left") for n in ("b and c", "b and d")]
    assert "a, b and d on front, 1 mm from the left" in others(tuple(several))


def test_what_is_not_alike_is_told_apart() -> None:
    for other in (
        replace(WIDE, verdict="will not work"),
        replace(WIDE, reason="Its satin is open."),
        replace(WIDE, remedy="Split its stitches."),
        replace(WIDE, limit="9 mm"),
        replace(WIDE, source="a magazine"),
    ):
        assert len(alike([WIDE, other])) == 2


def test_moves_in_other_ways_are_alike() -> None:
    moves = ("Move a by 2 mm to the left.", "Move a by 12.5 mm to the right.", "Move a by 1 1/2 in up.")
    found = [replace(WIDE, remedy=m, elements=("a",)) for m in moves]
    assert len(alike(found[:2])) == 1
    assert len(alike([found[0], replace(found[1], remedy="Move b by 3 mm to the right.", elements=("b",))])) == 1


def test_lists_of_names_are_alike_however_long() -> None:
    two = replace(WIDE, reason="Leave out a and b there.", elements=("a", "b", "c"))
    three = replace(WIDE, reason="Leave out a, b and c there.", elements=("a", "b", "c", "d"))
    assert len(alike([two, three])) == 1


@given(st.lists(st.tuples(st.integers(1, 30), st.sampled_from(["It is wide.", "It is 3 mm wide.", "It is open."]))))
def test_no_finding_is_lost_and_none_told_twice(drawn: list[tuple[int, str]]) -> None:
    found = [replace(like(k), reason=reason) for k, reason in drawn]
    groups = alike(found)
    assert sorted(map(str, (f for g in groups for f in g))) == sorted(map(str, found))
    first = [found.index(g[0]) for g in groups]
    assert first == sorted(first)
