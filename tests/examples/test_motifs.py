"""The examples' motifs: the scripts draw the very files that lie beside them, and these can be sewn as they are."""

from __future__ import annotations

import os
import runpy
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from shapely import Point
from shapely.affinity import affine_transform

import festoon
from festoon.plane import Pose
from festoon.proof.heap import spread
from festoon.proof.thickness import thickness
from festoon.stitches import Stitching, read_stitches, stitched_region

EXAMPLES = Path(__file__).parents[2] / "examples"
CUSHION, CLOTH, GOWN = "sea-holly-cushion", "tablecloth-hem", "christening-gown"
MOTIFS = [(CUSHION, "sprig"), (CUSHION, "sprig-small"), (CLOTH, "spray"), (CLOTH, "corner"), (GOWN, "snowdrops")]
LOCK = 3
"""Tiny stitches at each end of a run."""

every_motif = pytest.mark.parametrize(("example", "name"), MOTIFS)


@pytest.fixture(scope="module", params=[CUSHION, CLOTH, GOWN])
def rewritten(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    """An example's name, and a folder into which its script has just written."""
    folder = tmp_path_factory.mktemp("motifs")
    script = EXAMPLES / request.param / "draw_motifs.py"
    source = str(Path(festoon.__file__).parents[1])
    subprocess.run([sys.executable, script, folder], check=True, env={**os.environ, "PYTHONPATH": source})
    return request.param, folder


def read(example: str, name: str) -> Stitching:
    return read_stitches(EXAMPLES / example / "motifs" / f"{name}.vp3")


def script(example: str, monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    monkeypatch.syspath_prepend(str(EXAMPLES / example))
    return runpy.run_path(str(EXAMPLES / example / "draw_motifs.py"))


def test_the_script_writes_the_same_bytes_again(rewritten: tuple[str, Path]) -> None:
    example, folder = rewritten
    there = {p.name: p.read_bytes() for p in (EXAMPLES / example / "motifs").glob("*.vp3")}
    assert there == {p.name: p.read_bytes() for p in folder.glob("*.vp3")}
    assert set(there) == {f"{name}.vp3" for of, name in MOTIFS if of == example}


@pytest.mark.parametrize(
    ("example", "name", "least", "most", "size", "colours"),
    [
        (CUSHION, "sprig", 3000, 5000, (45, 63.5), 6),
        (CUSHION, "sprig-small", 2000, 4000, (39, 47), 6),
        (CLOTH, "spray", 1500, 3000, (58, 40), 3),
        (CLOTH, "corner", 1500, 3000, (59, 59), 3),
        (GOWN, "snowdrops", 500, 1000, (37, 20.5), 2),
    ],
)
def test_count_size_and_colours(
    example: str, name: str, least: int, most: int, size: tuple[float, float], colours: int
) -> None:
    motif = read(example, name)
    left, top, right, bottom = motif.bounds
    assert least <= motif.stitch_count <= most
    assert (right - left, bottom - top) == pytest.approx(size, abs=1.5)
    assert motif.centre == pytest.approx((0, 0), abs=0.1)
    assert len(set(motif.threads)) == colours
    assert max(motif.threads.count(t) for t in motif.threads) <= 2


@every_motif
def test_no_stitch_is_too_long_and_few_are_short(example: str, name: str) -> None:
    motif = read(example, name)
    bare = np.concatenate([np.hypot(*np.diff(motif.points[a + LOCK : b - LOCK], axis=0).T) for a, b in motif.runs()])
    assert motif.laid_lengths().max() <= 7.0
    assert (bare < 0.95).mean() < 0.07
    assert bare.min() > 0.2


@every_motif
@pytest.mark.parametrize("turn", [0.0, 25.0, 70.0])
def test_it_is_nowhere_too_thick_nor_too_full_of_holes(example: str, name: str, turn: float) -> None:
    """Three layers over any 2 mm square (published), and three times 250 holes per cm2 (common practice).

    A turned motif lies otherwise on the map's cells: one hole more or less in 4 mm2 is 25 per cm2.
    """
    over = spread(thickness([read(example, name).placed(Pose(turn=turn))], "front"))
    assert over.layers.max() < 2.8
    assert over.holes.max() < 775 + 1e-6


@every_motif
def test_every_run_is_locked_and_every_way_between_runs_is_cut(example: str, name: str) -> None:
    motif = read(example, name)
    for a, b in motif.runs():
        run = motif.points[a:b]
        for end in (run, run[::-1]):
            np.testing.assert_allclose(end[2:4], end[:2], atol=1e-9)
            assert 0.2 < np.hypot(*(end[1] - end[0])) < 0.9
    assert int((motif.acts == 2).sum()) == len(motif.runs()) - 1


@every_motif
def test_the_file_holds_what_was_drawn(example: str, name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn, motif = script(example, monkeypatch)["MOTIFS"][name](), read(example, name)
    assert motif.stitch_count == drawn.stitch_count
    assert np.abs(motif.holes - drawn.holes).max() <= 0.1 + 1e-9  # the step of the file
    assert motif.threads == drawn.threads


@pytest.mark.parametrize(("name", "middle"), [("spray", 0.0), ("corner", 45.0)])
def test_the_hem_motifs_mirror_themselves(name: str, middle: float) -> None:
    """Left and right of the spray, and the corner in its diagonal, but for the side on which a satin stitch begins."""
    region = stitched_region(read(CLOTH, name))
    other = affine_transform(region, Pose(turn=2 * middle, mirrored=True).affine)
    assert other.buffer(0.5).covers(region)


@pytest.mark.parametrize("name", ["sprig", "sprig-small"])
def test_joins_meet_the_stem(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    told = script(CUSHION, monkeypatch)
    stem = stitched_region(read(CUSHION, name)).buffer(-0.5)
    assert stem.contains(Point(told["ARRIVE"][name]))
    assert stem.contains(Point(told["LEAVE"][name]))
