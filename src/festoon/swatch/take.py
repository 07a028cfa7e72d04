"""The two halves of the job: the swatch written into a folder, and what was measured on it taken into the bench."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from typing import Literal

from festoon.errors import PieceError
from festoon.files import cannot_write, write_together, write_whole
from festoon.piece import Bench, Hoop
from festoon.piece.read import BENCH, read_bench, shared_bench
from festoon.stitches import Format, Thread, encode
from festoon.swatch.bench import Change, changes, rewritten
from festoon.swatch.design import SIZE, swatch
from festoon.swatch.figures import figures, readings
from festoon.swatch.sheet import sheet

NAME = "swatch"
"""What the files are called, before their endings."""

UNTOLD = Hoop(name="hoop", field=(SIZE, SIZE))
"""The hoop where there is no bench file: just large enough."""


def write_swatch(
    folder: Path, *, format: Format | None = None, bench: Path | None = None, paper: Literal["A4", "Letter"] = "A4"
) -> tuple[Path, Path]:
    """Write the machine file and the sheet into `folder`, which is made if need be; gives both paths.

    The thread is the usual one of the bench, and so is the format unless given; the hoop is the first that is large
    enough. The bench file is `bench`, else the one in the folder, else the shared one; without any, the usual thread
    and 'dst' serve. Raises FestoonError; then nothing is written.
    """
    path = _bench_of(folder, bench)
    known = read_bench(path) if path else Bench(hoop=(UNTOLD,))
    thread = Thread(known.thread[0].colour, known.thread[0].weight) if known.thread else Thread()
    kind: Format = format or known.machine.format
    hoop = next((h for h in known.hoop if min(h.field) >= SIZE), known.hoop[0])
    stitches, page = folder / f"{NAME}.{kind}", folder / f"{NAME}.pdf"
    files = {
        stitches: encode(swatch(hoop.field, thread), kind),
        page: sheet(thread, known.hoop, stitches.name, paper),
    }
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise cannot_write(folder, error) from error
    write_together(files)
    return stitches, page


def take_in(
    folder: Path, measured: Iterable[str], *, cloth: str = "", stabiliser: str = "", bench: Path | None = None
) -> tuple[Path, tuple[Change, ...]]:
    """Set what was measured ('a=59.4', ...) into the bench file; gives the file and what changed in it.

    cloth and stabiliser say what the figures hold for. The bench file is found as for `write_swatch`. Raises
    FestoonError; then the file stays as it was.
    """
    path = _bench_of(folder, bench)
    if path is None:
        raise PieceError(
            f"there is no {BENCH} to write the figures into.",
            where=str(folder),
            remedy="Give its folder, or name the file with --bench.",
        )
    before = read_bench(path)
    made = changes(figures(readings(measured)), before.measured, cloth.strip(), stabiliser.strip())
    text = path.read_bytes().decode("utf-8")
    write_whole(path, rewritten(text, {c.word: c.value for c in made}).encode())
    return path, made


def _bench_of(folder: Path, bench: Path | None) -> Path | None:
    if bench is not None:
        return bench
    return next((p for p in (folder / BENCH, shared_bench()) if os.path.exists(p)), None)
