"""Arcs, points, ovals and loops over a chord, against a handbook's formulas and against the drawn lines themselves."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString

from festoon.plane import Path
from festoon.shaping.scallop import (
    arc_length,
    arc_radius,
    diamond,
    loop,
    loop_turn,
    point_turn,
    pointed_oval,
    scallop,
    tip_turn,
    vee,
)

chords = st.floats(5, 400)
rises = st.floats(0.02, 2.0)
signs = st.sampled_from([-1, 1])


def turn_at(path, s):
    """Degrees by which the line turns at s, positive clockwise as seen."""
    before, after = path.turns([s - 1e-7, s + 1e-7]).tolist()
    return (after - before + 180) % 360 - 180


@pytest.mark.parametrize(
    ("chord", "rise", "radius", "length"),
    [
        (30, 8, 18.0625, 35.399),
        (80, 20, 50.0, 92.730),
        (200, 50, 125.0, 231.824),
        (60, 30, 30.0, 30 * math.pi),
    ],
)
def test_arcs_of_a_handbook(chord, rise, radius, length):
    """R = (c²/4 + h²)/(2h) and s = 2R·asin(c/2R), any handbook of geometry (computed)."""
    assert arc_radius(chord, rise) == pytest.approx(radius)
    assert arc_length(chord, rise) == pytest.approx(length, abs=5e-4)
    assert arc_length(chord, rise) == pytest.approx(2 * radius * math.asin(chord / 2 / radius))


@given(chords, rises, signs)
def test_a_scallop_stands_on_its_chord_and_reaches_its_rise(chord, share, sign):
    rise = sign * share * chord
    path = Path(scallop(chord, rise))
    assert path.start.tolist() == pytest.approx([-chord / 2, 0], abs=1e-9)
    assert path.end.tolist() == pytest.approx([chord / 2, 0], abs=1e-9)
    assert path.at(path.length / 2).tolist() == pytest.approx([0, rise], abs=1e-6)
    assert path.length == pytest.approx(arc_length(chord, abs(rise)))


@given(chords, st.floats(0.02, 0.5), st.floats(0.05, 0.6))
def test_straight_stretches_stand_beside_a_scallop_and_a_vee(chord, share, gap):
    between, rise = gap * chord, share * chord
    for drawn, length in (
        (scallop(chord, rise, between), arc_length(chord - between, rise)),
        (vee(chord, rise, between), 2 * math.hypot((chord - between) / 2, rise)),
    ):
        path = Path(drawn)
        assert path.length == pytest.approx(length + between)
        ends = path.points([between / 2, path.length - between / 2])
        assert np.allclose(ends, [[-(chord - between) / 2, 0], [(chord - between) / 2, 0]])


@given(chords, st.floats(0.03, 0.45))
def test_a_pointed_oval_is_two_arcs_and_turns_once_in_all(chord, share):
    """Two arcs and two tips make a whole turn: 2·(4·atan(2h/c)) + 2·(180° - 4·atan(2h/c)) = 360° (computed)."""
    rise = share * chord
    oval = pointed_oval(chord, rise)
    assert oval.closed
    assert oval.length == pytest.approx(2 * arc_length(chord, rise))
    assert turn_at(oval, oval.length / 2) == pytest.approx(tip_turn(chord, rise), abs=1e-3)
    assert point_turn(chord, rise) + tip_turn(chord, rise) == pytest.approx(180)


def test_the_pointed_oval_of_200_by_100():
    """R 125, outline 463.65 mm, tips that turn by 73.74° (computed)."""
    oval = pointed_oval(200, 50)
    assert oval.length == pytest.approx(463.65, abs=0.005)
    assert tip_turn(200, 50) == pytest.approx(73.74, abs=0.005)
    assert LineString(oval.flatten()).bounds == pytest.approx((-100, -50, 100, 50), abs=0.01)


@given(chords, st.floats(0.1, 0.9), signs)
def test_neighbouring_scallops_meet_in_a_point(chord, share, sign):
    rise = sign * share * chord / 2
    first, second = Path(scallop(chord, rise)), Path(scallop(chord, rise))
    before, after = first.turns([first.length])[0], second.turns([0.0])[0]
    turn = (after - before + 180) % 360 - 180
    assert turn == pytest.approx(sign * point_turn(chord, abs(rise)), abs=1e-6)


@given(st.floats(20, 200), st.floats(0.2, 3.0), st.floats(0.1, 0.9), signs)
def test_a_loop_is_one_smooth_curve_that_crosses_itself_once(chord, share, width, sign):
    rise = sign * share * chord
    across = width * abs(rise)
    path = Path(loop(chord, rise, across))
    assert path.corners(0.01) == ()
    assert path.start.tolist() == pytest.approx([-chord / 2, 0], abs=1e-6)
    assert path.end.tolist() == pytest.approx([chord / 2, 0], abs=1e-6)
    assert path.at(path.length / 2).tolist() == pytest.approx([0, rise], abs=1e-5)
    assert np.allclose(path.tangents([0, path.length]), [[1, 0], [1, 0]])
    ring = path.segments[1]
    assert 2 * ring.radius == pytest.approx(across)
    assert abs(ring.sweep) == pytest.approx(loop_turn(chord, rise, across))
    assert sum(arc.sweep for arc in path.segments) == pytest.approx(sign * 360)
    line = LineString(path.flatten(0.001))
    assert not line.is_simple


@given(chords, st.floats(0.05, 2.0))
def test_a_diamond_has_four_equal_sides(chord, share):
    path = diamond(chord, share * chord)
    sides = [g.length for g in path.segments]
    assert path.closed
    assert len(sides) == 4
    assert sides == pytest.approx([math.hypot(chord / 2, share * chord)] * 4)
    assert turn_at(path, sides[0]) > 0, "clockwise as seen"
