"""The main job, start to end: every stitch of the layout lies in exactly one machine file, at its place."""

from __future__ import annotations

import errno
import itertools
import json
import os
import shutil
from pathlib import Path

import numpy as np
import pytest

from festoon import files as house_files
from festoon.errors import FestoonError, OutputError
from festoon.make import make, plan
from festoon.piece import read_piece
from festoon.piece.start import new_piece
from festoon.plane import Pose
from festoon.stitches import Thread, from_points, read_stitches, write_stitches

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def starter(tmp_path: Path) -> Path:
    """A fresh copy of the starting piece."""
    folder = tmp_path / "piece"
    new_piece(folder)
    return folder


def with_format(folder: Path, suffix: str) -> None:
    bench = folder / "bench.toml"
    text = bench.read_text("utf-8")
    assert 'format = "vp3"' in text
    bench.write_text(text.replace('format = "vp3"', f'format = "{suffix}"'), "utf-8")


@pytest.mark.parametrize("suffix", ["dst", "exp", "pes", "jef", "vp3"])
def test_every_stitch_is_sewn_once_and_in_its_place(starter: Path, suffix: str) -> None:
    """A motif file of each format is placed, divided and written in that format; read back, nothing is amiss."""
    with_format(starter, suffix)
    own = starter / "motifs" / f"own.{suffix}"
    write_stitches(read_stitches(starter / "motifs" / "sprig.vp3"), own)
    broken(starter, "motifs/sprig.vp3", f"motifs/{own.name}")
    made, out = make(starter)
    placed_file = read_stitches(own)
    part = made.layout.parts("front")[8]
    x, y = placed_file.centre
    assert part.name == "sprig-1"
    assert np.allclose(part.pose.apply(placed_file.holes - [x, y]), part.stitching.holes, atol=1e-9)
    record = json.loads((out / "hoopings.json").read_text("utf-8"))
    assert record["count"] == len(record["hoopings"]) == made.division.count
    for entry, hooping in zip(record["hoopings"], made.division.hoopings, strict=True):
        back = read_stitches(out / entry["file"])
        placed = back.placed(Pose(*entry["centre"], entry["turn"]))
        assert entry["stitches"] == back.stitch_count == hooping.stitching.stitch_count
        # In order, stitch by stitch: half a step of the formats' 0.1 mm grid along each axis.
        assert np.abs(placed.holes - hooping.stitching.holes).max() <= 0.05 + 1e-9
    sewn = np.concatenate([h.stitching.holes for h in made.division.hoopings])
    laid = np.concatenate([p.stitching.holes for p in made.layout.parts("front")])
    assert sorted(map(tuple, sewn.round(6).tolist())) == sorted(map(tuple, laid.round(6).tolist()))


@pytest.mark.parametrize("suffix", ["dst", "exp", "pes", "jef", "vp3"])
def test_every_file_opens_with_a_stop_at_each_mark(starter: Path, suffix: str) -> None:
    with_format(starter, suffix)
    _, out = make(starter)
    for entry in json.loads((out / "hoopings.json").read_text("utf-8"))["hoopings"]:
        back = read_stitches(out / entry["file"])
        first = int(np.flatnonzero(back.is_stitch)[0])
        blocks = [(a, b) for a, b in back.thread_blocks() if b <= first]
        stood = [tuple(back.points[b - 1].round(6).tolist()) for _, b in blocks]
        assert sorted(stood) == sorted(tuple(m["in_hoop"]) for m in entry["marks"])


def test_what_lies_beneath_is_sewn_no_later(starter: Path) -> None:
    made = plan(read_piece(starter))
    when = {part: h.number for h in made.division.hoopings for part in h.elements}
    place = {part: (h.number, h.elements.index(part)) for h in made.division.hoopings for part in h.elements}
    parts = made.layout.parts("front")
    checked = 0
    for i, low in enumerate(parts):
        for high in parts[i + 1 :]:
            if low.region.intersection(high.region).area > 0.01:
                assert when[low.name] <= when[high.name]
                assert place[low.name] < place[high.name]
                checked += 1
    assert checked == 16  # eight stems, each beneath both its neighbours


def test_the_same_input_gives_the_same_bytes(starter: Path, tmp_path: Path) -> None:
    first, _ = make(starter, tmp_path / "one")
    second, _ = make(starter, tmp_path / "two")
    assert first.files == second.files
    assert all((tmp_path / "one" / n).read_bytes() == data for n, data in first.files.items())


def test_a_motif_larger_than_the_field_is_divided(tmp_path: Path) -> None:
    """A zigzag band 300 mm long: four fields, nothing lost, the cut overlapped as stated."""
    folder = tmp_path / "long"
    new_piece(folder)
    x = np.arange(0.0, 300.0, 0.5)
    band = np.column_stack([x, np.where(np.arange(len(x)) % 2, 4.0, 0.0)])
    write_stitches(from_points(band, Thread("#224488")), folder / "motifs" / "band.vp3")
    (folder / "piece.toml").write_text(
        '[piece]\nname = "band"\n[[panel]]\nname = "cloth"\nsize = [400, 200]\n[hooping]\noverlap = 3\n'
        '[[element]]\nkind = "motif"\nname = "band"\nfile = "motifs/band.vp3"\n',
        "utf-8",
    )
    made = plan(read_piece(folder))
    assert made.division.count == made.division.lower_bound == 4
    original = made.layout.parts("cloth")[0].stitching.holes
    sewn = {tuple(p) for h in made.division.hoopings for p in h.stitching.holes.round(3).tolist()}
    assert {tuple(p) for p in original.round(3).tolist()} <= sewn
    spans = sorted((h.stitching.bounds[0], h.stitching.bounds[2]) for h in made.division.hoopings)
    for (_, right), (left, _) in itertools.pairwise(spans):
        assert 3.0 <= right - left <= 3.0 + 1.5


