"""Piece -> Layout: every element at its place on the cloth, in the order in which they lie, bottom first."""

from __future__ import annotations

from dataclasses import dataclass

from festoon.piece import Panel, Piece
from festoon.work import Part, Work


@dataclass(frozen=True, eq=False)
class Layout:
    """The piece laid out. works are in the order of the piece file: later ones lie over earlier ones."""

    piece: Piece
    works: tuple[Work, ...]

    def parts(self, panel: str) -> tuple[Part, ...]:
        """Every part on one panel, bottom first."""
        return tuple(p for w in self.works if w.panel == panel for p in w.parts)

    @property
    def panels(self) -> tuple[Panel, ...]:
        """The panels of the piece, in the order of the file."""
        return self.piece.panels
