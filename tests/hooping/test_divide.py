"""The whole way from parts to hoopings: nothing lost, layers kept, fields that hold, and honest sentences."""

from __future__ import annotations

import itertools
import json
from collections import Counter

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from festoon.errors import HoopingError
from festoon.hooping import Division, divide, record
from festoon.hooping.blocks import lying_over
from festoon.hooping.placing import overhang
from festoon.layout import Layout
from festoon.piece import Hoop

from .pieces import SMALL, laid_out, motif, piece

WREATH = (
    {"kind": "join", "name": "stem", "through": "sprig", "closed": True, "bow": -8, "stitch": "running"},
    motif("sprig", "40x30", ring={"count": 6, "radius": 90}),
    motif("heart", "60x60-blue"),
    motif("dot", "12x12", at=(200, 120)),
)


def holes(stitchings):
    """Every penetration with how often it is made."""
    return Counter((round(x, 6), round(y, 6)) for s in stitchings for x, y in s.holes.tolist())


def json_of(division: Division) -> str:
    return json.dumps(record(division, {h.number: f"{h.number}.dst" for h in division.hoopings}))


def check(layout: Layout, division: Division) -> None:
    """What must hold for every division, whatever the piece."""
    wish = layout.piece.file.hooping
    assert [h.number for h in division.hoopings] == list(range(1, division.count + 1))
    for panel in layout.panels:
        hoopings = [h for h in division.hoopings if h.panel == panel.name]
        assert all(h.after == tuple(sorted(set(h.after))) for h in hoopings)
        assert all(a < h.number and division.hoopings[a - 1].panel == panel.name for h in hoopings for a in h.after)
        blocks = sorted((b for h in hoopings for b in h.blocks), key=lambda b: b.order)
        assert [b.order for b in blocks] == list(range(len(blocks))), "every block in exactly one hooping"
        home = {b.order: h.number for h in hoopings for b in h.blocks}
        assert all(home[i] <= home[j] for i, j in lying_over(blocks)), "what lies beneath is sewn no later"
        for h in hoopings:
            size = np.array(h.hoop.field)
            own = np.abs(h.field.inverse().apply(h.stitching.holes))
            assert (own <= size / 2 - wish.margin + 1e-5).all(), "the field holds its stitching, less the margin"
            marks = np.array([m.at for m in h.marks])
            assert 2 <= len(marks) <= wish.marks
            assert (np.abs(h.field.inverse().apply(marks)) <= size / 2).all(), "marks inside the field"
            assert shapely.contains_xy(shapely.box(0, 0, *panel.size), marks).all()
            beyond = overhang(h.field, h.hoop.outer_size, panel.size)
            assert h.float_sides == tuple(s for s, by in beyond.items() if by > 1e-6)
            assert h.reason
    assert division.fewest_proven == (division.count == division.lower_bound)
    assert division.lower_bound <= division.count


def divided(*elements, **words) -> Division:
    layout = laid_out(*elements, **words)
    division = divide(layout)
    check(layout, division)
    return division


# What must hold for every piece


def test_every_penetration_of_a_wreath_is_sewn_exactly_once():
    layout = laid_out(*WREATH)
    division = divide(layout)
    check(layout, division)
    assert not any(b.piece for h in division.hoopings for b in h.blocks), "nothing is cut"
    assert holes(h.stitching for h in division.hoopings) == holes(p.stitching for p in layout.parts("front"))


spots = st.tuples(st.integers(6, 34), st.integers(6, 34)).map(lambda p: (p[0] * 10.0, p[1] * 10.0))
patches = st.lists(
    st.tuples(st.sampled_from(["20x20", "50x30", "30x80-blue", "70x70", "8x8-blue"]), spots), min_size=1, max_size=7
)


@settings(deadline=None, max_examples=30)
@given(patches, st.sampled_from(["square", "quarter", "free"]), st.sampled_from([(100.0, 100.0), (130.0, 90.0)]))
def test_patches_strewn_anyhow_are_divided_rightly(drawn, turn, field):
    elements = [motif(f"patch {k}", file, at) for k, (file, at) in enumerate(drawn)]
    layout = laid_out(*elements, turn=turn, hoops=(Hoop(name="drawn", field=field),))
    division = divide(layout)
    check(layout, division)
    assert holes(h.stitching for h in division.hoopings) == holes(p.stitching for p in layout.parts("front"))


def test_a_part_too_large_is_sewn_in_pieces_with_nothing_left_out():
    hem = {"kind": "join", "name": "hem", "path": "M 40 200 H 360", "stitch": "satin"}
    layout = laid_out(hem)
    division = divide(layout)
    check(layout, division)
    (part,) = layout.parts("front")
    sewn = holes(h.stitching for h in division.hoopings)
    assert division.count == 4
    assert not holes([part.stitching]) - sewn
    assert [b.name for h in division.hoopings for b in h.blocks] == ["hem/1", "hem/2", "hem/3", "hem/4"]


