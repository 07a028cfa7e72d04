"""Paths: lengths against closed forms, arc length kept under every operation."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipeinc

from festoon.errors import PieceError
from festoon.plane import Arc, Bezier, Line, Path, Pose, arc_through, circle, from_svg, polyline, through

S_CURVE = through([[0, 0], [20, -10], [45, 12], [60, 0]])
PATHS = {
    "straight": polyline([[0, 0], [50, 0]]),
    "bent": polyline([[0, 0], [20, 0], [20, 20], [50, 30]]),
    "square": polyline([[0, 0], [30, 0], [30, 30], [0, 30]], closed=True),
    "arc": arc_through([0, 0], [30, 0], 8),
    "circle": circle([5, 5], 12),
    "curve": S_CURVE,
    "garland": through([[0, 0], [20, -8], [40, 5], [20, 30]], closed=True),
    "mixed": from_svg("M0 0 H20 A10 10 0 0 1 30 10 C30 20 40 20 45 30 L45 60"),
    "cusp": Path((Bezier((0, 0), (30, 20), (0, 20), (30, 0)),)),
    "shortest": polyline([[0, 0], [0.01, 0]]),
}
paths = st.sampled_from(sorted(PATHS)).map(PATHS.__getitem__)
fractions = st.floats(0, 1)
every_path = pytest.mark.parametrize("path", PATHS.values(), ids=PATHS.keys())


def gaps(points):
    return np.hypot(*np.diff(points, axis=0).T)


# Lengths


@pytest.mark.parametrize(
    ("chord", "bow", "radius", "length", "ratio"),
    [
        (30, 8, 18.0625, 35.399, 1.180),  # R = (c²/4 + h²)/(2h), s = 2R·asin(c/2R): computed
        (80, 20, 50, 92.730, 1.159),
        (10, 5, 5, 15.708, 1.571),
    ],
)
def test_scallop_arcs(chord, bow, radius, length, ratio):
    path = arc_through([3, 4], [3 + chord, 4], bow)
    assert path.segments[0].radius == pytest.approx(radius, abs=1e-9)
    assert path.length == pytest.approx(length, abs=5e-4)
    assert path.length / chord == pytest.approx(ratio, abs=5e-4)
    assert path.at(path.length / 2) == pytest.approx([3 + chord / 2, 4 + bow])


def test_pointed_oval_200_by_100():
    """Pointed oval of two arcs, lace 15 mm inside from the same centres: computed."""
    upper = arc_through([0, 0], [200, 0], -50)
    arc = upper.segments[0]
    assert arc.radius == pytest.approx(125)
    assert 2 * upper.length == pytest.approx(463.65, abs=5e-3)
    reach = math.sqrt(110**2 - 75**2)  # inner arc radius 110, centre 75 below the axis
    inner = arc_through([100 - reach, 0], [100 + reach, 0], -35)
    assert reach == pytest.approx(80.47, abs=5e-3)
    assert 2 * inner.length == pytest.approx(361.04, abs=5e-3)
    tip = upper.turns([upper.length])[0] - upper.turns([0])[0]
    assert 180 - tip == pytest.approx(180 - 2 * 53.13, abs=5e-3)


@given(st.floats(0.1, 500), st.floats(-180, 180))
def test_circle(radius, start):
    path = circle([7, -3], radius, start)
    assert path.length == pytest.approx(2 * math.pi * radius, rel=1e-12)
    assert path.closed
    quarter = path.at(path.length / 4) - [7, -3]
    assert quarter == pytest.approx(
        [radius * math.cos(math.radians(start + 90)), radius * math.sin(math.radians(start + 90))], abs=1e-9
    )


@pytest.mark.parametrize(("a", "b"), [(50, 20), (30, 29), (80, 5), (5, 80)])
def test_ellipse_against_the_elliptic_integral(a, b):
    """Quarter ellipse, a·E(π/2, 1 - b²/a²); the Béziers stand for it within 1e-7 of a radius."""
    path = from_svg(f"M{a} 0 A{a} {b} 0 0 1 0 {b}")
    assert path.length == pytest.approx(a * ellipeinc(math.pi / 2, 1 - b * b / a / a), rel=2e-7)
    points = path.points(np.linspace(0, path.length, 50))
    assert np.hypot(points[:, 0] / a, points[:, 1] / b) == pytest.approx(np.ones(50), abs=1e-7)


controls = st.tuples(st.integers(-50, 50), st.integers(-50, 50))


@given(st.tuples(controls, controls, controls, controls))
@settings(max_examples=20)
def test_bezier_length_against_quadrature(four):
    assume(len(set(four)) > 1)
    curve = Bezier(*four)

    def speed(t):
        return float(np.hypot(*curve.derivative(t)))

    stops = np.linspace(0, 1, 65)
    total = sum(quad(speed, a, b, epsabs=1e-11, epsrel=1e-11)[0] for a, b in itertools.pairwise(stops))
    assert curve.length == pytest.approx(total, rel=1e-9, abs=1e-8)


@given(st.tuples(controls, controls, controls, controls), st.lists(fractions, min_size=1, max_size=5))
@settings(max_examples=60)
def test_bezier_finds_the_parameter_of_a_length(four, f):
    assume(len(set(four)) > 1)
    curve = Bezier(*four)
    s = np.array(f) * curve.length
    back = [curve.part(0, t).length for t in curve.t_at(s)]
    assert back == pytest.approx(s, abs=1e-6)


# Points along


@every_path
def test_ends_and_tangents(path):
    assert path.at(0) == pytest.approx(path.start)
    assert path.points([path.length])[0] == pytest.approx(path.end)
    s = np.linspace(0, path.length, 41)
    assert np.hypot(*path.tangents(s).T) == pytest.approx(np.ones(41))
    h = path.length * 1e-5
    breaks = [*path._edges(), path.length / 2 if path is PATHS["cusp"] else 0]
    inside = [x for x in s[1:-1] if all(abs(x - c) > 2 * h for c in breaks)]
    slope = (path.points(np.add(inside, h)) - path.points(np.subtract(inside, h))) / (2 * h)
    assert path.tangents(inside) == pytest.approx(slope, abs=2e-3)


def test_turns_are_clockwise_as_seen():
    assert polyline([[0, 0], [10, 0], [10, 10], [0, 10]]).turns([5, 15, 25]).tolist() == [0, 90, 180]
    assert circle([0, 0], 10).turns([0]).tolist() == pytest.approx([0])


def test_outside_its_length():
    line, ring = polyline([[0, 0], [10, 0]]), circle([0, 0], 10)
    assert line.points([-3, 13]).tolist() == [[0, 0], [10, 0]]
    assert ring.at(ring.length + 3) == pytest.approx(ring.at(3))
    assert ring.at(-3) == pytest.approx(ring.at(ring.length - 3))


@given(paths, st.floats(0.05, 40))
def test_samples_are_even(path, step):
    s = path.stations(step)
    assert np.diff(s) == pytest.approx(np.full(len(s) - 1, path.length / (len(s) - 1)))
    assert np.diff(s).max() <= step + 1e-9
    assert path.length / (len(s) - 1) > step / 2 or len(s) == 2
    points = path.sample(step)
    assert points[[0, -1]] == pytest.approx(np.array([path.start, path.end]))
    assert gaps(points).max() <= step + 1e-6


@given(st.floats(1, 50), st.floats(0.1, 3))
@settings(max_examples=40)
def test_samples_of_a_circle_have_equal_chords(radius, step):
    chords = gaps(circle([0, 0], radius).sample(step))
    assert chords == pytest.approx(np.full(len(chords), chords[0]), rel=1e-9)


@given(paths, st.sampled_from([1.0, 0.1, 0.01, 0.001]))
def test_flattened_within_tolerance(path, tolerance):
    p = path.flatten(tolerance)
    dense = path.points(np.linspace(0, path.length, 400))
    a, d = p[:-1], np.diff(p, axis=0)
    t = np.clip(np.einsum("kij,ij->ki", dense[:, None] - a, d) / np.einsum("ij,ij->i", d, d), 0, 1)
    away = np.linalg.norm(dense[:, None] - (a + t[..., None] * d), axis=-1).min(axis=1)
    assert away.max() <= tolerance + 1e-9


def test_flattening_is_thrifty():
    assert len(circle([0, 0], 50).flatten(0.01)) == 159  # 2π/(2·acos(1 - 0.01/50)) = 157.07, so 158 chords


# Operations


@given(paths, fractions, fractions, fractions)
def test_trimmed_lengths_add_up(path, f, g, h):
    a, b, c = np.sort([f, g, h]) * path.length
    assume(b - a > 1e-4 and c - b > 1e-4)
    first, second = path.trimmed(a, b), path.trimmed(b, c)
    assert first.length + second.length == pytest.approx(c - a, abs=1e-6)
    assert first.length == pytest.approx(b - a, abs=1e-6)
    assert first.start == pytest.approx(path.at(a), abs=1e-6)
    assert first.end == pytest.approx(second.start, abs=1e-6)
    assert second.at(second.length / 2) == pytest.approx(path.at((b + c) / 2), abs=1e-5)


@given(st.sampled_from(["square", "circle", "garland"]).map(PATHS.__getitem__), st.floats(-3, 3), st.floats(0.01, 1))
def test_trimming_goes_round_a_closed_path(path, start, share):
    piece = path.trimmed(start * path.length, (start + share) * path.length)
    assert piece.length == pytest.approx(share * path.length, abs=1e-5)
    assert piece.start == pytest.approx(path.at(start * path.length), abs=1e-5)
    assert piece.end == pytest.approx(path.at((start + share) * path.length), abs=1e-5)


@given(paths, fractions)
def test_reversed(path, f):
    back = path.reversed()
    assert back.length == pytest.approx(path.length, rel=1e-9)
    assert back.at(f * path.length) == pytest.approx(path.at((1 - f) * path.length), abs=1e-6)
    assert back.reversed().at(f * path.length) == pytest.approx(path.at(f * path.length), abs=1e-6)


poses = st.builds(Pose, st.floats(-100, 100), st.floats(-100, 100), st.floats(-360, 360), st.booleans())


@given(paths, poses, fractions)
def test_placed(path, pose, f):
    placed = path.placed(pose)
    assert placed.length == pytest.approx(path.length, rel=1e-9)
    assert placed.at(f * path.length) == pytest.approx(pose.apply(path.at(f * path.length)), abs=1e-6)


@every_path
def test_extended(path):
    if path.closed:
        return
    longer = path.extended(3, 4)
    assert longer.length == pytest.approx(path.length + 7)
    assert longer.start == pytest.approx(path.start - 3 * path.tangents([0])[0])
    assert longer.end == pytest.approx(path.end + 4 * path.tangents([path.length])[0])
    assert longer.at(3 + path.length / 3) == pytest.approx(path.at(path.length / 3), abs=1e-6)


def test_corners_and_legs():
    assert PATHS["bent"].corners() == pytest.approx((20, 40))
    assert PATHS["bent"].corners(80) == pytest.approx((20,))
    assert PATHS["square"].corners() == pytest.approx((0, 30, 60, 90))
    assert PATHS["circle"].corners() == ()
    assert PATHS["circle"].legs() == (PATHS["circle"],)
    assert [leg.length for leg in PATHS["square"].legs()] == pytest.approx([30] * 4)
    assert [leg.length for leg in PATHS["bent"].legs()] == pytest.approx([20, 20, math.hypot(30, 10)])


def test_legs_of_a_closed_path_begin_at_its_first_corner():
    drop = from_svg("M0 10 A10 10 0 0 0 10 0 L20 -10 L0 -10 Z")
    legs = drop.legs()
    assert legs[0].start == pytest.approx(drop.at(drop.corners()[0]))
    assert sum(leg.length for leg in legs) == pytest.approx(drop.length)
    assert all(np.allclose(a.end, b.start) for a, b in itertools.pairwise([*legs, legs[0]]))


# Curves through points


@given(
    st.lists(st.tuples(st.integers(-80, 80), st.integers(-80, 80)), min_size=3, max_size=8, unique=True),
    st.booleans(),
)
def test_through_is_smooth_and_goes_through(points, closed):
    path = through(points, closed)
    assert path.closed is closed
    assert path._edges()[-1] == path.length
    joints = np.array([g.start for g in path.segments])
    assert joints == pytest.approx(np.array(points[: len(joints)], dtype=float), abs=1e-9)
    assert path.corners(1e-3) == ()


def test_through_is_centripetal_and_natural():
    """Knots 0, 1, 3 for x = 0, 1, 5: the natural spline's first slope is 1 - 1/6, a handle a third of it; computed."""
    assert through([[0, 0], [1, 0], [5, 0]]).segments[0].p1 == pytest.approx((5 / 18, 0))


