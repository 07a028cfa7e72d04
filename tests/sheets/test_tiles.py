"""Panels over sheets of paper."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import MeasureError
from festoon.sheets.tiles import MARGIN, OVERLAP, paper_for, paper_named, tile_count, tiling

A4, LETTER = paper_named("A4"), paper_named("Letter")
sides = st.floats(20, 2500)


def everything(_window):
    return True


@pytest.mark.parametrize("paper", [A4, LETTER])
@pytest.mark.parametrize(("size", "upright", "turned"), [((600, 400), 8, 9), ((900, 900), 20, 20), ((100, 100), 1, 1)])
def test_as_many_sheets_as_by_hand(paper, size, upright, turned):
    # 600 x 400 on A4: 4 x 2 upright, 3 x 3 turned; 900 x 900: 5 x 4 (reckoned by hand with the formula; computed)
    for lying, count in ((paper, upright), (paper.turned, turned)):
        assert math.prod(tile_count(s, u) for s, u in zip(size, lying.printable, strict=True)) == count


def test_the_way_that_takes_fewer_sheets():
    assert paper_for((600, 400), A4) == A4
    assert paper_for((500, 180), A4) == A4.turned  # turned 2 x 1, upright 3 x 1
    assert paper_for((900, 900), A4) == A4


def test_an_exact_fit_takes_no_sheet_more():
    assert tile_count(190 + 180, 190) == 2
    assert tile_count(190 + 180.01, 190) == 3


def test_an_unknown_paper_is_told():
    with pytest.raises(MeasureError, match="A44"):
        paper_named("A44")


@given(sides, sides, st.sampled_from([A4, LETTER]))
def test_the_sheets_cover_the_panel_and_overlap_by_ten(width, height, paper):
    tiles = tiling((width, height), paper, everything)
    by_place = {(t.row, t.column): t.window for t in tiles.tiles}
    assert len(by_place) == tiles.rows * tiles.columns
    first, last = by_place[0, 0], by_place[tiles.rows - 1, tiles.columns - 1]
    assert first[0] <= 1e-9
    assert first[1] <= 1e-9
    assert last[2] >= width - 1e-9
    assert last[3] >= height - 1e-9
    assert first[0] == pytest.approx(width - last[2])  # the panel lies in the middle
    for (row, column), (left, top, right, bottom) in by_place.items():
        assert (right - left, bottom - top) == pytest.approx((tiles.paper.width - 20, tiles.paper.height - 20))
        if (row, column + 1) in by_place:
            assert right - by_place[row, column + 1][0] == pytest.approx(OVERLAP) == 10
        if (row + 1, column) in by_place:
            assert bottom - by_place[row + 1, column][1] == pytest.approx(OVERLAP)
    assert MARGIN == 10


@given(sides, sides)
def test_neighbours_show_the_same_marks(width, height):
    tiles = tiling((width, height), A4, everything)
    by_name = {t.name: t.window for t in tiles.tiles}
    assert len({m.letter for m in tiles.marks}) == len(tiles.marks)
    seams = tiles.rows * (tiles.columns - 1) + tiles.columns * (tiles.rows - 1)
    assert len(tiles.marks) == 2 * seams
    for mark in tiles.marks:
        for name in mark.tiles:
            left, top, right, bottom = by_name[name]
            assert left + 4.9 < mark.at[0] < right - 4.9
            assert top + 4.9 < mark.at[1] < bottom - 4.9


def test_empty_sheets_are_left_out_while_the_rest_hangs_together():
    # 900 x 900 takes rows A to D and columns 1 to 5 of A4 upright; only the upper left and lower right hold anything
    def corners(window):
        return (window[0] < 0 < window[2] and window[1] < 100) or (window[2] > 900 and window[3] > 900)

    tiles = tiling((900, 900), A4, corners)
    kept = {(t.row, t.column) for t in tiles.tiles}
    assert {(0, 0), (3, 4)} <= kept
    assert len(kept) == 8  # a path of 8 sheets leads from corner to corner
    assert len(kept) + len(tiles.left_out) == 20
    assert {n for m in tiles.marks for n in m.tiles} == {t.name for t in tiles.tiles}


def test_no_tail_of_empty_sheets_stays():
    tiles = tiling((1500, 1500), A4, lambda w: w[0] < 750 < w[2] and w[1] < 750 < w[3])
    assert 1 <= len(tiles.tiles) <= 4
    assert all(t.window[0] < 750 < t.window[2] and t.window[1] < 750 < t.window[3] for t in tiles.tiles)


def test_a_bare_panel_still_has_a_sheet():
    tiles = tiling((600, 400), A4, lambda _window: False)
    assert len(tiles.tiles) == 1
    assert len(tiles.left_out) == 7
