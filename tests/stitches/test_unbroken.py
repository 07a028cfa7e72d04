"""Several pieces sewn as one run: nothing left out, no cut, ways between them underneath."""

import numpy as np
import pytest

from festoon.errors import PieceError
from festoon.plane import polyline
from festoon.stitches import Thread, from_points
from festoon.stitches.lay import run, unbroken
from festoon.stitches.lay.unbroken import NEAREST, TRAVEL

RED = Thread("#aa2222")


def row(y, x0=0.0, x1=20.0):
    return run(polyline([(x0, y), (x1, y)]), 2.0, thread=RED)


def test_one_run_with_every_hole_in_order():
    sewn = unbroken([row(0), row(10, 20.0, 0.0)])
    assert len(sewn.runs()) == 1
    given = {tuple(p) for piece in (row(0), row(10, 20.0, 0.0)) for p in piece.points.tolist()}
    assert given <= {tuple(p) for p in sewn.points.tolist()}


def test_the_way_between_is_sewn_in_steps():
    sewn = unbroken([row(0), row(10, 20.0, 0.0)]).points
    way = sewn[(sewn[:, 1] > 0) & (sewn[:, 1] < 10)]
    assert len(way) == np.ceil(10 / TRAVEL) - 1
    assert way[:, 0] == pytest.approx(20.0)


def test_holes_on_top_of_one_another_are_left_out():
    near = from_points([[0, 0], [0.2, 0], [2, 0], [2.1, 0]], RED)
    sewn = unbroken([near])
    first, last = sewn.points[0], sewn.points[-1]
    assert first.tolist() == [0, 0]
    assert last.tolist() == [2.1, 0]
    assert [0.2, 0] not in sewn.points.tolist()
    assert NEAREST > 0.2


def test_without_a_piece_it_is_told():
    with pytest.raises(PieceError, match="nothing to sew"):
        unbroken([])
