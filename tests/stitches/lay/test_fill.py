"""Fill: count, coverage, and no thread where the shape is not."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Point, Polygon
from shapely.affinity import rotate

from festoon.errors import PieceError
from festoon.stitches.lay import fill
from festoon.stitches.lay.fill import FILL_ROW
from festoon.stitches.lay.limits import MAX_STITCH
from festoon.stitches.lay.rows import sections
from festoon.stitches.thread import Thread

THREAD = Thread("#204080")
SQUARE = shapely.box(0, 0, 50, 50)
STAR = Polygon(
    [
        (r * math.cos(k * math.pi / 5), r * math.sin(k * math.pi / 5))
        for k, r in zip(range(10), [15, 6] * 5, strict=True)
    ]
)
COMB = Polygon(
    [(0, 0), (30, 0), (30, 20), (24, 20), (24, 6), (20, 6), (20, 20), (14, 20), (14, 8), (8, 8), (8, 20), (0, 20)]
)
SHAPES = {
    "square": shapely.box(0, 0, 20, 20),
    "ring": Point(0, 0).buffer(15).difference(Point(2, 1).buffer(7)),
    "two holes": shapely.box(0, 0, 30, 20).difference(Point(9, 9).buffer(5)).difference(Point(22, 11).buffer(4)),
    "comb": COMB,
    "star": STAR,
    "half moon": Point(0, 0).buffer(12).difference(Point(6, 0).buffer(10)),
    "two islands": MultiPolygon([shapely.box(0, 0, 10, 8), shapely.box(14, 2, 24, 16)]),
    "spiral": LineString([(0, 0), (6, 0), (6, 6), (-6, 6), (-6, -6), (12, -6), (12, 12), (-12, 12)]).buffer(2),
}
every_shape = pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES.keys())


def lines(stitching):
    k = stitching.laid()
    return shapely.linestrings(np.stack([stitching.points[k - 1], stitching.points[k]], axis=1))


def test_square_of_50_mm():
    """Lines 0.4 mm apart, 4 mm stitches: 6.25 m laid on top, 1563 stitches, 62.5 per cm²; computed."""
    stitching = fill(SQUARE, angle=0, row=0.4, length=4.0, thread=THREAD)
    turns = 125 - 1  # each 0.4 mm, from a row to the next, which the figures leave out
    assert stitching.laid_lengths().sum() / 1000 == pytest.approx(6.25 + turns * 0.4 / 1000, rel=1e-9)
    assert len(stitching.laid()) - turns == pytest.approx(1563, rel=0.03)
    assert (len(stitching.laid()) - turns) / 25 == pytest.approx(62.5, rel=0.03)


def test_rows_half_as_far_apart_lay_twice_as_much():
    """Lines 0.2 mm apart: 12.5 m and 3125 stitches; computed."""
    stitching = fill(SQUARE, angle=0, row=0.2, length=4.0, thread=THREAD)
    assert stitching.laid_lengths().sum() / 1000 == pytest.approx(12.5, rel=0.005)
    assert len(stitching.laid()) - 249 == pytest.approx(3125, rel=0.02)


def test_rows_run_at_the_angle_clockwise_as_seen():
    stitching = fill(SQUARE, angle=30, thread=THREAD)
    long = stitching.laid_lengths() > 2
    d = stitching.points[stitching.laid()] - stitching.points[stitching.laid() - 1]
    turns = np.degrees(np.arctan2(d[long, 1], d[long, 0])) % 180
    assert np.median(turns) == pytest.approx(30)


def test_holes_are_staggered_from_row_to_row():
    holes = fill(SQUARE, angle=0, thread=THREAD).holes
    inner = holes[(holes[:, 0] > 8) & (holes[:, 0] < 42)]
    first = [np.unique((inner[np.isclose(inner[:, 1], 0.2 + 0.4 * k), 0] % 4).round(6)).tolist() for k in range(5)]
    assert first == [[0], [1], [2], [3], [0]]


@every_shape
@pytest.mark.parametrize("angle", [0, 25, 90, -45])
@pytest.mark.parametrize("underlay", [False, True])
def test_no_thread_lies_where_the_shape_is_not(shape, angle, underlay):
    stitching = fill(shape, angle=angle, underlay=underlay, thread=THREAD)
    room = shape.buffer(0.05)
    shapely.prepare(room)
    assert shapely.covers(room, shapely.points(stitching.holes)).all()
    assert shapely.covers(room, lines(stitching)).all()
    assert stitching.laid_lengths().max() <= MAX_STITCH + 1e-9


@every_shape
@pytest.mark.parametrize("angle", [0, 25, 90])
def test_the_shape_is_covered(shape, angle):
    laid = shapely.union_all(shapely.buffer(lines(fill(shape, angle=angle, thread=THREAD)), FILL_ROW / 2))
    assert laid.intersection(shape).area >= 0.97 * shape.area


@every_shape
def test_cuts_are_few(shape):
    stitching = fill(shape, angle=0, thread=THREAD)
    assert len(stitching.runs()) <= 4


def test_a_limb_that_widens_into_a_bar_is_not_sewn_twice():
    """Where the shape leaps sideways a new section begins on the near side, so no row lies on a long way back."""
    bar = shapely.box(20, 0.4, 24, 10).union(shapely.box(0, 10, 24, 14))
    stitching = fill(bar, angle=0, thread=THREAD)
    rows, turns = bar.area / FILL_ROW, 33 * FILL_ROW
    assert stitching.laid_lengths().sum() == pytest.approx(rows + turns, abs=5)


def test_no_long_way_shows_on_rows_already_sewn():
    """Between the teeth of a comb the thread is cut, not carried up over the rows."""
    stitching = fill(COMB, angle=0, thread=THREAD)
    k = stitching.laid()
    down = np.abs(stitching.points[k, 1] - stitching.points[k - 1, 1])
    assert down[down > 1.5 * FILL_ROW].sum() <= 4.0  # but for a short way along an edge
    assert len(stitching.runs()) > 1


@every_shape
@pytest.mark.parametrize("leap", [MAX_STITCH, 99.0])
def test_sections_hold_every_row_piece_once(shape, leap):
    for part in shapely.get_parts(shape):
        found = sections(part, 0.4, leap)
        assert all((np.diff(s.number) == 1).all() for s in found)
        strips = shapely.union_all([s.area(0.4) for s in found])
        assert sum(s.area(0.4).area for s in found) == pytest.approx(strips.area, rel=0.03)
        assert strips.intersection(part).area > 0.97 * part.area


@given(st.floats(-180, 180), st.floats(2, 6), st.floats(0.3, 1.5))
@settings(max_examples=25)
def test_every_angle_length_and_row(angle, length, row):
    shape = SHAPES["half moon"]
    stitching = fill(shape, angle=angle, length=length, row=row, thread=THREAD)
    room = shape.buffer(0.05)
    shapely.prepare(room)
    assert shapely.covers(room, lines(stitching)).all()
    assert stitching.laid_lengths().max() <= MAX_STITCH + 1e-9
    laid = stitching.laid_lengths().sum()  # rows, a little nearer than `row`, and turns along the edge
    assert 0.95 * shape.area / row <= laid <= 1.1 * shape.area / row + shape.length


@given(st.floats(-180, 180))
@settings(max_examples=10)
def test_turning_shape_and_angle_together_changes_nothing(turn):
    straight = fill(SHAPES["two holes"], angle=0, thread=THREAD)
    turned = fill(rotate(SHAPES["two holes"], turn, origin=(0, 0)), angle=turn, thread=THREAD)
    assert turned.stitch_count == pytest.approx(straight.stitch_count, rel=0.02)


def test_inset():
    stitching = fill(SQUARE, angle=0, inset=2, thread=THREAD)
    assert stitching.bounds == pytest.approx((2, 2.2, 48, 47.8), abs=0.01)


def test_underlay_lies_below_and_across():
    plain, padded = (fill(SHAPES["square"], angle=0, underlay=u, thread=THREAD) for u in (False, True))
    first = padded.points[:5]
    assert np.ptp(first[:3, 0]) < 0.01  # upright rows first
    assert padded.stitch_count - plain.stitch_count == pytest.approx(18.4 * 8 / 3 + 10, abs=15)
    assert padded.holes[-1] == pytest.approx(plain.holes[-1], abs=20)


@pytest.mark.parametrize("shape", [shapely.box(0, 0, 0.3, 30), shapely.box(0, 0, 0.3, 0.3), shapely.box(0, 0, 30, 0.3)])
def test_slivers_are_sewn_sanely(shape):
    stitching = fill(shape, angle=0, thread=THREAD, underlay=True)
    assert stitching.stitch_count >= 1
    assert shapely.covers(shape.buffer(0.05), shapely.points(stitching.holes)).all()


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: fill(SQUARE, angle=0, row=0, thread=THREAD),
        lambda: fill(SQUARE, angle=0, row=math.nan, thread=THREAD),
        lambda: fill(SQUARE, angle=0, length=0, thread=THREAD),
        lambda: fill(SQUARE, angle=0, length=6.5, thread=THREAD),
        lambda: fill(SQUARE, angle=0, inset=-1, thread=THREAD),
        lambda: fill(SQUARE, angle=0, inset=30, thread=THREAD),
        lambda: fill(Polygon(), angle=0, thread=THREAD),
        lambda: fill(Polygon([(0, 0), (5, 5), (10, 10)]), angle=0, thread=THREAD),
        lambda: fill(Polygon([(0, 0), (10, 10), (10, 0), (0, 5)]), angle=0, thread=THREAD),
    ],
)
def test_mistakes_are_told(wrong):
    with pytest.raises(PieceError) as told:
        wrong()
    assert str(told.value).endswith(".")
