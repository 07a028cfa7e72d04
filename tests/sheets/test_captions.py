"""Where a sheet says what it is: off everything that is drawn, in one place or, where there is none, in two."""

import pytest
import shapely

from festoon.sheets.captions import CAPTION, clearest
from festoon.sheets.ground import Ground
from festoon.sheets.tiles import paper_named, tiling

SIZE = (190.0, 270.0)


def places(*free):
    """Where the caption stands on a panel of one sheet, full of lines but for these boxes."""
    tiles = tiling(SIZE, paper_named("A4"), lambda window: True)
    (tile,) = tiles.tiles
    window = shapely.box(*tile.window)
    full = shapely.difference(window, shapely.union_all([shapely.box(*f) for f in free]))
    return clearest(Ground(SIZE, 0.5, [(1.5, [full])]), tile, tiles)


def within(place, free):
    return shapely.box(*free).buffer(1.0).contains(shapely.box(*place))


def test_it_stands_whole_where_there_is_room():
    free = (30.0, 100.0, 140.0, 135.0)
    (place,) = places(free)
    assert (place[2] - place[0], place[3] - place[1]) == pytest.approx(CAPTION)
    assert within(place, free)


def test_its_check_line_stands_elsewhere_where_no_room_takes_both():
    first, second = (30.0, 40.0, 140.0, 63.0), (60.0, 200.0, 170.0, 214.0)
    called, checked = places(first, second)
    assert within(called, first)
    assert within(checked, second)


def test_of_equal_places_the_lowest_is_taken():
    (place,) = places((0.0, 0.0, *SIZE))
    assert place[3] == pytest.approx(SIZE[1], abs=2)
