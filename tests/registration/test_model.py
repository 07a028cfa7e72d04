"""The parts of the placing error: named, sourced, and replaced one by one by what was measured."""

import math

import pytest

from festoon.piece.bench import Measured
from festoon.registration.model import PlacingModel, placing_model

NAMES = ("marking", "reading", "seating", "shift", "turn", "drawn_along", "drawn_across")


def test_the_rules_of_thumb():  # common practice
    model = placing_model(Measured())
    assert [getattr(model, n) for n in NAMES] == [0.5, 0.4, 0.2, 0.3, 0.15, 0.01, 0.003]
    assert {p.basis for p in model.parts} == {"assumed"}
    assert all(p.source == "common practice" for p in model.parts)


@pytest.mark.parametrize("name", NAMES)
def test_what_was_measured_takes_the_place_of_its_rule_alone(name):
    model = placing_model(Measured(**{name: 0.07}))
    assert getattr(model, name) == 0.07
    others = [n for n in NAMES if n != name]
    assert [getattr(model, n) for n in others] == [getattr(PlacingModel(), n) for n in others]
    told = dict(zip(NAMES, model.parts, strict=True))
    assert (told[name].value, told[name].basis, told[name].source) == (0.07, "measured", "the bench file")
    assert {told[n].basis for n in others} == {"assumed"}


def test_a_measured_nought_counts_as_measured():
    assert placing_model(Measured(shift=0)).shift == 0.0


@pytest.mark.parametrize("value", [-0.1, math.nan, math.inf])
@pytest.mark.parametrize("name", NAMES)
def test_impossible_errors_are_refused(name, value):
    with pytest.raises(ValueError, match=name):
        PlacingModel(**{name: value})


def test_one_cross_errs_by_its_three_parts_together():
    """0.5, 0.4 and 0.2 mm come to 0.671 mm: the root of the sum of their squares (computed)."""
    assert placing_model(Measured()).cross == pytest.approx(0.6708, abs=1e-4)
    assert placing_model(Measured(marking=0.3, reading=0.0, seating=0.4)).cross == pytest.approx(0.5)


def test_what_is_left_where_the_crosses_were_read_after_hooping():
    left = placing_model(Measured(marking=0.3)).trued
    assert [getattr(left, n) for n in NAMES] == [0.3, 0.4, 0.0, 0.0, 0.0, 0.01, 0.003]
    assert left.cross == pytest.approx(0.5)


def test_what_readings_changed_says_so():
    told = dict(
        zip(NAMES, PlacingModel(measured=frozenset({"reading"}), learned=frozenset(NAMES[:2])).parts, strict=True)
    )
    assert (told["marking"].basis, told["marking"].source) == (
        "measured",
        "common practice, and readings after hooping",
    )
    assert told["reading"].source == "the bench file, and readings after hooping"
    assert (told["seating"].basis, told["seating"].source) == ("assumed", "common practice")
