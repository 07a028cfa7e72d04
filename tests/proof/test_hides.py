"""Satin against the spacing that the worker measured to hide the cloth."""

import numpy as np
import pytest
from shapely import box

from festoon.hooping import divide
from festoon.layout import lay_out
from festoon.plane import circle, polyline
from festoon.proof.hides import hiding_findings, spacings
from festoon.proof.lines import stitches
from festoon.proof.thickness import thickness
from festoon.stitches.lay import fill, run, satin
from tests.hooping.pieces import RED, motif, piece

LINE = polyline([[-15, 0], [15, 0]])


def proved(cover, *drawn, units="mm"):
    """What is found where these stitchings lie over each other."""
    names = [f"m{k}" for k in range(len(drawn))]
    layout = lay_out(piece(*(motif(n, n) for n in names)), dict(zip(names, drawn, strict=True)).__getitem__)
    division = divide(layout)
    maps = [thickness([h.stitching for h in division.hoopings], "front")]
    return hiding_findings(division, maps, cover, units)


def column(spacing, width=4.0, path=LINE):
    return satin(path, width, spacing, thread=RED)


@pytest.mark.parametrize(
    ("spacing", "told"), [(0.4, False), (0.44, False), (0.46, True), (0.6, True), (0.79, True), (0.83, False)]
)
def test_opener_than_measured(spacing, told):
    """Measured 0.4 mm, and half a step of the file for play; from twice that on it is an open zigzag on purpose."""
    found = proved(0.4, column(spacing))
    assert bool(found) == told
    for one in found:
        assert one.verdict == "look again"
        assert float(one.figure.split()[0]) == pytest.approx(spacing, abs=0.011)
        assert one.limit == "0.4 mm"
        assert "measured" in one.source
        assert one.elements == ("m0",)
        assert abs(one.at[1] - 200) < 2.1


def test_what_was_not_measured_is_not_judged():
    assert proved(None, column(0.9)) == ()


def test_a_closing_fill_or_satin_under_it_hides_the_cloth():
    closed = fill(box(-16, -4, 16, 4), angle=10, row=0.2, thread=RED)
    assert proved(0.4, closed, column(0.6)) == ()
    assert proved(0.4, column(0.6), column(0.4, path=polyline([[-15, 0.05], [15, 0.05]]))) == ()


def test_its_own_underlay_does_not():
    assert proved(0.4, satin(LINE, 4.0, 0.6, thread=RED, underlay="edge")) != ()


def test_running_stitches_are_no_satin():
    assert proved(0.1, run(LINE, 2.0, thread=RED)) == ()


def test_the_most_open_part_stands_first():
    found = proved(0.4, column(0.5, path=polyline([[-15, -6], [15, -6]])), column(0.7))
    assert [f.elements for f in found] == [("m1",), ("m0",)]


@pytest.mark.parametrize("spacing", [0.4, 0.5])
def test_spacings_are_those_of_the_middle_where_a_column_turns(spacing):
    """On a ring of 10 mm radius 4 mm wide the outer side has `spacing`, the middle 10 twelfths of it (computed)."""
    ring = column(spacing, path=circle((0, 0), 10))
    layout = lay_out(piece(motif("m", "ring")), lambda _: ring)
    _, found = spacings(stitches(divide(layout))[0])
    assert len(found) > 100
    assert float(np.median(found)) == pytest.approx(spacing * 10 / 12, rel=0.03)


def test_inches():
    (one,) = proved(0.4, column(0.6), units="inch")
    assert (one.figure, one.limit) == ("0.024 in from hole to hole on one side", "0.016 in")
    assert " mm" not in one.where
