"""A piece folder to work on, as `festoon new` makes it."""

import shutil
from pathlib import Path

import pytest

from festoon.piece.start import new_piece


@pytest.fixture(scope="session")
def starter(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The starter piece, to be copied: a join "stem" under a ring of motifs "sprig"."""
    folder = tmp_path_factory.mktemp("starter") / "wreath"
    new_piece(folder)
    return folder


@pytest.fixture
def home(tmp_path: Path, starter: Path) -> Path:
    """A copy of the starter piece."""
    return Path(shutil.copytree(starter, tmp_path / "wreath"))
