"""A stitch file brought into the piece."""

from __future__ import annotations

import itertools
from pathlib import Path, PureWindowsPath

from festoon.desk.desk import Desk
from festoon.errors import PieceError, StitchFileError
from festoon.files import cannot_write, write_whole
from festoon.piece.read import MOTIFS
from festoon.stitches import read_bytes
from festoon.work.fields import quoted

LONGEST_FILE_NAME = 100
"""Bytes of a motif's file name; disks hold 255, and a number may still be put behind it (own choice)."""

_REFUSED = frozenset('<>:"/\\|?*')
"""Signs that some system allows in no file name."""

DEVICES = frozenset(
    ["con", "prn", "aux", "nul", "conin$", "conout$", *(f"{d}{n}" for d in ("com", "lpt") for n in "0123456789¹²³")]
)
"""Names that one system keeps for its devices, whatever stands behind the first dot."""


def import_motif(desk: Desk, name: str, data: bytes) -> str:
    """Put a stitch file into the piece's motifs, whole or not at all; gives its way from the folder, 'motifs/NAME'.

    The same bytes under the same name are there once; other bytes are called 'NAME-2'. Raises PieceError for a name
    that cannot be a file's everywhere, StitchFileError where the data is no such file, OutputError.
    """
    _check_name(name)
    try:
        read_bytes(data, Path(name).suffix)
    except StitchFileError as error:
        raise error.at(name) from error
    folder = desk.folder / MOTIFS
    with desk.alone():
        try:
            folder.mkdir(exist_ok=True)
            _refuse_elsewhere(desk.folder, folder)
            wanted, there = _place(folder, name, data)
            if not there:
                write_whole(folder / wanted, data)
        except OSError as error:
            raise cannot_write(folder, error) from error
    return f"{MOTIFS}/{wanted}"


def _place(folder: Path, name: str, data: bytes) -> tuple[str, bool]:
    """The first name, numbered from the second, that is free or holds these very bytes already (then True)."""
    known = {path.name.casefold(): path for path in folder.iterdir()}
    stem, suffix = Path(name).stem, Path(name).suffix
    for wanted in itertools.chain([name], (f"{stem}-{n}{suffix}" for n in range(2, len(known) + 2))):
        found = known.get(wanted.casefold())
        if found is not None and found.is_file() and found.read_bytes() == data:
            return found.name, True
        if found is None:
            break
    return wanted, False


def _check_name(name: str) -> None:
    reserved = name.split(".")[0].rstrip().casefold() in DEVICES
    bad = _REFUSED & set(name) or not name.isprintable() or PureWindowsPath(name).name != name
    if not name or bad or reserved or name != name.strip() or name.startswith((".", "~", "-")) or name.endswith("."):
        raise PieceError(
            f"{quoted(name)} cannot be the name of a file everywhere.",
            remedy="Use letters, digits, spaces, - and _, and the ending of its format: sprig.vp3.",
        )
    if len(name.encode("utf-8", "replace")) > LONGEST_FILE_NAME:
        raise PieceError(f"the name {quoted(name)} is too long.", remedy="Give it a shorter one.")


def _refuse_elsewhere(home: Path, folder: Path) -> None:
    if not folder.resolve().is_relative_to(home.resolve()):
        raise PieceError(
            f"its {MOTIFS} lies outside the piece's folder.",
            where=str(home),
            remedy=f"Put a folder {MOTIFS} in the place of the link.",
        )
