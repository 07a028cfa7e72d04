"""Blocks: what stays whole, and how a part too large for the field is taken apart without losing a stitch."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box

from festoon.errors import HoopingError
from festoon.hooping.blocks import NEAR, OVER, blocks_of, cut_run, lying_over, touching
from festoon.hooping.fitting import Turns, fits
from festoon.hooping.values import Block
from festoon.plane import polyline
from festoon.stitches import Stitching, Thread, from_points, joined, stitched_region
from festoon.stitches.lay import fill, run, satin
from festoon.work import Part

RED, BLUE = Thread("#c8412f"), Thread("#2b5fc8")
FIELD = (100.0, 100.0)
SQUARE = Turns((0.0,))
unhurried = settings(deadline=None, max_examples=60)


def part(stitching: Stitching, name: str = "stem") -> Part:
    return Part(name, name, "front", stitching, stitched_region(stitching))


def level(length: float, **words: float) -> Stitching:
    """A satin column 3 mm wide along y = 50, from x = 0; holes 0.4 mm apart on one side."""
    return satin(polyline([[0, 50], [length, 50]]), 3.0, 0.4, thread=RED, **words)


def pieces(stitching: Stitching, size: tuple[float, float] = FIELD, overlap: float = 2.0) -> list[Stitching]:
    return [b.stitching for b in blocks_of([part(stitching)], size, SQUARE, overlap)]


# Whole, or taken apart where nothing is sewn through


def test_a_part_that_fits_stays_whole():
    whole = part(joined([level(40), level(90)]))
    (block,) = blocks_of([whole], FIELD, SQUARE, 2.0)
    assert (block.name, block.part, block.element, block.order, block.piece) == ("stem", "stem", "stem", 0, 0)
    assert block.stitching is whole.stitching
    assert block.region is whole.region
    hulls = (shapely.MultiPoint(p).convex_hull for p in (block.corners, whole.stitching.holes))
    assert next(hulls).symmetric_difference(next(hulls)).area < 1e-9


def test_a_motif_larger_than_the_field_is_divided_at_trims_and_thread_changes():
    red = [from_points([[x, 0], [x + 20, 0], [x + 20, 5]], RED) for x in (0, 60)]
    blue = from_points([[80, 5], [140, 5], [140, 30]], BLUE)
    whole = joined([*red, blue])
    blocks = blocks_of([part(whole)], FIELD, SQUARE, 2.0)
    assert [b.name for b in blocks] == ["stem/1", "stem/2", "stem/3"]
    assert [b.piece for b in blocks] == [1, 2, 3]
    for block, own in zip(blocks, [*red, blue], strict=True):
        assert np.array_equal(block.stitching.holes, own.holes), "no locks: the file has its own"
        assert block.stitching.threads == own.threads


def test_blocks_are_numbered_through_all_parts_in_the_order_in_which_they_lie():
    blocks = blocks_of([part(level(30), "a"), part(level(150), "b"), part(level(20), "c")], FIELD, SQUARE, 2.0)
    assert [b.name for b in blocks] == ["a", "b/1", "b/2", "c"]
    assert [b.order for b in blocks] == [0, 1, 2, 3]


# Runs cut between rows


def advance(stitching: Stitching) -> np.ndarray:
    """x of the rows' middles of a level column."""
    x = stitching.holes[:, 0]
    return (x[1:] + x[:-1]) / 2


@pytest.mark.parametrize("overlap", [0.5, 1.0, 2.0, 5.0, 12.5])
@pytest.mark.parametrize("length", [130.0, 250.0, 460.0])
def test_a_long_satin_is_cut_between_rows_and_shares_the_overlap(length, overlap):
    """Rows lie 0.2 mm apart: the shared stretch, from the middle of its first row to that of its last, is the overlap
    or less than a row more."""
    column = level(length)
    spans = cut_run(column.points, lambda p: fits(p, FIELD, SQUARE), overlap)
    for (a, b), (c, d) in itertools.pairwise(spans):
        assert a < c < b < d
        shared = advance(column.part(c, b))
        assert overlap - 1e-9 <= np.ptp(shared) < overlap + 0.2 + 1e-9
    assert all(np.ptp(column.points[a:b, 0]) <= 100 + 1e-6 for a, b in spans)
    assert all(np.ptp(column.points[a:b, 0]) > 99.5 for a, b in spans[:-1]), "each the longest that fits"
    assert len(spans) == math.ceil((length - overlap) / (100 - overlap - 0.2))


def test_without_overlap_the_pieces_share_one_hole():
    column = level(150)
    (a, b), (c, d) = cut_run(column.points, lambda p: fits(p, FIELD, SQUARE), 0.0)
    assert (a, c, d) == (0, b - 1, len(column))


