"""What may be added to a piece: the beginnings of every technique, and the folder's motifs, with pictures."""

from __future__ import annotations

import functools
from pathlib import Path
from typing import Any

from shapely import box

from festoon.errors import FestoonError
from festoon.piece.motifs import motif_files, motif_reader
from festoon.piece.sprig import sprig
from festoon.piece.words import field_type, kind_of_measure, words_of
from festoon.stitches import Stitching, Thread
from festoon.stitches.portrait import blank, draw, finished, png
from festoon.techniques import TECHNIQUES, Beginning, Setting
from festoon.web.answers_drawer import AskTold, BeginningTold, MotifTold, Wants
from festoon.web.files import NotYet
from festoon.web.laid_picture import draw_areas, draw_lines

SAMPLE = (80.0, 40.0)
"""The panel of the drawer's pictures, mm; see techniques.Beginning."""

SAMPLE_DENSITY, MOTIF_PIXELS = 5.0, 240.0
"""Pixels to a mm of the drawer's pictures, and the longer side of a motif's, px: twice what the page shows."""

MARGIN = 1.0
"""mm of cloth about a motif's picture."""

LEAF = Thread("#66845f")
"""The thread of the drawer's pictures."""

_LEANING = ("part", "element", "line")
"""What must be there before it can be pointed at."""

_WANTS: dict[str | None, Wants] = {"part": "part", "element": "element", "line": "line", "motif file": "file"}


def beginnings() -> list[BeginningTold]:
    """Every way of beginning something, numbered, technique by technique."""
    return [
        BeginningTold(
            number=number,
            kind=kind,
            told=begins.told,
            sentence=begins.sentence,
            asks=[AskTold(word=a.word, told=a.told, wants=_wants(kind, a.word)) for a in begins.asks],
            words=dict(begins.words),
            under=begins.under,
        )
        for number, (kind, begins) in enumerate(_all())
    ]


@functools.cache
def beginning_picture(number: int) -> bytes:
    """The picture of one of them, as PNG, made of its own stitching, areas and lines. NotYet where there is none."""
    every = _all()
    if not 0 <= number < len(every):
        raise NotYet("there is nothing of that number in the drawer.")
    kind, begins = every[number]
    canvas = blank(*SAMPLE, SAMPLE_DENSITY)
    technique = TECHNIQUES[kind]
    element = technique.model.model_validate({"kind": kind, "name": "it", **begins.example})
    work = technique.work(element, _ground())
    draw_areas(canvas, work.areas, SAMPLE_DENSITY)
    if not work.parts:
        draw_lines(canvas, work.lines, SAMPLE_DENSITY)
    for part in work.parts:
        draw(canvas, part.stitching, SAMPLE_DENSITY, (0.0, 0.0))
    return png(finished(canvas))


def motifs(folder: Path) -> list[MotifTold]:
    """The stitch files of the piece's folder; of one that cannot be read, why."""
    read = motif_reader(folder)
    return [_motif(file, read) for file in motif_files(folder)]


def motif_picture(folder: Path, file: str) -> bytes:
    """One of them as PNG. Raises FestoonError where it cannot be read, and NotYet where it is empty."""
    stitching = motif_reader(folder)(file)
    if not len(stitching.holes):
        raise NotYet("there is nothing sewn in this file.", where=file)
    left, top, right, bottom = stitching.bounds
    size = right - left + 2 * MARGIN, bottom - top + 2 * MARGIN
    density = MOTIF_PIXELS / max(size)
    canvas = blank(*size, density)
    draw(canvas, stitching, density, (left - MARGIN, top - MARGIN))
    return png(finished(canvas))


def _all() -> list[tuple[str, Beginning]]:
    """First what needs nothing on the cloth."""
    every = [(kind, begins) for kind, technique in TECHNIQUES.items() for begins in technique.begins]
    return sorted(every, key=lambda one: any(_wants(one[0], a.word) in _LEANING for a in one[1].asks))


def _wants(kind: str, word: str) -> Wants:
    """What is to be pointed at for a word: what its type takes."""
    return _WANTS.get(kind_of_measure(field_type(words_of(TECHNIQUES[kind].model)[word])), "place")


def _motif(file: str, read: Any) -> MotifTold:
    try:
        stitching: Stitching = read(file)
        left, top, right, bottom = stitching.bounds
        size = round(right - left, 2), round(bottom - top, 2)
        return MotifTold(file=file, size=size, stitches=len(stitching.holes), threads=len(stitching.threads), wrong="")
    except (FestoonError, ValueError) as error:
        return MotifTold(file=file, size=(0.0, 0.0), stitches=0, threads=0, wrong=str(error))


def _ground() -> Setting:
    return Setting(
        panel="sample",
        outline=box(0.0, 0.0, *SAMPLE),
        lines={},
        parts={},
        motif=lambda file: sprig(),
        thread=lambda name: LEAF,
    )
