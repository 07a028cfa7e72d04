"""A stitch file looked at before it is taken in, in a process that may fail."""

from __future__ import annotations

from collections.abc import Callable

from festoon.errors import StitchFileError
from festoon.stitches import read_bytes


def check_motif(asked: tuple[bytes, str], tell: Callable[[str], None]) -> int:
    """The stitches in a file's bytes of this suffix. Raises StitchFileError, and MemoryError where they do not fit."""
    data, suffix = asked
    try:
        return read_bytes(data, suffix).stitch_count
    except StitchFileError as error:
        if isinstance(error.__cause__, MemoryError):
            raise error.__cause__ from None
        raise