def test_locks_stand_at_the_cut_ends_only():
    column = level(250)
    first, middle, last = pieces(column)
    spans = cut_run(column.points, lambda p: fits(p, FIELD, SQUARE), 2.0)
    bare = [column.points[a:b] for a, b in spans]
    assert np.array_equal(first.holes[:10], bare[0][:10])
    assert np.array_equal(last.holes[-10:], bare[2][-10:])
    for piece, start, end in ((first, False, True), (middle, True, True), (last, True, False)):
        k = piece.holes
        assert np.array_equal(k[:2], k[2:4]) == start
        assert np.array_equal(k[-2:], k[-4:-2]) == end
    assert [len(p.holes) - len(b) for p, b in zip((first, middle, last), bare, strict=True)] == [3, 6, 3]


def test_a_running_stitch_without_rows_is_cut_at_any_stitch():
    line = run(polyline([[0, 0], [250, 0]]), 2.5, thread=RED)
    first, middle, last = pieces(line, overlap=5.0)
    assert np.ptp(first.holes[:, 0]) == pytest.approx(100)
    assert middle.holes[0, 0] == pytest.approx(92.5), "the middles of its stitches 5 mm apart"
    assert last.holes[-1, 0] == pytest.approx(250)


def test_an_area_is_cut_between_its_rows():
    """150 x 60 mm with rows of 60 mm, 0.4 mm apart, for a field of 100 x 100 mm."""
    area = fill(box(0, 0, 150, 60), angle=90, thread=RED)
    first, second = pieces(area)
    assert np.ptp(first.holes[:, 0]) == pytest.approx(100, abs=0.45)
    (a, b), (c, d) = ((p.holes[:, 0].min(), p.holes[:, 0].max()) for p in (first, second))
    assert min(b, d) - max(a, c) == pytest.approx(2, abs=0.85)
    for end in (first.holes[-1], second.holes[0]):
        assert min(end[1], 60 - end[1]) < 0.5, "at the end of a row"


def test_an_area_whose_rows_are_longer_than_the_field_is_not_cut_across_them():
    area = part(fill(box(0, 0, 150, 60), angle=0, thread=RED), "lake")
    with pytest.raises(HoopingError, match=r'^"lake": its stitching runs .* mm without a place to divide it'):
        blocks_of([area], FIELD, SQUARE, 2.0)
    assert len(blocks_of([area], (160, 30), SQUARE, 2.0)) == 3


def test_a_few_rows_longer_than_the_field_are_cut_across_and_more_are_a_fill():
    """The limit of four is our own choice: field of 100 x 100 mm, rows of 150 mm, 2 mm apart."""

    def rows(count: int) -> np.ndarray:
        x = np.arange(0.0, 151.0, 3.0)
        return np.concatenate(
            [np.column_stack([x[:: 1 - 2 * (k % 2)], np.full(len(x), 2.0 * k)]) for k in range(count)]
        )

    def fit(points):
        return fits(points, FIELD, SQUARE)

    spans = cut_run(rows(4), fit, 2.0)
    assert spans is not None
    assert spans[-1][1] == len(rows(4))
    assert cut_run(rows(5), fit, 2.0) is None


def test_a_double_run_longer_than_the_field_is_cut_out_and_back():
    holes = [[x, 0] for x in range(0, 151, 3)]
    there_and_back = from_points(holes + holes[-2::-1], RED)
    assert [np.ptp(p.holes[:, 0]) for p in pieces(there_and_back)] == [99, 57, 99, 57]


def test_a_single_stitch_longer_than_the_field_is_out_of_reach():
    wide = part(from_points([[0, 0], [130.26, 0], [0, 0.4]], RED), "band")
    with pytest.raises(HoopingError) as told:
        blocks_of([wide], FIELD, SQUARE, 2.0, {"small": FIELD, "long": (180.0, 130.0), "large": (200.0, 200.0)})
    assert str(told.value) == (
        '"band": its stitching runs 130.3 x 0.4 mm without a place to divide it, and the field is 100 x 100 mm: no '
        'hooping can reach it. The hoop "long" would do: set hoop = "long" under [hooping].'
    )
    with pytest.raises(HoopingError, match="let the hoop be turned freely"):
        blocks_of([wide], FIELD, SQUARE, 2.0, {"slim": (90.0, 180.0)})
    longer = part(from_points([[0, 0], [150, 0], [0, 0.4]], RED), "band")
    for turns in (SQUARE, Turns((0.0, 90.0)), Turns(free=True)):
        with pytest.raises(HoopingError, match=r"Choose a larger hoop, or use a smaller motif\.$"):
            blocks_of([longer], FIELD, turns, 2.0, {})


def test_what_may_be_turned_freely_is_not_to_be_turned():
    """130 mm lie along the diagonal of a field of 100 mm; where it may be turned that way, nothing is wrong."""
    wide = part(from_points([[0, 0], [130.26, 0], [0, 0.4]], RED), "band")
    assert len(blocks_of([wide], FIELD, Turns(free=True), 2.0)) == 1


def test_a_larger_hoop_is_named_only_if_the_allowed_turns_let_it_do():
    wide = part(from_points([[0, 0], [130.26, 0], [0, 0.4]], RED), "band")
    with pytest.raises(HoopingError, match='The hoop "slim" would do'):
        blocks_of([wide], FIELD, Turns((0.0, 90.0)), 2.0, {"slim": (90.0, 180.0)})


# Nothing lost

