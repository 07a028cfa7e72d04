"""Averages over 2 mm squares, either side of every limit, and which squares are one place."""

import numpy as np
import pytest

from festoon.proof.cloth import holes_limit
from festoon.proof.heap import Spread, judge, places, spread
from festoon.proof.values import Thickness

CELL = 0.25


def flat(layers, holes=None, origin=(100.0, 50.0)):
    """A map of these layers, with no holes where none are given."""
    layers = np.asarray(layers, np.float32)
    holes = np.zeros(layers.shape, np.int32) if holes is None else np.asarray(holes, np.int32)
    return Thickness("front", CELL, origin, layers * CELL**2, holes, layers)


def judged(layers, holes, cloth=""):
    one = np.ones((1, 1))
    return places(judge(Spread((0, 0), layers * one, holes * one), holes_limit(cloth)), CELL)


@pytest.mark.parametrize(("side", "most"), [(8, 1.0), (12, 1.0), (4, 0.25), (2, 1 / 16)])
def test_a_square_is_2_mm_wide(side, most):
    """One layer over 1 mm fills a quarter of the 4 mm2 (computed)."""
    assert spread(flat(np.ones((side, side)))).layers.max() == pytest.approx(most)


def test_holes_are_counted_over_a_square_centimetre():
    """30 in 4 mm2 are 750 per cm2 (computed)."""
    holes = np.zeros((8, 8))
    holes.flat[:30] = 1
    assert spread(flat(np.zeros((8, 8)), holes)).holes.max() == pytest.approx(750)


@pytest.mark.parametrize(
    ("layers", "verdict"), [(2.99, None), (3.0, None), (3.01, False), (5.99, False), (6.0, False), (6.01, True)]
)
def test_layers(layers, verdict):
    """No more than three (published); twice as many will not work (chosen)."""
    assert [(p.rule, p.stops) for p in judged(layers, 0.0)] == ([] if verdict is None else [("layers", verdict)])


@pytest.mark.parametrize(
    ("cloth", "holes", "verdict"),
    [
        ("linen", 750, None),
        ("linen", 775, False),
        ("linen", 1200, False),
        ("linen", 1225, True),
        ("cotton lawn", 450, None),
        ("cotton lawn", 475, False),
        ("cotton lawn", 750, False),
        ("cotton lawn", 775, True),
    ],
)
def test_holes_by_cloth(cloth, holes, verdict):
    """Three layers of 250 and 400 per cm2 on medium cloth, of 150 and 250 on light (common practice)."""
    found = judged(0.0, float(holes), cloth)
    assert [(p.rule, p.stops) for p in found] == ([] if verdict is None else [("holes", verdict)])


def test_what_stops_is_told_by_the_rule_that_stops_it():
    """5.9 layers are nearer their limit to look again at, but 1300 holes will not work."""
    (place,) = judged(5.9, 1300.0)
    assert (place.rule, place.stops) == ("holes", True)
    (place,) = judged(5.9, 900.0)
    assert (place.rule, place.stops) == ("layers", False)


@pytest.mark.parametrize(("apart", "count"), [(8, 1), (10, 2)])
def test_squares_that_touch_are_one_place(apart, count):
    layers = np.zeros((1, 24))
    layers[0, [2, 2 + apart]] = 4.0
    found = places(judge(Spread((0, 0), layers, 0 * layers), holes_limit("")), CELL)
    assert len(found) == count
    assert sorted(c for p in found for c in p.cells[:, 1].tolist()) == [2, 2 + apart]


def test_reckoning_alone_passes_no_limit():
    assert judged(3.0 + 1e-9, 750.0 + 1e-7) == []
