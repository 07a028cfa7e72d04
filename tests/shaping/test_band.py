"""Bands along lines: lengths of their headings, the lace they take, and where they cannot lie."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipeinc
from shapely import LineString, Polygon

from festoon.errors import PieceError
from festoon.plane import Arc, Bezier, Line, Path, Pose, arc_through, circle, from_svg, polyline, through
from festoon.shaping.band import band, lies_over_itself, radius_limit
from festoon.shaping.patches import overlaps, patches
from festoon.shaping.scallop import pointed_oval, scallop
from festoon.shaping.set_out import set_out, strung

WAVE = through([(0, 0), (60, -25), (130, 20), (200, -10), (260, 0)])
OTHER = {"left": "right", "right": "left"}
sides = st.sampled_from(["left", "right"])


def scallops(length, pitch, rise):
    places = set_out(polyline([(0, 0), (length, 0)]), pitch).places
    return strung([scallop(p.chord, rise) for p in places], places)


def polygon(corners, side):
    """A regular polygon with its corners in clockwise order as seen."""
    turns = 2 * np.pi * np.arange(corners) / corners
    radius = side / 2 / math.sin(math.pi / corners)
    return polyline(radius * np.stack([np.cos(turns), np.sin(turns)], axis=1), closed=True)


@pytest.mark.parametrize(
    ("radius", "outer", "ratio"), [(50, 408.41, 1.3), (30, 282.74, 1.5), (15, 188.50, 2.0)], ids=str
)
def test_lace_of_15_mm_in_a_ring(radius, outer, ratio):
    """Outer heading θ(R + w), 2πw longer than the inner whatever the radius (any handbook of geometry; computed)."""
    ring = band(circle((3, 4), radius), 15, "left", closes=True)
    assert ring.over_length == pytest.approx(outer, abs=0.005)
    assert ring.over_length - ring.course_length == pytest.approx(94.25, abs=0.005)
    assert ring.over_length / ring.course_length == pytest.approx(ratio)
    assert ring.strip_length == pytest.approx(ring.over_length)
    assert ring.region.area == pytest.approx(math.pi * ((radius + 15) ** 2 - radius**2), rel=1e-3)
    assert ring.over.closed
    assert ring.tightest.radius == pytest.approx(radius)
    assert ring.drawn_up([0, 20]) == pytest.approx(1 / ratio - 1)


def test_half_a_ring():
    """Half ring of inner radius 60 and lace of 12: 188.50 and 226.19 mm, ratio 1.2 (computed)."""
    half = band(Path((Arc((0, 0), 60, 180, 180),)), 12, "left")
    assert (half.course_length, half.over_length) == pytest.approx((188.50, 226.19), abs=0.005)
    assert all(isinstance(g, Arc) for g in half.over.segments)
    assert half.strip_length == pytest.approx(half.over_length)
    (stretch,) = half.stretches
    assert (stretch.longer, stretch.most_drawn) == ("over", pytest.approx(1 - 1 / 1.2))


@pytest.mark.parametrize(("corners", "widths"), [(3, 10.392), (4, 8), (6, 6.928), (8, 6.627)])
@pytest.mark.parametrize("side", ["left", "right"])
def test_polygons_differ_in_their_headings_by_widths(corners, widths, side):
    """2w·tan(φ/2) a corner: a triangle 10.392 w, a square 8 w, a hexagon 6.928 w, an octagon 6.627 w (computed)."""
    ring = band(polygon(corners, 200), 10, side, closes=True)
    assert abs(ring.over_length - ring.course_length) == pytest.approx(10 * widths, abs=0.005)
    assert len(ring.mitres) == corners
    assert ring.strip_length == pytest.approx(max(ring.over_length, ring.course_length))
    assert all(isinstance(g, Line) for g in ring.over.segments)


def test_polygons_of_ever_more_corners_come_down_to_the_circle():
    """Outer less inner falls with the number of corners towards 2πw, mitred or eased (computed)."""
    rings = [band(polygon(n, 800 / n), 10, "left", closes=True) for n in range(3, 40)]
    over = [r.over_length - r.course_length for r in rings]
    assert all(a > b for a, b in itertools.pairwise(over))
    assert 20 * math.pi < over[-1] < 20.1 * math.pi
    assert (len(rings[0].mitres), len(rings[-1].mitres)) == (3, 0)


def test_a_mat_of_300_mm_with_an_edging_of_20():
    """1200 + 4·40 = 1360 mm ('Sewing Handicraft for Girls': a width before the corner two, and the same after)."""
    mat = band(polyline([(0, 0), (300, 0), (300, 300), (0, 300)], closed=True), 20, "left", closes=True)
    assert mat.strip_length == pytest.approx(1360)
    assert [m.fold for m in mat.mitres] == pytest.approx([40] * 4)
    assert mat.region.area == pytest.approx(340**2 - 300**2)


def test_a_pointed_oval_of_200_by_100():
    """R 125, outer heading 463.65, inner 361.04 with arcs from the same centres, tip turn 73.74 degrees (computed)."""
    oval = band(pointed_oval(200, 50), 15, "right", closes=True)
    assert (oval.course_length, oval.over_length) == pytest.approx((463.65, 361.04), abs=0.005)
    assert {round(g.radius, 9) for g in oval.over.segments} == {110}
    tips = [m.over for m in oval.mitres]
    assert np.array(tips) == pytest.approx(np.array([(-80.47, 0), (80.47, 0)]), abs=0.005)
    assert [m.turn for m in oval.mitres] == pytest.approx([73.74] * 2, abs=0.005)
    assert not any(m.inside for m in oval.mitres)
    assert oval.strip_length == pytest.approx(oval.course_length)
    assert oval.drawn_up([5, 100, 300]) == pytest.approx(1 - 110 / 125)
    around = band(pointed_oval(200, 50), 15, "left", closes=True)
    assert around.over_length == pytest.approx(2 * 140 * 2 * math.asin(0.8) + 4 * 15 * 0.75)
    assert [m.fold for m in around.mitres] == pytest.approx([22.5] * 2)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize(
    "course",
    [
        scallops(500, 100, 25),
        WAVE,
        polyline([(0, 0), (80, -40), (160, 0), (200, 0), (200, 70)]),
        Path((Line((0, 0), (70, 0)), Arc((70, 40), 40, -90, 90), Line((110, 40), (60, 120)))),
        from_svg("M 0 0 C 40 60 80 60 120 0 C 150 60 190 70 240 0"),
    ],
    ids=["scallops", "wave", "zigzag", "arc and lines", "two curves"],
)
def test_the_other_heading_is_the_offset_curve_of_a_geometry_library(course, side):
    """Against Shapely's offset_curve of the finely sampled course, whose input it simplifies by d/100 at most."""
    laid = band(course, 15, side)
    distance = 15 if side == "right" else -15
    fine = LineString(course.flatten(1e-5)).offset_curve(distance, join_style="mitre", mitre_limit=20)
    assert laid.possible
    assert laid.over_length == pytest.approx(fine.length, rel=1e-3)
    assert LineString(laid.over.flatten(1e-4)).hausdorff_distance(fine) < 0.15
    one_sided = Polygon(np.concatenate([course.flatten(1e-3), np.array(fine.coords)[::-1]]))
    assert laid.region.symmetric_difference(one_sided).area < 0.02 * laid.course_length


