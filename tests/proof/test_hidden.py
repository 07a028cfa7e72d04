"""What lies hidden under other stitching, on maps made up for it."""

import numpy as np
import pytest

from festoon.proof.heap import Place
from festoon.proof.hidden import hidden
from tests.proof.test_heap import flat

SIDE = 24


def even(layers, holes=1):
    return flat(np.full((SIDE, SIDE), layers), np.full((SIDE, SIDE), holes))


def place(rule="layers"):
    """The middle 4 x 4 cells of the map, which begins at (100, 50) mm; the heap begins at that very cell."""
    cells = np.argwhere(np.ones((4, 4))) + 10
    return Place(cells, (12, 12), rule, 1.2, False)


def found(*maps, rule="layers", limit=3.0):
    return hidden(maps, place(rule), (200, 400), limit)


@pytest.mark.parametrize(("upper", "hides"), [(0.79, False), (0.81, True)])
def test_stitching_hides_what_lies_beneath_where_it_closes(upper, hides):
    """0.8 layers: satin half a millimetre from hole to hole has 0.78 (computed), and thread lies flat (chosen)."""
    told = found(even(3.0), even(upper))
    assert (told is not None) == hides
    if told:
        assert told.which == (0,)
        assert told.left == pytest.approx(upper, abs=1e-6)
        assert told.stitches == 12 * 12  # 4 cells and half a square of 2 mm round them, one hole each


def test_only_as_much_is_left_out_as_is_needed():
    assert found(even(1.0), even(1.0), even(1.0), even(1.5), limit=3.6).which == (0,)
    assert found(even(1.0), even(1.0), even(1.0), even(1.5), limit=3.0).which == (0, 1)
    assert found(even(1.0), even(1.0), even(1.0), even(1.5), limit=1.0).which == (0, 1, 2)


def test_the_uppermost_is_never_hidden():
    assert found(even(5.0)) is None
    assert found(even(0.0, 0), even(5.0)) is None


@pytest.mark.parametrize(("closed_to", "hides"), [(15, True), (14, False)])
def test_what_peeps_out_is_not_hidden(closed_to, hides):
    """Nine tenths of the thread must lie covered (chosen). Of the 12 columns of cells that count, 6 to 17, the upper
    stitching closes over those before `closed_to` and, seen over 1 mm, over two more: one or two lie bare.
    """
    over = np.zeros((SIDE, SIDE))
    over[:, :closed_to] = 4.0
    assert (found(even(3.0), flat(over)) is not None) == hides


def test_holes_are_told_in_their_own_unit():
    """Two holes a cell of 0.25 mm are 3200 per cm2, one is 1600 (computed)."""
    told = found(even(1.0, 1), even(1.0, 1), rule="holes", limit=750.0)
    assert told.left == pytest.approx(1600)


def test_maps_of_other_sizes_lie_where_they_lie():
    small = flat(np.full((8, 8), 4.0), np.ones((8, 8)), origin=(100 + 8 * 0.25, 50 + 8 * 0.25))
    told = found(small, even(1.0))
    assert told.which == (0,)
    assert told.stitches == 8 * 8
