"""Satin and zigzag: density, width, curves, splitting, underlay."""

import itertools
import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString

from festoon.errors import PieceError
from festoon.plane import Pose, arc_through, circle, polyline, through
from festoon.stitches.lay import satin, satin_between, zigzag
from festoon.stitches.lay.edges import CROWDED, SHORT_STITCHES
from festoon.stitches.lay.limits import MAX_STITCH
from festoon.stitches.thread import Thread

THREAD = Thread("#204080")
PATHS = {
    "straight": polyline([[0, 0], [50, 0]]),
    "bent": polyline([[0, 0], [21, 0], [20, 20], [50, 31]]),
    "hairpin": polyline([[0, 0], [20, 0], [0, 6]]),
    "curve": through([[0, 0], [20, -10], [45, 12], [60, 0]]),
    "tight": through([[0, 0], [5, -9], [8, -9.5], [11, -8], [14, 0]]),
    "circle": circle([5, 5], 12),
    "small circle": circle([5, 5], 1),
    "square": polyline([[0, 0], [31, 0], [31, 30], [0, 30]], closed=True),
    "shortest": polyline([[0, 0], [0.3, 0]]),
}
paths = st.sampled_from(sorted(PATHS)).map(PATHS.__getitem__)


def steps(points):
    return np.hypot(*np.diff(points, axis=0).T)


def test_column_of_500_stitches():
    """100 mm by 4 mm, 0.4 mm between holes on one side: 500 stitches of √(4² + 0.2²) mm; computed."""
    stitching = satin(polyline([[0, 0], [100, 0]]), 4.0, 0.4, thread=THREAD)
    lengths = stitching.laid_lengths()
    assert len(lengths) == 500
    assert lengths == pytest.approx(np.full(500, math.sqrt(4**2 + 0.2**2)))
    assert stitching.bounds == pytest.approx((0, -2, 100, 2))
    # top 3.637 m and bobbin 0.667 m make 4.305 m = 2·(L + T) a stitch with T 0.3 mm: computed
    assert 2 * (lengths + 0.3).sum() / 1000 == pytest.approx(4.305, abs=5e-4)


def test_standard_spacing_is_63_and_a_half_lines_an_inch():
    """0.4 mm hole to hole on one side (trade magazine, Dec 2016): 25.4/63.5; published."""
    left = satin(PATHS["straight"], 3.0, thread=THREAD).holes[::2]
    assert 25.4 / steps(left) == pytest.approx(np.full(len(left) - 1, 63.5))


def test_zigzag_is_open_and_begins_on_the_left():
    holes = zigzag(polyline([[0, 0], [10, 0]]), 2.0, thread=THREAD).holes
    assert holes[:3] == pytest.approx(np.array([[0, -1], [0.5, 1], [1, -1]]))  # travelling right, left is up
    assert len(holes) == 21


@pytest.mark.parametrize(
    ("radius", "width", "outer", "inner"),
    [(15, 3, 0.44, 0.36), (6, 4, 0.53, 0.27)],  # s·(R ± w/2)/R: computed
)
def test_fan_on_a_curve(radius, width, outer, inner):
    path = circle([0, 0], radius)
    spacing = 0.4 * (radius + width / 2) / radius  # on the outer side, so that the middle has 0.4
    assert spacing == pytest.approx(outer, abs=5e-3)
    holes = satin(path, width, spacing, thread=THREAD).holes
    assert steps(holes[::2]).mean() == pytest.approx(outer, abs=6e-3)
    away = np.hypot(*holes[1::2].T)
    edge = holes[1::2][away < radius - width / 2 + 0.01]
    apart = steps(edge)
    assert apart.min() == pytest.approx(inner, abs=6e-3) if len(edge) == len(away) else apart.min() > inner


@pytest.mark.parametrize("path", [PATHS["circle"], PATHS["curve"]], ids=["circle", "curve"])
def test_spacing_is_kept_on_the_outer_side(path):
    holes = satin(path, 4.0, 0.4, thread=THREAD).holes
    left, right = steps(holes[::2]), steps(holes[1::2])
    m = min(len(left), len(right))
    assert np.maximum(left[:m], right[:m]).min() >= 0.35
    assert np.median(np.maximum(left[:m], right[:m])) == pytest.approx(0.4, abs=0.01)


