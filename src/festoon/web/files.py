"""The files that a piece comes to, on their way to the browser."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

from festoon.errors import FestoonError

EARLIEST = (1980, 1, 1, 0, 0, 0)
"""The time that every file in an archive bears, the first that a zip can hold: no clock has a share in it."""

KINDS = {"pdf": "application/pdf", "json": "application/json"}
"""Endings that a browser shows by itself; all others are saved."""


class NotYet(FestoonError):
    """What is asked for has not been worked out for the piece as it stands."""


def media_type(name: str) -> str:
    """How a file of that name is told to a browser.

    >>> media_type("proof.pdf"), media_type("hooping-01.dst")
    ('application/pdf', 'application/octet-stream')
    """
    return KINDS.get(name.rpartition(".")[2], "application/octet-stream")


def zipped(files: Mapping[str, bytes]) -> bytes:
    """All files in one archive; the same files give the same bytes."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, EARLIEST)
            entry.create_system, entry.external_attr = 3, 0o100644 << 16  # a plain file, whatever system packs it
            archive.writestr(entry, files[name], zipfile.ZIP_DEFLATED, 6)
    return held.getvalue()
