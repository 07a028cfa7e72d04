"""A piece's folder read: every mistake in it is told at once, with file, line and remedy."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TypeVar

from platformdirs import user_config_path
from pydantic import BaseModel, ValidationError

from festoon.errors import PieceError
from festoon.piece.bench import Bench
from festoon.piece.check import contradictions
from festoon.piece.document import Document, document_of, read_document
from festoon.piece.locate import line_of
from festoon.piece.model import Piece, PieceFile
from festoon.piece.pattern_file import with_patterns
from festoon.piece.wording import problems

PIECE, BENCH, MOTIFS = "piece.toml", "bench.toml", "motifs"
"""What a piece's folder holds."""

MOST_TOLD = 8
"""Mistakes told at once; more are only counted (ours: a screenful)."""

_Model = TypeVar("_Model", bound=BaseModel)


def read_piece(folder: Path) -> Piece:
    """The piece in `folder` (or whose piece.toml is given), every element with its panel filled in.

    Its bench is bench.toml beside it, or else the shared one in the user's settings folder. Raises PieceError with all
    that is wrong in the two files, one mistake a line.
    """
    home = _home(folder)
    return _understood(home, read_document(home / PIECE, PIECE), _bench_document(home))


def piece_of(home: Path, piece: bytes, bench: bytes | None) -> Piece:
    """The same of a folder that held these two files; without a bench of its own the shared one serves."""
    bench_document = _bench_document(home) if bench is None else document_of(bench, BENCH)
    return _understood(home, document_of(piece, PIECE), bench_document)


def _understood(home: Path, document: Document, bench_document: Document) -> Piece:
    file, wrong = _validated(document, PieceFile)
    bench, wrong_bench = _validated(bench_document, Bench)
    _refuse(wrong + wrong_bench)
    if file is None or bench is None:
        raise PieceError("it cannot be understood.", where=str(home))
    panels, wrong_patterns = with_patterns(file.panel, home, document, file.piece.units)
    _refuse(wrong_patterns)
    file = file.model_copy(update={"panel": panels})
    _refuse(contradictions(file, document, bench, bench_document))
    elements = tuple(e.model_copy(update={"panel": e.panel or file.panel[0].name}) for e in file.element)
    lines = {e.name: line_of(document.lines, ("element", n)) for n, e in enumerate(elements)}
    return Piece(home, file.model_copy(update={"element": elements}), bench, lines)


def read_bench(path: Path) -> Bench:
    """The bench in one file, told of by its whole path. Raises PieceError with all that is wrong in it."""
    bench, wrong = _validated(read_document(path, str(path)), Bench)
    _refuse(wrong)
    if bench is None:
        raise PieceError("it cannot be understood.", where=str(path))
    return bench


def shared_bench() -> Path:
    """Where the bench lies that serves every piece without one of its own."""
    return user_config_path("festoon") / BENCH


def _home(folder: Path) -> Path:
    home = folder.parent if folder.name == PIECE and not os.path.isdir(folder) else folder
    if not os.path.exists(home):  # Path.exists fails where the system refuses to look
        raise PieceError("there is no such folder.", where=str(home), remedy="Look whether its name is spelt so.")
    if not os.path.isdir(home):
        raise PieceError("this is no folder.", where=str(home), remedy=f"Give the folder that holds {PIECE}.")
    if not os.path.exists(home / PIECE):
        raise PieceError(
            f"there is no {PIECE} in this folder, so it holds no piece.",
            where=str(home),
            remedy="Give the folder of a piece, or begin one with `festoon new`.",
        )
    return home


def _bench_document(home: Path) -> Document:
    own, shared = home / BENCH, shared_bench()
    if os.path.exists(own):
        return read_document(own, BENCH)
    if os.path.exists(shared):
        return read_document(shared, str(shared))
    raise PieceError(
        f"there is no {BENCH} in this folder, and no shared one at {shared}.",
        where=str(home),
        remedy=f"Copy one from another piece, or run `festoon new` elsewhere and copy its {BENCH}.",
    )


def _validated(document: Document, model: type[_Model]) -> tuple[_Model | None, list[PieceError]]:
    try:
        return model.model_validate(document.data), []
    except ValidationError as error:
        return None, problems(error, model, document)


def _refuse(wrong: list[PieceError]) -> None:
    """Raise all of it as one PieceError: the first as its sentence, the others a line each."""
    if not wrong:
        return
    first, *others = wrong
    lines = [str(error) for error in others[: MOST_TOLD - 1]]
    uncounted = len(others) - len(lines)
    if uncounted:
        lines.append(f"And {uncounted} more.")
    what = f"{first.what} {first.remedy}".strip()
    raise PieceError("\n".join([what, *lines]), where=first.where)
