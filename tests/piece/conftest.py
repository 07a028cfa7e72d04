"""Pieces written for a test; the worker's own settings folder is never looked at."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from festoon.piece import read

BENCH = '[[hoop]]\nname = "small"\nfield = [100, 100]\n\n[[hoop]]\nname = "large"\nfield = [180, 130]\n'
HEAD = '[piece]\nname = "Wreath"\n\n[[panel]]\nname = "front"\nsize = ["40 cm", 300]\n\n'
MOTIF = '[[element]]\nkind = "motif"\nname = "sprig"\nfile = "motifs/sprig.vp3"\n'


@pytest.fixture(autouse=True)
def settings(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty settings folder."""
    folder = tmp_path_factory.mktemp("settings")
    monkeypatch.setattr(read, "user_config_path", lambda name: folder / name)
    return folder / "festoon"


@pytest.fixture
def piece_folder(tmp_path: Path) -> Callable[..., Path]:
    """Writes piece.toml and bench.toml and gives their folder."""

    def write(piece: str, bench: str | None = BENCH) -> Path:
        (tmp_path / "piece.toml").write_text(piece, encoding="utf-8")
        if bench is not None:
            (tmp_path / "bench.toml").write_text(bench, encoding="utf-8")
        return tmp_path

    return write
