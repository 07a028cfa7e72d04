"""Advice on crosses: the best of all that could be done, by trying all, and as good as it is told."""

from dataclasses import replace

import numpy as np
import pytest
from shapely import Point, union_all

from festoon.hooping import divide
from festoon.hooping.values import Division, Mark
from festoon.layout import lay_out
from festoon.piece import read_piece
from festoon.piece.start import new_piece
from festoon.proof import MarkAdvice
from festoon.proof.mark_advice import WORTH, mark_advice
from festoon.proof.meeting import meetings
from festoon.proof.told import advice_told
from festoon.registration import PlacingModel, placing_model
from tests.proof.toy import LEFT, ONLY_CROSSES, RIGHT, boxed, hooping, layout

FIRST, SECOND = boxed("a", 110, 80, 150.1, 120), boxed("b", 149.9, 80, 190, 120)


def crossed(number, middle, block, spots):
    """A hooping with crosses at these places, named by them, so that equal places are one cross."""
    return replace(
        hooping(number, middle, block), marks=tuple(Mark(f"{x} {y}", (float(x), float(y))) for x, y in spots)
    )


def pair(first, second):
    return Division((crossed(1, LEFT, FIRST, first), crossed(2, RIGHT, SECOND, second)), 2, True, "", ())


CORNERS = [(50, 50), (150, 50), (50, 150), (150, 150)], [(150, 50), (250, 50), (150, 150), (250, 150)]
PAIRS = [
    pytest.param(([(60, 60), (100, 60)], [(210, 140), (240, 140)]), id="two crosses each, apart"),
    pytest.param(([(150, 50), (60, 60), (100, 60)], [(150, 50), (210, 50), (240, 140)]), id="one shared"),
    pytest.param(([(50, 50), (50, 80), (80, 50), (80, 80)], CORNERS[1]), id="four each, one set of them poor"),
]


def changed(division, advice):
    """The division with the advice followed: a cross moved wherever it is used, or added to one hooping."""
    there = Mark(advice.onto or "new", advice.to)

    def marks(h):
        if h.panel != advice.panel:
            return h.marks
        if advice.mark is None:
            return (*h.marks, there) if h.number == advice.hooping else h.marks
        return tuple(there if m.name == advice.mark else m for m in h.marks)

    return replace(division, hoopings=tuple(replace(h, marks=marks(h)) for h in division.hoopings))


def worst(division, laid, model, panel="front", users=None):
    """The worst spread of all meetings that these hoopings take part in; of all where none are named."""
    met = [m for m in meetings(division, model, laid) if m.panel == panel]
    return max(m.across_sd for m in met if users is None or m.first in users or m.second in users)


def users(division, advice):
    return {
        h.number
        for h in division.hoopings
        if h.panel == advice.panel
        and (h.number == advice.hooping if advice.mark is None else advice.mark in {m.name for m in h.marks})
    }


def allowed(h, division, mark):
    """Whole tens in the field, 3 mm clear of all stitching, the crosses' distances kept: the rules, written out."""
    sewn = union_all([b.region for g in division.hoopings for b in g.blocks])
    others = [m.at for g in division.hoopings for m in g.marks if m.name != mark]
    own = [m.at for m in h.marks if m.name != mark]
    x, y = h.field.shift
    for u in np.arange(x - 50, x + 51, 10):
        for v in np.arange(y - 50, y + 51, 10):
            gaps = [np.hypot(u - p, v - q) for p, q in others]
            if (
                sewn.distance(Point(u, v)) >= 3
                and all(g == 0 or g >= 10 for g in gaps)
                and all(np.hypot(u - p, v - q) >= 25 for p, q in own)
            ):
                yield float(u), float(v)


def every_change(division, added):
    """All moves of one cross, or all crosses that could be added, as advice without figures."""
    for h in division.hoopings:
        if added and len(h.marks) < 4:
            yield from (MarkAdvice("front", h.number, None, to, 0, 0) for to in allowed(h, division, None))
        for mark in () if added else [m.name for m in h.marks]:
            using = [g for g in division.hoopings if mark in {m.name for m in g.marks}]
            common = set.intersection(*(set(allowed(g, division, mark)) for g in using))
            yield from (MarkAdvice("front", h.number, mark, to, 0, 0) for to in sorted(common))


@pytest.mark.parametrize("spots", PAIRS)
def test_nothing_that_could_be_done_is_better(spots):
    division, model = pair(*spots), PlacingModel()
    before = worst(division, layout(), model)
    advice = mark_advice(layout(), division, meetings(division, model, layout()), model)
    for added in (False, True):
        tried = [worst(changed(division, a), layout(), model) for a in every_change(division, added)]
        best = min(tried, default=before)
        given = [a for a in advice if (a.mark is None) == added]
        assert bool(given) == (best <= (1 - WORTH) * before)
        for a in given:
            assert (a.before, a.after) == pytest.approx((before, best), rel=1e-9)
            assert worst(changed(division, a), layout(), model) == pytest.approx(best, rel=1e-9)
    assert advice  # each of these pairs can be bettered


