"""What is laid on the cloth, drawn: filled where it lies, lace netted, holes left open."""

import numpy as np
import shapely

from festoon.stitches.portrait import blank
from festoon.web.laid_picture import EDGE, EDGE_LINE, FACES, NET, draw_areas, draw_lines
from festoon.work import Area, Line

DENSITY = 10.0


def drawn(*areas: Area) -> np.ndarray:
    canvas = blank(40, 40, DENSITY)
    draw_areas(canvas, areas, DENSITY)
    return canvas


def test_a_ring_is_filled_and_its_hole_is_not():
    ring = shapely.Point(20, 20).buffer(16).difference(shapely.Point(20, 20).buffer(8))
    canvas = drawn(Area("ribbon", ring))
    assert tuple(canvas[200, 320]) == FACES["ribbon"]
    assert tuple(canvas[200, 200]) == (0, 0, 0, 0)
    drawn_on = 1600 * np.count_nonzero(canvas[..., 3]) / canvas[..., 3].size
    assert ring.area < drawn_on < ring.area + EDGE_LINE * ring.length, "mm2; half of its edge lies outside"


def test_lace_is_told_from_ribbon_by_its_net():
    square = shapely.box(5, 5, 35, 35)
    netted = np.count_nonzero((drawn(Area("lace", square)) == EDGE).all(axis=2))
    plain = np.count_nonzero((drawn(Area("ribbon", square)) == EDGE).all(axis=2))
    length = 2 * square.area / (NET / np.sqrt(2))
    assert netted - plain > 0.7 * length * DENSITY, (
        "two families of threads NET apart across, each a pixel wide or more"
    )


def test_a_line_is_drawn_where_it_lies_and_closed_where_it_closes():
    canvas = blank(40, 40, DENSITY)
    draw_lines(canvas, [Line("trace", np.array([[10.0, 10], [30, 10], [30, 30]]), closed=True)], DENSITY)
    assert tuple(canvas[99, 200]) == EDGE
    assert tuple(canvas[200, 199]) == EDGE, "half way back from the last point to the first"
    assert tuple(canvas[350, 200]) == (0, 0, 0, 0)
