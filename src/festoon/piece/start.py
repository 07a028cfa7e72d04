"""A new piece: a small one that can be made at once, its files full of remarks."""

from __future__ import annotations

import contextlib
import os
from importlib.resources import files
from pathlib import Path

from festoon.errors import PieceError
from festoon.files import cannot_write, write_whole
from festoon.piece.read import BENCH, MOTIFS, PIECE
from festoon.piece.sprig import sprig
from festoon.stitches import encode

SPRIG = f"{MOTIFS}/sprig.vp3"


def new_piece(folder: Path) -> list[Path]:
    """Write a small working piece into `folder`, made where it is missing; gives the files written.

    All of it is written or nothing. Raises PieceError where the folder holds a file that would be written over, and
    OutputError where it cannot be written.
    """
    starter = files("festoon.piece") / "starter"
    contents = {
        folder / BENCH: (starter / BENCH).read_bytes(),
        folder / SPRIG: encode(sprig(), "vp3"),
        folder / PIECE: (starter / PIECE).read_bytes(),
    }
    _refuse_a_full_place(folder, list(contents))
    made: list[Path] = []
    try:
        _make_folder(folder / MOTIFS, made)
        for path, data in contents.items():
            made.append(path)
            write_whole(path, data)
    except BaseException:
        _take_back(made)
        raise
    return list(contents)


def _refuse_a_full_place(folder: Path, wanted: list[Path]) -> None:
    if os.path.exists(folder) and not os.path.isdir(folder):  # Path.exists fails where the system refuses to look
        raise PieceError("this is a file.", where=str(folder), remedy="Give a folder, or a name not used yet.")
    there = [path.relative_to(folder).as_posix() for path in wanted if os.path.lexists(path)]
    if there:
        what = "holds a piece already" if PIECE in there else f"has a {there[0]} already"
        raise PieceError(f"this folder {what}.", where=str(folder), remedy="Give another folder; nothing was written.")


def _make_folder(folder: Path, made: list[Path]) -> None:
    """Make the folder and those above it; each that was not there is added to `made`."""
    missing = [path for path in (folder, *folder.parents) if not os.path.exists(path)]
    for path in reversed(missing):
        try:
            path.mkdir()
        except OSError as error:
            raise cannot_write(path, error) from error
        made.append(path)


def _take_back(made: list[Path]) -> None:
    for path in reversed(made):
        with contextlib.suppress(OSError):
            path.rmdir() if path.is_dir() else path.unlink(missing_ok=True)
