"""Entredeux: the strip it takes, its edges of batiste, corners and joins."""

from dataclasses import replace

import pytest

from festoon.techniques.entredeux import Entredeux, work

from .toy import setting


def entredeux(**words):
    return Entredeux(**{"kind": "entredeux", "name": "it", "along": "hem", **words})


def figures(**words):
    return {f.what: f.value for f in work(entredeux(**words), setting()).figures}


def steps(**words):
    return " ".join(s.text for s in work(entredeux(**words), setting()).steps)


def test_a_straight_line_takes_its_length_and_both_ends_and_more_for_shrinking():
    told = figures(shrink=0.05)
    assert told["to cut"] == "285.4 mm"
    assert told["to buy, before it shrinks"] == "300.4 mm"
    strip, thread = work(entredeux(shrink=0.05), setting()).supplies
    assert strip.what == "entredeux, 2.5 mm of holes"
    assert strip.quantity == pytest.approx(285.4 / 0.95)
    assert thread.quantity == pytest.approx(2 * 260 * 5.985 * 1.15, rel=1e-3), "both edges are sewn"


def test_a_curve_takes_its_longer_edge():
    # Computed: a circle of R 100 with 2.5 mm of holes in its middle: 2π·101.25.
    assert figures(along="round")["strip on the line"] == "636.2 mm"


def test_at_a_square_corner_both_pieces_run_on_to_the_mitre():
    # Computed: 2w·tan(45°) between the edges; with its middle on the line one width more than the line.
    assert figures(along="corner")["strip on the line"] == "402.5 mm"
    assert figures(along="corner")["cut at corners"].startswith("1,")
    assert "At every corner cut it" in steps(along="corner")


def test_what_is_done_with_its_batiste():
    told = steps(upper="rolled", lower="seam")
    assert "Above it, trim its batiste to 3 mm, and roll and whip it" in told
    assert "Below it, leave its batiste as the seam allowance" in told
    assert figures(edge=10)["width with its batiste"] == "22.5 mm"


def test_curves_are_clipped_and_rings_joined_hole_on_hole():
    assert "Clip" in steps(along="round")
    assert "one hole over another" in steps(along="round")
    assert "Clip" not in steps()
    assert "one hole over another" not in steps()


def test_it_lies_with_its_middle_on_the_line_and_lends_both_edges():
    done = work(entredeux(width=3), setting())
    assert done.areas[0].region.bounds == pytest.approx((20, 198.5, 280, 201.5))
    assert done.named["upper"].at(0).tolist() == pytest.approx([20, 198.5])
    assert done.named["lower"].at(0).tolist() == pytest.approx([20, 201.5])


def test_on_lace_that_is_shaped_it_is_sewn_while_that_is_done():
    one, around = entredeux(along="lace/lower"), {"lace/lower": "M 20 200 H 280"}
    shaped = replace(setting(**around), shaped=frozenset({"lace"}))
    assert [s.stage for s in work(one, shaped).steps] == ["prepare", "shape"]
    assert [s.stage for s in work(one, setting(**around)).steps] == ["prepare", "join"]
