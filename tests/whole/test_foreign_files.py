"""Stitch files that Festoon never touched: written, and what comes out read back, by the format library alone."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pyembroidery
import pytest
from numpy.typing import NDArray
from typer.testing import CliRunner

from festoon.cli import app
from festoon.hooping.records import RECORD
from festoon.make import make, proved
from festoon.piece import MADE, read_piece

FORMATS = ("dst", "exp", "pes", "jef", "vp3")
GRID = 0.05 + 1e-6
"""mm along either axis: half the step of the formats, by which what is placed may be moved."""
FIELD = 100.0
Points = NDArray[np.float64]


# Designs, each a list of (thread, uncut runs) in mm


def bar(x: float, top: float, bottom: float, width: float = 3.0, spacing: float = 0.38) -> Points:
    """A satin column, upright, its middle at x; holes `spacing` mm apart on one side."""
    y = np.arange(top, bottom, spacing / 2)
    return np.column_stack([x + width / 2 * (-1.0) ** np.arange(len(y)), y])


def ground(width: float, height: float) -> Points:
    """Level rows 0.4 mm apart of stitches of 3 mm, to and fro; every other row begins half a stitch in."""
    rows = []
    for k, y in enumerate(np.arange(0, height, 0.4)):
        x = np.unique([0.0, *np.arange(1.5 if k % 2 else 3.0, width - 1, 3.0), width])
        rows.append(np.column_stack([x[:: (-1) ** k], np.full(len(x), y)]))
    return np.concatenate(rows)


def ring(radius: float) -> Points:
    """Like every block here it begins off both axes: the library's reader of vp3 loses the place of one on them."""
    turns = 1.0 + np.linspace(0, 2 * np.pi, round(2 * np.pi * radius / 2.4) + 1)
    return radius * np.column_stack([np.cos(turns), np.sin(turns)])


BLUE, RED, GREEN = 0x2B5FC8, 0xC8412F, 0x3F8A4D
DESIGNS = {
    "bars": [(BLUE, [bar(x, -10, 10) for x in (-8, 0, 8)])],
    "ground": [(RED, [ground(30, 20)])],
    "rings": [(GREEN, [ring(12), ring(8)])],
    "posy": [(GREEN, [ring(14)]), (RED, [ground(12, 8) + 1, bar(-6, -12, 4)]), (BLUE, [bar(10, -6, 8), ring(3)])],
}
BAND = [(BLUE, [bar(0, 0, 180)])]
"""Longer than the field."""


def write(design: list[tuple[int, list[Points]]], path: Path) -> None:
    pattern = pyembroidery.EmbPattern()
    for k, (colour, runs) in enumerate(design):
        pattern.add_thread(pyembroidery.EmbThread(thread=colour))
        if k:
            pattern.color_change()
        for run in runs:
            tenths = np.rint(10 * run).astype(int).tolist()
            pattern.trim()
            pattern.move_abs(*tenths[0])
            for x, y in tenths:
                pattern.stitch_abs(x, y)
    pattern.end()
    pyembroidery.write(pattern, str(path))


def holes(path: Path) -> Points:
    """Where the needle goes down, mm, as the format library reads it; a hole in the hole before counts once."""
    stitches = pyembroidery.read(str(path)).stitches
    return np.array([[x, y] for x, y, c in stitches if c & pyembroidery.COMMAND_MASK == pyembroidery.STITCH]) / 10


def sewn(made: Path) -> list[Points]:
    """Every hooping's holes on the panel, from its machine file and the record alone."""
    found = []
    for hooping in json.loads((made / RECORD).read_text("utf-8"))["hoopings"]:
        t, centre = math.radians(hooping["turn"]), np.array(hooping["centre"])
        turned = np.array([[math.cos(t), -math.sin(t)], [math.sin(t), math.cos(t)]])
        found.append(centre + holes(made / hooping["file"]) @ turned.T)
    return found


def folder(path: Path, suffix: str, design: list[tuple[int, list[Points]]], *places: tuple[float, float]) -> Path:
    (path / "motifs").mkdir(parents=True)
    write(design, path / "motifs" / f"leaf.{suffix}")
    elements = "".join(
        f'[[element]]\nkind = "motif"\nname = "leaf {k}"\nfile = "motifs/leaf.{suffix}"\nat = [{x}, {y}]\n'
        for k, (x, y) in enumerate(places, 1)
    )
    (path / "piece.toml").write_text(
        f'piece = {{ name = "Foreign" }}\n[[panel]]\nname = "cloth"\nsize = [400, 400]\n{elements}', "utf-8"
    )
    (path / "bench.toml").write_text(
        f'[machine]\nformat = "{suffix}"\n[[hoop]]\nname = "small"\nfield = [{FIELD}, {FIELD}]\n', "utf-8"
    )
    return path


