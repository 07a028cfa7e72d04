"""The pieces that lie open on the cutting table, each by its key; opened when first asked for."""

from __future__ import annotations

import hashlib
import os
import threading
from pathlib import Path

from festoon.desk import Desk
from festoon.errors import FestoonError, PieceError
from festoon.piece.read import PIECE, read_piece
from festoon.web.opened import Opened
from festoon.web.recent import forget, recent, remember

KEY_DIGITS = 12
"""Hexadecimal digits of a key: of a thousand pieces, two share one once in half a billion (computed)."""


class UnknownPiece(FestoonError):
    """A key that belongs to no piece that this table knows."""


class Table:
    """The open pieces. Safe to use from several threads; nothing of one piece reaches another."""

    def __init__(self, first: Path | None = None) -> None:
        """A table on which nothing lies yet, or one piece. Raises FestoonError where that cannot be opened."""
        self._lock = threading.RLock()
        self._folders: dict[str, Path] = {}
        self._open: dict[str, Opened] = {}
        self.first = self.open(first) if first else None
        """The key of the piece that lay on it from the first."""

    def open(self, folder: Path) -> str:
        """Open the piece in this folder (or whose piece.toml is given), and remember it; gives its key.

        Raises FestoonError where it cannot be opened.
        """
        home = home_of(folder)
        if not os.path.isdir(home):
            read_piece(home)
        key = key_of(home)
        with self._lock:
            if key not in self._open:
                self._open[key] = Opened(Desk(home))
            self._folders[key] = home
            remember(home, self._open[key].desk.piece().name)
        return key

    def opened(self, key: str) -> Opened:
        """The piece of that key, opened now if it was not. Raises UnknownPiece, and FestoonError where it cannot be."""
        with self._lock:
            if key not in self._open:
                self.open(self._folder(key))
            return self._open[key]

    def lies_open(self, key: str) -> bool:
        """Whether the piece of that key was opened here."""
        with self._lock:
            return key in self._open

    def forget(self, key: str) -> None:
        """Take it from the pieces that are remembered; its folder stays as it is. Raises UnknownPiece."""
        with self._lock:
            forget(self._folder(key))

    def close(self) -> None:
        """End all work on all pieces."""
        with self._lock:
            for opened in self._open.values():
                opened.close()

    def _folder(self, key: str) -> Path:
        with self._lock:
            known = self._folders.get(key) or next((r.folder for r in recent() if key_of(r.folder) == key), None)
        if known is None:
            raise UnknownPiece("this piece is not known here.", remedy="Go to the start and open it from there.")
        return known


def key_of(home: Path) -> str:
    """The key of a piece in this folder: the same whenever it lies there."""
    return hashlib.sha256(str(home).encode("utf-8", "surrogateescape")).hexdigest()[:KEY_DIGITS]


def home_of(folder: Path) -> Path:
    """The folder itself, every link and '..' on the way to it followed. Raises PieceError where they lead nowhere."""
    try:
        home = folder.resolve()
    except (OSError, RuntimeError, ValueError) as error:
        raise PieceError(
            "there is no such folder.", where=str(folder), remedy="Look whether it is spelt so."
        ) from error
    return home.parent if home.name == PIECE and os.path.isfile(home) else home