@pytest.mark.parametrize(("side", "sign"), [("left", 1), ("right", -1)])
def test_an_ellipse(side, sign):
    """Its length is 4a·E(e²); its parallels are ∫(1 ± κw)ds, 2πw longer or shorter."""
    a, b, w = 120.0, 80.0, 15.0
    ellipse = from_svg(f"M {-a} 0 A {a} {b} 0 0 1 {a} 0 A {a} {b} 0 0 1 {-a} 0 Z")
    laid = band(ellipse, w, side, closes=True)

    def step(t):
        speed = math.hypot(a * math.sin(t), b * math.cos(t))
        return speed + sign * w * a * b / speed**2

    assert laid.course_length == pytest.approx(4 * a * ellipeinc(math.pi / 2, 1 - b * b / a / a), rel=1e-6)
    assert laid.over_length == pytest.approx(quad(step, 0, 2 * math.pi)[0], rel=1e-5)
    assert laid.strip_length == pytest.approx(max(laid.course_length, laid.over_length), rel=1e-5)
    assert len(laid.over.segments) <= 48, "few cubics are near enough"
    inner = b * b / a - (w if side == "right" else 0)
    assert laid.tightest.radius == pytest.approx(inner, rel=1e-3)
    assert abs(laid.tightest.at[0]) == pytest.approx(a, abs=0.5)


