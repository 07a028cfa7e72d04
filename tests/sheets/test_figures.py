"""Panels side by side on a sheet's first page."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.sheets.figures import in_rows

sides = st.floats(20, 2000)
panels = st.lists(st.tuples(sides, sides), min_size=1, max_size=6)


def test_a_gowns_small_panels_stand_below_its_large_ones():
    counts, scale = in_rows([(1000.0, 700.0), (1000.0, 700.0), (300.0, 200.0), (300.0, 200.0)], (174.0, 96.0), 10.0)
    assert counts == [2, 2]
    assert scale == pytest.approx(154 / 2000)


def test_two_slim_ones_stand_side_by_side():
    assert in_rows([(100.0, 400.0), (100.0, 400.0)], (174.0, 96.0), 10.0) == ([2], pytest.approx(96 / 400))


@given(panels)
def test_every_row_has_room_and_none_is_lost(sizes):
    counts, scale = in_rows(sizes, (174.0, 96.0), 8.0)
    assert sum(counts) == len(sizes)
    assert min(counts) > 0
    rows, rest = [], list(sizes)
    for count in counts:
        rows.append(rest[:count])
        rest = rest[count:]
    assert all(scale * sum(w for w, _ in row) + 8 * (len(row) - 1) <= 174 + 1e-6 for row in rows)
    assert scale * sum(max(h for _, h in row) for row in rows) + 8 * (len(rows) - 1) <= 96 + 1e-6
    one_row = min((174 - 8 * len(sizes)) / sum(w for w, _ in sizes), 96 / max(h for _, h in sizes))
    assert scale >= one_row - 1e-6
