"""Templates measured with a ruler: the PDF's own lines, in mm."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from festoon.hooping import Mark
from festoon.sheets import templates
from festoon.sheets.style import INK, INK_SOFT, PEN, line_colour
from festoon.sheets.tiles import MARGIN, paper_named, tiling
from tests.sheets import toy
from tests.sheets.pdf_pages import pages

PAPERS = ("A4", "Letter")


@pytest.fixture(scope="module", params=PAPERS)
def printed(request):
    layout, division = toy.cushion()
    data = templates(layout, division, paper=request.param, units="mm")
    tiles = tiling(layout.panels[0].size, paper_named(request.param), lambda _w: True)
    read = pages(data)
    first = len(read) - len(tiles.tiles)
    return layout, division, tiles, read[:first], read[first:]


def on_panel(tile, points):
    return points + np.array(tile.window[:2]) - MARGIN


def level(stroke):
    return len(stroke.points) == 2 and abs(np.diff(stroke.points[:, 1])[0]) < 0.01


def test_one_page_to_begin_and_one_for_every_sheet(printed):
    _, _, tiles, index, sheets = printed
    assert len(index) == 1
    for page in sheets:
        assert page.size == pytest.approx((tiles.paper.width, tiles.paper.height), abs=0.01)


def test_the_check_line_measures_100_mm_on_every_page(printed):
    for page in (printed[3][0], *printed[4]):
        lengths = [np.ptp(s.points[:, 0]) for s in page.drawn(INK) if level(s)]
        assert [v for v in lengths if abs(v - 100) < 5] == [pytest.approx(100.0, abs=0.05)]
        assert "This line must measure 100 mm, or 3 15/16 in." in page.text


def test_every_figure_says_its_class(printed):
    text = " ".join(printed[3][0].text.split())
    for told in ("(measured), natural linen", "per cent (computed)", "cut edge at the top. computed", "Assumed:"):
        assert told in text


def test_a_list_of_crosses_that_runs_on_carries_the_check_line_too():
    layout, division = toy.cushion()
    crosses = tuple(Mark(f"X{k}", (20.0 + k, 30.0)) for k in range(140))
    many = replace(division, hoopings=(replace(division.hoopings[0], marks=crosses), *division.hoopings[1:]))
    first, second, *_ = pages(templates(layout, many, paper="A4", units="inch"))
    for page in (first, second):
        assert "from left" in page.text
        assert [np.ptp(s.points[:, 0]) for s in page.drawn(INK) if level(s)].count(pytest.approx(100.0, abs=0.05)) == 1
        assert "This line must measure 100 mm, or 3 15/16 in." in page.text


def test_crosses_lie_where_the_plan_says(printed):
    _, division, tiles, _, sheets = printed
    seen = set()
    for tile, page in zip(tiles.tiles, sheets, strict=True):
        left, top, right, bottom = tile.window
        marks = [m for h in division.hoopings for m in h.marks]
        whole = [m for m in marks if left + 8 < m.at[0] < right - 8 and top + 8 < m.at[1] < bottom - 8]
        strokes = [on_panel(tile, s.points) for s in page.drawn(PEN)]
        for mark in whole:
            arms = [s for s in strokes if np.abs(s.mean(axis=0) - mark.at).max() < 0.05]
            assert len(arms) == 2
            assert sorted(np.ptp(a, axis=0).round(1).tolist() for a in arms) == [[0.0, 16.0], [16.0, 0.0]]
            assert mark.name in page.text.split()
            seen.add(mark.name)
    assert len(seen) >= 12


def test_outlines_lie_where_the_stitching_is(printed):
    layout, _, tiles, _, sheets = printed
    for colour in (toy.HOLLY.colour, toy.STEM.colour):
        edges = [
            shapely.boundary(area)
            for part in layout.parts("front")
            for index, area in part.outlines
            if part.stitching.threads[index].colour == colour
        ]
        shown = [
            shapely.LineString(on_panel(tile, run))
            for tile, page in zip(tiles.tiles, sheets, strict=True)
            for stroke in page.drawn(line_colour(colour))
            for run in stroke.runs
        ]
        assert len(shown) > 20
        assert farthest(shown, edges) < 0.05
        assert farthest(edges, shown) < 0.05  # nothing is missing from the sheets put together


def farthest(lines, others):
    """How far the corners of lines lie from the nearest of the others, at most, mm."""
    segments = [shapely.LineString(pair) for o in others for ring in shapely.get_parts(o) for pair in pairs(ring)]
    points = shapely.points(np.concatenate([shapely.get_coordinates(line) for line in lines]))
    _, distances = shapely.STRtree(segments).query_nearest(points, return_distance=True)
    return distances.max()


def pairs(line):
    points = shapely.get_coordinates(line)
    return np.stack([points[:-1], points[1:]], axis=1)


def test_neighbours_carry_the_same_marks_at_the_same_place(printed):
    _, _, tiles, _, sheets = printed
    by_name = dict(zip((t.name for t in tiles.tiles), sheets, strict=True))
    of = {t.name: t for t in tiles.tiles}
    for mark in tiles.marks:
        for name in mark.tiles:
            rhombs = [s for s in by_name[name].drawn(INK_SOFT) if len(s.points) >= 5]
            middles = [on_panel(of[name], (s.points.min(axis=0) + s.points.max(axis=0)) / 2) for s in rhombs]
            assert min(np.abs(m - mark.at).max() for m in middles) < 0.05
            assert mark.letter in by_name[name].text.split()


def test_every_sheet_says_what_it_is(printed):
    _, division, tiles, _, sheets = printed
    for tile, page in zip(tiles.tiles, sheets, strict=True):
        assert f"{tile.name} of {len(tiles.tiles)}" in page.text
        assert "Right side of the cloth facing you." in page.text
        assert {"up", "grain"} <= set(page.text.split())
        for rows, columns in ((0, 1), (1, 0)):
            after, before = tiles.neighbour(tile, rows, columns), tiles.neighbour(tile, -rows, -columns)
            assert after is None or f"{after.name} is laid to this line" in page.text
            assert before is None or f"trim along this line and lay on {before.name}" in page.text
    numbers = {w for p in sheets for w in p.text.split()}
    assert {str(h.number) for h in division.hoopings} <= numbers


def test_the_first_page_tells_how(printed):
    _, division, tiles, index, _ = printed
    text = " ".join(" ".join(p.text for p in index).split())
    other = (
        "A4 pages fitted to Letter come out at 94.1 per cent"
        if index[0].size[1] > 290
        else ("Letter pages fitted to A4 come out at 97.3 per cent")
    )
    # 94.07 and 97.27 per cent: the lesser ratio of sides (computed)
    assert other in text
    assert "100 per cent" in text
    for tile in tiles.tiles:
        assert tile.name in text
    for mark in (m for h in division.hoopings for m in h.marks):
        assert f"{mark.name} {mark.at[0]:.1f}".removesuffix(".0") in text


def test_the_same_twice_and_inches():
    layout, division = toy.cushion(3)
    first = templates(layout, division, paper="A4", units="inch")
    assert templates(layout, division, paper="A4", units="inch") == first
    text = " ".join(pages(first)[0].text.split())
    x = division.hoopings[0].marks[0].at[0]
    thirty_seconds = round(x / 25.4 * 32)
    assert f"{thirty_seconds // 32} " in text
    assert "Cut 15 3/4 in by 15 3/4 in" in text
    assert f"({x:.1f} mm)" in text


def test_sheets_with_nothing_on_them_are_named_and_left_out():
    layout, division = toy.cushion(9, size=(900.0, 400.0))
    data = templates(layout, division, paper="A4", units="mm")
    text = " ".join(pages(data)[0].text.split())
    assert "Left out" in text
    assert len(pages(data)) < 1 + 5 * 2


def test_a_panel_without_hoopings_is_printed_all_the_same():
    layout, division = toy.cushion(0)
    sheets = pages(templates(layout, division, paper="A4", units="mm"))
    assert len(sheets) == 2
    assert not [s for p in sheets[1:] for s in p.drawn(PEN)]
