"""Panels that are garments: their lengths and areas against the formulas of any geometry handbook, their edges, names
and loops."""

import math
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, reject, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from festoon.errors import PieceError
from festoon.piece import Panel, PanelShape, shape_of
from festoon.piece.outline import AROUND

YOKE = "M 40 60 C 60 120 90 120 120 60 H 180 V 200 H 40 Z"


def shaped(**words: Any) -> PanelShape:
    return shape_of(Panel(name="panel", **words))


def flared(waist: float = 200.0, hem: float = 600.0, angle: float = 90.0) -> dict[str, float]:
    return {"waist_radius": waist, "hem_radius": hem, "angle": angle}


SECTORS = st.tuples(st.floats(30, 400), st.floats(20, 900), st.floats(5, 300)).map(lambda v: (v[0], v[0] + v[1], v[2]))


@given(SECTORS)
def test_a_flared_panels_lengths_and_area_are_those_of_a_sector(sector: tuple[float, float, float]) -> None:
    """Handbook: the arc is r·θ, the sector r²·θ/2."""
    waist, hem, angle = sector
    shape, theta = shaped(flared=flared(waist, hem, angle)), math.radians(angle)
    assert shape.lines["waist"].length == pytest.approx(waist * theta)
    assert shape.lines["hem"].length == pytest.approx(hem * theta)
    assert shape.lines["left seam"].length == pytest.approx(hem - waist)
    assert shape.finished.area == pytest.approx((hem**2 - waist**2) * theta / 2, rel=1e-3)


def test_a_flared_panels_lines_run_as_they_are_seen() -> None:
    lines = shaped(flared=flared()).lines
    for name in ("hem", "waist"):
        assert lines[name].start[0] < lines[name].end[0]
        assert lines[name].start[1] == pytest.approx(lines[name].end[1])
    for name, side in (("left seam", -1), ("right seam", 1), ("centre front", 0)):
        seam = lines[name]
        assert seam.start[1] < seam.end[1]
        assert np.sign(round(seam.end[0] - seam.start[0], 6)) == side
    middle = lines["hem"].at(lines["hem"].length / 2)
    assert lines["centre front"].end == pytest.approx(middle)
    assert middle[1] > lines["hem"].start[1], "the middle of a hem hangs lowest"
    assert lines["left seam"].start == pytest.approx(lines["waist"].start)
    assert lines["right seam"].end == pytest.approx(lines["hem"].end)


def test_circle_and_ring() -> None:
    """Handbook: the circumference is π·d."""
    edge = shaped(circle={"diameter": 200}).lines["edge"]
    assert edge.length == pytest.approx(200 * math.pi)
    assert edge.closed
    assert edge.start[1] == pytest.approx(min(edge.sample(1.0)[:, 1]), abs=1e-9), "it begins at the top"
    assert edge.at(edge.length / 4)[0] == pytest.approx(min(edge.sample(1.0)[:, 0]), abs=1e-3), "to the left"
    ring = shaped(ring={"inner": 90, "outer": 220}, seam=8)
    assert ring.lines["outer edge"].length == pytest.approx(220 * math.pi)
    assert ring.lines["inner edge"].length == pytest.approx(90 * math.pi)
    assert ring.finished.area == pytest.approx(math.pi / 4 * (220**2 - 90**2), rel=1e-3)
    assert ring.cut.area == pytest.approx(math.pi / 4 * (236**2 - 74**2), rel=1e-3)


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ({"circle": {"diameter": 200}}, "edge"),
        ({"ring": {"inner": 90, "outer": 220}}, "outer edge"),
        ({"ring": {"inner": 90, "outer": 220}}, "inner edge"),
        ({"flared": flared(100, 300, 90)}, "hem"),
        ({"flared": flared(100, 300, 360)}, "hem"),
        ({"size": (300, 200), "seam": 10}, "bottom"),
    ],
)
def test_what_hangs_has_the_cloth_on_its_left(words, name) -> None:
    """So that lace so far up lies on the cloth, and edging below hangs off it."""
    shape = shaped(**words)
    line = shape.lines[name]
    s = np.linspace(0.1, 0.9, 7) * line.length
    ahead = line.tangents(s)
    left = np.stack([ahead[:, 1], -ahead[:, 0]], axis=1)
    assert shapely.contains_xy(shape.finished, line.points(s) + 5 * left).all()
    assert not shapely.contains_xy(shape.finished, line.points(s) - 5 * left).any()


def test_a_full_circle_is_a_ring_whose_hem_closes() -> None:
    shape = shaped(flared=flared(100, 300, 360), seam=10, hem_allowance=30)
    assert sorted(shape.lines) == ["centre front", "hem", "waist"]
    assert shape.lines["hem"].closed
    assert shape.cut.area == pytest.approx(math.pi * (330**2 - 90**2), rel=1e-3)


def test_a_rectangle_is_its_cut_size_with_the_seam_lines_inside() -> None:
    shape = shaped(size=(400, 300), seam=10, hem_allowance=50, fold="left")
    assert shape.cut.bounds == (0, 0, 400, 300)
    assert shape.finished.bounds == (0, 10, 390, 250)
    ends = {name: [*line.start, *line.end] for name, line in shape.lines.items()}
    assert ends == {
        "top": [0, 10, 390, 10],
        "bottom": [0, 250, 390, 250],
        "left": [0, 10, 0, 250],
        "right": [390, 10, 390, 250],
    }
    assert shape.fold is not None
    assert shape.fold.length == pytest.approx(300), "what is cut on the fold, with the allowances at its ends"


