"""Stitch files of a piece's folder, each read once."""

from __future__ import annotations

import functools
import itertools
import os
from collections.abc import Callable
from pathlib import Path

from festoon.errors import FestoonError, PieceError
from festoon.piece.inside import refuse_elsewhere
from festoon.piece.near import did_you_mean
from festoon.piece.read import MOTIFS
from festoon.stitches.decoding import readers
from festoon.stitches.files import read_bytes, read_stitches
from festoon.stitches.stitching import Stitching


def motif_reader(folder: Path, decode: Callable[[bytes, str], Stitching] = read_bytes) -> Callable[[str], Stitching]:
    """A function that reads a stitch file by its name in the piece's folder ('motifs/sprig.vp3'), each once.

    decode: what to make of its bytes, given its suffix (as `read_bytes`).
    It raises FestoonError, the file's name first, for one that is missing, cannot be read, or lies elsewhere.
    """

    @functools.cache
    def read(file: str) -> Stitching:
        path = folder / file
        try:
            refuse_elsewhere(folder, path, MOTIFS)
            if not os.path.isfile(path):  # Path.is_file fails on names too long for the disk
                raise _missing(folder, file)
            return read_stitches(path, decode)
        except FestoonError as error:
            where = file + error.where.removeprefix(path.name)
            raise type(error)(error.what, where=where, remedy=error.remedy) from error

    return read


def motif_files(folder: Path) -> list[str]:
    """Every stitch file beside piece.toml and in motifs, in the way a piece file names them."""
    return sorted(
        path.relative_to(folder).as_posix()
        for path in itertools.chain(folder.glob("*"), (folder / MOTIFS).rglob("*"))
        if path.suffix.lower().lstrip(".") in readers() and path.is_file()
    )


def _missing(folder: Path, file: str) -> PieceError:
    known = motif_files(folder)
    otherwise = f"There is: {', '.join(known[:8])}." if known else "Put the stitch file into the piece's folder."
    return PieceError("there is no such file in the piece's folder.", remedy=did_you_mean(file, known, otherwise))
