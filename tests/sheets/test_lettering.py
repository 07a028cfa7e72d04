"""Words beside lines."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from festoon.sheets.ground import Ground
from festoon.sheets.lettering import HEIGHT, letter_lines
from festoon.sheets.own_templates import EDGE

SIZE = (200.0, 120.0)
WHOLE = (0.0, 0.0, *SIZE)


def ground(*lines):
    return Ground(SIZE, 0.5, [(1.5, lines)])


def test_words_stand_beside_their_line_the_right_way_up():
    line = shapely.LineString([(150.0, 60.0), (50.0, 60.0)])  # drawn from right to left
    (word,) = letter_lines([("fold", line)], ground(line), [], WHOLE)
    assert word.turn == 0
    assert abs(word.at[1] - 60.0) == pytest.approx(HEIGHT / 2 + 0.7)
    assert word.at[0] == pytest.approx(100.0, abs=3)


def test_words_step_aside_for_what_else_is_drawn():
    line = shapely.LineString([(20.0, 60.0), (180.0, 60.0)])
    others = [shapely.LineString([(20.0, y), (120.0, y)]) for y in (58.0, 62.0)]
    (word,) = letter_lines([("match line", line)], ground(line, *others), [], WHOLE)
    assert word.at[0] > 120


def test_a_place_that_is_taken_is_left_free():
    line = shapely.LineString([(20.0, 60.0), (180.0, 60.0)])
    (word,) = letter_lines([("fold", line)], ground(line), [(70.0, 40.0, 200.0, 80.0)], WHOLE)
    assert word.at[0] < 70


def test_a_number_stands_upright_beyond_the_end_of_a_line_among_others():
    lines = [shapely.LineString([(50.0 + 2 * k, 20.0), (50.0 + 2 * k, 100.0)]) for k in range(30)]
    (word,) = letter_lines([("7", lines[15])], ground(*lines), [], WHOLE)
    assert word.turn == 0
    assert not 20 < word.at[1] < 100
    assert word.at[0] == pytest.approx(80.0)


def test_words_without_a_clear_place_stand_but_once():
    lines = [shapely.LineString([(0.0, y), (200.0, y)]) for y in range(1, 120)]
    told = letter_lines([("fold", line) for line in lines[:9]], ground(*lines), [], WHOLE)
    assert [w.text for w in told] == ["fold"]


def test_what_a_window_does_not_show_has_no_words():
    line = shapely.LineString([(20.0, 60.0), (80.0, 60.0)])
    assert letter_lines([("fold", line)], ground(line), [], (100.0, 0.0, 200.0, 120.0)) == []


turns = st.floats(0, 2 * np.pi)


@given(turns, turns, st.sampled_from(["fold", "cut the cloth behind"]))
def test_two_words_never_lie_on_each_other_or_their_lines_where_there_is_room(first, second, text):
    lines = [
        shapely.LineString(np.array(at) + 30 * np.outer([-1, 1], [np.cos(a), np.sin(a)]))
        for at, a in (((50.0, 60.0), first), ((150.0, 60.0), second))
    ]
    told = letter_lines([(text, line) for line in lines], ground(*lines), [], WHOLE)
    assert len(told) == 2
    boxes = [shapely.union_all([shapely.box(*b) for b in w.boxes]) for w in told]
    assert boxes[0].intersection(boxes[1]).area == 0
    for box in boxes:
        assert all(line.intersection(box.buffer(-0.6)).length < 1 for line in lines)
    assert EDGE >= HEIGHT + 0.7  # a template leaves its own words room