def test_a_good_cross_taken_away_is_asked_for_again():
    """One of two shared corners is gone from the first hooping: a fourth cross comes back, as good or better."""
    whole = pair(*CORNERS)
    lacking = pair([p for p in CORNERS[0] if p != (150, 150)], CORNERS[1])
    given = mark_advice(layout(), lacking, meetings(lacking, PlacingModel(), layout()), PlacingModel())
    (added,) = [a for a in given if a.mark is None]
    assert added.hooping == 1
    assert added.after <= worst(whole, layout(), PlacingModel()) * (1 + 1e-9)
    assert worst(changed(lacking, added), layout(), PlacingModel()) == pytest.approx(added.after, rel=1e-9)


def test_a_cross_of_the_neighbour_is_named():
    """Where drawing errs most, sharing a cross is best: the cross that stands there is told."""
    model = replace(ONLY_CROSSES, marking=2.0, reading=0.01)
    lacking = pair([p for p in CORNERS[0] if p != (150, 150)], CORNERS[1])
    given = mark_advice(layout(), lacking, meetings(lacking, model, layout()), model)
    (added,) = [a for a in given if a.mark is None]
    assert (added.to, added.onto) == ((150, 150), "150 150")
    assert advice_told(added, "mm").startswith("Hooping 1: use cross 150 150 as well: the least sure meeting there ")


def test_a_cross_does_not_run_into_another():
    """The second's cross at (150, 150) would be best, but 7 mm from it stands one of a third hooping, elsewhere."""
    model = replace(ONLY_CROSSES, marking=2.0, reading=0.01)
    two = pair([p for p in CORNERS[0] if p != (150, 150)], CORNERS[1])
    third = crossed(3, (180.0, 250.0), boxed("c", 170, 240, 190, 260), [(155, 155), (200, 300)])
    for division, free in ((two, True), (replace(two, hoopings=(*two.hoopings, third)), False)):
        given = mark_advice(layout(), division, meetings(division, model, layout()), model)
        assert ((150, 150) in {a.to for a in given}) == free


@pytest.fixture(scope="module")
def starter(tmp_path_factory):
    """The starting piece: a ring of eight hoopings."""
    folder = tmp_path_factory.mktemp("starter") / "p"
    new_piece(folder)
    laid = lay_out(read_piece(folder))
    return laid, divide(laid)


@pytest.mark.parametrize("kept", [[0, 1], [0, 1, 2], [1, 2, 3]])
def test_the_figures_are_those_of_the_changed_division(starter, kept):
    laid, whole = starter
    model = placing_model(laid.piece.bench.measured)
    fewer = tuple(replace(h, marks=tuple(h.marks[k] for k in kept if k < len(h.marks))) for h in whole.hoopings)
    division = replace(whole, hoopings=fewer)
    given = mark_advice(laid, division, meetings(division, model, laid), model)
    assert given
    assert len({a.mark is None for a in given}) == len(given)
    for a in given:
        assert a.before == pytest.approx(worst(division, laid, model), rel=1e-9)
        assert a.after == pytest.approx(worst(changed(division, a), laid, model, users=users(division, a)), rel=1e-9)
        assert a.after <= (1 - WORTH) * a.before


def test_a_small_gain_is_not_told():
    division = pair(*CORNERS)
    met = meetings(division, PlacingModel(), layout())
    assert mark_advice(layout(), division, met, PlacingModel()) == ()


def test_hoopings_that_were_trued_keep_their_crosses():
    spots = [(60, 60), (100, 60)], [(210, 140), (240, 140)]
    division, model = pair(*spots), PlacingModel()
    trued = {1: [m.name for m in division.hoopings[0].marks]}
    met = meetings(division, model, layout(), trued)
    given = mark_advice(layout(), division, met, model, trued)
    assert {a.hooping for a in given} == {2}
    for a in given:
        (after,) = meetings(changed(division, a), model, layout(), trued)
        assert after.across_sd == pytest.approx(a.after, rel=1e-9)
    both = trued | {2: [m.name for m in division.hoopings[1].marks]}
    assert mark_advice(layout(), division, meetings(division, model, layout(), both), model, both) == ()


def test_a_cross_that_a_trued_hooping_uses_stays():
    division, model = pair(*PAIRS[1].values[0]), PlacingModel()
    trued = {1: [m.name for m in division.hoopings[0].marks]}
    given = mark_advice(layout(), division, meetings(division, model, layout(), trued), model, trued)
    assert given
    assert "150 50" not in {a.mark for a in given}


MOVE = MarkAdvice("front", 3, "C", (120.0, 85.0), 0.714, 0.612)


@pytest.mark.parametrize(
    ("advice", "units", "told"),
    [
        (MOVE, "mm", "Hooping 3: move cross C to 120 mm from the left, 85 mm from the top: "),
        (replace(MOVE, mark=None), "mm", "Hooping 3: add a cross at 120 mm from the left, 85 mm from the top: "),
        (replace(MOVE, to=(127.0, 50.8)), "inch", "Hooping 3: move cross C to 5 in from the left, 2 in from the top: "),
        (replace(MOVE, onto="F"), "mm", "Hooping 3: use cross F instead of C: "),
    ],
)
def test_advice_in_words(advice, units, told):
    within = ("±1.2 mm", "±1.4 mm") if units == "mm" else ("±0.047 in", "±0.055 in")
    assert advice_told(advice, units) == (
        f"{told}the least sure meeting there is then predicted within {within[0]} rather than {within[1]}, 95 times "
        "in 100."
    )
