"""A piece that the page shows: its desk, what was last reckoned from it, and the long work on it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

from festoon.desk import Desk, Edit, Stale
from festoon.errors import FestoonError
from festoon.kept import Kept
from festoon.layout import Layout, lay_out
from festoon.piece import Piece
from festoon.piece.document import read_document
from festoon.piece.read import PIECE
from festoon.web.accepting import carried, refuse_unacceptable
from festoon.web.answers import PieceTold
from festoon.web.thread_data import thread_data
from festoon.web.told import Words, piece_told
from festoon.web.work import Workshop

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
    """One piece open on its desk, with a workshop of its own.

    Safe to use from several threads; every method raises FestoonError.
    """

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.workshop = Workshop()
        self._lock = threading.RLock()
        self._seen: Seen | None = None
        self._told: tuple[Seen, tuple[str | None, str | None], PieceTold] | None = None
        self._kept = Kept()

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
                    self._seen = Seen(revision, self._laid_out(piece), words)
                    return self._seen
            raise FestoonError("the piece is being changed all the time.", remedy="Wait until it is saved.")

    def at(self, revision: str) -> Seen:
        """The same, if it still stands at this revision; Stale where not."""
        seen = self.seen()
        if seen.revision != revision:
            raise Stale("the piece was changed meanwhile.", remedy="Look at it as it is now.")
        return seen

    def prepare(self) -> None:
        """Have ready what the page asks for first, and every library that telling it needs."""
        _ = self.seen().stitches
        self.told().model_dump_json()

    def told(self) -> PieceTold:
        """What the page is told of it."""
        with self._lock:
            seen, labels = self.seen(), (self.desk.undo_label, self.desk.redo_label)
            if self._told is None or self._told[:2] != (seen, labels):
                self._told = seen, labels, piece_told(seen.layout, seen.words, seen.revision, *labels)
            return self._told[2]

    def change(self, edits: Sequence[Edit], revision: str, label: str) -> PieceTold:
        """Change it and tell it anew. Nothing is saved that could not be laid out, or accepts what cannot be."""
        with self._lock:
            known = self.workshop.results(revision)
            refuse_unacceptable(edits, known.proof if known else None)
            told = self._after(lambda: self.desk.change(edits, revision, label, self._laid_out))
            if known and known.proof and (proof := carried(known.proof, edits, told.revision)):
                self.workshop.keep(told.revision, known.with_proof(proof))
            return told

    def undo(self, revision: str) -> PieceTold:
        """Take the last change back."""
        return self._after(lambda: self.desk.undo(revision))

    def redo(self, revision: str) -> PieceTold:
        """Do again what was last taken back."""
        return self._after(lambda: self.desk.redo(revision))

    def close(self) -> None:
        """End all work on it."""
        self.workshop.close()

    def _laid_out(self, piece: Piece) -> Layout:
        return lay_out(piece, kept=self._kept)

    def _after(self, act: Callable[[], str]) -> PieceTold:
        with self._lock:
            act()
            return self.told()


def _words(piece: Piece) -> Words:
    return read_document(piece.folder / PIECE, PIECE).data
