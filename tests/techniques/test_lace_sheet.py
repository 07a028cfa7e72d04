"""The drawing of a lace band for the stabiliser, and its pins."""

import re

import numpy as np
import pytest
import shapely
from shapely import LineString, Point

from festoon.plane import Pose, from_svg

from .lace_toy import FLARED, HEM, lace, laid, on

REPEATED = [
    {"shape": "scallops"},
    {"shape": "scallops", "lies": "below", "rounds": "above", "width": 9},
    {"shape": "pointed ovals", "repeat": 60, "rise": 15, "width": 6},
    {"shape": "vees", "repeat": 90, "centre": "round", "width": 5},
    {"shape": "squares", "repeat": 90, "width": 5, "between": 10},
    {"shape": "loops", "repeat": 110, "rise": 70, "across": 56, "width": 8},
]
PIECES = [{"shape": "diamonds", "each": True, "rise": 30, "width": 6}, {"shape": "rings", "repeat": 80, "width": 6}]

ROUND = "M 600 10 A 185 185 0 0 1 600 380 A 185 185 0 0 1 600 10 Z"
"""A whole circle, clockwise."""
BACK = "M 600 10 A 185 185 0 0 0 600 380 A 185 185 0 0 0 600 10 Z"
"""The same the other way."""


def held(template):
    """How many repeats a template holds."""
    return int((re.search(r"(\d+) repeats of", template.title) or [0, 1])[1])


@pytest.mark.parametrize("line", [HEM, FLARED, ROUND, BACK])
@pytest.mark.parametrize("words", [*REPEATED, *PIECES])
def test_it_fits_a_sheet_and_makes_all_repeats(words, line):
    done = on(lace(**words), line)
    (template,) = done.templates
    points = np.concatenate([t.points for t in template.lines])
    width, height = np.ptp(points, axis=0)
    assert max(width, height) <= 260
    assert min(width, height) <= 180
    assert held(template) * template.times == len(done.places)


@pytest.mark.parametrize("line", [HEM, FLARED, ROUND, BACK])
@pytest.mark.parametrize("words", REPEATED)
def test_traced_match_line_on_match_line_it_is_the_whole_band(words, line):
    done = on(lace(**words), line)
    (template,) = done.templates
    k = held(template)
    on_panel = shapely.union_all([LineString(t.points) for t in done.lines if t.role == "trace"])
    traced = []
    for first in range(0, len(done.places), k):
        (ax, ay), (bx, by) = _marks(done, line, first, k)
        pose = Pose((ax + bx) / 2, (ay + by) / 2, float(np.degrees(np.arctan2(by - ay, bx - ax))))
        traced.extend(LineString(pose.apply(t.points)) for t in template.lines if t.role == "trace")
    together = shapely.union_all(traced)
    assert shapely.hausdorff_distance(together, on_panel, densify=0.5) < 0.15
    assert together.length == pytest.approx(on_panel.length, rel=2e-3)


def _marks(done, line, first, count):
    path = from_svg(line)
    step = path.length / len(done.places)
    return path.points([first * step, (first + count) * step])


@pytest.mark.parametrize("repeat", [40, 60, 90, 120, 180])
def test_round_a_small_circle_it_is_one_repeat_or_the_whole(repeat):
    """Where repeats turn so much against each other that no match line would part them, all are drawn."""
    radius = 60
    line = f"M 300 100 a {radius} {radius} 0 0 1 0 {2 * radius} a {radius} {radius} 0 0 1 0 {-2 * radius} z"
    done = on(lace(shape="scallops", repeat=repeat, rise=8, width=5), line)
    (template,) = done.templates
    turn = 360 / len(done.places)
    assert held(template) * template.times == len(done.places) or (template.times == 1 and turn > 120)
    matched = [t for t in template.lines if t.label == "match line"]
    assert len(matched) == (0 if turn > 120 else 2)


def test_lace_too_wide_for_its_loops_is_drawn_and_told():
    done = on(lace(shape="loops", across=1, lies="middle", up=39))
    assert any(f.verdict == "will not work" for f in done.findings)
    (template,) = done.templates
    assert len([t for t in template.lines if t.label == "match line"]) == 2


def test_a_line_that_bends_unevenly_is_drawn_whole():
    done = on(lace(shape="scallops", repeat=40, rise=8, width=5), "M 50 200 C 300 100 600 300 900 200")
    (template,) = done.templates
    assert template.times == 1
    points = np.concatenate([t.points for t in template.lines])
    assert np.allclose(points.max(axis=0) + points.min(axis=0), 0)
    assert np.ptp(points, axis=0)[0] > 800


def test_pins_stand_in_the_headings():
    done = on(lace(width=10, pins=8), "M 50 200 C 200 100 400 300 600 200")
    (template,) = done.templates
    (area,) = template.areas
    edge = shapely.boundary(area.region)
    assert max(Point(p.at).distance(edge) for p in template.pins) < 0.2
    longer = np.array([p.at for p in template.pins if p.holds == "longer heading"])
    assert len(longer) >= 560 / 8
    assert f"{len(template.pins)}, every 8 mm" in next(f.value for f in done.figures if f.what == "pins")


def test_two_pins_at_every_point():
    done = on(lace(shape="vees", repeat=110, width=6))
    assert len(done.pins) == 2 * 19, "nine points on the line, ten tips, each through both headings"
    mitres = {tuple(np.round(m.at, 3)) for m in laid(lace(shape="vees", repeat=110, width=6))[0].laid.mitres}
    assert mitres <= {p.at for p in done.pins}


def test_pins_are_counted_once_for_every_repeat():
    done = on(lace(shape="vees", repeat=110, width=6))
    (template,) = done.templates
    points = [p for p in template.pins if p.holds.startswith("point")]
    assert len(points) * template.times == 2 * 20, "ten points on the line, ten tips; the last point is the next one's"
