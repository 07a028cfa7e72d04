"""The order of sewing within a hooping: nothing lost, layers kept, and the fewest thread changes by trying all."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPoint

from festoon.hooping.sequence import Unit, assemble, sew_order
from festoon.hooping.values import Block
from festoon.stitches import Act, Stitching, Thread, empty, from_points, joined

RED, BLUE, GREEN, WHITE = (Thread(c) for c in ("#ff0000", "#0000ff", "#00ff00", "#ffffff"))
THREADS = (RED, BLUE, GREEN, WHITE)


def motif(threads, x=0.0, y=0.0):
    """Two stitches with each thread, a thread block each, within a square of 10 mm."""
    parts = [from_points([[x + k, y], [x + k, y + 10]], t) for k, t in enumerate(threads)]
    return joined(parts, merge=False)


def block(stitching, order=0):
    region = MultiPoint(stitching.holes).convex_hull
    return Block(f"b{order}", f"b{order}", "e", order, stitching, region, stitching.holes)


def changes(threads):
    return sum(a != b for a, b in itertools.pairwise(threads))


def allowed(order, units, pairs):
    at = {k: n for n, k in enumerate(order)}
    own = all(
        at[i] < at[j]
        for i, j in itertools.permutations(range(len(units)), 2)
        if units[i].block == units[j].block and units[i].position < units[j].position
    )
    return own and all(at[i] < at[j] for i, j in pairs)


@st.composite
def tasks(draw):
    """Up to 6 units of up to 3 blocks and 3 threads, shuffled, with pairs that run from lower to higher blocks."""
    of_block = sorted(draw(st.lists(st.integers(0, 2), min_size=1, max_size=6)))
    units = [
        Unit(b, of_block[:k].count(b), draw(st.sampled_from(THREADS[:3])), *draw(st.tuples(spots, spots)))
        for k, b in enumerate(of_block)
    ]
    units = draw(st.permutations(units))
    indices = st.integers(0, len(units) - 1)
    pairs = draw(st.lists(st.tuples(indices, indices), max_size=4))
    return units, [(i, j) for i, j in pairs if units[i].block < units[j].block]


spots = st.tuples(st.floats(0, 100), st.floats(0, 100))


@given(tasks())
def test_fewest_changes_of_all_orders(task):
    units, pairs = task
    order = sew_order(units, pairs)
    assert sorted(order) == list(range(len(units)))
    assert allowed(order, units, pairs)
    every = (o for o in itertools.permutations(range(len(units))) if allowed(o, units, pairs))
    assert changes(units[k].thread for k in order) == min(changes(units[k].thread for k in o) for o in every)


def test_what_looks_best_first_is_not():
    """Red first leaves red for later: only by beginning with blue do two changes do."""
    units = [Unit(0, 0, RED), Unit(1, 0, BLUE), Unit(1, 1, RED), Unit(2, 0, RED), Unit(2, 1, GREEN)]
    assert [units[k].thread for k in sew_order(units)] == [BLUE, RED, RED, RED, GREEN]


def test_three_motifs_alike_need_three_changes():
    sewn = assemble([block(motif(THREADS, 50.0 * k), k) for k in range(3)], [])
    assert sewn.threads == THREADS
    assert sewn.stitch_count == 24


def test_motifs_that_overlap_keep_their_layers():
    lower, upper = motif((RED, BLUE)), motif((RED, BLUE))
    sewn = assemble([block(lower), block(upper, 1)], [(0, 1)])
    assert sewn.threads == (RED, BLUE, RED, BLUE)


def test_only_the_parts_that_meet_wait():
    """Of the lower motif only the blue, far to the right, lies under the upper one: both reds are sewn together."""
    lower = joined([from_points([[0, 0], [5, 0]], RED), from_points([[50, 0], [55, 0]], BLUE)])
    upper = joined([from_points([[80, 0], [85, 0]], RED), from_points([[52, 0], [58, 0]], BLUE)])
    sewn = assemble([block(lower), block(upper, 1)], [(0, 1)])
    assert sewn.threads == (RED, BLUE)
    assert sewn.holes[4:].tolist() == [[50, 0], [55, 0], [52, 0], [58, 0]]


def test_what_only_surrounds_does_not_wait():
    """The lower motif's blue runs round two sides of the upper red, 9 mm off; at 1 mm it would lie under it."""
    for corner, threads in ((60, (RED, BLUE)), (51.5, (RED, BLUE, RED))):
        lower = joined([from_points([[0, 0], [5, 0]], RED), from_points([[corner, 0], [corner, 60], [0, 60]], BLUE)])
        upper = from_points([[50, 20], [51, 30]], RED)
        assert assemble([block(lower), block(upper, 1)], [(0, 1)]).threads == threads


