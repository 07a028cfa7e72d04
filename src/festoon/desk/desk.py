"""One open piece folder: read, changed, undone and redone, every change written whole or not at all."""

from __future__ import annotations

import hashlib
import re
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

from festoon.desk.apply import applied
from festoon.desk.edits import Edit, label_of
from festoon.desk.history import HISTORY, OUTSIDE, History, State, Texts
from festoon.errors import FestoonError, PieceError
from festoon.files import cannot_write
from festoon.piece import Piece, read_piece
from festoon.piece.document import document_of
from festoon.piece.read import BENCH, PIECE, piece_of, shared_bench

_BYTE_ORDER = "\ufeff"
"""What some text editors put before the first letter of a file."""


_PATTERN = re.compile(r"""["']([^"'\n]+\.svg)["']""", re.IGNORECASE)
"""A pattern file as a piece file names it."""


class Stale(FestoonError):
    """The piece is no longer as it was when the change was thought of; nothing was written."""


class Desk:
    """One open piece folder; may be used from several threads, and beside other desks and editors on the same folder.

    A revision names both texts as they stand. Whoever changes them says which revision she saw, so that nobody writes
    over what she has not seen.
    """

    def __init__(self, folder: Path) -> None:
        """Open it. Raises FestoonError as read_piece, and where a change cut short cannot be settled."""
        self._lock = threading.RLock()
        self.folder = folder.parent if folder.name == PIECE and folder.is_file() else folder
        self._history = History(self.folder)
        self._read: tuple[str, Piece] | None = None
        if self._history.state().to is not None or self._history.left_over():
            with self.alone():
                self._history.settle()
                for path in self._history.left_over():
                    path.unlink(missing_ok=True)
        if not (self.folder / PIECE).is_file():
            read_piece(self.folder)
        self.piece()

    @property
    def revision(self) -> str:
        """The name of the texts as they stand in the folder now."""
        return _name_of(self._texts(), self.folder)

    def piece(self) -> Piece:
        """The piece as it stands, read once a revision. Raises PieceError as read_piece."""
        with self._lock:
            texts = self._texts()
            revision = _name_of(texts, self.folder)
            if self._read is None or self._read[0] != revision:
                self._read = revision, piece_of(self.folder, texts.piece, texts.bench)
            return self._read[1]

    def change(
        self,
        edits: Sequence[Edit],
        revision: str,
        label: str = "",
        check: Callable[[Piece], object] = lambda piece: None,
    ) -> str:
        """Apply all edits, one after the other, or none, and save; gives the new revision.

        Raises Stale, PieceError where the outcome is no piece, OutputError where it cannot be written, and whatever
        `check` raises for the outcome before it is saved.
        """
        with self.alone():
            texts = self._seen(revision)
            if not edits:
                return revision
            changed = _changed(texts, edits, self.folder)
            if changed == texts:
                return revision
            piece = piece_of(self.folder, changed.piece, changed.bench)
            check(piece)
            self._history.record(self._history.notice(), label or label_of(edits), changed)
            self._read = _name_of(changed, self.folder), piece
            return self._read[0]

    def undo(self, revision: str) -> str:
        """Take the last change back. Raises Stale, and PieceError where there is none."""
        with self.alone():
            self._seen(revision)
            state = self._history.notice()
            entry = self._history.entry(state.at)
            return self._go(state, entry.before if entry else None, "undo")

    def redo(self, revision: str) -> str:
        """Do again what was last taken back. Raises Stale, and PieceError where there is nothing."""
        with self.alone():
            self._seen(revision)
            state = self._history.notice()
            return self._go(state, self._history.onward(state), "redo")

    @property
    def undo_label(self) -> str | None:
        """What undo would take back, 'turning sprig-3'; None where there is nothing."""
        with self._lock:
            here = self._history.entry(self._history.state().at)
            if here is None:
                return None
            if here.texts != self._texts():
                return OUTSIDE
            return here.label if self._history.entry(here.before) else None

    @property
    def redo_label(self) -> str | None:
        """What redo would do again; None where there is nothing."""
        with self._lock:
            state = self._history.state()
            here, onward = self._history.entry(state.at), self._history.entry(self._history.onward(state))
            return onward.label if here and onward and here.texts == self._texts() else None

    @contextmanager
    def alone(self) -> Iterator[None]:
        """While it lasts nobody else changes the folder. Raises OutputError where it cannot be written to."""
        with self._lock, self._history.locked():
            try:
                yield
            except OSError as error:
                raise cannot_write(self.folder / HISTORY, error) from error

    def _texts(self) -> Texts:
        try:
            return self._history.texts()
        except OSError as error:
            raise PieceError(
                f"its {PIECE} or {BENCH} cannot be read ({error.strerror}).",
                where=str(self.folder),
                remedy="Look whether the folder is still there.",
            ) from error

    def _seen(self, revision: str) -> Texts:
        texts = self._texts()
        if _name_of(texts, self.folder) == revision:
            return texts
        last = self.undo_label
        told = f" Last was: {last}." if last else ""
        raise Stale(
            f"the piece was changed meanwhile, in another window or an editor.{told} Nothing was written.",
            where=str(self.folder.name),
            remedy="Look at it as it is now and make your change there, or undo the other one first.",
        )

    def _go(self, state: State, number: int | None, way: str) -> str:
        entry = self._history.entry(number)
        if entry is None or number is None:
            raise PieceError(f"there is nothing to {way}.", where=self.folder.name)
        self._history.go(state, number)
        return _name_of(entry.texts, self.folder)


def _name_of(texts: Texts, folder: Path) -> str:
    """Sixteen hexadecimal digits; where the shared bench serves, its text counts too, and what pattern files hold."""
    bench, own = texts.bench, b"own"
    if bench is None:
        shared, own = shared_bench(), b"shared"
        bench = shared.read_bytes() if shared.is_file() else b""
    parts = (hashlib.sha256(part).digest() for part in (texts.piece, own, bench, *_patterns(texts.piece, folder)))
    return hashlib.sha256(b"".join(parts)).hexdigest()[:16]


def _patterns(piece: bytes, folder: Path) -> Iterator[bytes]:
    """What the pattern files that a piece file names hold; nothing for one that cannot be read."""
    for name in _PATTERN.findall(piece.decode(errors="replace")):
        with suppress(OSError, ValueError):
            yield (folder / name).read_bytes()


def _changed(texts: Texts, edits: Sequence[Edit], folder: Path) -> Texts:
    """Both texts after the edits. A change to the shared bench becomes a bench of the piece's own."""
    shared = shared_bench()
    bench = texts.bench if texts.bench is not None else shared.read_bytes() if shared.is_file() else b""
    for data, name in ((texts.piece, PIECE), (bench, BENCH)):
        document_of(data, name)
    before = texts.piece.decode(), bench.decode()
    own_piece, own_bench = (text.removeprefix(_BYTE_ORDER) for text in before)
    after = applied(edits, own_piece, own_bench, folder)
    piece, new_bench = (
        (_BYTE_ORDER * old.startswith(_BYTE_ORDER) + new).encode() for old, new in zip(before, after, strict=True)
    )
    return Texts(piece, texts.bench if new_bench == bench else new_bench)
