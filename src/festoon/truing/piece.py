"""A piece's folder and readings of one hooping -> its corrected machine file beside the one that was made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from pydantic import BaseModel, ValidationError

from festoon.errors import PieceError
from festoon.files import added, write_together
from festoon.hooping import Division, Hooping, divide, machine_stitching
from festoon.hooping.records import RECORD
from festoon.lapping import AT_CUTS, with_lengths
from festoon.layout import Layout, lay_out
from festoon.measure import Units
from festoon.piece import MADE, Piece, read_piece
from festoon.proof.values import Learned
from festoon.registration.model import placing_model
from festoon.stitches import encode
from festoon.truing import words
from festoon.truing.learn import fits, learned, learned_model, outlook
from festoon.truing.readings import parse_readings
from festoon.truing.record import (
    TRUING,
    Outlook,
    TruingFile,
    TruingRecord,
    file_bytes,
    read_records,
    truing_record,
    with_record,
)
from festoon.truing.true import true_hooping
from festoon.truing.values import Readings, Truing

TRUED = "-trued"
"""What the corrected file's name has after that of the one it stands for."""


@dataclass(frozen=True, eq=False)
class Done:
    """A truing, the file it was written to (None where it must not be sewn), and all that is to be said of it."""

    truing: Truing
    file: Path | None
    sentences: tuple[str, ...]


class _Length(BaseModel):
    element: str | None
    to: float


class _Entry(BaseModel):
    number: int
    file: str


class _Made(BaseModel):
    hoopings: tuple[_Entry, ...]
    lengthened: tuple[_Length, ...] = ()


def learned_of(piece: Piece, division: Division) -> Learned | None:
    """What was read after hooping teaches of the piece so divided; None where nothing was read.

    PieceError where truing.json in the piece's folder cannot be understood.
    """
    records = read_records(piece.folder / TRUING)
    return learned(placing_model(piece.bench.measured), division, records, piece.file.piece.units)


def true_piece(
    folder: Path, number: int, read: Sequence[str], placed: Sequence[str] = (), out: Path | None = None
) -> Done:
    """True hooping `number` of the piece made into `out` (its `made` folder if left out).

    read: how far off each cross was ('A=0.5 right 0.3 up'); placed: where it was seen in the hoop. Where the hooping
    can be sewn so, the corrected file is written beside the made one and what was read into truing.json in the piece's
    folder; else nothing is. Raises FestoonError.
    """
    piece = read_piece(folder)
    made = out or piece.folder / MADE
    record = _record(made)
    file = Path(_entry(record, number, made / RECORD).file)
    piece = with_lengths(piece, {e.element or AT_CUTS: e.to for e in record.lengthened})
    layout = lay_out(piece)
    division = divide(layout)
    hooping = _unchanged(piece, division, made / file.name, number)
    return true_made(layout, division, hooping, made / file.name, parse_readings(hooping, read, placed))


def true_made(layout: Layout, division: Division, hooping: Hooping, file: Path, readings: Readings) -> Done:
    """The same for a hooping of this division whose machine file, as made, is `file`."""
    piece, made, name = layout.piece, file.parent, trued_name(file.name)
    truing = judged(piece, hooping, readings, piece.file.piece.units)
    if not truing.usable:
        return Done(truing, None, (*truing.sentences, _nothing_written(made, name)))
    sewing = encode(machine_stitching(truing.hooping, truing.hooping.marks), piece.bench.machine.format)
    records = with_record(read_records(piece.folder / TRUING), truing_record(truing, hooping, name))
    lessons, ahead = _ahead(layout, division, records)
    whole = file_bytes(TruingFile(hoopings=records, outlook=ahead))
    write_together({**added(made, name, sewing), piece.folder / TRUING: whole})
    instead = f"Sew {name} in place of {file.name}; its needle check now goes to where the crosses lie."
    return Done(truing, made / name, (*truing.sentences, instead, *lessons))


def judged(piece: Piece, hooping: Hooping, readings: Readings, units: Units) -> Truing:
    """What readings of a hooping of the piece come to, by what was read of its other hoopings; nothing is written.

    Raises HoopingError as `true_hooping`, PieceError where truing.json cannot be understood.
    """
    kept = read_records(piece.folder / TRUING)
    so_far = learned_model(placing_model(piece.bench.measured), (r for r in kept if r.number != hooping.number))
    return true_hooping(hooping, readings, model=so_far, units=units)


def trued_name(file: str) -> str:
    """What the corrected file of a machine file is called.

    >>> trued_name("hooping-03.dst")
    'hooping-03-trued.dst'
    """
    stem, dot, suffix = file.rpartition(".")
    return f"{stem}{TRUED}{dot}{suffix}"


def trued_before(piece: Piece, hooping: Hooping) -> TruingRecord | None:
    """What was read of this hooping, if its crosses still stand where they stood. Raises PieceError as `judged`."""
    return next(
        (r for r in read_records(piece.folder / TRUING) if r.number == hooping.number and fits(r, hooping)), None
    )


def _ahead(
    layout: Layout, division: Division, records: Sequence[TruingRecord]
) -> tuple[tuple[str, ...], tuple[Outlook, ...]]:
    """What the truings change for the hoopings to come: in sentences, and for the record."""
    model, units = placing_model(layout.piece.bench.measured), layout.piece.file.piece.units
    found = learned(model, division, records, units)
    if found is None:
        return (), ()
    ahead = outlook(layout, division, model, found)
    if not ahead:
        return (found.told,), ()
    across = [o.across for o in ahead if o.across is not None]
    told = words.outlook(
        [o.number for o in ahead],
        (max(o.expected.before for o in ahead), max(o.expected.now for o in ahead)),
        (max(a.before for a in across), max(a.now for a in across)) if across else None,
        units,
    )
    return (found.told, told), ahead


def _nothing_written(made: Path, name: str) -> str:
    """That nothing was written; a corrected file of an earlier reading no longer holds."""
    if (made / name).exists():
        return f"Nothing was written. Do not sew {name}: it is of an earlier reading."
    return "Nothing was written."


def _record(made: Path) -> _Made:
    try:
        return _Made.model_validate_json((made / RECORD).read_bytes())
    except (OSError, ValidationError) as error:
        raise PieceError(
            "there is no record of hoopings here that can be read.",
            where=str(made / RECORD),
            remedy="Make the piece first with `festoon make`, or name the folder it was made into with -o.",
        ) from error


def _entry(made: _Made, number: int, where: Path) -> _Entry:
    hoopings = {e.number: e for e in made.hoopings}
    if number not in hoopings:
        count = f"They are 1 to {len(hoopings)}." if len(hoopings) > 1 else "There is number 1 only."
        raise PieceError(f"there is no hooping {number}.", where=str(where), remedy=count)
    return hoopings[number]


def _unchanged(piece: Piece, division: Division, file: Path, number: int) -> Hooping:
    """The hooping as the piece gives it now, which must be the one that the machine file holds."""
    hooping = next((h for h in division.hoopings if h.number == number), None)
    try:
        made = file.read_bytes()
    except OSError as error:
        raise PieceError("it cannot be read.", where=str(file), remedy="Make the piece again.") from error
    if hooping is None or made != encode(machine_stitching(hooping), piece.bench.machine.format):
        raise PieceError(
            f"the piece no longer gives this file for hooping {number}: something has changed since it was made.",
            where=str(file),
            remedy="Undo the change, or make the piece again, hoop by the new marks and read those.",
        )
    return hooping
