"""A stitching in figures."""

import pytest

from festoon.stitches import Act, Stitching, Thread, describe, empty
from tests.stitches.making import LETTER_F


def test_the_letter_f() -> None:
    d = describe(LETTER_F)
    assert (d.width, d.height, d.stitches) == (10, 16, 7)
    assert d.threads == ((Thread("#c8412f"), 5), (Thread("#2b5fc8"), 2))
    assert (d.trims, d.stops, d.changes) == (1, 0, 1)
    assert d.longest == 8
    assert d.mean == pytest.approx((8 + 8 + 5 + 5 + 6) / 5)


def test_stops_and_nothing() -> None:
    s = Stitching([[0, 0], [0, 0]], [0, Act.STOP], [0, 0], (Thread(),))
    assert describe(s).stops == 1
    none = describe(empty())
    assert (none.width, none.stitches, none.threads, none.changes, none.longest, none.mean) == (0, 0, (), 0, 0, 0)
