"""A new piece is whole, can be laid out at once, and never writes over another."""

from __future__ import annotations

from pathlib import Path

import pytest

from festoon.errors import OutputError, PieceError
from festoon.files import write_whole
from festoon.layout import lay_out
from festoon.piece import read_piece, start
from festoon.piece.sprig import sprig
from festoon.piece.start import new_piece
from festoon.stitches import encode, read_stitches

FILES = ["bench.toml", "motifs", "motifs/sprig.vp3", "piece.toml"]


def held(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


def test_a_new_piece_can_be_laid_out(tmp_path: Path) -> None:
    written = new_piece(tmp_path / "deep" / "wreath")
    assert sorted(p.relative_to(tmp_path / "deep" / "wreath").as_posix() for p in written) == [
        f for f in FILES if "." in f
    ]
    assert held(tmp_path / "deep" / "wreath") == FILES
    layout = lay_out(read_piece(tmp_path / "deep" / "wreath"))
    assert [(w.element, len(w.parts)) for w in layout.works] == [("stem", 8), ("sprig", 8)]
    assert layout.findings == ()


def test_the_motif_can_be_written_in_every_machine_format() -> None:
    stitching = sprig()
    assert [len(encode(stitching, f)) > 1000 for f in ("dst", "exp", "pes", "jef", "vp3")] == [True] * 5


def test_the_motif_on_the_disk_is_the_one_drawn(tmp_path: Path) -> None:
    new_piece(tmp_path)
    read, drawn = read_stitches(tmp_path / "motifs" / "sprig.vp3"), sprig()
    assert read.stitch_count == drawn.stitch_count
    assert [t.colour for t in read.threads] == ["#66845f", "#c9808c", "#d8a848"]


def test_the_same_piece_every_time(tmp_path: Path) -> None:
    for name in ("a", "b"):
        new_piece(tmp_path / name)
    for file in (f for f in FILES if "." in f):
        assert (tmp_path / "a" / file).read_bytes() == (tmp_path / "b" / file).read_bytes()


def test_an_empty_folder_and_one_with_other_things_may_be_used(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("buy linen", encoding="utf-8")
    new_piece(tmp_path)
    assert held(tmp_path) == sorted([*FILES, "notes.txt"])


@pytest.mark.parametrize(
    ("file", "told"),
    [("piece.toml", "holds a piece already"), ("bench.toml", "has a bench.toml already")],
)
def test_nothing_is_written_over(tmp_path: Path, file: str, told: str) -> None:
    (tmp_path / file).write_text("mine", encoding="utf-8")
    with pytest.raises(PieceError) as error:
        new_piece(tmp_path)
    assert str(error.value) == f"{tmp_path}: this folder {told}. Give another folder; nothing was written."
    assert held(tmp_path) == [file]


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "wreath").write_text("", encoding="utf-8")
    with pytest.raises(PieceError) as error:
        new_piece(tmp_path / "wreath")
    assert str(error.value) == f"{tmp_path / 'wreath'}: this is a file. Give a folder, or a name not used yet."


def test_a_name_that_no_disk_can_hold(tmp_path: Path) -> None:
    with pytest.raises(OutputError):
        new_piece(tmp_path / ("a" * 3000))
    assert held(tmp_path) == []


def test_a_folder_below_a_file_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("", encoding="utf-8")
    with pytest.raises(OutputError, match="should be a folder is a file"):
        new_piece(tmp_path / "notes.txt" / "wreath")
    assert held(tmp_path) == ["notes.txt"]


@pytest.mark.parametrize("failing", ["bench.toml", "sprig.vp3", "piece.toml"])
def test_nothing_half_written_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: str) -> None:
    def full(path: Path, data: bytes) -> None:
        if path.name == failing:
            raise OutputError("the disk is full.", where=str(path))
        write_whole(path, data)

    monkeypatch.setattr(start, "write_whole", full)
    with pytest.raises(OutputError):
        new_piece(tmp_path / "deep" / "wreath")
    assert held(tmp_path) == []