ALLOWANCES = st.tuples(st.floats(0, 25), st.none() | st.floats(0, 60))
OUTLINES = st.one_of(
    SECTORS.map(lambda s: {"flared": flared(*s)}),
    st.floats(60, 900).map(lambda d: {"circle": {"diameter": d}}),
    st.floats(60, 300).map(lambda d: {"ring": {"inner": d, "outer": 2 * d}}),
    st.just({"cut": YOKE, "lines": {"hem": "M 40 200 H 180"}, "size": (300, 300)}),
)


def away(shape: PanelShape) -> np.ndarray[Any, Any]:
    """From every corner of the cut edge to the finished outline, mm; below 0 inside of it."""
    corners = shapely.points(shapely.get_coordinates(shapely.segmentize(shape.cut.boundary, 5.0)))
    inside = shapely.contains_properly(shape.finished.buffer(-0.02), corners)
    return np.where(inside, -1.0, shapely.distance(shape.finished, corners))


@settings(max_examples=60)
@given(OUTLINES, ALLOWANCES)
def test_the_cut_edge_is_nowhere_nearer_than_the_allowance(
    words: dict[str, Any], allowances: tuple[float, float | None]
) -> None:
    seam, hem = allowances
    try:
        shape = shaped(**words, seam=seam, hem_allowance=hem)
    except PieceError:
        reject()
    assert away(shape).min() >= min(seam, seam if hem is None else hem) - 0.03
    assert shape.cut.buffer(0.02).covers(shape.finished)


def test_each_edge_has_its_own_allowance() -> None:
    """A square of 100 mm: 10 mm at three sides, 40 mm at the hem, none at the fold."""
    words = {"cut": "M 60 60 H 160 V 160 H 60 Z", "lines": {"hem": "M 60 160 H 160"}}
    plain = shaped(**words, seam=10, hem_allowance=40)
    assert plain.cut.bounds == pytest.approx((50, 50, 170, 200))
    assert plain.cut.area == pytest.approx(120 * 150)
    folded = shaped(**words, seam=10, hem_allowance=40, centre_front=60, fold="centre front")
    assert folded.cut.area == pytest.approx(110 * 150)
    assert folded.fold is not None
    assert [*folded.fold.start, *folded.fold.end] == pytest.approx([60, 50, 60, 200])


def test_a_hem_that_runs_on_smoothly_steps_from_one_allowance_to_the_other() -> None:
    shape = shaped(cut="M 60 60 H 260 V 160 H 60 Z", lines={"hem": "M 100 160 H 200"}, seam=10, hem_allowance=40)
    assert shape.cut.area == pytest.approx(220 * 120 + 100 * 30)


def test_the_block_leaves_cloth_all_round_where_no_size_is_given() -> None:
    panel = Panel(name="skirt", flared=flared(), seam=12, hem_allowance=50)
    left, top, right, bottom = shape_of(panel).cut.bounds
    width, height = panel.size
    assert (left, top) == pytest.approx((AROUND, AROUND))
    assert AROUND - 0.1 <= width - right < AROUND + 1
    assert AROUND - 0.1 <= height - bottom < AROUND + 1


def test_on_a_block_of_a_given_size_it_lies_in_the_middle_or_where_it_is_told() -> None:
    middle = shaped(size=(1200, 800), flared=flared(), seam=12)
    left, top, right, bottom = middle.cut.bounds
    assert (left, top) == pytest.approx((1200 - right, 800 - bottom))
    placed = shaped(size=(1200, 800), flared=flared(), seam=12, at=(600, 100))
    waist = placed.lines["waist"]
    assert waist.at(waist.length / 2) == pytest.approx([600, 100])
    assert shaped(circle={"diameter": 100}, at=(90, 95)).finished.centroid.coords[0] == pytest.approx((90, 95))
    assert shaped(cut=YOKE, at=(10, 20)).finished.bounds[2:] == pytest.approx((190, 220))


def test_a_panel_that_closes_has_loops_from_seam_to_seam() -> None:
    assert shaped(flared=flared(), closes=True).loops == {"hem", "waist"}
    assert shaped(flared=flared()).loops == frozenset()
    own = {
        "tucks": "M 10 200 H 390",
        "sprays": "M 10 200 L 390 100",
        "short": "M 10 220 H 300",
        "across": "M 0 90 H 400",
    }
    assert shaped(size=(400, 300), seam=10, closes=True, lines=own).loops == {"top", "bottom", "tucks"}


def test_an_outline_closes_between_the_lines_called_its_seams() -> None:
    lines = {"left seam": "M 40 60 V 200", "right seam": "M 180 60 V 200", "hem": "M 40 200 H 180"}
    shape = shaped(cut="M 40 60 H 180 V 200 H 40 Z", lines=lines, closes=True)
    assert shape.loops == {"hem"}


def test_the_centre_front_is_where_it_is_told_and_else_on_the_fold() -> None:
    front = shaped(size=(400, 300), seam=10, centre_front=150).lines["centre front"]
    assert [*front.start, *front.end] == pytest.approx([150, 10, 150, 290])
    collar = shaped(ring={"inner": 90, "outer": 220}, centre_front=150).lines["centre front"]
    assert collar.length == pytest.approx(65, abs=0.01), "the lower crossing of a ring"
    half = shaped(flared=flared(), fold="right seam")
    assert half.lines["centre front"] == half.lines["right seam"]


def test_the_same_words_are_worked_out_once() -> None:
    assert shaped(flared=flared()) is shaped(flared=flared())
    assert shaped(flared=flared()) is not shaped(flared=flared(), seam=1)


def test_figures_of_a_shape_are_checked_where_they_stand() -> None:
    with pytest.raises(ValidationError, match="hem_radius must be greater than waist_radius by 1 mm"):
        Panel(name="skirt", flared=flared(600, 600))
    with pytest.raises(ValidationError, match="outer must be greater than inner by 2 mm"):
        Panel(name="collar", ring={"inner": 90, "outer": 80})
