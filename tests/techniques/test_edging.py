"""Edging: what to cut, where to mark and gather it, against heirloom teachers' figures."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.techniques.edging import TECHNIQUE, laid, work
from festoon.techniques.edging_words import Edging

from .toy import setting

LOWER = "M 20 100 A 40 40 0 0 0 80 100 A 40 40 0 0 0 140 100 A 40 40 0 0 0 200 100"
"""Three scallops whose rounds lie below, as the lower heading of a lace band."""


def edging(**words):
    return Edging(**{"kind": "edging", "name": "frill", "along": "hem", **words})


def cut(one, **around):
    return laid(one, setting(**around)).cut.total


def figures(one, **around):
    return {f.what: f.value for f in work(one, setting(**around)).figures}


def test_gathered_to_entredeux():
    # An heirloom magazine's tip: 2 1/2 to 1 on entredeux; a teacher: an inch at either end. 280 mm neck: 700 + 50 mm.
    neck = edging(along="M 10 20 H 290", fullness=2.5, allowance=25)
    assert cut(neck) == pytest.approx(750)


@pytest.mark.parametrize(("line", "length"), [(508.0, 1270.0), (381.0, 952.5)])
def test_ruffles_of_two_and_a_half(line, length):
    # Two sewing pages: a 20 in edge takes 50 in, 15 in 37 1/2, at 2 1/2 to 1.
    assert cut(edging(along=f"M 0 0 H {line}", fullness=2.5, allowance=0)) == pytest.approx(length)


@pytest.mark.parametrize(("fullness", "length"), [(1.0, 1360.0), (1.5, 1960.0)])
def test_round_a_square_mat(fullness, length):
    # 'Sewing Handicraft for Girls': two widths more at each corner; 300 x 300 mm mat, 20 mm edging, joining besides.
    one = edging(along="M 0 0 H 300 V 300 H 0 Z", lies="above", fullness=fullness)
    assert laid(one, setting()).gathers.length == pytest.approx(length)
    assert cut(one) == pytest.approx(length + 2 * 25.4)


@pytest.mark.parametrize(("fullness", "length"), [(1.0, 1068.1), (2.0, 1885.0)])
def test_round_a_round_mat(fullness, length):
    # Computed: R 150, w 20 mm; the outer circle for flat edging, twice the inner for gathered.
    around = "M 150 0 A 150 150 0 0 1 150 300 A 150 150 0 0 1 150 0 Z"
    one = edging(along=around, lies="above", fullness=fullness, allowance=0)
    assert cut(one) == pytest.approx(length, abs=0.06)


def test_quarter_marks_are_told_drawn_and_measured_from_the_cut_end():
    one = edging(along="M 20 200 H 220", fullness=2)
    done = work(one, setting())
    told = figures(one)
    assert told["first quarter mark"] == "edging at 125.4 mm, line at 50 mm"
    assert told["third quarter mark"] == "edging at 325.4 mm, line at 150 mm"
    ticks = [line for line in done.lines if line.role == "trace"]
    assert [t.label for t in ticks] == ["1/4", "2/4", "3/4"]
    assert [t.points[0].tolist() for t in ticks] == [[70, 200], [120, 200], [170, 200]]
    assert all(t.points[1][1] < 200 for t in ticks), "on the cloth, away from the edging"
    (mark,) = [s.text for s in done.steps if s.name == "mark frill"]
    assert "the edging at 225.4 mm, the line at 100 mm" in mark


def test_a_closed_edging_is_marked_from_its_join():
    one = edging(along="round", fullness=2)
    assert figures(one)["first quarter mark"] == "edging at 314.2 mm, line at 157.1 mm"
    assert "from the join that closes it" in next(s.text for s in work(one, setting()).steps if s.name == "mark frill")


@given(st.floats(1, 3), st.floats(60, 270), st.booleans())
def test_marks_divide_line_and_edging(fullness, length, joined):
    one = edging(along=f"M 10 200 h {length}", fullness=fullness, ends="joined" if joined else "hemmed")
    made = laid(one, setting())
    start = 0.0 if joined else one.allowance
    for n, (line, strip) in enumerate(made.marks, start=1):
        assert line == pytest.approx(length * n / 4)
        assert strip == pytest.approx(start + made.gathers.length * n / 4)


def test_round_the_lower_heading_of_scalloped_lace():
    one = edging(along="hem lace/lower", width=10, fullness=1)
    around = {"hem lace/lower": LOWER}
    assert TECHNIQUE.needs(one) == ("hem lace",)
    made = laid(one, setting(**around))
    # Computed: three arcs of R 40 over a chord of 60 mm, lying flat below at (R + w)/R = 1.25.
    arcs = 3 * 2 * 40 * math.asin(30 / 40)
    assert made.gathers.length == pytest.approx(1.25 * arcs)
    assert made.gathers.inward == 2
    assert any("lies over itself" in s.text for s in work(one, setting(**around)).sentences)


def test_on_lace_that_is_shaped_it_is_sewn_while_that_is_done_else_with_the_edges():
    one, around = edging(along="lace/lower"), {"lace/lower": LOWER}
    shaped = replace(setting(**around), shaped=frozenset({"lace"}))
    for where, stage in ((shaped, "shape"), (setting(**around), "edge")):
        assert {s.stage for s in work(one, where).steps} == {"prepare", stage}


def test_points_that_face_outward_have_more_let_in():
    points = LOWER.replace("0 0 0", "0 0 1")
    one = edging(along="lace/lower", width=10)
    made = laid(one, setting(**{"lace/lower": points}))
    turn = 4 * math.degrees(math.atan(2 * (40 - math.sqrt(700)) / 60))
    assert [p.turn for p in made.gathers.points] == pytest.approx([turn, turn])
    told = figures(one, **{"lace/lower": points})
    what = next(k for k in told if k.startswith("let in at 2 outward points"))
    assert told[what].startswith(f"{round(2 * 10 * turn / 90, 1):g} mm")


def test_joins_of_pieces_and_of_a_ring():
    assert figures(edging(along="round", piece=400))["joins"] == "2"
    assert figures(edging(along="round", piece=400))["to cut"] == "2 pieces of 365 mm, 729.9 mm in all"
    assert "joins" not in figures(edging())
    assert figures(edging(ends="joined"))["joins"] == "1"
    assert figures(edging(along="round", ends="hemmed")).get("joins") is None


def test_what_is_bought():
    lace, thread = work(edging(fullness=2), setting()).supplies
    assert (lace.what, lace.unit) == ("lace edging, 20 mm", "mm")
    assert lace.quantity == pytest.approx(520 + 50.8)
    assert thread.what == "sewing thread, 60 wt"


def test_a_heading_without_a_thread_is_gathered_by_two_rows():
    def gathering(**words):
        return next(s.text for s in work(edging(fullness=2, **words), setting()).steps if s.name == "gather frill")

    assert "strongest thread" in gathering()
    assert "two rows" in gathering(pull_thread=False)
    assert not any(s.name == "gather frill" for s in work(edging(), setting()).steps)


def test_it_hangs_away_from_the_cloth():
    (area,) = work(edging(width=15), setting()).areas
    assert area.material == "lace"
    assert area.region.bounds == pytest.approx((20, 200, 280, 215))
    assert work(edging(lies="above", width=15), setting()).areas[0].region.bounds[1] == pytest.approx(185)


def test_others_may_follow_its_outer_edge():
    named = work(edging(width=15), setting()).named
    assert named["outer edge"].at(0).tolist() == [20, 215]


def test_dragging_its_width_handle_down_makes_it_wider():
    handle = next(h for h in work(edging(), setting()).handles if h.name == "width")
    assert handle.at == pytest.approx((85, 220))
    assert handle.along == pytest.approx((0, 1))