# The field, its turns and its margin


def counts(*elements, **words):
    settings = ["square", "quarter", "free"]
    return [divided(*elements, turn=turn, **words).count for turn in settings]


TALL = Hoop(name="tall", field=(100.0, 180.0))
DIAGONAL = motif("leaf", "30x20", row={"count": 4, "spacing": 42, "direction": 45}, turn=45)


@pytest.mark.parametrize(
    ("elements", "hoops", "expected"),
    [
        ([motif("band", "40x40", row={"count": 4, "spacing": 45})], (TALL,), [2, 1, 1]),
        ([DIAGONAL], (Hoop(name="slim", field=(60.0, 160.0)),), [4, 4, 1]),
        ([motif("leaf", "40x40", ring={"count": 5, "radius": 70})], (SMALL,), None),
        (WREATH[1:], (TALL,), None),
    ],
)
def test_more_freedom_to_turn_never_takes_more_hoopings(elements, hoops, expected):
    found = counts(*elements, hoops=hoops)
    assert found == sorted(found, reverse=True)
    assert expected is None or found == expected


def test_a_list_of_angles_is_taken_at_its_word():
    slim = (Hoop(name="slim", field=(60.0, 160.0)),)
    assert divided(DIAGONAL, hoops=slim, turn=(0, 90, 135)).count == 1
    division = divided(DIAGONAL, hoops=slim, turn=(135,))
    assert [h.field.turn for h in division.hoopings] == [135]


def test_the_margin_is_kept_free():
    row = motif("leaf", "20x20", row={"count": 2, "spacing": 76})
    assert divided(row).count == 1
    assert divided(row, margin=3).count == 2
    with pytest.raises(HoopingError, match=r'hoop "small": a margin of 50 mm leaves nothing of its field of 100 x 100'):
        divided(row, margin=50)


def test_a_motif_too_large_names_a_hoop_that_would_do_with_its_margin():
    hoops = (SMALL, Hoop(name="middle", field=(120.0, 120.0)), Hoop(name="large", field=(150.0, 150.0)))
    with pytest.raises(HoopingError, match=r'^"lake": .* field is 90 x 90 mm.* The hoop "large" would do'):
        divided(motif("lake", "112x60"), hoops=hoops, margin=5)
    with pytest.raises(HoopingError, match='The hoop "middle" would do'):
        divided(motif("lake", "112x60"), hoops=hoops)


# Hoops that leave the cloth


def test_no_side_floats_where_every_hoop_lies_on_the_cloth():
    assert divided(motif("leaf", "20x20")).hoopings[0].float_sides == ()


def test_a_hoop_that_passes_the_edge_says_its_side():
    """What is told of it stands with the proof (tests/proof/test_held.py)."""
    assert divided(motif("leaf", "20x20", at=(15, 200))).hoopings[0].float_sides == ("left",)
    assert divided(motif("leaf", "20x20", at=(385, 385))).hoopings[0].float_sides == ("right", "bottom")


@pytest.mark.parametrize("outer", [140.6, 141.0, 143.3])
def test_a_hoop_of_odd_size_is_kept_on_the_cloth_too(outer):
    hoop = Hoop(name="odd", field=(100.0, 100.0), outer=(outer, outer))
    assert divided(motif("leaf", "20x20", at=(40, 40)), hoops=(hoop,)).hoopings[0].float_sides == ()


# Panels


def test_two_panels_number_on_and_are_told_apart():
    division = divided(
        motif("leaf", "20x20", row={"count": 3, "spacing": 120}),
        {**motif("bud", "20x20", row={"count": 2, "spacing": 120}), "panel": "back"},
        {**motif("lid", "30x30-blue"), "panel": "back"},
        panels=((400.0, 400.0), (400.0, 400.0)),
    )
    assert [h.panel for h in division.hoopings] == ["front"] * 3 + ["back"] * 2
    assert [h.marks[0].name for h in division.hoopings if h.number in (1, 4)] == ["A", "A"]
    assert [r.split(":")[0] for r in division.reasons] == ["front", "back"]
    assert (division.count, division.lower_bound) == (5, 5)


def test_an_error_about_marks_counts_the_hoopings_of_all_panels():
    """Crosses stand 5 mm inside the cut edge and 10 mm apart: on 12 x 12 mm there is no room for two."""
    with pytest.raises(HoopingError, match=r"^hooping 2: no two crosses find room on bare cloth"):
        divided(
            motif("leaf", "20x20"),
            {**motif("lid", "8x8", at=(6, 6)), "panel": "back"},
            panels=((400.0, 400.0), (12.0, 12.0)),
        )