def test_through_two_points_is_straight():
    assert through([[0, 0], [30, 40]]).length == pytest.approx(50)


def test_through_points_of_a_circle_is_nearly_one():
    angles = np.arange(12) * math.pi / 6
    path = through(20 * np.stack([np.cos(angles), np.sin(angles)], axis=1), closed=True)
    assert np.hypot(*path.sample(1).T) == pytest.approx(np.full(127, 20), abs=0.01)


# Mistakes


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: polyline([[1, 1], [1, 1]]),
        lambda: polyline([[1, 1]]),
        lambda: polyline([[1, 1], [math.nan, 2]]),
        lambda: polyline([[1, 1, 1], [2, 2, 2]]),
        lambda: through([[0, 0], [0, 0]]),
        lambda: through([[0, 0], [1, 0]], closed=True),
        lambda: arc_through([1, 1], [1, 1], 3),
        lambda: arc_through([0, 0], [1, 1], math.inf),
        lambda: circle([0, 0], 0),
        lambda: circle([0, 0], math.nan),
        lambda: S_CURVE.trimmed(5, 5),
        lambda: S_CURVE.trimmed(8, 5),
        lambda: S_CURVE.trimmed(0, 1000),
        lambda: S_CURVE.extended(-1, 0),
        lambda: S_CURVE.sample(0),
        lambda: S_CURVE.flatten(0),
        lambda: Path(()),
        lambda: Path((Line((0, 0), (1, 0)), Line((2, 0), (3, 0)))),
        lambda: Path((Arc((0, 0), math.inf, 0, 90),)),
    ],
)
def test_mistakes_are_told(wrong):
    with pytest.raises(PieceError) as told:
        wrong()
    assert str(told.value).endswith(".")