def test_the_way_goes_from_neighbour_to_neighbour():
    runs = [block(from_points([[x, 0], [x + 1, 0]], RED), k) for k, x in enumerate((0.0, 60.0, 20.0, 40.0))]
    assert assemble(runs, []).holes[::2, 0].tolist() == [0, 20, 40, 60]


def test_cut_and_move_between_units_entire():
    """Ends of the blocks' own (moves before, a cut after) are made anew; a stop stays."""
    acts = [Act.MOVE, Act.STITCH, Act.STOP, Act.STITCH, Act.TRIM, Act.MOVE]
    points = [[9, 9], [0, 0], [0, 0], [1, 0], [1, 0], [7, 7]]
    first = Stitching(np.array(points, float), np.array(acts), np.zeros(6), (RED,))
    sewn = assemble([block(first), block(from_points([[5, 0], [6, 0]], RED), 1)], [])
    told = [(Act(a).name, *p) for a, p in zip(sewn.acts, sewn.points.tolist(), strict=True)]
    assert told == [
        ("STITCH", 0, 0),
        ("STOP", 0, 0),
        ("STITCH", 1, 0),
        ("TRIM", 1, 0),
        ("MOVE", 5, 0),
        ("STITCH", 5, 0),
        ("STITCH", 6, 0),
    ]
    assert sewn.threads == (RED,)


def test_no_blocks_no_stitching():
    assert len(assemble([], [])) == len(empty())


def test_pairs_that_contradict_each_other_are_refused():
    units = [Unit(0, 0, RED), Unit(1, 0, BLUE)]
    with pytest.raises(ValueError, match="each come before the other"):
        sew_order(units, [(0, 1), (1, 0)])


def test_a_class_of_thirty_motifs():
    """Thirty motifs of five threads in three different orders, on three layers: found, and each in its own order."""
    orders = [(0, 1, 2, 3, 1), (2, 0, 1, 3, 0), (3, 2, 1, 0, 2)]
    units = [Unit(b, p, THREADS[t]) for b in range(30) for p, t in enumerate(orders[b % 3])]
    pairs = [(5 * b + 4, 5 * (b + 10)) for b in range(20)]
    order = sew_order(units, pairs)
    assert sorted(order) == list(range(150))
    assert allowed(order, units, pairs)
    assert changes(units[k].thread for k in order) < 40


@st.composite
def records(draw):
    """A block of arbitrary records with up to three threads."""
    count = draw(st.integers(1, 12))
    acts = draw(st.lists(st.sampled_from(list(Act)), min_size=count, max_size=count))
    points = draw(st.lists(st.tuples(st.integers(0, 30), st.integers(0, 30)), min_size=count, max_size=count))
    steps = draw(st.lists(st.sampled_from([0, 0, 1]), min_size=count, max_size=count))
    index = np.minimum(np.cumsum(steps) - steps[0], 2)
    threads = draw(st.lists(st.sampled_from(THREADS), min_size=int(index[-1]) + 1, max_size=int(index[-1]) + 1))
    return Stitching(np.array(points, float), np.array(acts, np.uint8), index.astype(np.int32), tuple(threads))


def needles(stitchings):
    """Every penetration with its thread, sorted."""
    told = []
    for s in stitchings:
        where = np.flatnonzero(s.is_stitch)
        told += [(s.threads[s.thread[k]].colour, *s.points[k].tolist()) for k in where]
    return sorted(told)


@given(st.lists(records(), min_size=1, max_size=4), st.booleans())
def test_nothing_is_lost_or_doubled(stitchings, layered):
    blocks = [block(s, k) for k, s in enumerate(stitchings)]
    pairs = list(itertools.combinations(range(len(blocks)), 2)) if layered else []
    sewn = assemble(blocks, pairs)
    assert needles([sewn]) == needles(stitchings)
    assert (sewn.acts == Act.STOP).sum() == sum((s.acts == Act.STOP).sum() for s in stitchings)
    assert all(a != b for a, b in itertools.pairwise(sewn.threads))
    laid = sum(s.laid_lengths().sum() for s in stitchings)
    assert sewn.laid_lengths().sum() == pytest.approx(laid)
