"""Stitch files brought in: whole, inside the folder, never one over another."""

from pathlib import Path

import pytest

from festoon.desk import Desk, import_motif
from festoon.errors import FestoonError, PieceError, StitchFileError
from festoon.piece.sprig import sprig
from festoon.stitches import encode

DST, VP3 = encode(sprig(), "dst"), encode(sprig(), "vp3")


def test_same_bytes_are_there_once_and_others_beside_them(home: Path) -> None:
    desk = Desk(home)
    other = DST + b"\x1a"
    assert import_motif(desk, "Bud.dst", DST) == "motifs/Bud.dst"
    assert import_motif(desk, "bud.dst", DST) == "motifs/Bud.dst"
    assert import_motif(desk, "Bud.dst", other) == "motifs/Bud-2.dst"
    assert import_motif(desk, "Bud.dst", other) == "motifs/Bud-2.dst"
    assert (home / "motifs/Bud.dst").read_bytes() == DST
    assert (home / "motifs/Bud-2.dst").read_bytes() == other


OUTSIDE = ["../a.dst", "..", "", ".", "/etc/a.dst", "a/b.dst", "a\\b.dst", "C:a.dst", "a\0.dst", "a\n.dst", ".a.dst"]
DEVICES = ["con.dst", "NUL.dst", "Com1.x.dst", "lpt¹.dst", "aux .dst"]
ODD = ["a.dst ", "a.dst.", "~a.dst", "a" * 300 + ".dst", "é" * 60 + ".dst", "a?.dst", "\ud800.dst", "\u202ea.dst"]


@pytest.mark.parametrize("name", [*OUTSIDE, *DEVICES, *ODD])
def test_names_that_are_no_file_names_everywhere_are_refused(home: Path, name: str) -> None:
    before = sorted(home.parent.rglob("*"))
    with pytest.raises(PieceError):
        import_motif(Desk(home), name, DST)
    assert sorted(home.parent.rglob("*")) == before


@pytest.mark.parametrize(("name", "data"), [("a.dst", b""), ("a.vp3", VP3[:50]), ("a.txt", DST), ("a", DST)])
def test_data_without_stitches_is_refused_by_its_name(home: Path, name: str, data: bytes) -> None:
    with pytest.raises(StitchFileError, match=f"^{name}: "):
        import_motif(Desk(home), name, data)
    assert not (home / "motifs" / name).exists()


def test_motifs_that_lead_out_of_the_folder_are_refused(home: Path) -> None:
    (home / "motifs").rename(home.parent / "elsewhere")
    (home / "motifs").symlink_to(home.parent / "elsewhere")
    with pytest.raises(FestoonError, match="outside"):
        import_motif(Desk(home), "a.dst", DST)
    assert not (home.parent / "elsewhere" / "a.dst").exists()
