"""All that was ever done to a piece, kept in its folder: numbered entries that are only ever added, and a pointer.

An entry holds both texts as they stood after it. The pointer says which entry stands in the files, which is the newest,
and, while the files are being written, which one they are to hold. So whatever instant the power fails at, opening the
folder again finds the texts of one entry or of the other.
"""

from __future__ import annotations

import functools
import json
import os
import sys
import zlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from festoon.errors import FestoonError, PieceError
from festoon.files import cannot_write, left_over, write_together, write_whole
from festoon.piece.read import BENCH, PIECE

HISTORY = ".history"
"""The folder, inside the piece's own, that the history lies in."""

OUTSIDE = "changed outside"
"""Label of what an editor, or anything but the desk, did to the files."""

_POINTER, _LOCK, _SUFFIX = "pointer", "lock", ".entry"


@dataclass(frozen=True, slots=True)
class Texts:
    """The two files; no bench where the shared one serves."""

    piece: bytes
    bench: bytes | None


@dataclass(frozen=True, slots=True)
class Entry:
    """What was done (`label`), to which entry (`before`; None at the beginning), and the texts after it."""

    label: str
    before: int | None
    texts: Texts


@dataclass(frozen=True, slots=True)
class State:
    """Which entry the files hold (None before there is any), the newest, and one on its way into the files."""

    at: int | None = None
    tip: int = 0
    to: int | None = None


class History:
    """The history of one folder. Callers hold `locked` round whatever writes."""

    def __init__(self, home: Path) -> None:
        self._home = home
        self._folder = home / HISTORY
        self._entry = functools.lru_cache(maxsize=64)(self._read_entry)

    @contextmanager
    def locked(self) -> Iterator[None]:
        """Alone at the folder, among all processes. OutputError where it cannot be written to."""
        try:
            self._folder.mkdir(exist_ok=True)
            handle = os.open(self._folder / _LOCK, os.O_RDWR | os.O_CREAT, 0o644)
        except OSError as error:
            raise cannot_write(self._folder, error) from error
        try:
            try:
                _lock(handle)
            except OSError as error:
                raise cannot_write(self._folder, error) from error
            yield
        finally:
            os.close(handle)

    def texts(self) -> Texts:
        """The files as they stand. Raises OSError where there is no piece file."""
        bench = self._home / BENCH
        return Texts((self._home / PIECE).read_bytes(), bench.read_bytes() if bench.exists() else None)

    def state(self) -> State:
        """The pointer; a fresh beginning, above all entries that are there, where it is missing or damaged.

        Raises PieceError where the disk does not give it.
        """
        with _readable(self._folder), suppress(FileNotFoundError, ValueError, LookupError, TypeError):
            told = json.loads((self._folder / _POINTER).read_bytes())
            state = State(told["at"], told["tip"], told["to"])
            if self.entry(state.at):
                return state
        return State(None, max(self._numbers(), default=-1) + 1)

    def entry(self, number: int | None) -> Entry | None:
        """One entry; None where there is none, or it is damaged. Raises PieceError where the disk does not give it."""
        damaged = (FileNotFoundError, ValueError, LookupError, TypeError, zlib.error)
        with _readable(self._folder), suppress(*damaged):
            return None if number is None else self._entry(number)
        return None

    def settle(self) -> None:
        """Finish, or take back, what was being written when the process ended."""
        state = self.state()
        before, after = self.entry(state.at), self.entry(state.to)
        if state.to is None or before is None:
            return
        now = self.texts()
        if after is None:
            self._point(replace(state, to=None))
        elif now == after.texts:
            self._point(State(state.to, max(state.tip, state.to)))
        else:
            ours = before.texts, after.texts
            if any(now.piece == t.piece for t in ours) and any(now.bench == t.bench for t in ours):
                self._put(before.texts, now)
            self._point(replace(state, to=None))

    def left_over(self) -> list[Path]:
        """Files half written when a process was ended; nothing needs them."""
        return [*left_over(self._home, PIECE), *left_over(self._home, BENCH), *left_over(self._folder, "*")]

    def notice(self) -> State:
        """The state, with what was done outside the desk added as an entry of its own."""
        self.settle()
        state, now = self.state(), self.texts()
        here = self.entry(state.at)
        if here is not None and here.texts == now:
            return state
        number = state.tip + 1 if here else state.tip
        self._add(number, Entry(OUTSIDE if here else "", state.at if here else None, now))
        state = State(number, number)
        self._point(state)
        return state

    def record(self, state: State, label: str, texts: Texts) -> None:
        """Add a change to what `notice` gave, and write its texts into the files: both or neither."""
        number = state.tip + 1
        self._add(number, Entry(label, state.at, texts))
        self.go(state, number)

    def go(self, state: State, number: int) -> None:
        """Make the files hold the texts of an entry. OutputError where they cannot be written; then nothing is."""
        after, now = self._entry(number), self.texts()
        self._point(replace(state, to=number))
        try:
            self._put(after.texts, now)
            self._point(State(number, max(state.tip, number)))
        except BaseException:
            with suppress(FestoonError, OSError):
                self._put(now, self.texts())
                self._point(state)
            raise

    def onward(self, state: State) -> int | None:
        """The entry that redo leads to: on the way from here to the newest."""
        number: int | None = state.tip
        while number is not None and number != state.at:
            entry = self.entry(number)
            if entry is None or entry.before == state.at:
                return number if entry else None
            number = entry.before
        return None

    def _numbers(self) -> Iterator[int]:
        names = os.listdir(self._folder) if self._folder.is_dir() else []
        stems = (name.removesuffix(_SUFFIX) for name in names if name.endswith(_SUFFIX))
        return (int(stem) for stem in stems if stem.isdecimal())

    def _path(self, number: int) -> Path:
        return self._folder / f"{number:06}{_SUFFIX}"

    def _read_entry(self, number: int) -> Entry:
        told = json.loads(zlib.decompress(self._path(number).read_bytes()))
        bench = None if told["bench"] is None else _bytes(told["bench"])
        return Entry(told["label"], told["before"], Texts(_bytes(told["piece"]), bench))

    def _add(self, number: int, entry: Entry) -> None:
        texts = entry.texts
        told = {
            "label": entry.label,
            "before": entry.before,
            "piece": _text(texts.piece),
            "bench": None if texts.bench is None else _text(texts.bench),
        }
        write_whole(self._path(number), zlib.compress(json.dumps(told).encode()))
        self._entry.cache_clear()

    def _point(self, state: State) -> None:
        told: Mapping[str, Any] = {"at": state.at, "tip": state.tip, "to": state.to}
        write_whole(self._folder / _POINTER, json.dumps(told).encode())

    def _put(self, texts: Texts, now: Texts) -> None:
        """Write what differs; a bench that was not there goes."""
        files = {PIECE: (texts.piece, now.piece), BENCH: (texts.bench, now.bench)}
        write_together({self._home / n: new for n, (new, old) in files.items() if new is not None and new != old})
        if texts.bench is None and now.bench is not None:
            try:
                (self._home / BENCH).unlink()
            except OSError as error:
                raise cannot_write(self._home / BENCH, error) from error


@contextmanager
def _readable(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise PieceError(
            f"its history cannot be read ({error.strerror}).",
            where=str(folder),
            remedy="Look whether the disk is still there; without this folder the piece begins a new history.",
        ) from error


def _text(data: bytes) -> str:
    return data.decode("utf-8", "surrogateescape")


def _bytes(text: str) -> bytes:
    return text.encode("utf-8", "surrogateescape")


if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_LOCK, 1)

else:
    import fcntl

    def _lock(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX)