def placed(piece: Path, at: tuple[float, float]) -> Points:
    """The motif's own holes with the middle of their bounds at a place of the panel."""
    own = holes(next((piece / "motifs").iterdir()))
    return own - (own.min(axis=0) + own.max(axis=0)) / 2 + at


@pytest.mark.parametrize("name", DESIGNS)
@pytest.mark.parametrize("suffix", FORMATS)
def test_every_stitch_comes_back_in_its_place_and_order(tmp_path: Path, suffix: str, name: str) -> None:
    piece = folder(tmp_path / "piece", suffix, DESIGNS[name], (200, 150))
    make(piece)
    (found,) = sewn(piece / MADE)
    wanted = placed(piece, (200, 150))
    assert len(wanted) == sum(len(run) for _, runs in DESIGNS[name] for run in runs)
    assert found.shape == wanted.shape
    assert np.abs(found - wanted).max() <= GRID


@pytest.mark.parametrize("suffix", FORMATS)
def test_threads_come_back_in_their_order(tmp_path: Path, suffix: str) -> None:
    piece = folder(tmp_path / "piece", suffix, DESIGNS["posy"], (200, 150))
    make(piece)
    record = json.loads((piece / MADE / RECORD).read_text("utf-8"))
    (hooping,) = record["hoopings"]
    assert len(hooping["threads"]) == 3
    made = pyembroidery.read(str(piece / MADE / hooping["file"]))
    if suffix in ("pes", "jef", "vp3"):  # dst and exp hold no colours
        own = pyembroidery.read(str(piece / "motifs" / f"leaf.{suffix}"))
        assert [t.color & 0xFFFFFF for t in made.threadlist][-3:] == [t.color & 0xFFFFFF for t in own.threadlist]


@pytest.mark.parametrize("suffix", FORMATS)
def test_several_hoopings_together_hold_every_stitch_once(tmp_path: Path, suffix: str) -> None:
    places = ((60, 60), (200, 60), (340, 340))
    piece = folder(tmp_path / "piece", suffix, DESIGNS["posy"], *places)
    make(piece)
    found = sewn(piece / MADE)
    assert len(found) == 3
    wanted = [placed(piece, at) for at in places]
    for want in wanted:
        assert any(f.shape == want.shape and np.abs(f - want).max() <= GRID for f in found)


@pytest.mark.parametrize("suffix", FORMATS)
def test_what_is_longer_than_the_field_is_divided_and_nothing_is_lost(tmp_path: Path, suffix: str) -> None:
    piece = folder(tmp_path / "piece", suffix, BAND, (200, 200))
    make(piece)
    found = sewn(piece / MADE)
    assert len(found) == 2
    assert all(np.ptp(f, axis=0).max() <= FIELD + 2 * GRID for f in found)
    everything, wanted = np.concatenate(found), placed(piece, (200, 200))
    nearest = np.abs(everything[None] - wanted[:, None]).max(axis=2).min(axis=1)
    assert nearest.max() <= GRID


@pytest.mark.parametrize("name", DESIGNS)
@pytest.mark.parametrize("suffix", FORMATS)
def test_a_motif_that_is_well_made_is_found_sound(tmp_path: Path, suffix: str, name: str) -> None:
    found = proved(read_piece(folder(tmp_path / "piece", suffix, DESIGNS[name], (200, 150)))).proof
    assert [(f.where, f.reason, f.figure) for f in found.findings] == []


@pytest.mark.parametrize("suffix", FORMATS)
def test_laid_three_times_over_itself_it_is_found_too_thick(tmp_path: Path, suffix: str) -> None:
    """Computed: satin 0.38 mm from hole to hole is 2 × 0.195 / 0.38 = 1.03 layers, three times over 3.1 of 3."""
    piece = folder(tmp_path / "piece", suffix, DESIGNS["bars"], *[(200, 150)] * 3)
    done = CliRunner().invoke(app, ["prove", "--json", str(piece)])
    found = json.loads(done.stdout)
    assert done.exit_code == int(any(f["verdict"] == "will not work" for f in found))
    thick = [f for f in found if "layers" in f["figure"]]
    assert thick
    assert all(f["where"]["panel"] == "cloth" and abs(f["where"]["at"][0] - 200) < 12 for f in thick)
    assert {n for f in thick for n in f["where"]["elements"]} <= {"leaf 1", "leaf 2", "leaf 3"}