coordinate = st.floats(0, 200).map(lambda v: round(v, 1))
runs = st.lists(
    st.tuples(
        st.lists(st.tuples(coordinate, coordinate), min_size=1, max_size=25),
        st.sampled_from([RED, BLUE]),
    ),
    min_size=1,
    max_size=4,
)
sizes = st.sampled_from([(220.0, 220.0), (140.0, 140.0), (120.0, 200.0), (60.0, 90.0), (205.0, 45.0)])


def in_order(wanted: np.ndarray, found: np.ndarray) -> bool:
    """Whether the rows of `wanted` come one after another among those of `found`."""
    rest = iter(map(tuple, found.tolist()))
    return all(any(hole == f for f in rest) for hole in map(tuple, wanted.tolist()))


@unhurried
@given(runs, sizes, st.sampled_from([SQUARE, Turns((0.0, 90.0)), Turns(free=True)]), st.floats(0, 20))
def test_nothing_is_lost_and_every_piece_fits(drawn, size, turns, overlap):
    whole = part(joined(from_points(points, thread) for points, thread in drawn))
    try:
        blocks = blocks_of([whole], size, turns, overlap)
    except HoopingError:
        assert not fits(whole.stitching.holes, size, turns)
        return
    assert in_order(whole.stitching.holes, np.concatenate([b.stitching.holes for b in blocks]))
    assert all(fits(b.stitching.holes, size, turns) for b in blocks)
    assert {tuple(h) for h in whole.stitching.holes.tolist()} <= {
        tuple(h) for b in blocks for h in b.stitching.holes.tolist()
    }
    for block in blocks:
        assert fits(block.corners, size, turns)


@unhurried
@given(
    st.lists(st.tuples(st.floats(-6, 6), st.floats(-6, 6)), min_size=2, max_size=300),
    st.floats(13, 120),
    st.floats(0, 20),
)
def test_a_walk_of_short_stitches_is_cut_or_refused_as_a_fill(steps, side, overlap):
    points = np.cumsum(np.array(steps), axis=0)
    spans = cut_run(points, lambda p: fits(p, (side, side), SQUARE), overlap)
    if spans is None:
        return
    assert spans[0][0] == 0
    assert spans[-1][1] == len(points)
    for (a, b), (c, d) in itertools.pairwise(spans):
        assert a <= c < b < d, "each begins within the one before and leads on"
    for a, b in spans:
        assert (np.ptp(points[a:b], axis=0) <= side + 1e-6).all()


@pytest.mark.parametrize("side", [8.0, 12.0, 30.0])
def test_an_overlap_as_long_as_the_field_does_not_come_to_a_flood_of_pieces(side):
    spans = cut_run(level(200).points, lambda p: fits(p, (side, side), SQUARE), 20.0)
    assert len(spans) <= 2 * 200 / side + 2


# What lies over or beside what


def block(shape: shapely.Geometry, order: int) -> Block:
    corners = shapely.get_coordinates(shape.envelope)[:4]
    return Block(f"b{order}", f"b{order}", "e", order, from_points(corners, RED), shape, corners)


def test_a_millimetre_apart_is_touching():
    """More than 1 mm of bare cloth shows in plain fill (common practice)."""
    apart = [[block(box(0, 0, 5, 5), 0), block(box(5 + gap, 0, 10, 5), 1)] for gap in (0.95, 1.05)]
    assert [touching(pair) for pair in apart] == [((0, 1),), ()]


boxes = st.lists(
    st.tuples(st.integers(0, 30), st.integers(0, 30), st.integers(1, 12), st.integers(1, 12)), min_size=1, max_size=12
)


@pytest.mark.parametrize(("shared", "over"), [(0.009, ()), (0.011, ((0, 1),)), (0.5, ((0, 1),))])
def test_lying_over_begins_at_a_hundredth_of_a_square_millimetre(shared, over):
    """Less is the rounding of outlines; half a square millimetre is a stitch that lies over another."""
    pair = [block(box(0, 0, 5, 1), 0), block(box(5 - shared, 0, 10, 1), 1)]
    assert lying_over(pair) == over


@unhurried
@given(boxes, st.floats(0, 360))
def test_lying_over_and_touching_agree_with_every_pair_measured(rows, turn):
    shapes = [shapely.affinity.rotate(box(x, y, x + w, y + h), turn, origin=(0, 0)) for x, y, w, h in rows]
    blocks = [block(s, k) for k, s in enumerate(shapes)]
    pairs = list(itertools.combinations(range(len(blocks)), 2))
    areas = {p: shapes[p[0]].intersection(shapes[p[1]]).area for p in pairs}
    gaps = {p: shapes[p[0]].distance(shapes[p[1]]) for p in pairs}
    assert set(lying_over(blocks)) == {p for p in pairs if areas[p] > OVER}
    found = set(touching(blocks))
    assert {p for p in pairs if gaps[p] < NEAR - 1e-9} <= found <= {p for p in pairs if gaps[p] < NEAR + 1e-9}
    assert lying_over(blocks) == tuple(sorted(lying_over(blocks)))
