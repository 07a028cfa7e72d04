"""`progress.json` in the piece's folder: which steps of which hooping are done, and where the work is."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from festoon.errors import PieceError

PROGRESS = "progress.json"
"""The file in the piece's folder."""

REVISION_DIGITS = 16
"""Hexadecimal digits of the name of what is ticked, as of the piece's own revisions."""

_Word = Annotated[str, Field(max_length=200)]
_Number = Annotated[int, Field(ge=1, le=1_000_000)]


class _Frozen(BaseModel):
    model_config = ConfigDict(frozen=True)


class Tick(_Frozen):
    """A step that is done: its name, what it said, and when it was ticked (ISO 8601, UTC)."""

    step: _Word
    do: _Word
    at: _Word


class HoopingTicks(_Frozen):
    """The ticks of one hooping. stitches, place: names of its stitching, and of its hoop's place and crosses, as they
    were when it was ticked."""

    number: _Number
    stitches: _Word
    place: _Word
    done: tuple[Tick, ...]


class Progress(_Frozen):
    """All of it. hooping: the number of the one that the work is at."""

    hooping: _Number = 1
    hoopings: tuple[HoopingTicks, ...] = ()


def progress_bytes(progress: Progress) -> bytes:
    """The file as it stands on the disk."""
    return (json.dumps(progress.model_dump(mode="json"), indent=2, ensure_ascii=False) + "\n").encode()


def read_progress(path: Path) -> Progress:
    """What is in the file; nothing ticked where there is no file. Raises PieceError where it cannot be understood."""
    try:
        return Progress.model_validate_json(path.read_bytes())
    except FileNotFoundError:
        return Progress()
    except (OSError, ValidationError) as error:
        raise PieceError(
            "the ticks in it cannot be understood.",
            where=str(path),
            remedy="Mend it, or move it away: then nothing counts as done.",
        ) from error


def revision_of(progress: Progress) -> str:
    """A name of what is ticked, by which two devices tell whether they see the same; where the work is has no share."""
    held = progress.model_copy(update={"hooping": 1})
    return hashlib.sha256(progress_bytes(held)).hexdigest()[:REVISION_DIGITS]
