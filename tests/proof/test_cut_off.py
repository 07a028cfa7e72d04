"""Stitching past the line where a garment's piece is cut, or in its allowance."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, box

from festoon.hooping import divide
from festoon.layout import Layout
from festoon.piece import Panel
from festoon.proof.cut_off import PAST, cut_off_findings
from festoon.proof.prove import prove
from festoon.stitches import Thread, from_points
from festoon.work import Finding, Part, Work
from festoon.work.values import Line
from tests.hooping.pieces import piece

CIRCLE = {"circle": {"diameter": 200}, "seam": 10, "size": (300, 300)}
"""Finished from 50 to 250 mm across the middle, cut from 40 to 260."""


def sewn(left: float, top: float, right: float, bottom: float, units: str = "mm", **words: Any) -> tuple[Finding, ...]:
    """What is found of a rectangle stitched on a panel."""
    return cut_off_findings(laid(box(left, top, right, bottom), units, **words))


def laid(region: Polygon, units: str = "mm", **words: Any) -> Layout:
    """One part on a panel of these words."""
    own = piece(units=units)
    file = own.file.model_copy(update={"panel": (Panel(name="front", **(words or CIRCLE)),)})
    part = Part("sprig", "sprig", "front", from_points(region.exterior.coords, Thread()), region)
    return Layout(replace(own, file=file), (Work("sprig", "front", parts=(part,)),))


def test_inside_the_seam_line_nothing_is_told() -> None:
    assert sewn(120, 120, 180, 180) == ()
    assert sewn(50 + 1, 149, 100, 151) == ()
    assert sewn(50 - PAST.value + 0.02, 149.9, 100, 150.1) == (), "a pencil line's width is let pass"


def test_in_the_allowance_it_is_to_be_looked_at_again() -> None:
    (found,) = sewn(44, 149.99, 100, 150.01)
    assert found.verdict == "look again"
    assert found.rule == "in the seam"
    assert found.figure == "6 mm past the seam line"
    assert found.at == pytest.approx((44, 150), abs=0.02)
    assert found.remedy.startswith("Move it 6 mm to the right, or make it smaller")
    assert found.elements == ("sprig",)


def test_past_the_cut_it_is_cut_through() -> None:
    (found,) = sewn(140, 20, 160, 100)
    assert (found.verdict, found.rule) == ("look again", "past the cut")
    assert found.amount is not None
    assert found.amount.value == pytest.approx(20.4, abs=0.05), "the corner, seen from the middle: √(130² + 10²) - 110"
    assert "cut through" in found.reason


def test_wholly_past_the_cut_nothing_is_left_of_it() -> None:
    (found,) = sewn(2, 2, 30, 30)
    assert found.verdict == "will not work"
    assert "cut away whole" in found.reason
    assert found.remedy.startswith("Move it ")
    assert " to the right and " in found.remedy
    assert found.remedy.endswith(" down.")


def test_a_rectangle_has_its_seam_allowance_inside() -> None:
    (found,) = sewn(5, 100, 60, 150, size=(300, 300), seam=12)
    assert (found.rule, found.figure) == ("in the seam", "7 mm past the seam line")
    assert sewn(5, 100, 60, 150, size=(300, 300), seam=12, fold="left") == ()
    assert sewn(0, 0, 300, 300, size=(300, 300)) == ()


def test_what_is_the_edge_itself_lies_in_no_allowance() -> None:
    """A scalloped edge has a trimming line: cloth beyond it is cut away, whatever was to be turned in there."""
    out = laid(box(44, 149.99, 100, 150.01))
    trimmed = Line("trim", np.array([[44.0, 140.0], [44.0, 160.0]]))
    assert [f.rule for f in cut_off_findings(out)] == ["in the seam"]
    assert cut_off_findings(replace(out, works=(replace(out.works[0], lines=(trimmed,)),))) == ()
    past = laid(box(140, 20, 160, 100))
    (found,) = cut_off_findings(replace(past, works=(replace(past.works[0], lines=(trimmed,)),)))
    assert found.rule == "past the cut"


def test_figures_are_told_in_the_pieces_units() -> None:
    (found,) = sewn(44, 149.99, 100, 150.01, units="inch")
    assert found.figure.endswith(" in past the seam line")
    assert " in to the right" in found.remedy


@given(st.floats(0, 280), st.floats(0, 280))
def test_moved_as_it_is_told_it_is_clear(x: float, y: float) -> None:
    """A small square in a round panel: moved straight back by what is told, its farthest corner comes to the line."""
    found = sewn(x, y, x + 20, y + 20)
    if found and found[0].amount:
        at = found[0].at
        assert at is not None
        radius = 110 if found[0].rule == "past the cut" else 100
        far = ((at[0] - 150) ** 2 + (at[1] - 150) ** 2) ** 0.5
        assert far - radius == pytest.approx(found[0].amount.value, abs=0.07)
    else:
        corners = [(a - 150, b - 150) for a in (x, x + 20) for b in (y, y + 20)]
        assert max((a * a + b * b) ** 0.5 for a, b in corners) <= 100 + PAST.value + 0.02


def test_the_proof_asks_it() -> None:
    layout = laid(box(10, 10, 30, 14))
    assert "past the cut" in {f.rule for f in prove(layout, divide(layout)).findings}
