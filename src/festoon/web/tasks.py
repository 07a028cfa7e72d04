"""What runs in a process of its own; results are plain values that travel."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from urllib.parse import quote

from festoon.errors import StitchFileError
from festoon.hooping import Division, divide, record
from festoon.hooping.divide import Progress
from festoon.layout import lay_out
from festoon.make import Proved, machine_names, planned, proved, refusals
from festoon.piece import Piece
from festoon.proof.picture import thickness_picture
from festoon.proof.values import Meeting, Thickness
from festoon.report_proof import assurances
from festoon.stitches import read_bytes
from festoon.supplies.minutes import minutes
from festoon.web.answers import BlockTold, HoopingsTold, HoopingTold, MeetingTold, ProofTold, ThicknessTold
from festoon.web.told import findings_told

FINEST_PICTURE, MOST_PIXELS = 4.0, 3000
"""Pixels to a mm of a picture of thickness, and the most along a side: enough for a screen."""


@dataclass(frozen=True, slots=True)
class Results:
    """What was worked out for one revision of a piece; later work brings what earlier work brings, too.

    pictures: PNG by panel; files: name -> bytes, those of `festoon make`; refused: the sentences with which it would
    refuse to write them.
    """

    hoopings: HoopingsTold
    proof: ProofTold | None = None
    pictures: dict[str, bytes] = field(default_factory=dict)
    files: dict[str, bytes] | None = None
    refused: tuple[str, ...] = ()


def hoopings_of(asked: tuple[Piece, str], tell: Progress) -> Results:
    """The piece divided; asked: the piece and its revision."""
    piece, revision = asked
    tell("laying out the piece")
    return Results(_hoopings(divide(lay_out(piece), tell), piece, revision))


def proof_of(asked: tuple[Piece, str], tell: Progress) -> Results:
    """The piece divided and proved."""
    piece, revision = asked
    return _proved(proved(piece, tell), revision)


def sheets_of(asked: tuple[Piece, str], tell: Progress) -> Results:
    """The piece divided and proved, with every file that it comes to, whatever the proof found."""
    piece, revision = asked
    so_far = proved(piece, tell)
    told = _proved(so_far, revision)
    return Results(told.hoopings, told.proof, told.pictures, planned(so_far, tell).files, tuple(refusals(so_far.proof)))


def check_motif(asked: tuple[bytes, str], tell: Progress) -> int:
    """The stitches in a file's bytes of this suffix. Raises StitchFileError, and MemoryError where they do not fit."""
    data, suffix = asked
    try:
        return read_bytes(data, suffix).stitch_count
    except StitchFileError as error:
        if isinstance(error.__cause__, MemoryError):
            raise error.__cause__ from None
        raise


def _hoopings(division: Division, piece: Piece, revision: str) -> HoopingsTold:
    held = record(division, machine_names(division, piece.bench.machine.format))
    each = minutes([(h.number, h.stitching) for h in division.hoopings], piece.bench.machine)
    return HoopingsTold(
        revision=revision,
        headline=division.headline,
        reasons=list(division.reasons),
        notes=list(division.notes),
        record=held,
        hoopings=[
            HoopingTold(
                record=entry,
                blocks=[BlockTold(name=b.name, part=b.part, told=b.told) for b in hooping.blocks],
                float_sides=list(hooping.float_sides),
                reason=hooping.reason,
                minutes=round(taken.total, 2),
            )
            for hooping, entry, taken in zip(division.hoopings, held["hoopings"], each, strict=True)
        ],
        minutes=round(sum(taken.total for taken in each), 2),
    )


def _proved(found: Proved, revision: str) -> Results:
    piece, proof = found.layout.piece, found.proof
    return Results(
        _hoopings(found.division, piece, revision),
        ProofTold(
            revision=revision,
            verdict=proof.verdict,
            findings=findings_told(proof.findings),
            told=assurances(proof, piece.file.piece.units),
            meetings=[_meeting(m) for m in proof.meetings],
            thickness=[_thickness(t) for t in proof.thickness if t.layers.size],
        ),
        {t.panel: thickness_picture(t, _fineness(t)) for t in proof.thickness if t.layers.size},
    )


def _meeting(meeting: Meeting) -> MeetingTold:
    return MeetingTold.model_validate({**asdict(meeting), "covariance": meeting.covariance.tolist()})


def _thickness(thickness: Thickness) -> ThicknessTold:
    rows, columns = thickness.layers.shape
    return ThicknessTold(
        panel=thickness.panel,
        origin=thickness.origin,
        size=(columns * thickness.cell, rows * thickness.cell),
        picture=f"/api/proof/thickness.png?panel={quote(thickness.panel, safe='')}",
    )


def _fineness(thickness: Thickness) -> float:
    longest: float = max(thickness.layers.shape) * thickness.cell
    return min(FINEST_PICTURE, MOST_PIXELS / longest)
