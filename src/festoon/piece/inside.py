"""Files of a piece lie in its folder."""

from __future__ import annotations

import os
from pathlib import Path

from festoon.errors import PieceError


def refuse_elsewhere(folder: Path, path: Path, into: str) -> None:
    """Raise PieceError for a file that a link leads out of the folder; `into` is where its like belongs."""
    if not Path(os.path.realpath(path)).is_relative_to(os.path.realpath(folder)):
        raise PieceError(
            "this file lies outside the piece's folder.",
            remedy=f"Copy it into the folder's {into}, so that the piece can be taken elsewhere whole.",
        )
