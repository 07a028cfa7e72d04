"""A piece's folder and readings of one hooping -> its corrected machine file beside the one that was made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from pydantic import BaseModel, ValidationError

from festoon.errors import PieceError
from festoon.files import added, write_together
from festoon.hooping import Hooping, divide, machine_stitching
from festoon.hooping.divide import mark_error
from festoon.layout import lay_out
from festoon.make import MADE, RECORD
from festoon.piece import Piece, read_piece
from festoon.stitches import encode
from festoon.truing import words
from festoon.truing.readings import parse_readings
from festoon.truing.record import TRUING, read_records, record_bytes, remaining_error, truing_record, with_record
from festoon.truing.true import true_hooping
from festoon.truing.values import Truing

TRUED = "-trued"
"""What the corrected file's name has after that of the one it stands for."""


@dataclass(frozen=True, eq=False)
class Done:
    """A truing, the file it was written to (None where it must not be sewn), and all that is to be said of it."""

    truing: Truing
    file: Path | None
    sentences: tuple[str, ...]


class _Entry(BaseModel):
    number: int
    file: str


class _Made(BaseModel):
    hoopings: tuple[_Entry, ...]


def true_piece(
    folder: Path, number: int, read: Sequence[str], placed: Sequence[str] = (), out: Path | None = None
) -> Done:
    """True hooping `number` of the piece made into `out` (its `made` folder if left out).

    read: how far off each cross was ('A=0.5,-0.3'); placed: where it was seen in the hoop. Where the hooping can be
    sewn so, the corrected file is written beside the made one and the readings into truing.json in the piece's folder;
    else nothing is. Raises FestoonError.
    """
    piece = read_piece(folder)
    made = out or piece.folder / MADE
    entry = _entry(made, number)
    hooping = _unchanged(piece, made / Path(entry.file).name, number)
    fle, units = mark_error(piece.bench), piece.file.piece.units
    truing = true_hooping(hooping, parse_readings(hooping, read, placed), fle=fle, units=units)
    if not truing.usable:
        return Done(truing, None, (*truing.sentences, "Nothing was written."))
    original = Path(entry.file)
    name = f"{original.stem}{TRUED}{original.suffix}"
    sewing = encode(machine_stitching(truing.hooping), piece.bench.machine.format)
    records = with_record(read_records(piece.folder / TRUING), truing_record(truing, name))
    write_together({**added(made, name, sewing), piece.folder / TRUING: record_bytes(records)})
    so_far = words.so_far(remaining_error(records), fle, units)
    return Done(truing, made / name, (*truing.sentences, *so_far))


def _entry(made: Path, number: int) -> _Entry:
    record = made / RECORD
    try:
        hoopings = {e.number: e for e in _Made.model_validate_json(record.read_bytes()).hoopings}
    except (OSError, ValidationError) as error:
        raise PieceError(
            "there is no record of hoopings here that can be read.",
            where=str(record),
            remedy="Make the piece first with `festoon make`, or name the folder it was made into with -o.",
        ) from error
    if number not in hoopings:
        count = f"are 1 to {len(hoopings)}" if len(hoopings) > 1 else "is number 1 only"
        raise PieceError(f"there is no hooping {number}.", where=str(record), remedy=f"There {count}.")
    return hoopings[number]


def _unchanged(piece: Piece, file: Path, number: int) -> Hooping:
    """The hooping as the piece gives it now, which must be the one that the machine file holds."""
    hoopings = {h.number: h for h in divide(lay_out(piece)).hoopings}
    try:
        same = number in hoopings and file.read_bytes() == encode(
            machine_stitching(hoopings[number]), piece.bench.machine.format
        )
    except OSError as error:
        raise PieceError("it cannot be read.", where=str(file), remedy="Make the piece again.") from error
    if not same:
        raise PieceError(
            f"the piece no longer gives this file for hooping {number}: something has changed since it was made.",
            where=str(file),
            remedy="Undo the change, or make the piece again, hoop by the new marks and read those.",
        )
    return hoopings[number]
