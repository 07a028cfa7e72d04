"""The strips of a lace band: repeats that close, points that meet, sides, middles."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point

from festoon.errors import PieceError
from festoon.techniques.course import course_of
from festoon.techniques.lace_figures import cut_length
from festoon.techniques.lace_shapes import drawings, repeats
from festoon.techniques.lace_words import LaceBand

from .lace_toy import lace, laid, on, rules
from .toy import setting


def test_lace_with_its_middle_on_the_line_lies_as_far_to_both_sides():
    done = on(lace(width=10, strips=2, lies="middle"))
    lines = [float(line.points[0, 1]) for line in done.lines if line.role == "trace"]
    assert lines == pytest.approx([210, 200, 190])


@pytest.mark.parametrize(("lies", "up", "ys"), [("above", 0, (200, 187)), ("below", 30, (170, 183))])
def test_lace_lies_on_the_side_asked(lies, up, ys):
    done = on(lace(lies=lies, up=up))
    assert [float(line.points[0, 1]) for line in done.lines if line.role == "trace"] == pytest.approx(ys)
    lower, upper = (done.named[n].start[1] for n in ("lower", "upper"))
    assert lower > upper


centres = st.sampled_from(["any", "point", "round"])
shapes = st.sampled_from(["scallops", "pointed ovals", "vees", "diamonds", "squares", "loops"])


@settings(max_examples=25)
@given(st.floats(300, 3000), st.floats(40, 250), centres, shapes)
def test_repeats_always_close_across_the_seam(hem, repeat, centre, shape):
    one = lace(shape=shape, repeat=repeat, rise=repeat / 4, across=repeat / 6, width=4, centre=centre)
    course = course_of(one, setting(loops=("hem",), hem=f"M 0 0 H {hem}"))
    out = repeats(one, course)
    for drawn in drawings(one, course, out.places):
        assert drawn.closes
        assert drawn.line.start.tolist() == pytest.approx([0, 0], abs=1e-6)
        assert drawn.line.end.tolist() == pytest.approx([hem, 0], abs=1e-6)
    assert centre == "any" or out.count % 2 == (centre == "round")


@pytest.mark.parametrize("shape", ["scallops", "vees"])
@pytest.mark.parametrize(("centre", "y"), [("point", 200), ("round", 225)])
def test_the_middle_of_the_line_holds_what_was_asked(shape, centre, y):
    lower = on(lace(shape=shape, centre=centre, width=8)).named["lower"]
    assert lower.at(lower.length / 2).tolist() == pytest.approx([600, y], abs=0.01)


def test_neighbouring_scallops_meet_in_mitred_points():
    done = laid(lace(shape="scallops", width=8))
    mitres = done[0].laid.mitres
    assert len(mitres) == 10
    assert [m.at[0] for m in mitres] == pytest.approx([150 + 100 * k for k in range(10)])
    assert {m.at[1] for m in mitres} == {200.0}
    assert all(m.over[0] == pytest.approx(m.at[0]) and m.over[1] < m.at[1] - 8 for m in mitres)


def test_two_bands_of_ovals_meet_in_their_points_and_lie_nowhere_over_each_other():
    upper, lower = laid(lace(shape="pointed ovals", width=8))
    assert upper.laid.region.intersection(lower.laid.region).area < 1
    assert upper.laid.region.distance(Point(600, 200)) < 0.01 or upper.laid.region.distance(Point(550, 200)) < 0.01
    both = shapely.union_all([upper.laid.region.buffer(0.01), lower.laid.region.buffer(0.01)])
    assert len(both.interiors) == 11, "eleven openings"
    assert upper.laid.strip_length == pytest.approx(lower.laid.strip_length)


def test_where_a_motif_may_stand():
    done = on(lace(shape="pointed ovals", repeat=120, rise=30, centre="round"))
    assert len(done.places) == 9
    assert [p.x for p in done.places] == pytest.approx([50 + 1100 / 9 * (k + 0.5) for k in range(9)])
    assert {p.y for p in done.places} == {200.0}
    xs = np.array([p.x for p in done.places])
    assert (xs + xs[::-1]).tolist() == pytest.approx([1200] * 9), "as far from the middle on the left as on the right"
    lace_ = shapely.union_all([a.region for a in done.areas])
    assert min(Point(p.x, p.y).distance(lace_) for p in done.places) > 25


def test_on_a_curved_hem_each_place_turns_with_it():
    done = on(
        lace(shape="diamonds", each=True, repeat=60, rise=20, width=5, centre="round"),
        "M 50 300 A 900 900 0 0 1 950 300",
    )
    first, last = done.places[0], done.places[-1]
    assert first.turn == pytest.approx(-last.turn)
    assert first.turn < -20
    assert done.places[len(done.places) // 2].turn == pytest.approx(0)


@pytest.mark.parametrize("count", [3, 9])
def test_straight_stretches_stand_between_ovals(count):
    one = lace(shape="pointed ovals", repeat=1100 / count, rise=40, between=20, width=6)
    upper, lower = laid(one)
    assert upper.laid.course.at(5).tolist() == pytest.approx([55, 200])
    assert len(upper.laid.mitres) == 2 * count
    assert upper.laid.region.intersection(lower.laid.region).area < 1


def test_a_strip_behind_is_as_long_as_the_line():
    one = lace(shape="pointed ovals", behind=True, width=8, strips=2)
    behind = laid(one)[0]
    assert (behind.name, behind.behind, behind.of) == ("strip behind", True, 1)
    assert cut_length(one, behind) == pytest.approx(1100 + 50.8)
    assert LineString([(50, 204), (1150, 204)]).distance(LineString(behind.laid.course.flatten())) < 1e-6
    done = on(one)
    assert done.areas[0].label == "strip behind", "under all the others"


def test_loops_cross_themselves_once_each():
    done = on(lace(shape="loops", repeat=110, rise=70, across=56, rounds="above", width=8))
    assert ("the lace crosses itself", "10 times, once below every loop") in {(f.what, f.value) for f in done.figures}
    assert rules(done) == set()
    assert [p.y for p in done.places] == pytest.approx([200 - 70 + 28] * 10)


@pytest.mark.parametrize("lies", ["above", "below", "middle"])
def test_a_band_of_scallops_ends_in_the_seam(lies):
    """Lace from the next panel meets it there, as two repeats meet in a point."""
    for strip in laid(lace(shape="scallops", width=6, strips=2, lies=lies)):
        left, _, right, _ = strip.region.bounds
        assert (left, right) == pytest.approx((50, 1150), abs=0.01)
        for heading in (strip.course, strip.over):
            assert (heading.start[0], heading.end[0]) == pytest.approx((50, 1150), abs=0.01)


def test_a_thousand_repeats_are_enough():
    one = LaceBand(kind="lace band", name="it", along="hem", shape="scallops", repeat=0.1, width=0.1)
    with pytest.raises(PieceError, match="more than 1000"):
        repeats(one, course_of(one, setting()))


@pytest.mark.parametrize("left", [1, 20, 60, 150])
def test_ends_near_each_other_are_each_cut_in_their_seam(left):
    """Lace almost round a circle: what is cut away at one end may reach over what is cut away at the other."""
    line = "M 300 116 A 84 84 0 0 1 300 284 A 84 84 0 0 1 300 116 Z"
    one = lace(shape="scallops", repeat=100, rise=25, between=11.8, end=left)
    for strip in laid(one, line):
        assert strip.region.is_valid
        assert 0 < strip.region.area <= strip.laid.region.area + 1e-6
