"""The main job, start to end: a piece's folder in; hoopings, machine files, templates, sheets and record out."""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

from festoon.errors import FestoonError, ProofError
from festoon.files import replace_folder
from festoon.hooping import Division, divide, machine_stitching, record
from festoon.hooping.divide import Progress, silent
from festoon.hooping.records import RECORD
from festoon.lapping import Lap, Lapping, lapped, lengthened
from festoon.lapping import told as lapping_told
from festoon.layout import Layout, lay_out
from festoon.piece import MADE, Piece, read_piece
from festoon.proof import Proof, prove, with_accepted, worst_first
from festoon.proof.words import alike, sentence
from festoon.sheets import is_by_hand, making_sheet, proof_sheet, templates, work_sheet
from festoon.stitches import encode
from festoon.supplies import Supplies, count, wearing_cautions
from festoon.truing import learned_of
from festoon.work import Finding

TEMPLATES, WORK_SHEET, PROOF_SHEET = "templates.pdf", "work-sheet.pdf", "proof.pdf"
MAKING_SHEET = "making-sheet.pdf"
"""Written where an element asks for more than its stitching, as the work sheet is where something is hooped."""

MOST_TOLD = 5
"""Findings that a refusal tells; the rest are counted (ours)."""


@dataclass(frozen=True, eq=False)
class Proved:
    """A piece laid out and divided, what was found to be wrong with it, and what was lengthened before."""

    layout: Layout
    division: Division
    proof: Proof
    lapping: Lapping | None

    @property
    def lengthened(self) -> tuple[str, ...]:
        """What was lengthened or left, in sentences; empty where the piece is as drawn."""
        return () if self.lapping is None else lapping_told(self.lapping, self.layout.piece.file.piece.units)


@dataclass(frozen=True, eq=False)
class Made(Proved):
    """What the main job came to: the values, and the files (name -> bytes) that hold them."""

    supplies: Supplies
    files: dict[str, bytes]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What was found in the proof and in counting the supplies, worst first."""
        return worst_first((*self.proof.findings, *self.supplies.findings))


def proved(piece: Piece, progress: Progress = silent, *, lap: Lap = "drawn") -> Proved:
    """The piece laid out, divided and proved, with no sheet or file made. Raises FestoonError.

    What was read after hooping, in truing.json in the piece's folder, has its share in how well parts will meet.
    With lap "enough" it is lengthened as `lapping.lapped` has it; the layout then holds the piece so lengthened. What
    the worker accepted is marked last: it has no share in anything else.
    """
    return proved_as_laid(_laid_out(piece, progress), progress, lap=lap)


def proved_as_laid(layout: Layout, progress: Progress = silent, *, lap: Lap = "drawn") -> Proved:
    """The same for a piece that is laid out already."""
    found = _proved(layout, progress)
    if lap == "enough":
        found, lapping = lapped(found, lambda longer: _proved(_laid_out(longer, progress), progress))
        found = replace(found, lapping=lapping)
    file = layout.piece.file
    return replace(found, proof=with_accepted(found.proof, file.accepted, file.piece.units))


def _laid_out(piece: Piece, progress: Progress) -> Layout:
    progress("laying out the piece")
    return lay_out(piece)


def _proved(layout: Layout, progress: Progress) -> Proved:
    division = divide(layout, progress)
    progress("proving that it will work")
    return Proved(layout, division, prove(layout, division, learned_of(layout.piece, division)), None)


def plan(piece: Piece, progress: Progress = silent, *, lap: Lap = "drawn") -> Made:
    """Everything that the piece comes to, in memory, whatever the proof finds; nothing is written.

    Raises FestoonError.
    """
    return planned(proved(piece, progress, lap=lap), progress)


def planned(so_far: Proved, progress: Progress = silent) -> Made:
    """The same for a piece that is proved already."""
    layout, division, proof, piece = so_far.layout, so_far.division, so_far.proof, so_far.layout.piece
    progress("counting what is used up")
    supplies = count(division, piece.bench, piece.file.piece.units, wearing_cautions(layout))
    progress("writing machine files, setting templates and sheets")
    names = machine_names(division, piece.bench.machine.format)
    paper, units = piece.file.piece.paper, piece.file.piece.units
    with ThreadPoolExecutor(1) as aside:  # setting type leaves Python free to do the rest meanwhile
        on_templates = aside.submit(templates, layout, division, paper=paper, units=units)
        on_proof = aside.submit(proof_sheet, layout, division, proof, supplies, paper=paper, units=units)
        files = {name: _machine_file(division, number, piece) for number, name in names.items()}
        if division.hoopings:
            files[WORK_SHEET] = work_sheet(
                layout,
                division,
                supplies,
                paper=paper,
                units=units,
                files=names,
                findings=proof.findings,
                lengthened=so_far.lengthened,
                carrying=proof.carrying,
            )
        if is_by_hand(layout):
            files[MAKING_SHEET] = making_sheet(
                layout, division, supplies, paper=paper, units=units, findings=proof.findings
            )
        files[TEMPLATES], files[PROOF_SHEET] = on_templates.result(), on_proof.result()
    open_record = record(division, names, lengthened(so_far.lapping) if so_far.lapping else ())
    files[RECORD] = (json.dumps(open_record, indent=2, ensure_ascii=False) + "\n").encode()
    return Made(layout, division, proof, so_far.lapping, supplies, files)


def make(
    folder: Path, out: Path | None = None, progress: Progress = silent, *, anyway: bool = False, lap: Lap = "drawn"
) -> tuple[Made, Path]:
    """Read the piece in `folder`, plan it, and write all of it into `out` (the piece's `made` if left out).

    Gives what was made and the folder it went to. Either every file is written or the folder stays as it was. Raises
    FestoonError; a ProofError where something will not work, unless it is to be made `anyway`. For `lap` see `proved`.
    """
    progress("reading the piece")
    piece = read_piece(folder)
    into = out or piece.folder / MADE
    so_far = proved(piece, progress, lap=lap)
    if not anyway:
        _refuse(so_far.proof)
    made = planned(so_far, progress)
    progress("writing everything to disk")
    replace_folder(into, made.files)
    return made, into


def _refuse(proof: Proof) -> None:
    """ProofError with the sentences of all that will not work."""
    told = refusals(proof)
    if told:
        more = [f"And {len(told) - MOST_TOLD} more; festoon prove tells them all."] if len(told) > MOST_TOLD else []
        raise ProofError(
            "\n".join(["this will not work, so nothing was written:", *told[:MOST_TOLD], *more]),
            where="proof",
            remedy="\nMend it, or say --anyway to have it made all the same.",
        )


def refusals(proof: Proof) -> list[str]:
    """What will not work, in sentences; empty where the piece may be made."""
    return [sentence(group) for group in alike(f for f in proof.findings if f.verdict == "will not work")]


def machine_names(division: Division, suffix: str) -> dict[int, str]:
    """Machine file names that any stick and machine accepts: 'hooping-01.dst'."""
    width = max(2, len(str(division.count)))
    return {h.number: f"hooping-{h.number:0{width}d}.{suffix}" for h in division.hoopings}


def _machine_file(division: Division, number: int, piece: Piece) -> bytes:
    hooping = division.hoopings[number - 1]
    try:
        return encode(machine_stitching(hooping), piece.bench.machine.format)
    except FestoonError as error:
        raise error.at(f"hooping {number}") from error