@pytest.mark.parametrize(("side", "distance"), [("left", -9.0), ("right", 9.0)])
def test_a_wave_has_a_stretch_for_each_bend(side, distance):
    """Each stretch's other heading is ∫(1 - κd)ds along its Béziers; the strip is everywhere the longer."""
    laid = band(WAVE, 9, side)

    def step(t, curve):
        d = curve.derivative(t)
        return math.hypot(*d) * (1 - float(curve.curvature(t)) * distance)

    whole = sum(quad(step, 0, 1, args=(g,), epsabs=1e-9)[0] for g in WAVE.segments)
    assert laid.over_length == pytest.approx(whole, abs=2e-3)
    assert sum(x.over_length for x in laid.stretches) == pytest.approx(whole, abs=1e-6)
    kinds = [x.longer for x in laid.stretches]
    assert len(kinds) == 3
    assert all(a != b for a, b in itertools.pairwise(kinds))
    assert laid.strip_length == pytest.approx(sum(max(x.course_length, x.over_length) for x in laid.stretches))
    for x in laid.stretches:
        shares = laid.drawn_up(np.linspace(x.s0, x.s1, 400)[1:-1])
        assert np.abs(shares).max() == pytest.approx(x.most_drawn, rel=0.02)
        assert (shares >= -1e-9).all() if x.longer == "course" else (shares <= 1e-9).all()


def test_a_small_break_is_eased_not_mitred():
    """A break of 15 degrees in a sound line: the headings differ as at a mitre, the bend is spread over a width."""
    laid = band(polyline([(0, 0), (100, 0), (100 + 100 * math.cos(0.2618), 100 * math.sin(0.2618))]), 12, "left")
    turn = 2 * math.tan(0.2618 / 2)
    assert not laid.mitres
    assert laid.over_length - laid.course_length == pytest.approx(12 * turn)
    assert laid.strip_length == pytest.approx(laid.over_length)
    assert laid.drawn_up([90, 97, 103, 110]) == pytest.approx([0, -turn / (1 + turn), -turn / (1 + turn), 0])
    assert len(band(laid.course, 12, "left", corner=10).mitres) == 1


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_finely_drawn_curve_is_as_the_curve(side):
    """Chords of 1 mm for an arc of 60 mm radius, eased chord to chord, also up to the ends."""
    arc = Path((Arc((0, 0), 60, 170, 120),))
    true, drawn = band(arc, 15, side), band(polyline(arc.sample(1.0)), 15, side)
    assert drawn.possible
    assert drawn.strip_length == pytest.approx(true.strip_length, rel=0.005)
    assert drawn.tightest.radius == pytest.approx(true.tightest.radius, rel=0.06)
    s = np.linspace(0, drawn.course_length, 50)
    assert drawn.drawn_up(s) == pytest.approx(true.drawn_up(s), abs=0.02)


@pytest.mark.parametrize(("side", "down"), [("right", 1), ("left", -1)])
def test_half_circles_meet_in_a_cusp(side, down):
    """Outside of two half circles of radius R the lace is folded √((R + w)² - R²) from their cusp (computed)."""
    laid = band(scallops(160, 80, 40 * down), 15, side)
    (mitre,) = laid.mitres
    assert laid.possible
    assert mitre.over == pytest.approx((80, down * math.sqrt(55**2 - 40**2)))
    assert laid.over_length == pytest.approx(2 * 55 * (math.pi - math.acos(40 / 55)))
    for turn in range(7, 360, 24):  # a turn of 180 degrees is read as one of -180 now and then
        turned = band(laid.course.placed(Pose(3, 5, turn)), 15, side)
        assert turned.possible
        assert turned.over_length == pytest.approx(laid.over_length)


def test_a_drop_has_one_corner():
    """A three-quarter circle of radius R and its two tangents: the parallel inside has R - w and legs as much shorter
    as the corner's square takes (computed)."""
    drop = Path((Line((0, 80), (-40, 40)), Arc((0, 0), 40 * math.sqrt(2), 135, 270), Line((40, 40), (0, 80))))
    for side, sign in (("right", -1), ("left", 1)):
        laid = band(drop, 10, side, closes=True)
        (mitre,) = laid.mitres
        assert (laid.possible, laid.over.closed) == (True, True)
        assert mitre.over == pytest.approx((0, 80 + sign * 10 * math.sqrt(2)))
        assert laid.over_length - laid.course_length == pytest.approx(sign * 10 * (1.5 * math.pi + 2))
    assert not band(drop, 60, "right", closes=True).possible


