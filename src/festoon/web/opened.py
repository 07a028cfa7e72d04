"""The piece that the page shows: its desk, and what was last reckoned from it, kept by revision."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

from festoon.desk import Desk, Edit, Stale
from festoon.errors import FestoonError
from festoon.layout import Layout, lay_out
from festoon.piece import Piece
from festoon.piece.document import read_document
from festoon.piece.read import PIECE
from festoon.web.answers import PieceTold
from festoon.web.thread_data import thread_data
from festoon.web.told import Words, piece_told

TRIES = 5
"""Times that the folder is read again where an editor writes to it meanwhile."""


@dataclass(frozen=True, eq=False)
class Seen:
    """The piece at one revision, laid out."""

    revision: str
    layout: Layout
    words: Words

    @cached_property
    def stitches(self) -> bytes:
        """Its stitching, as `thread_data` has it."""
        return thread_data(self.layout)


class Opened:
    """One piece open on its desk. Safe to use from several threads; every method raises FestoonError."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._lock = threading.RLock()
        self._seen: Seen | None = None

    def seen(self) -> Seen:
        """The piece as it stands, laid out once a revision."""
        with self._lock:
            for _ in range(TRIES):
                revision = self.desk.revision
                if self._seen is not None and self._seen.revision == revision:
                    return self._seen
                piece = self.desk.piece()
                words = _words(piece)
                if self.desk.revision == revision:
                    self._seen = Seen(revision, lay_out(piece), words)
                    return self._seen
            raise FestoonError("the piece is being changed all the time.", remedy="Wait until it is saved.")

    def at(self, revision: str) -> Seen:
        """The same, if it still stands at this revision; Stale where not."""
        seen = self.seen()
        if seen.revision != revision:
            raise Stale("the piece was changed meanwhile.", remedy="Look at it as it is now.")
        return seen

    def told(self) -> PieceTold:
        """What the page is told of it."""
        with self._lock:
            seen = self.seen()
            return piece_told(seen.layout, seen.words, seen.revision, self.desk.undo_label, self.desk.redo_label)

    def change(self, edits: Sequence[Edit], revision: str, label: str) -> PieceTold:
        """Change it and tell it anew. Nothing is saved that could not be laid out."""
        return self._after(lambda: self.desk.change(edits, revision, label, lay_out))

    def undo(self, revision: str) -> PieceTold:
        """Take the last change back."""
        return self._after(lambda: self.desk.undo(revision))

    def redo(self, revision: str) -> PieceTold:
        """Do again what was last taken back."""
        return self._after(lambda: self.desk.redo(revision))

    def _after(self, act: Callable[[], str]) -> PieceTold:
        with self._lock:
            act()
            return self.told()


def _words(piece: Piece) -> Words:
    elements = read_document(piece.folder / PIECE, PIECE).data.get("element", [])
    return {e["name"]: e for e in elements}