def test_an_empty_panel_asks_for_no_hooping():
    division = divided()
    assert (division.count, division.headline) == (0, "Nothing to sew, so no hoopings.")
    assert division.reasons == ("There is nothing to sew.",)


# Sentences


def test_one_hooping():
    division = divided(motif("leaf", "20x20"))
    assert division.headline == "One hooping: everything fits one field."
    assert division.reasons == ("Everything fits one field.",)
    assert division.hoopings[0].reason == "First: nothing lies beneath it."


def test_a_company_that_cannot_share_is_named_and_measured():
    """Rows 20 mm wide, 90 mm from middle to middle: two need 110 mm less the last row's gap."""
    division = divided(motif("leaf", "20x20", row={"count": 3, "spacing": 90}))
    assert division.headline == "Three hoopings; fewer than three is impossible."
    (reason,) = division.reasons
    assert reason.startswith("These three can't share a field two by two: leaf-1, leaf-2 and leaf-3; even leaf-")
    assert reason.endswith("need 110 mm x 18 mm, and the field is 100 mm x 100 mm.")


def test_two_that_cannot_share():
    (reason,) = divided(motif("leaf", "20x20", row={"count": 2, "spacing": 150}), turn="free").reasons
    assert reason.startswith("leaf-1 and leaf-2 can't share a field; together they need ")
    assert " however the hoop is turned, and the field is 100 mm x 100 mm." in reason


def test_likes_that_are_counted():
    """Neighbours in a ring of five share a field of 100 mm; no three do."""
    pentagon = motif("leaf", "36x36", ring={"count": 5, "radius": 46, "follow": False})
    division = divided(pentagon)
    (reason,) = division.reasons
    assert reason == "No field holds more than two of the five blocks of leaf, so five need at least three."
    assert division.headline == "Three hoopings; fewer than three is impossible."


def test_what_goes_round_in_a_ring_takes_a_hooping_more():
    """a beneath b, b beneath c, c beneath d; fields hold a with d, and b with c, or three at most never all."""
    left, right = (150, 200), (230, 200)
    division = divided(
        motif("a", "60x60", left),
        motif("b", "60x60-blue", (190, 200)),
        motif("c", "60x60", left),
        motif("d", "60x60-blue", right),
    )
    home = {b.name: h.number for h in division.hoopings for b in h.blocks}
    assert home["a"] <= home["b"] <= home["c"]
    last = division.hoopings[-1]
    assert last.after
    assert last.reason.startswith("After ")
    assert " lies over " in last.reason


def test_a_ring_is_told_in_the_reason():
    """Two fields would hold all: a and c stand 60 mm left of b and d. But b lies over a, and c over b."""
    division = divided(
        motif("a", "80x80", (150, 200)),
        motif("b", "80x80-blue", (210, 200)),
        motif("c", "80x80", (152, 202)),
    )
    (reason,) = division.reasons
    assert division.count == 3
    assert division.fewest_proven
    assert "Nor will two do: what lies over what would go round in a ring" in reason
    assert [h.after for h in division.hoopings] == [(), (1,), (2,)]
    assert division.hoopings[2].reason == "After 2: c lies over b."


# The same again


@pytest.mark.parametrize("turn", ["quarter", "free"])
def test_the_same_piece_gives_the_same_division(turn):
    first, again = (divide(laid_out(*WREATH, turn=turn)) for _ in range(2))
    assert json_of(first) == json_of(again)
    assert (first.headline, first.reasons, first.notes) == (again.headline, again.reasons, again.notes)
    for a, b in zip(first.hoopings, again.hoopings, strict=True):
        assert np.array_equal(a.stitching.points, b.stitching.points)
        assert a.reason == b.reason


def test_what_is_being_done_is_told():
    told: list[str] = []
    divide(laid_out(motif("leaf", "20x20")), told.append)
    assert told == [
        "seeing which parts fit the field",
        "looking for the fewest hoopings",
        "placing the hoop and its marks",
    ]


def test_each_hooping_goes_to_the_nearest_that_may_follow():
    """Four in a row, begun at the first: from each to its neighbour."""
    division = divided(motif("leaf", "90x20", row={"count": 4, "spacing": 100}), panels=((600.0, 400.0),))
    order = [h.blocks[0].name for h in division.hoopings]
    assert order == ["leaf-1", "leaf-2", "leaf-3", "leaf-4"]
    middles = [h.stitching.centre for h in division.hoopings]
    assert all(np.hypot(*np.subtract(a, b)) < 101 for a, b in itertools.pairwise(middles))


def test_the_bench_is_not_asked_for_what_the_piece_says():
    assert piece(motif("leaf", "20x20"), hoop="small").hoop is SMALL
