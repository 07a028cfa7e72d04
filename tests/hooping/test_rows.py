"""Satin and fill lie in rows; running stitch, however it winds, does not."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, Polygon, box

from festoon.hooping.rows import is_satin_or_fill, row_ends
from festoon.plane import Pose, arc_through, circle, polyline
from festoon.stitches import FORMATS, Stitching, Thread, empty, from_points, joined, read_stitches, write_stitches
from festoon.stitches.lay import bean, fill, lock, run, satin, zigzag

THREAD = Thread()
EXAMPLES = Path(__file__).parents[2] / "examples"
LINE, BEND = polyline([[0, 0], [60, 0]]), arc_through((0, 0), (60, 0), 15)
STAR = polyline(
    [(r * np.cos(t), r * np.sin(t)) for r, t in zip([20, 8] * 5 + [20], np.linspace(0, 2 * np.pi, 11), strict=True)]
)


def there_and_back(path: object, beside: float = 0.0) -> Stitching:
    out = run(path, 2.5, thread=THREAD).points
    return from_points(np.concatenate([out, out[::-1] + np.array([0, beside])]), THREAD)


ROWS = {
    "satin": satin(LINE, 3.0, 0.4, thread=THREAD),
    "satin in a bend, locked": lock(satin(BEND, 2.4, 0.4, thread=THREAD)),
    "satin round a ring": satin(circle((0, 0), 20), 3.0, 0.4, thread=THREAD),
    "wide satin of split stitches": satin(LINE, 12.0, 0.4, thread=THREAD),
    "zigzag": zigzag(BEND, 3.0, 1.0, thread=THREAD),
    "fill of a square": fill(box(0, 0, 30, 30), angle=0, thread=THREAD),
    "fill of a disc, leaning": fill(Point(0, 0).buffer(20), angle=37, thread=THREAD),
    "fill of a triangle": fill(Polygon([(0, 0), (50, 5), (10, 25)]), angle=60, thread=THREAD),
    "fill with a hole": fill(Point(0, 0).buffer(20) - Point(2, 3).buffer(7), angle=90, thread=THREAD),
    "fill and its outline": joined(
        [fill(box(0, 0, 30, 30), angle=0, thread=THREAD), run(polyline([[0, 0], [30, 0], [30, 30]]), 2, thread=THREAD)]
    ),
}
LINES = {
    "straight": run(LINE, 2.5, thread=THREAD),
    "bent, locked": lock(run(BEND, 2.5, thread=THREAD)),
    "ring": run(circle((0, 0), 20), 1.0, thread=THREAD),
    "star": run(STAR, 2.0, thread=THREAD),
    "there and back": there_and_back(BEND),
    "there and back beside itself": there_and_back(LINE, 0.8),
    "each stitch three times": bean(BEND, thread=THREAD),
    "each stitch three times, round a star": bean(STAR, thread=THREAD),
    "wandering over an area": from_points(
        [[t / 3, 10 * np.sin(t / 8) + 3 * np.sin(t / 2)] for t in range(300)], THREAD
    ),
    "loose zigzag": zigzag(LINE, 6.0, 4.0, thread=THREAD),
    "an outline with a little satin": joined(
        [run(STAR, 2.0, thread=THREAD), satin(STAR, 2.0, 0.4, thread=THREAD).part(0, 40)]
    ),
    "nothing": empty(),
    "one hole": from_points([[3, 4]], THREAD),
    "holes on one spot": from_points([[3, 4]] * 6, THREAD),
}
NAMED = [*((n, b, True) for n, b in ROWS.items()), *((n, b, False) for n, b in LINES.items())]


@pytest.mark.parametrize(("name", "block", "rows"), NAMED, ids=[n for n, _, _ in NAMED])
def test_what_is_laid_is_told_apart(name: str, block: Stitching, rows: bool) -> None:
    assert is_satin_or_fill(block) == rows, name


@pytest.mark.parametrize("suffix", FORMATS)
@pytest.mark.parametrize(("name", "block", "rows"), [n for n in NAMED if len(n[1]) > 1], ids=lambda v: "")
def test_the_step_of_a_stitch_file_changes_nothing(
    tmp_path: Path, suffix: str, name: str, block: Stitching, rows: bool
) -> None:
    file = tmp_path / f"block.{suffix}"
    write_stitches(block, file)
    assert is_satin_or_fill(read_stitches(file)) == rows, name


@given(st.sampled_from([*ROWS.values(), *LINES.values()]), st.floats(-180, 180), st.booleans())
def test_how_it_lies_changes_nothing(block: Stitching, turn: float, mirror: bool) -> None:
    assert is_satin_or_fill(block.placed(Pose(31.0, -7.0, turn, mirror))) == is_satin_or_fill(block)


@pytest.mark.parametrize("file", sorted(EXAMPLES.glob("*/motifs/*.*")), ids=lambda f: f.name)
def test_the_examples_motifs_are_satin_and_fill(file: Path) -> None:
    assert is_satin_or_fill(read_stitches(file))


def test_rows_end_where_the_thread_turns_back_at_once_or_by_way_of_one_stitch() -> None:
    at_once = np.array([[0, 0], [0, 3], [0.4, 0], [0.4, 3]])
    by_way = np.array([[0, 0], [4, 0], [8, 0], [8, 0.4], [4, 0.4], [0, 0.4]])
    assert row_ends(at_once).tolist() == [1, 2]
    assert row_ends(by_way).tolist() == [2]
