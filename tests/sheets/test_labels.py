"""Names and numbers keep clear of crosses, stitching and one another."""

import itertools

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from festoon.hooping.values import Mark
from festoon.sheets.drawing import panel_drawing, panel_ground
from festoon.sheets.ground import Ground, overlap
from festoon.sheets.labels import cross, field_outline, name_marks, number_hoopings
from tests.sheets import toy

places = st.floats(5, 95)


@given(places, places, st.floats(2, 40), st.floats(2, 40))
def test_the_ground_weighs_what_lies_under_a_box(x, y, w, h):
    full = shapely.box(20, 30, 70, 80)
    ground = Ground((100, 100), 0.25, [(3.0, [full])])
    box = (x, y, x + w, y + h)
    true = 3 * full.intersection(shapely.box(*box)).area
    assert ground.cost([box])[0] == pytest.approx(true, abs=3 * 0.5 * (w + h) + 1)
    assert ground.outside([box])[0] == pytest.approx(
        w * h - shapely.box(*box).intersection(shapely.box(0, 0, 100, 100)).area
    )


def test_boxes_that_lie_on_others():
    boxes = np.array([[0.0, 0.0, 10.0, 10.0], [20.0, 20.0, 30.0, 30.0]])
    assert overlap(boxes, [(5.0, 5.0, 15.0, 15.0)]).tolist() == [25.0, 0.0]


def test_no_two_labels_lie_on_one_another():
    layout, division = toy.cushion()
    panel = layout.panels[0]
    ground = panel_ground(layout, division, panel)
    drawing = panel_drawing(layout, division, panel, ground)
    numbers = number_hoopings(division.hoopings, ground, drawing.names)
    assert [n.text for n in numbers] == [str(h.number) for h in division.hoopings]
    assert [n.text for n in drawing.names] == [m.name for m in drawing.marks]
    boxes = [shapely.box(*label.box) for label in (*drawing.names, *numbers)]
    assert all(a.intersection(b).area < 1e-9 for a, b in itertools.combinations(boxes, 2))


def test_no_name_lies_on_a_cross():
    layout, division = toy.cushion()
    panel = layout.panels[0]
    drawing = panel_drawing(layout, division, panel, panel_ground(layout, division, panel))
    arms = shapely.union_all([s for m in drawing.marks for s in cross(m.at, 8.0)])
    assert not any(shapely.box(*label.box).intersects(arms) for label in drawing.names)


def test_a_name_leaves_the_quarter_that_is_full():
    mark = Mark("A", (50.0, 50.0))
    upper_right = Ground((100, 100), 0.5, [(1.0, [shapely.box(50, 0, 100, 50)])])
    (label,) = name_marks([mark], upper_right)
    assert label.at[1] > 50
    (label,) = name_marks([mark], Ground((100, 100), 0.5, []))
    assert label.at[0] > 50 > label.at[1]


def test_a_number_stands_on_its_own_outline_and_inside_the_window():
    layout, division = toy.cushion()
    ground = panel_ground(layout, division, layout.panels[0])
    window = (0.0, 0.0, 200.0, 400.0)
    numbers = number_hoopings(division.hoopings, ground, within=window)
    outlines = {str(h.number): field_outline(h).exterior for h in division.hoopings}
    assert 3 < len(numbers) < len(division.hoopings)
    for label in numbers:
        assert outlines[label.text].distance(shapely.Point(label.at)) < 1e-9
        assert label.lies_in(window)
