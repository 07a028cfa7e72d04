"""A stitch file from the browser: first read where it can do no harm, then brought into the piece."""

from __future__ import annotations

from pathlib import PurePath

from festoon.desk import Desk, import_motif
from festoon.errors import StitchFileError
from festoon.web.motif_check import check_motif
from festoon.web.process import Limits, Running

LIMITS = Limits(seconds=20.0, megabytes=1000)
"""For reading one stitch file: many times what the largest that a hoop takes needs (own choice)."""


def take_in(desk: Desk, name: str, data: bytes, limits: Limits = LIMITS) -> str:
    """The file's name within the piece. Raises FestoonError where it cannot be read within the limits."""
    suffix = PurePath(name).suffix
    reading = Running(limits)
    try:
        for way, what in reading.told(check_motif, (data, suffix), patience=2 * limits.seconds):
            if way == "failed":
                raise StitchFileError(str(what), where=name)
    finally:
        reading.stop()
    return import_motif(desk, name, data)
