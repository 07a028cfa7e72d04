"""Files written whole or not at all."""

from __future__ import annotations

import errno
import os
import tempfile
from pathlib import Path

from festoon.errors import OutputError


def write_whole(path: Path, data: bytes) -> None:
    """Write `data` so that `path` holds all of it or what it held before.

    A temporary file beside it is flushed to the disk, then renamed over it. Raises OutputError.
    """
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name}-", dir=path.parent)
    except OSError as error:
        raise cannot_write(path, error) from error
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(0o644)
        Path(name).replace(path)
    except OSError as error:
        Path(name).unlink(missing_ok=True)
        raise cannot_write(path, error) from error
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def cannot_write(path: Path, error: OSError) -> OutputError:
    """The sentence for a file or folder that could not be written."""
    reasons = {
        errno.ENOSPC: ("the disk is full.", "Make room on it, or choose another folder with -o."),
        errno.EDQUOT: (
            "your share of the disk is full.",
            "Make room on it, or choose another folder with -o.",
        ),
        errno.EROFS: ("this disk cannot be written to.", "Choose another folder with -o."),
        errno.ENOENT: (
            "the folder it should go into does not exist.",
            "Make the folder first, or choose another.",
        ),
        errno.ENOTDIR: ("what should be a folder is a file.", "Choose another folder with -o."),
    }
    denied = (
        "you are not allowed to write there.",
        "Choose another folder with -o, or ask for leave to write.",
    )
    what, remedy = reasons.get(
        error.errno or 0, (f"it cannot be written ({error.strerror}).", "Choose another folder.")
    )
    if isinstance(error, PermissionError):
        what, remedy = denied
    return OutputError(what + " Nothing was written.", where=str(path), remedy=remedy)
