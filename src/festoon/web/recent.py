"""The pieces opened of late, kept in the settings folder; Festoon works as well where that cannot be written."""

from __future__ import annotations

import json
import os
import threading
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from festoon.errors import OutputError
from festoon.files import write_whole
from festoon.piece.read import shared_bench

RECENT = "recent.json"

MOST = 24
"""Pieces remembered: more than fit on a screen (own choice)."""

_lock = threading.Lock()


@dataclass(frozen=True, slots=True)
class Recent:
    """A piece opened of late: its folder, its name then, and when (UTC, ISO 8601)."""

    folder: Path
    name: str
    opened: str


def recent() -> tuple[Recent, ...]:
    """All that are remembered, the last opened first; none where nothing can be read."""
    with suppress(OSError, ValueError, LookupError, TypeError):
        told = json.loads(_file().read_bytes())
        return tuple(Recent(Path(str(r["folder"])), str(r["name"]), str(r["opened"])) for r in told)
    return ()


def remember(folder: Path, name: str) -> None:
    """Put a piece first."""
    now = datetime.now(UTC).isoformat(timespec="seconds")
    with _lock:
        others = [r for r in recent() if r.folder != folder]
        _keep([Recent(folder, name, now), *others][:MOST])


def forget(folder: Path) -> None:
    """Remember a piece no longer."""
    with _lock:
        _keep([r for r in recent() if r.folder != folder])


def _keep(pieces: list[Recent]) -> None:
    told = [{"folder": str(r.folder), "name": r.name, "opened": r.opened} for r in pieces]
    with suppress(OSError, OutputError):  # a convenience; a settings folder that cannot be written stops no work
        os.makedirs(_file().parent, exist_ok=True)
        write_whole(_file(), json.dumps(told, ensure_ascii=False, indent=1).encode("utf-8", "replace"))


def _file() -> Path:
    return shared_bench().parent / RECENT
