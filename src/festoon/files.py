"""Files written whole or not at all."""

from __future__ import annotations

import errno
import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from festoon.errors import OutputError


def write_whole(path: Path, data: bytes) -> None:
    """Write `data` so that `path` holds all of it or what it held before.

    A temporary file beside it is flushed to the disk, then renamed over it. Raises OutputError.
    """
    write_together({path: data})


def write_together(files: Mapping[Path, bytes]) -> None:
    """Write files that belong together: none takes its place before all are whole on the disk. Raises OutputError."""
    beside: dict[Path, Path] = {}
    try:
        for path, data in files.items():
            with _telling(path):
                beside[path] = _begun(path)
                _fill(beside[path], data)
        for path, whole in beside.items():
            with _telling(path):
                whole.replace(path)
        for folder in {path.parent for path in files}:
            with _telling(folder):
                _settle(folder)
    finally:
        for left in beside.values():
            left.unlink(missing_ok=True)


def _begun(path: Path) -> Path:
    handle, name = tempfile.mkstemp(prefix=f".{path.name}-", dir=path.parent)
    os.close(handle)
    return Path(name)


def _fill(path: Path, data: bytes) -> None:
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    path.chmod(0o644)


def left_over(folder: Path, name: str) -> list[Path]:
    """What was being written as `name` in that folder when the process was ended."""
    return sorted(folder.glob(f".{name}-*"))


def _settle(folder: Path) -> None:
    """The new names themselves are on the disk (fsync(2): of the file alone they need not be). Not on Windows."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextmanager
def _telling(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise cannot_write(path, error) from error


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
        errno.EEXIST: ("what should be a folder is a file.", "Choose another folder with -o."),
    }
    denied = (
        "you are not allowed to write there.",
        "Choose another folder with -o, or ask for leave to write.",
    )
    what, remedy = reasons.get(
        error.errno or 0, (f"it cannot be written ({error.strerror}).", "Choose another folder with -o.")
    )
    if isinstance(error, PermissionError):
        what, remedy = denied
    return OutputError(what + " Nothing was written.", where=str(path), remedy=remedy)


CONTENTS = ".contents"
"""Lists, in a folder of results, the files that Festoon put there; all others are the worker's own."""


def replace_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Make `folder` hold `files` in place of those that an earlier call put there, or leave it as it was.

    Files in it that Festoon did not make are kept; one that stands in the way of a new file is an OutputError. All is
    written into a new folder beside it, which then takes its place.
    """
    if folder.exists() and not folder.is_dir():
        raise cannot_write(folder, NotADirectoryError(errno.ENOTDIR, "not a folder"))
    own = _listed(folder)
    kept = [p for p in (folder.iterdir() if folder.exists() else ()) if p.name not in own]
    clash = next((p for p in kept if p.name in files), None)
    if clash is not None:
        raise _not_ours(clash)
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        beside = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    except OSError as error:
        raise cannot_write(folder, error) from error
    try:
        for name, data in {**files, CONTENTS: _listing(files)}.items():
            write_whole(beside / name, data)
        beside.chmod(0o755)
        _swap(folder, beside, kept)
    except OSError as error:
        raise cannot_write(folder, error) from error
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def added(folder: Path, name: str, data: bytes) -> dict[Path, bytes]:
    """What to write together so that `folder` holds one more file that Festoon made; it goes when all is made anew.

    OutputError where a file of that name is the worker's own.
    """
    own = _listed(folder)
    if name not in own and (folder / name).exists():
        raise _not_ours(folder / name)
    return {folder / name: data, folder / CONTENTS: _listing({*own, name} - {CONTENTS})}


def _not_ours(path: Path) -> OutputError:
    return OutputError(
        "this file would be written over, and Festoon did not make it.",
        where=str(path),
        remedy="Move it away, or choose another folder with -o.",
    )


def _swap(folder: Path, beside: Path, kept: list[Path]) -> None:
    """Put `beside` in the place of `folder`, which it replaces only once everything is in it."""
    if not folder.exists():
        beside.rename(folder)
        return
    old = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    folder.rename(old)
    try:
        beside.rename(folder)
    except BaseException:
        old.rename(folder)
        raise
    for path in kept:
        (old / path.name).rename(folder / path.name)
    shutil.rmtree(old, ignore_errors=True)


def _listing(names: Iterable[str]) -> bytes:
    return "".join(f"{name}\n" for name in sorted(names)).encode()


def _listed(folder: Path) -> set[str]:
    try:
        return {*(folder / CONTENTS).read_text("utf-8").splitlines(), CONTENTS}
    except OSError:
        return set()