@pytest.mark.parametrize(("gather", "widths"), [(1.3, 3.333), (1.5, 2), (2.0, 1), (2.5, 0.667)])
def test_the_tightest_radius_for_a_gather(gather, widths):
    """R ≥ w/(G - 1) (computed); a ring of that radius gathers so."""
    radius = radius_limit(15, gather)
    assert radius == pytest.approx(15 * widths, rel=1e-3)
    ring = band(circle((0, 0), radius), 15, "left", closes=True)
    assert ring.over_length / ring.course_length == pytest.approx(gather)


@pytest.mark.parametrize(
    ("course", "width", "side", "closes", "place"),
    [
        (circle((0, 0), 10), 12, "right", True, None),
        (circle((0, 0), 12), 12, "right", True, None),
        (polyline([(0, 0), (100, 0), (100, 8), (0, 8)]), 12, "right", False, (100, 4)),
        (polygon(3, 60), 20, "right", True, None),
        (polyline([(0, 0), (100, 0), (0, 2)]), 12, "left", False, (100, 0)),
        (scallops(120, 60, 25), 40, "left", False, None),
        (through([(0, 0), (20, -30), (40, 0)]), 30, "right", False, (20, -30)),
    ],
    ids=["ring", "ring of its radius", "short leg", "triangle", "needle", "scallops", "curve"],
)
def test_what_lace_cannot_do_is_told_with_its_place(course, width, side, closes, place):
    laid = band(course, width, side, closes)
    assert not laid.possible
    assert laid.trouble
    assert place is None or min(math.dist(place, at) for at in laid.trouble) < 12
    assert laid.region.is_valid
    assert laid.over_length > 0
    assert laid.strip_length > 0


@pytest.mark.parametrize("turned", [False, True])
def test_a_curve_is_tightest_where_its_formula_is_greatest(turned):
    """Handbook: at its beginning a cubic Bézier's curvature is 2/3·|(p1 - p0) x (p2 - p1)|/|p1 - p0|³."""
    curve = Path((Bezier((0, 0), (30, 0), (60, 12), (100, 20)), Line((100, 20), (140, 28))))
    laid = band(curve.reversed() if turned else curve, 5, "left")
    radius = 30**3 / (2 / 3 * 30 * 12)
    tightest = min(laid.stretches, key=lambda x: x.radius)
    assert tightest.at == pytest.approx((0, 0), abs=0.01)
    assert tightest.radius + (5 if tightest.longer == "course" else 0) == pytest.approx(radius, rel=1e-3)


def test_scallops_too_steep_lie_over_one_another():
    """Arcs of more than a half circle bulge into their neighbours, and so does the lace on them."""
    assert lies_over_itself(band(scallops(300, 100, 30), 15, "left")) == ()
    assert lies_over_itself(band(scallops(300, 100, 30), 15, "right")) == ()
    bulging = scallops(300, 100, 75)
    places = lies_over_itself(band(bulging, 15, "left"))
    assert len(places) == 2
    assert sorted(round(p.at[0], -1) for p in places) == [100, 200]


def test_a_band_that_crosses_itself_squarely_lies_double_on_a_square():
    crossing = band(polyline([(0, 0), (200, 0), (200, 80), (100, 80), (100, -80)]), 15, "left")
    (place,) = lies_over_itself(crossing)
    assert place.area == pytest.approx(225)
    assert place.at == pytest.approx((92.5, -7.5), abs=7.5)


def test_bands_that_only_touch_do_not_overlap():
    back = polyline([(0, 0), (100, 0), (100, -60), (200, -60), (200, 30), (0, 30)])
    assert lies_over_itself(band(back, 15, "right")) == ()
    (place,) = lies_over_itself(band(back, 16, "right"))
    assert place.area == pytest.approx(2 * 116)


@pytest.mark.parametrize("width", [0, -3, math.nan, math.inf])
def test_a_width_that_is_none(width):
    with pytest.raises(PieceError, match="wide"):
        band(WAVE, width)


@st.composite
def courses(draw):
    """Lines and arcs end to end, some with corners between them, that lace of 10 mm can follow."""
    at, turn, out = np.zeros(2), draw(st.floats(-180, 180)), []
    for _ in range(draw(st.integers(1, 4))):
        chord, bow = draw(st.floats(60, 120)), draw(st.sampled_from([-0.2, -0.08, 0.0, 0.1, 0.18]))
        turn += draw(st.sampled_from([-60.0, -25.0, -8.0, 0.0, 5.0, 40.0, 70.0]))
        end = at + chord * np.array([math.cos(math.radians(turn)), math.sin(math.radians(turn))])
        out.extend(arc_through(at, end, bow * chord).segments)
        at = np.array(out[-1].end)
    return Path(tuple(out))


