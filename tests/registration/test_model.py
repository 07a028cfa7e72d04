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
