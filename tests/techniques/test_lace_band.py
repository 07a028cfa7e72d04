"""A lace band at work: its lines, what others may follow, its handles."""

import numpy as np
import pytest
import shapely

from festoon.techniques.lace_band import BEGINNINGS, TECHNIQUE
from festoon.techniques.lace_words import LaceBand

from .lace_toy import HEM, lace, laid, on
from .toy import setting


@pytest.mark.parametrize("shape", ["scallops", "pointed ovals", "vees", "loops"])
@pytest.mark.parametrize("rounds", ["below", "above"])
def test_handles_move_as_their_words_grow(shape, rounds):
    words = {"shape": shape, "rounds": rounds, "width": 5, "rise": 40, "across": 30, "up": 20}
    before = {h.field: h for h in on(lace(**words)).handles}
    for word in ("up", "rise"):
        by = {**words, word: words[word] + 2}
        after = {h.field: h for h in on(lace(**by)).handles}
        moved = np.subtract(after[word].at, before[word].at)
        assert moved @ np.array(before[word].along) == pytest.approx(2)
    assert before["repeat"].along == pytest.approx((1, 0))


def test_it_needs_the_element_whose_line_it_follows():
    assert TECHNIQUE.needs(lace(along="other lace/lower")) == ("other lace",)


@pytest.mark.parametrize(
    ("words", "names"),
    [
        ({}, {"lower", "upper"}),
        ({"shape": "scallops", "lies": "below"}, {"lower", "upper"}),
        ({"shape": "pointed ovals", "behind": True}, {"lower", "upper"}),
        ({"shape": "diamonds", "each": True, "repeat": 550, "rise": 100}, {"diamond 1", "diamond 2"}),
    ],
)
def test_lines_that_others_may_follow(words, names):
    done = on(lace(width=8, **words))
    assert set(done.named) == names
    if "lower" in names:
        lace_ = shapely.union_all([a.region for a in done.areas]).bounds
        ys = {name: path.flatten()[:, 1] for name, path in done.named.items()}
        assert max(ys["lower"]) == pytest.approx(lace_[3], abs=0.02)
        assert min(ys["upper"]) == pytest.approx(lace_[1], abs=0.02)


def test_an_edging_follows_a_bands_lower_heading_from_left_to_right():
    for shape in ("along", "scallops", "pointed ovals", "vees"):
        lower = on(lace(shape=shape, width=8)).named["lower"]
        assert lower.start[0] < 60
        assert lower.end[0] > 1140


def test_the_cloth_is_cut_behind_the_lace_and_nowhere_else():
    done = on(lace(shape="pointed ovals", width=8))
    lace_ = shapely.union_all([a.region for a in done.areas])
    trims = [line.points for line in done.lines if line.role == "trim"]
    assert trims
    for points in trims:
        assert shapely.contains_xy(lace_, points).all()
        assert shapely.distance(shapely.points(points), lace_.boundary).min() > 1.9


@pytest.mark.parametrize("begins", BEGINNINGS, ids=lambda b: b.told)
def test_every_beginning_is_sound_as_it_begins(begins):
    element = LaceBand(kind="lace band", name="it", **begins.example)
    done = TECHNIQUE.work(element, setting(size=(80, 40)))
    assert done.findings == ()
    assert done.areas
    on_hem = LaceBand(kind="lace band", name="it", along="hem", **begins.words)
    assert TECHNIQUE.work(on_hem, setting(size=(1200, 400), hem=HEM)).findings == ()


def test_pins_on_the_panel_are_those_of_the_points():
    done = on(lace(shape="scallops", width=8))
    mitres = [m for strip in laid(lace(shape="scallops", width=8)) for m in strip.laid.mitres]
    assert len(done.pins) == 2 * len(mitres) == 20
    assert np.allclose(sorted(p.at for p in done.pins), sorted(at for m in mitres for at in (m.at, m.over)), atol=1e-3)
