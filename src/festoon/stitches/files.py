"""Machine files on the disk: read any that the stitch-file library reads, write dst, exp, pes, jef or vp3.

Threads come and go as plain colours; makers, charts and numbers that a file may carry stay behind.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable
from pathlib import Path

import numpy as np

from festoon.errors import StitchFileError
from festoon.files import write_whole
from festoon.stitches.commands import FARTHEST
from festoon.stitches.decoding import decode, readers
from festoon.stitches.encoding import FORMATS, encode
from festoon.stitches.soundness import check_sound
from festoon.stitches.stitching import Stitching

AGAIN = "Copy it again from where you bought it."


def read_bytes(data: bytes, suffix: str) -> Stitching:
    """The stitching in the bytes of a machine file with this suffix ('.dst' or 'DST').

    Raises StitchFileError for an unknown suffix and for bytes that are empty, cut short, of another kind of file,
    without stitches or beyond all reach.
    """
    kind = suffix.lower().lstrip(".")
    _check_suffix(kind)
    check_sound(data, kind)
    try:
        stitching = decode(data, kind)
    except StitchFileError:
        raise
    except Exception as error:  # whatever damaged bytes make the library stumble over is one thing to the worker
        raise StitchFileError(
            f"its stitches cannot be read; it is damaged, or no {kind} file.", remedy=AGAIN
        ) from error
    _check_stitches(stitching)
    return stitching


def read_stitches(path: Path, decode: Callable[[bytes, str], Stitching] = read_bytes) -> Stitching:
    """The stitching in a machine file, mm, y down. Raises StitchFileError, naming the file."""
    try:
        return decode(_load(path), path.suffix)
    except StitchFileError as error:
        raise error.at(path.name) from error


def write_stitches(stitching: Stitching, path: Path) -> None:
    """Write a machine file, its format by the suffix of `path`. Raises StitchFileError and OutputError."""
    kind = path.suffix.lower().lstrip(".")
    format = next((f for f in FORMATS if f == kind), None)
    if format is None:
        raise StitchFileError(
            f"'{path.suffix}' is not a kind of machine file that can be written.",
            where=path.name,
            remedy=f"Choose one of {', '.join(FORMATS)}.",
        )
    try:
        data = encode(stitching, format)
    except StitchFileError as error:
        raise error.at(path.name) from error
    write_whole(path, data)


def _load(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError as error:
        raise StitchFileError("there is no such file.", remedy="Check its name and folder.") from error
    except IsADirectoryError as error:
        raise StitchFileError("this is a folder.", remedy="Name a stitch file inside it.") from error
    except PermissionError as error:
        if path.is_dir():
            raise StitchFileError("this is a folder.", remedy="Name a stitch file inside it.") from error
        raise StitchFileError("you are not allowed to read it.", remedy="Copy it to a folder of your own.") from error
    except (OSError, ValueError) as error:
        raise StitchFileError("it cannot be read from the disk.", remedy=AGAIN) from error


def _check_suffix(kind: str) -> None:
    if kind in readers():
        return
    known = sorted(readers())
    near = [m for names in (FORMATS, known) for m in difflib.get_close_matches(kind, names, n=1, cutoff=0.5)]
    guess = f"Did you mean .{near[0]}? " if near else ""
    told = f"'.{kind}' is no kind of stitch file that can be read." if kind else "its name has no ending such as .dst."
    raise StitchFileError(told, remedy=f"{guess}These can be read: {', '.join(known)}.")


def _check_stitches(stitching: Stitching) -> None:
    with np.errstate(invalid="ignore"):
        sound = (np.abs(stitching.points) <= FARTHEST).all(axis=1)
    if not sound.all():
        k = int(np.flatnonzero(~sound)[0])
        x, y = stitching.points[k].tolist()
        number = int(stitching.is_stitch[: k + 1].sum())
        raise StitchFileError(
            f"stitch {max(number, 1):,} would lie at ({x:g}, {y:g}) mm, farther than {FARTHEST / 1000:g} m from the "
            "middle, so the file is damaged or of another kind.",
            remedy=AGAIN,
        )
    if not stitching.stitch_count:
        raise StitchFileError("it holds no stitches.", remedy="Choose another file.")
