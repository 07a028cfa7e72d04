"""What a window shows of a drawing, and the inks."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from festoon.sheets.drawing import (
    LINES,
    PIN_RADIUS,
    Drawing,
    Ink,
    Shape,
    area_shapes,
    line_shapes,
    part_shapes,
    pin_shapes,
    pin_signs,
    through,
)
from festoon.sheets.style import INK, WHITE, lightness, line_colour, tint
from festoon.work import Area, Line, Pin
from tests.sheets import toy

inner = st.integers(10, 89).map(lambda v: v + 0.37)  # never along one of the shape's own sides
colours = st.integers(0, 0xFFFFFF).map(lambda v: f"#{v:06x}")


def length(records):
    total = 0.0
    for record in records:
        for run, closed in zip(record["runs"], record["closed"], strict=True):
            points = np.reshape(run, (-1, 2))
            line = shapely.LinearRing(points) if closed else shapely.LineString(points)
            total += line.length
    return total


@given(inner, inner)
def test_windows_side_by_side_show_a_shape_once_and_whole(x, y):
    star = shapely.Point(50, 50).buffer(40, quad_segs=4).difference(shapely.box(40, 40, 60, 60))
    drawing = Drawing((Shape(star, Ink(INK, fill=WHITE)),))
    windows = [(0, 0, x, y), (x, 0, 100, y), (0, y, x, 100), (x, y, 100, 100)]
    seen = [r for w in windows for r in through(drawing, w, w[:2])]
    assert length(r for r in seen if r["stroke"]) == pytest.approx(star.length, abs=0.01)
    rings = [np.reshape(run, (-1, 2)) for r in seen if r["fill"] for run in r["runs"]]
    painted = [shapely.Polygon(ring) for ring in rings]
    # a ring inside another is a hole
    area = sum(p.area * (-1) ** sum(q is not p and q.contains(p) for q in painted) for p in painted)
    assert area == pytest.approx(star.area, abs=0.1)


@pytest.mark.parametrize("side", range(4))
def test_nothing_is_drawn_beyond_a_window(side):
    window = [0.0, 0.0, 100.0, 100.0]
    window[side] = 50.3
    ring = shapely.Point(50, 50).buffer(30)
    records = through(Drawing((Shape(ring, Ink(INK, fill=WHITE)),)), tuple(window), window[:2])
    points = np.concatenate([np.reshape(run, (-1, 2)) for r in records for run in r["runs"]])
    assert (points >= np.array(window[:2]) - 0.01).all()
    assert (points <= np.array(window[2:]) + 0.01).all()
    assert length(r for r in records if r["stroke"]) < ring.length * 0.6


def test_a_window_carries_its_corner_to_the_paper():
    drawing = Drawing((Shape(shapely.LineString([(30, 40), (50, 40)]), Ink(INK)),))
    (record,) = through(drawing, (20.0, 30.0, 120.0, 130.0), (10.0, 10.0), 0.5)
    assert record["runs"] == [[15.0, 15.0, 25.0, 15.0]]


@given(colours)
def test_every_thread_shows_on_white_paper(colour):
    assert 1.05 / (lightness(line_colour(colour)) + 0.05) >= 3.0
    assert lightness(tint(colour)) > 0.5


def test_white_and_black():
    assert lightness("#ffffff") == pytest.approx(1.0)
    assert lightness("#000000") == 0.0
    assert line_colour("#203040") == "#203040"


def test_parts_are_drawn_by_thread_and_lines_by_role():
    layout, _ = toy.cushion(1)
    motif = layout.parts("front")[0]
    assert [s.ink.fill for s in part_shapes([motif])] == [tint(t.colour) for t in motif.stitching.threads]
    points = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0]])
    (fold,) = line_shapes([Line("fold", points, closed=True)])
    assert fold.geometry.length == pytest.approx(20 + 200**0.5)
    assert fold.ink == LINES["fold"]


def test_materials_are_told_apart_without_colour():
    """Lace is a net, ribbon is ruled one way, cloth is plain; all as pale as paper needs for a line over them."""
    square = shapely.box(0, 0, 50, 50)
    ways = {}
    for material in ("lace", "ribbon", "cloth"):
        ground, *ruled = area_shapes([Area(material, square)])
        assert lightness(ground.ink.fill) > 0.75
        assert ground.geometry.equals(square)
        lines = [line for s in ruled for line in shapely.get_parts(s.geometry)]
        assert all(square.buffer(1e-6).covers(line) for line in lines)
        ends = np.array([np.subtract(*line.coords) for line in lines]).reshape(-1, 2)
        ways[material] = {float(v) for v in np.round(np.degrees(np.arctan2(ends[:, 1], ends[:, 0])) % 180)}
    assert ways == {"lace": {45.0, 135.0}, "ribbon": {45.0}, "cloth": set()}


@pytest.mark.parametrize("side", [1e-9, 1e-4, 0.1])
def test_an_area_too_small_to_be_ruled_is_drawn_all_the_same(side):
    for x in np.linspace(0, 5, 40).tolist():
        shapes = area_shapes([Area("lace", shapely.box(x, x, x + side, x + side))])
        assert shapes
        assert not any(s.geometry.is_empty for s in shapes)


def test_rules_across_neighbouring_areas_run_on():
    whole = area_shapes([Area("lace", shapely.box(0, 0, 80, 30))])[1].geometry
    halves = area_shapes([Area("lace", shapely.box(0, 0, 33, 30)), Area("lace", shapely.box(33, 0, 80, 30))])
    assert halves[1].geometry.length + halves[3].geometry.length == pytest.approx(whole.length)


def test_pins_have_a_sign_for_what_they_hold():
    pins = [Pin((10.0, 20.0), "outer"), Pin((30.0, 20.0), "inner"), Pin((50.0, 20.0), "outer")]
    first, other, again = pin_shapes(pins, pin_signs(pins))
    for shape, pin in zip((first, other, again), pins, strict=True):
        left, top, right, bottom = shape.geometry.bounds
        assert ((left + right) / 2, (top + bottom) / 2) == pytest.approx(pin.at)
        assert right - left == pytest.approx(2 * PIN_RADIUS)
    assert first.geometry.length == pytest.approx(again.geometry.length)
    assert abs(first.geometry.length - other.geometry.length) > 1