@given(courses(), sides)
def test_laws_of_a_band(course, side):
    laid = band(course, 10, side)
    assert laid.region.is_valid
    shares = laid.drawn_up(np.linspace(0, course.length, 60))
    assert (np.abs(shares) <= 1).all()
    assert all(0 <= x.most_drawn <= 1 for x in laid.stretches)
    assert [laid.stretches[0].s0, laid.stretches[-1].s1] == pytest.approx([0, course.length])
    assert laid.strip_length >= laid.course_length - 1e-9
    if laid.possible:
        assert laid.strip_length >= laid.over_length * (1 - 1e-6)
        folded = sum(m.fold if m.inside else -m.fold for m in laid.mitres)
        assert sum(x.course_length for x in laid.stretches) == pytest.approx(course.length)
        assert laid.strip_length <= sum(x.course_length + x.over_length for x in laid.stretches) + abs(folded)


@given(courses(), sides, st.floats(5, 40))
def test_a_band_of_simple_outline_lies_over_itself_nowhere(course, side, width):
    """Known from its outline alone; held against its patches, each laid on every other."""
    laid = band(course, width, side)
    assert laid.simple <= (overlaps(patches(laid.laid)) == [])
    assert laid.simple <= laid.possible


def test_what_crosses_itself_is_not_simple_and_what_does_not_is():
    assert band(WAVE, 10).simple
    assert band(circle((0, 0), 60), 15, closes=True).simple
    assert not band(polyline([(0, 0), (200, 0), (200, 80), (100, 80), (100, -80)]), 15, "left").simple
    assert not band(scallops(300, 100, 75), 15, "left").simple


@given(courses(), sides)
def test_the_same_band_travelled_the_other_way(course, side):
    there, back = band(course, 10, side), band(course.reversed(), 10, OTHER[side])
    assert back.possible == there.possible
    assert back.strip_length == pytest.approx(there.strip_length)
    assert back.over_length == pytest.approx(there.over_length)
    assert back.region.symmetric_difference(there.region).area < 1e-6
    assert [m.fold for m in back.mitres] == pytest.approx([m.fold for m in there.mitres[::-1]])
    s = np.linspace(1, course.length - 1, 17)
    s = s[[min(abs(x - e) for e in course.corners(1) or [-9]) > 6 for x in s]]
    assert back.drawn_up(course.length - s) == pytest.approx(there.drawn_up(s))


@given(courses(), sides, st.floats(-500, 500), st.floats(-180, 180), st.booleans())
def test_a_band_moved_turned_or_mirrored_stays_itself(course, side, x, turn, mirrored):
    pose = Pose(x, -x / 3, turn, mirrored)
    here, there = band(course, 10, side), band(course.placed(pose), 10, OTHER[side] if mirrored else side)
    assert there.possible == here.possible
    assert there.strip_length == pytest.approx(here.strip_length)
    assert there.over_length == pytest.approx(here.over_length)
    assert there.region.area == pytest.approx(here.region.area, abs=1e-6)
    for a, b in zip(here.mitres, there.mitres, strict=True):
        assert pose.apply([a.over]).ravel() == pytest.approx(b.over, abs=1e-6)
        assert b.turn == pytest.approx(-a.turn if mirrored else a.turn)
    assert [p.area for p in lies_over_itself(there)] == pytest.approx(
        [p.area for p in lies_over_itself(here)], abs=1e-3
    )


@given(st.integers(3, 9), st.floats(0, 1), sides)
def test_where_a_closed_course_begins_is_all_one(corners, share, side):
    ring = polygon(corners, 90)
    turned = ring.trimmed(share * ring.length, (1 + share) * ring.length)
    one, two = band(ring, 8, side, closes=True), band(turned, 8, side, closes=True)
    assert two.over.closed
    assert two.over_length == pytest.approx(one.over_length)
    assert two.strip_length == pytest.approx(one.strip_length)
    assert two.region.symmetric_difference(one.region).area < 1e-3
    assert len(two.mitres) == corners
    start = math.dist(two.over.start, turned.start)
    assert 8 - 1e-9 <= start <= 8 / math.cos(math.pi / corners) + 1e-9, "both headings begin beside each other"
