"""What readings teach: the update of a cross's error by its formula and by simulation, and what it changes ahead."""

import math
from dataclasses import replace

import numpy as np
import pytest

from festoon.hooping import Division
from festoon.plane.pose import Pose
from festoon.registration.model import PlacingModel
from festoon.truing import true_hooping
from festoon.truing.judge import FINEST
from festoon.truing.learn import PRIOR_READINGS, learned, learned_model, outlook
from festoon.truing.record import truing_record
from tests.proof.toy import LEFT, RIGHT, boxed, hooping, layout
from tests.truing.toy import CORNERS, model, moved, toy

BENCH = PlacingModel()


def read(residual=None, number=3, verdict="sound", names="ABCD", of=None):
    """The record of a toy hooping, its residual and verdict set."""
    of = of or toy()
    readings = {m.name: (0.0, 0.0) for m in of.marks if not names or m.name in names}
    one = truing_record(true_hooping(of, readings, model=model(0.64)), of, "x.dst")
    return one.model_copy(update={"number": number, "residual": residual or 0.0, "verdict": verdict})


def test_nothing_read_changes_nothing():
    assert learned_model(BENCH, []) == BENCH
    assert learned(BENCH, Division((toy(),), 1, True, "", ()), [], "mm") is None


def test_the_update_by_its_formula():
    """Two hoopings of four and three crosses: 5 and 3 degrees of freedom beside those of the prior (computed)."""
    before = math.hypot(0.5, 0.4)
    squares = 4 * 0.3**2 + 3 * 0.2**2
    variance = (PRIOR_READINGS * before**2 / 2 + squares) / (PRIOR_READINGS + 8)
    now = learned_model(BENCH, [read(0.3), read(0.2, 4, names="ABC")])
    assert now.trued.cross == pytest.approx(math.sqrt(2 * variance))
    assert now.marking / now.reading == pytest.approx(0.5 / 0.4)
    assert (now.seating, now.shift, now.turn) == (BENCH.seating, BENCH.shift, BENCH.turn)
    assert [p.name for p in now.parts if p.measured] == [
        "drawing a cross, root mean square",
        "setting the needle over a cross, root mean square",
    ]
    assert now.parts[0].source == "common practice, and readings after hooping"


def test_readings_as_expected_change_nothing():
    """Four crosses leave (1 - 3/8) of a cross's mean square: then the figure stays."""
    as_expected = BENCH.trued.cross * math.sqrt(1 - 3 / 8)
    now = learned_model(BENCH, [read(as_expected)] * 20)
    assert now.trued.cross == pytest.approx(BENCH.trued.cross)


def test_one_good_hooping_does_not_swing_it():
    assert 0.8 < learned_model(BENCH, [read(0.0)]).trued.cross / BENCH.trued.cross < 0.9


def test_many_readings_find_the_true_error():
    """A hand that errs by 0.3 mm, 200 hoopings, seeded: found to 5 %, though 0.64 was assumed."""
    rng, at = np.random.default_rng(7), toy()
    records = []
    for n in range(200):
        off = dict(zip(CORNERS, rng.normal(0, 0.3 / math.sqrt(2), (4, 2)).tolist(), strict=True))
        truing = true_hooping(at, moved(Pose(1, 1, 1), **off), model=model(0.64))
        assert truing.verdict == "sound"
        records.append(truing_record(truing, at, "x.dst").model_copy(update={"number": n}))
    assert learned_model(BENCH, records).trued.cross == pytest.approx(0.3, rel=0.05)


def test_stretched_cloth_teaches_nothing_of_the_hand():
    assert learned_model(BENCH, [read(1.0, verdict="stretched")]) == BENCH


def test_it_never_says_finer_than_can_be_read():
    exact = PlacingModel(marking=0.0, reading=0.0)
    now = learned_model(exact, [read(0.0)] * 50)
    assert now.trued.cross == pytest.approx(FINEST)
    assert learned_model(BENCH, [read(0.0)] * 5000).trued.cross == pytest.approx(FINEST)


def row(first=LEFT, second=RIGHT):
    """Two hoopings that meet at (150, 100), and their layout."""
    a, b = boxed("a", 110, 80, 151, 120), boxed("b", 150, 80, 190, 120)
    return layout(), Division((hooping(1, first, a), hooping(2, second, b)), 2, True, "", ())


def test_a_hooping_that_was_trued_errs_by_its_crosses_alone():
    laid, division = row()
    one = read(BENCH.trued.cross * math.sqrt(1 - 3 / 8), 1, names="", of=division.hoopings[0])
    found = learned(BENCH, division, [one], "mm")
    assert found.trued == {1: {m.name for m in division.hoopings[0].marks}}
    (ahead,) = outlook(laid, division, BENCH, found)
    assert ahead.number == 2
    assert ahead.expected.now == pytest.approx(ahead.expected.before, abs=2e-3)  # the residual is rounded
    assert ahead.across.now < ahead.across.before
    less = replace(BENCH, shift=0.0, turn=0.0, seating=0.0)
    assert ahead.across.now**2 > outlook(laid, division, less, replace(found, model=less))[0].across.now ** 2


def test_after_the_last_nothing_is_ahead():
    laid, division = row()
    last = read(0.1, 2, names="", of=division.hoopings[1])
    assert outlook(laid, division, BENCH, learned(BENCH, division, [last], "mm")) == ()


def test_hoopings_that_meet_nothing_have_no_across():
    laid, division = row()
    apart = Division((division.hoopings[0], hooping(2, (400.0, 100.0), boxed("c", 380, 80, 420, 120))), 2, True, "", ())
    one = read(0.1, 1, names="", of=division.hoopings[0])
    assert [o.across for o in outlook(laid, apart, BENCH, learned(BENCH, apart, [one], "mm"))] == [None]


def test_a_piece_made_anew_forgets_where_hoopings_lay_but_not_the_hand():
    """Its crosses stand elsewhere now, so the hooping counts as not yet trued."""
    laid, division = row()
    one = read(0.1, 1, names="", of=division.hoopings[0])
    _, elsewhere = row(first=(100.0, 101.0))
    found = learned(BENCH, elsewhere, [one], "mm")
    assert found.trued == {}
    assert found.model == learned(BENCH, division, [one], "mm").model != BENCH
    assert found.told == (
        "By 4 readings after hooping (of hooping 1) a cross, drawn and read, is reckoned to err by 0.54 mm, before by "
        "0.64 mm (root mean square)."
    )
    assert [o.number for o in outlook(laid, elsewhere, BENCH, found)] == [1, 2]


def test_all_is_told_in_a_sentence_each():
    _, division = row()
    both = [read(0.1, n, names="", of=division.hoopings[n - 1]) for n in (1, 2)]
    told = learned(BENCH, division, both, "inch").told
    assert told.startswith(
        "By 8 readings after hooping (of hoopings 1 and 2) a cross, drawn and read, is reckoned to err"
    )
    assert "before by 0.025 in" in told
    assert told.endswith("Hoopings 1 and 2 count as lying where their crosses were read.")
    stretched = both[0].model_copy(update={"verdict": "stretched"})
    assert learned(BENCH, division, [stretched], "mm").told == "Hooping 1 counts as lying where its crosses were read."
