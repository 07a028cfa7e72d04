"""The main job, start to end: a piece's folder in; hoopings, machine files, templates, work sheet and record out."""

from __future__ import annotations

import json
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from festoon.errors import FestoonError
from festoon.files import replace_folder
from festoon.hooping import Division, divide, machine_stitching, record
from festoon.layout import Layout, lay_out
from festoon.piece import Piece, read_piece
from festoon.sheets import templates, work_sheet
from festoon.stitches import encode
from festoon.supplies import Supplies, count

MADE = "made"
"""The folder inside the piece's own that results go to unless told otherwise."""

TEMPLATES, WORK_SHEET, RECORD = "templates.pdf", "work-sheet.pdf", "hoopings.json"

Progress = Callable[[str], None]


@dataclass(frozen=True, eq=False)
class Made:
    """What the main job came to: the values, and the files (name -> bytes) that hold them."""

    layout: Layout
    division: Division
    supplies: Supplies
    files: dict[str, bytes]


def _silent(_: str) -> None:
    pass


def plan(piece: Piece, progress: Progress = _silent) -> Made:
    """Everything that the piece comes to, in memory; nothing is written. Raises FestoonError."""
    progress("laying out the piece")
    layout = lay_out(piece)
    division = divide(layout, progress)
    progress("counting what is used up")
    supplies = count(division, piece.bench)
    progress("writing machine files, setting templates and work sheet")
    names = _names(division, piece.bench.machine.format)
    paper, units = piece.file.piece.paper, piece.file.piece.units
    with ThreadPoolExecutor(1) as aside:  # setting type leaves Python free to do the rest meanwhile
        on_templates = aside.submit(templates, layout, division, paper=paper, units=units)
        files = {name: _machine_file(division, number, piece) for number, name in names.items()}
        files[WORK_SHEET] = work_sheet(layout, division, supplies, paper=paper, units=units, files=names)
        files[TEMPLATES] = on_templates.result()
    files[RECORD] = (json.dumps(record(division, names), indent=2, ensure_ascii=False) + "\n").encode()
    return Made(layout, division, supplies, files)


def make(folder: Path, out: Path | None = None, progress: Progress = _silent) -> tuple[Made, Path]:
    """Read the piece in `folder`, plan it, and write all of it into `out` (the piece's `made` if left out).

    Gives what was made and the folder it went to. Either every file is written or the folder stays as it was. Raises
    FestoonError.
    """
    progress("reading the piece")
    piece = read_piece(folder)
    into = out or piece.folder / MADE
    made = plan(piece, progress)
    progress("writing everything to disk")
    replace_folder(into, made.files)
    return made, into


def _names(division: Division, suffix: str) -> dict[int, str]:
    """Machine file names that any stick and machine accepts: 'hooping-01.dst'."""
    width = max(2, len(str(division.count)))
    return {h.number: f"hooping-{h.number:0{width}d}.{suffix}" for h in division.hoopings}


def _machine_file(division: Division, number: int, piece: Piece) -> bytes:
    hooping = division.hoopings[number - 1]
    try:
        return encode(machine_stitching(hooping), piece.bench.machine.format)
    except FestoonError as error:
        raise error.at(f"hooping {number}") from error
