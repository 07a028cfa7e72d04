"""Stabiliser to cut."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.supplies.assumed import STABILISER_OVERLAP
from festoon.supplies.stabiliser import stabiliser


def test_one_layer_under_a_common_hoop() -> None:
    """Computed: inner hoop 150 × 200 is cut 190 × 240; from a 305 mm roll 190 mm of it a layer."""
    under = stabiliser("tear-away", [(150, 200)], 305)
    (piece,) = under.pieces
    assert (piece.size, piece.count, piece.across, piece.length) == ((190, 240), 1, 240, 190)
    assert under.metres == pytest.approx(0.190)
    assert under.findings == ()


def test_layers_and_hoopings() -> None:
    """Three hoopings of two layers: six pieces of 190 mm of roll."""
    (piece,) = stabiliser("tear-away", [(150, 200)] * 3, 305, layers=2).pieces
    assert (piece.count, piece.layers, piece.length) == (6, 2, 6 * 190)


def test_two_beside_each_other() -> None:
    """140 × 190 mm from 305 mm: two across the roll; five take three rows of 190, less than five of 140."""
    (piece,) = stabiliser("mesh", [(100, 150)] * 5, 305).pieces
    assert (piece.across, piece.length) == (140, 3 * 190)


def test_the_turned_way_where_it_takes_less() -> None:
    """One piece of 140 × 190 is laid across 190: 140 mm of roll and not 190."""
    (piece,) = stabiliser("mesh", [(100, 150)], 305).pieces
    assert (piece.across, piece.length) == (190, 140)


def test_a_piece_as_wide_as_the_roll_fits() -> None:
    (piece,) = stabiliser("mesh", [(264.8, 300)], 304.8).pieces
    assert (piece.across, piece.widths) == (304.8, 1)


def test_two_that_fill_the_roll_lie_beside_each_other() -> None:
    """Two pieces of 6 in fill a roll of 12 in."""
    (piece,) = stabiliser("mesh", [(112.4, 300)] * 2, 304.8).pieces
    assert (piece.across, piece.length) == (152.4, 340)


def test_sizes_apart() -> None:
    under = stabiliser("mesh", [(150, 200), (80, 80), (150, 200)], 305)
    assert [(p.size, p.count) for p in under.pieces] == [((190, 240), 2), ((120, 120), 1)]
    assert under.metres == pytest.approx((2 * 190 + 120) / 1000)


def test_a_piece_wider_than_the_roll() -> None:
    """400 × 500 mm of two strips 305 wide: 590 mm with the overlap, so two of 400 mm do across the 500."""
    under = stabiliser("tear-away", [(360, 460)], 305)
    (piece,), (finding,) = under.pieces, under.findings
    assert (piece.across, piece.widths, piece.length) == (500, 2, 2 * 400)
    assert finding.verdict == "look again"
    assert finding.reason == "A piece of 400 mm by 500 mm is wider than the roll of 305 mm."
    assert finding.remedy == "Make it of 2 widths side by side, overlapped by 20 mm, or buy a wider roll."


SIDE = st.floats(40, 900)


@given(st.lists(st.tuples(SIDE, SIDE), min_size=1, max_size=6), st.floats(100, 600), st.integers(1, 3))
def test_every_piece_is_there_and_the_roll_is_long_enough(
    hoops: list[tuple[float, float]], roll: float, layers: int
) -> None:
    under = stabiliser("mesh", hoops, roll, layers)
    assert sum(p.count for p in under.pieces) == layers * len(hoops)
    for piece in under.pieces:
        assert piece.across in piece.size
        covered = piece.widths * roll - (piece.widths - 1) * STABILISER_OVERLAP.value
        assert covered >= piece.across - 1e-6
        assert piece.length * roll >= piece.count * piece.size[0] * piece.size[1] - 1e-3
    assert len(under.findings) == sum(p.widths > 1 for p in under.pieces)
    assert all((p.widths > 1) == (min(p.size) > roll + 1e-6) for p in under.pieces)
    assert under.metres == pytest.approx(sum(p.length for p in under.pieces) / 1000)


@given(SIDE, SIDE, st.integers(1, 9))
def test_turning_the_hoop_changes_nothing(width: float, height: float, hoopings: int) -> None:
    upright = stabiliser("mesh", [(width, height)] * hoopings, 305)
    turned = stabiliser("mesh", [(height, width)] * hoopings, 305)
    assert upright.metres == turned.metres