def test_files_of_the_worker_are_kept(starter: Path) -> None:
    _, out = make(starter)
    (out / "my notes.txt").write_text("thread ran out")
    (out / "stale").mkdir()
    with_format(starter, "pes")
    make(starter)
    assert (out / "my notes.txt").read_text() == "thread ran out"
    assert (out / "stale").is_dir()
    assert not list(out.glob("*.vp3"))
    assert len(list(out.glob("*.pes"))) == 9
    assert sorted(p.name for p in starter.iterdir()) == ["bench.toml", "made", "motifs", "piece.toml"]


def test_a_file_in_the_way_is_not_written_over(starter: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "work-sheet.pdf").write_bytes(b"mine")
    with pytest.raises(OutputError, match="Festoon did not make it"):
        make(starter, out)
    assert (out / "work-sheet.pdf").read_bytes() == b"mine"
    assert [p.name for p in out.iterdir()] == ["work-sheet.pdf"]


def full_disk(after: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let `after` files through, then let every flush to the disk fail as a full disk does."""
    count = iter(range(10_000))

    def fsync(handle: int) -> None:
        if next(count) >= after:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(house_files.os, "fsync", fsync)


@pytest.mark.parametrize("after", [0, 3])
def test_a_full_disk_leaves_everything_as_it_was(starter: Path, after: int, monkeypatch: pytest.MonkeyPatch) -> None:
    _, out = make(starter)
    before = {p.name: p.read_bytes() for p in out.iterdir()}
    with_format(starter, "exp")
    full_disk(after, monkeypatch)
    with pytest.raises(OutputError, match=r"the disk is full\. Nothing was written\."):
        make(starter)
    assert {p.name: p.read_bytes() for p in out.iterdir()} == before
    assert sorted(p.name for p in starter.iterdir()) == ["bench.toml", "made", "motifs", "piece.toml"]


def test_a_new_folder_is_not_left_behind_by_a_full_disk(
    starter: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    full_disk(2, monkeypatch)
    with pytest.raises(OutputError):
        make(starter, tmp_path / "deep" / "out")
    assert not (tmp_path / "deep" / "out").exists()


def test_stopping_leaves_nothing_half_written(starter: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _, out = make(starter)
    before = {p.name: p.read_bytes() for p in out.iterdir()}
    with_format(starter, "jef")
    count = iter(range(100))

    def stopped(handle: int) -> None:
        if next(count) == 4:
            raise KeyboardInterrupt

    monkeypatch.setattr(house_files.os, "fsync", stopped)
    with pytest.raises(KeyboardInterrupt):
        make(starter)
    assert {p.name: p.read_bytes() for p in out.iterdir()} == before
    assert sorted(p.name for p in starter.iterdir()) == ["bench.toml", "made", "motifs", "piece.toml"]


def test_an_output_that_is_a_file(starter: Path, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    with pytest.raises(OutputError, match="what should be a folder is a file"):
        make(starter, tmp_path / "out")
    with pytest.raises(OutputError, match="what should be a folder is a file"):
        make(starter, tmp_path / "out" / "deeper")


def broken(folder: Path, old: str, new: str) -> None:
    piece = folder / "piece.toml"
    text = piece.read_text("utf-8")
    assert old in text
    piece.write_text(text.replace(old, new), "utf-8")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("at = [200, 200]", "at = [100, 200]", r'"sprig-\d" reaches [\d.]+ mm beyond the left edge of panel "front"'),
        (
            'through = "sprig"',
            'through = "sprug"',
            r'nothing on panel "front" is called "sprug"\. Did you mean "sprig"',
        ),
        ('thread = "leaf"', 'thread = "leef"', r'no thread called "leef" on the bench\. Did you mean "leaf"'),
    ],
)
def test_mistakes_found_in_laying_out_name_their_line(starter: Path, old: str, new: str, told: str) -> None:
    broken(starter, old, new)
    with pytest.raises(FestoonError, match=told) as caught:
        make(starter)
    assert str(caught.value).startswith("piece.toml, line ")
    assert not (starter / "made").exists()


def test_a_block_that_no_hoop_can_reach(starter: Path) -> None:
    line = np.column_stack([np.arange(0.0, 150.0, 3.0), np.zeros(50)])
    there_and_back = np.vstack([[[0.0, 0.0], [150.0, 0.0]], line])
    write_stitches(from_points(there_and_back, Thread()), starter / "motifs" / "sprig.vp3")
    broken(starter, "ring = { count = 8, radius = 110 }", "turn = 0")
    broken(starter, "closed = true", "")
    text = (starter / "piece.toml").read_text("utf-8")
    (starter / "piece.toml").write_text(text[: text.index("[[element]]")] + text[text.rindex("[[element]]") :], "utf-8")
    with pytest.raises(
        FestoonError, match=r'"sprig": its stitching runs 150\.0 x 0\.0 mm .* no hooping can reach it'
    ) as e:
        make(starter)
    assert 'hoop = "180 x 130"' in str(e.value)
    assert not (starter / "made").exists()


def test_a_piece_can_be_moved(starter: Path, tmp_path: Path) -> None:
    first, _ = make(starter)
    elsewhere = tmp_path / "elsewhere"
    shutil.copytree(starter, elsewhere)
    second, _ = make(elsewhere)
    assert first.files == second.files


@pytest.mark.parametrize("name", ["sea-holly-cushion", "tablecloth-hem"])
def test_the_examples_are_made(name: str) -> None:
    made = plan(read_piece(EXAMPLES / name))
    assert not made.layout.findings
    assert made.division.fewest_proven
    assert len(made.files) == made.division.count + 4