def test_short_stitches_spread_the_inner_holes_of_a_tight_curve():
    holes = satin(circle([0, 0], 4), 5.0, 0.4, thread=THREAD).holes  # inside 1.5/6.5 of the outside
    inner, away = holes[1::2], np.hypot(*holes[1::2].T)
    assert len(np.unique(away.round(2))) > 1
    assert away.min() == pytest.approx(1.5, abs=0.01)
    assert away.max() <= 1.5 + 5 * max(SHORT_STITCHES) + 0.01
    apart = np.hypot(*(inner[:, None] - inner[None]).T) + 9 * np.eye(len(inner))
    plain = 0.4 * 1.5 / 6.5
    assert np.median(apart.min(axis=1)) >= CROWDED * 0.4 - 1e-9 > 2 * plain


def test_a_smooth_edge_has_no_single_short_stitch():
    curve = through([[0, 0], [10, -4], [22, 0], [34, -8]])
    holes = satin(curve, lambda f: 5 * np.sin(math.pi * f) ** 0.7 * (1 - 0.3 * f), thread=THREAD).holes
    for side in (holes[::2], holes[1::2]):
        bends = np.abs(np.diff(np.degrees(np.unwrap(np.arctan2(*np.diff(side, axis=0).T)))))
        assert bends[3:-3].max() < 12


def test_inner_rail_of_a_sharp_corner_does_not_fold():
    holes = satin(polyline([[0, 0], [20, 0], [20, 20]]), 4.0, thread=THREAD).holes
    assert holes[:, 0].max() == pytest.approx(22, abs=0.01)
    legs = LineString([[0, 0], [20, 0], [20, 20]]).buffer(2.01, cap_style="flat")
    assert all(legs.covers(LineString(pair)) for pair in itertools.pairwise(holes))
    assert steps(holes[::2]).max() < 0.42
    inner = holes[1::2]
    on_edge = np.isclose(inner[:, 1], 2)
    assert inner[on_edge, 0].max() == pytest.approx(18, abs=0.3)
    assert inner[on_edge, 0].max() <= 18 + 1e-6  # the edges inside meet at (18, 2)


