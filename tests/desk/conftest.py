"""A piece folder to work on, as `festoon new` makes it."""

from pathlib import Path

import pytest

from festoon.piece.start import new_piece


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """The starter piece: a join "stem" under a ring of motifs "sprig"."""
    folder = tmp_path / "wreath"
    new_piece(folder)
    return folder
