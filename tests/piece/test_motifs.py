"""Stitch files are read from the piece's folder, each once, and never from elsewhere."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from festoon.errors import PieceError, StitchFileError
from festoon.piece.motifs import motif_reader
from festoon.stitches import Thread, from_points, write_stitches


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    home = tmp_path / "piece"
    (home / "motifs").mkdir(parents=True)
    write_stitches(from_points([[0, 0], [3, 0], [3, 4]], Thread()), home / "motifs" / "sprig.vp3")
    return home


def test_the_stitches_of_the_file(folder: Path) -> None:
    holes = motif_reader(folder)("motifs/sprig.vp3").holes
    assert np.ptp(holes, axis=0).tolist() == [3.0, 4.0]


def test_each_file_is_read_once(folder: Path) -> None:
    read = motif_reader(folder)
    first = read("motifs/sprig.vp3")
    (folder / "motifs" / "sprig.vp3").unlink()
    assert read("motifs/sprig.vp3") is first


def test_a_missing_file_with_one_like_it(folder: Path) -> None:
    with pytest.raises(PieceError) as error:
        motif_reader(folder)("motifs/spirg.vp3")
    assert str(error.value) == (
        'motifs/spirg.vp3: there is no such file in the piece\'s folder. Did you mean "motifs/sprig.vp3"?'
    )


def test_a_missing_file_like_no_other(folder: Path) -> None:
    with pytest.raises(PieceError) as error:
        motif_reader(folder)("zzz")
    assert str(error.value) == "zzz: there is no such file in the piece's folder. There is: motifs/sprig.vp3."


def test_a_missing_file_in_an_empty_folder(tmp_path: Path) -> None:
    with pytest.raises(PieceError) as error:
        motif_reader(tmp_path)("a.dst")
    assert str(error.value) == (
        "a.dst: there is no such file in the piece's folder. Put the stitch file into the piece's folder."
    )


def test_names_that_no_disk_can_hold(folder: Path) -> None:
    (folder / "motifs" / "ring.vp3").symlink_to(folder / "motifs" / "ring.vp3")
    for file in ("a" * 3000, "motifs/ring.vp3"):
        with pytest.raises(PieceError, match=r"there is no such file in the piece's folder\."):
            motif_reader(folder)(file)


def test_a_damaged_file_is_named_once_as_in_the_piece(folder: Path) -> None:
    (folder / "motifs" / "bud.dst").write_bytes(b"")
    with pytest.raises(StitchFileError) as error:
        motif_reader(folder)("motifs/bud.dst")
    assert str(error.value).startswith("motifs/bud.dst: ")
    assert str(error.value).count("bud.dst") == 1


def test_a_link_that_leads_out_of_the_folder(folder: Path) -> None:
    outside = folder.parent / "other.vp3"
    outside.write_bytes((folder / "motifs" / "sprig.vp3").read_bytes())
    (folder / "motifs" / "link.vp3").symlink_to(outside)
    for file in ("motifs/link.vp3", "../other.vp3", str(outside)):
        with pytest.raises(PieceError) as error:
            motif_reader(folder)(file)
        assert str(error.value) == (
            f"{file}: this file lies outside the piece's folder. "
            "Copy it into the folder's motifs, so that the piece can be taken elsewhere whole."
        )