def test_width_may_vary():
    stitching = satin(PATHS["straight"], lambda f: 1 + 4 * np.sin(math.pi * f), thread=THREAD)
    lengths = stitching.laid_lengths()
    assert lengths[len(lengths) // 2] == pytest.approx(5, abs=0.02)
    assert lengths[[0, -1]] == pytest.approx([1, 1], abs=0.05)


def test_tip_and_pull():
    stitching = satin(PATHS["straight"], lambda f: 4 * f, thread=THREAD, pull=0.3, tip=0.8)
    assert stitching.laid_lengths().min() >= 0.8
    assert stitching.laid_lengths().max() == pytest.approx(4.3, abs=0.03)


@given(paths, st.floats(0.5, 20), st.floats(0.2, 1.5), st.sampled_from(["none", "centre", "edge"]))
@settings(max_examples=50)
def test_no_stitch_is_too_long_and_all_lie_in_the_column(path, width, spacing, underlay):
    stitching = satin(path, width, spacing, thread=THREAD, underlay=underlay)
    assert np.isfinite(stitching.points).all()
    assert stitching.laid_lengths().max() <= MAX_STITCH + 1e-9
    away = shapely.distance(LineString(path.flatten()), shapely.points(stitching.holes))
    # two mitred edges of the sharpest corner lie farther out than half the width: 1/cos(turn/2)
    assert away.max() <= max(width, 0.6) / 2 * 1.5 + 0.7


def test_wide_satin_is_split_in_a_staggered_way():
    holes = satin(PATHS["straight"], 12.0, thread=THREAD).holes
    middle = holes[(np.abs(holes[:, 1]) < 5.9), 1]
    assert len(np.unique(middle.round(3))) >= 5
    assert steps(holes).max() <= MAX_STITCH
    assert (np.abs(holes[:, 1]) > 5.99).sum() == 251


@pytest.mark.parametrize("path", PATHS.values(), ids=PATHS.keys())
def test_underlay_lies_inside_and_comes_back(path):
    plain = satin(path, 3.0, thread=THREAD).holes
    for kind in ("centre", "edge"):
        holes = satin(path, 3.0, thread=THREAD, underlay=kind).holes
        under, top = holes[: len(holes) - len(plain)], holes[len(holes) - len(plain) :]
        assert len(under) >= 2
        assert top == pytest.approx(plain)
        assert steps(under).max() <= 3.0
        assert np.hypot(*(under[-1] - top[0])) <= 3.2


def test_closed_column_ends_where_it_begins():
    for path in (PATHS["circle"], PATHS["square"]):
        holes = satin(path, 3.0, thread=THREAD).holes
        assert holes[-1] == pytest.approx(holes[0], abs=1e-6)


def test_closed_path_with_a_corner_is_begun_between_corners():
    holes = satin(PATHS["square"], 3.0, thread=THREAD).holes
    assert holes[0] == pytest.approx([15.5, -1.5])


@given(st.floats(-90, 90), st.booleans())
@settings(max_examples=20)
def test_laying_and_placing_change_places(turn, mirrored):
    pose = Pose(3, 4, turn, mirrored)
    path = PATHS["curve"]
    a, b = satin(path.placed(pose), 3.0, thread=THREAD), satin(path, 3.0, thread=THREAD).placed(pose)
    if not mirrored:
        assert a.points == pytest.approx(b.points, abs=1e-6)
    else:
        assert abs(a.stitch_count - b.stitch_count) <= 1  # a mirrored column begins on its other side


# Between two rails

LEAF = (arc_through([0, 0], [40, 0], -8), arc_through([0, 0], [40, 0], 5))


def test_leaf_keeps_its_spacing_on_the_longer_edge():
    left, right = LEAF
    holes = satin_between(left, right, 0.4, thread=THREAD, max_stitch=99).holes
    assert np.median(steps(holes[::2])) == pytest.approx(0.4, abs=0.005)
    assert len(holes) == pytest.approx(left.length / 0.2, abs=3)
    middle = holes[len(holes) // 2 : len(holes) // 2 + 2]
    assert np.sort(middle[:, 1]) == pytest.approx([-8, 5], abs=0.05)


def test_leaf_stays_between_its_edges():
    left, right = LEAF
    outline = np.concatenate([left.flatten(), right.flatten()[::-1]])
    holes = satin_between(left, right, thread=THREAD, underlay="edge").holes
    room = LineString(outline).convex_hull.buffer(0.35)
    assert room.covers(LineString(holes))


def test_rungs_given_stand_opposite_each_other():
    top, bottom = polyline([[0, 0], [40, 0]]), polyline([[0, 5], [40, 5]])
    holes = satin_between(top, bottom, thread=THREAD, rungs=[(0.25, 0.75)], max_stitch=99).holes
    left = np.where(np.abs(holes[::2, 1]) < 1e-9, holes[::2, 0], np.inf)  # without short stitches
    k = int(np.argmin(np.abs(left - 10)))
    assert holes[2 * k + 1, 0] == pytest.approx(30, abs=0.6)


def test_rails_may_be_points():
    stitching = satin_between([[0, 0], [10, -3], [20, 0]], [[0, 0], [10, 3], [20, 0]], thread=THREAD)
    assert stitching.bounds == pytest.approx((0, -3, 20, 3), abs=0.35)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: satin(PATHS["straight"], 0.0, thread=THREAD),
        lambda: satin(PATHS["straight"], -1.0, thread=THREAD),
        lambda: satin(PATHS["straight"], math.nan, thread=THREAD),
        lambda: satin(PATHS["straight"], lambda f: 0 * f, thread=THREAD),
        lambda: satin(PATHS["straight"], lambda f: f - 0.5, thread=THREAD),
        lambda: satin(PATHS["straight"], 3.0, 0.0, thread=THREAD),
        lambda: satin(PATHS["straight"], 3.0, thread=THREAD, pull=-1),
        lambda: satin(PATHS["straight"], 3.0, thread=THREAD, tip=0),
        lambda: satin(PATHS["straight"], 3.0, thread=THREAD, max_stitch=0),
        lambda: zigzag(PATHS["straight"], 3.0, -1, thread=THREAD),
        lambda: satin_between(PATHS["straight"], PATHS["straight"], thread=THREAD),
        lambda: satin_between(*LEAF, thread=THREAD, rungs=[(0.5, 0.5), (0.4, 0.6)]),
        lambda: satin_between(*LEAF, thread=THREAD, rungs=[(0.5, 1.5)]),
    ],
)
def test_mistakes_are_told(wrong):
    with pytest.raises(PieceError) as told:
        wrong()
    assert str(told.value).endswith(".")
