"""Panels whose shape is drawn in a pattern file of the piece's folder."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path as File

from festoon.errors import PieceError
from festoon.measure import Units
from festoon.piece.document import Document
from festoon.piece.drawn import FRONT, HEM
from festoon.piece.inside import refuse_elsewhere
from festoon.piece.near import did_you_mean
from festoon.piece.outline import AROUND, cut_as_drawn
from festoon.piece.panel import Panel
from festoon.piece.pattern import Pattern, pattern_of
from festoon.piece.place import place_of
from festoon.plane import Pose
from festoon.plane.affine import to_svg
from festoon.work.fields import quoted

PATTERNS = "patterns"
"""The folder inside the piece's own that pattern files go to."""

MOST_BYTES = 20_000_000
"""A pattern file larger than this is none (own choice: a drawing of ten thousand lines has a tenth)."""


def with_patterns(
    panels: Sequence[Panel], folder: File, document: Document, units: Units
) -> tuple[tuple[Panel, ...], list[PieceError]]:
    """The panels, the shape and lines of every pattern file set in as `cut` and `lines`, and what is wrong in any."""
    drawn: list[Panel] = []
    wrong: list[PieceError] = []
    for number, panel in enumerate(panels):
        try:
            drawn.append(_with_pattern(panel, folder, units))
        except PieceError as error:
            own = error.where != panel.file
            path = ("panel", number, *(error.where.split(".", 1) if own else ("file",)))
            place = place_of(document, path) + ("" if own else f", {panel.file}")
            wrong.append(PieceError(error.what, where=place, remedy=error.remedy))
    return tuple(drawn), wrong


def _with_pattern(panel: Panel, folder: File, units: Units) -> Panel:
    if panel.file is None:
        return panel
    pattern = _read(folder, panel.file)
    for name in panel.lines:
        if name in pattern.lines:
            raise PieceError(
                f'"{name}" is a line of {panel.file} already.',
                where=f"lines.{name}",
                remedy="Give your own line another name.",
            )
    pose = _pose(panel, pattern, units)
    lines = {name: to_svg(line.placed(pose)) for name, line in pattern.lines.items()}
    cut = to_svg(pattern.outline.placed(pose))
    return panel.model_copy(update={"cut": cut, "lines": {**lines, **panel.lines}, "at": None})


def _pose(panel: Panel, pattern: Pattern, units: Units) -> Pose:
    """Where the left upper corner of the file's page goes on the block."""
    if panel.at is not None:
        return Pose(*panel.at)
    known = {
        "cut": to_svg(pattern.outline),
        "lines": {name: to_svg(line) for name, line in pattern.lines.items() if name in (HEM, panel.fold)},
        "fold": panel.fold if panel.fold in pattern.lines and panel.fold != FRONT else None,
        "hem_allowance": panel.hem_allowance if HEM in pattern.lines else None,
    }
    left, top, right, bottom = cut_as_drawn(panel.model_copy(update=known), units).bounds
    if panel.block is None:
        return Pose(AROUND - left, AROUND - top)
    return Pose((panel.block[0] - left - right) / 2, (panel.block[1] - top - bottom) / 2)


def _read(folder: File, file: str) -> Pattern:
    path = folder / file
    try:
        refuse_elsewhere(folder, path, PATTERNS)
        if not os.path.isfile(path):  # Path.is_file fails on names too long for the disk
            raise _missing(folder, file)
        if path.stat().st_size > MOST_BYTES:
            raise PieceError(f"it is larger than {MOST_BYTES // 1_000_000} MB.", remedy="Save the pattern alone.")
        return pattern_of(path.read_bytes())
    except OSError as error:
        what = f"it cannot be read ({error.strerror})."
        raise PieceError(what, where=file, remedy="Look whether you may read it.") from error
    except PieceError as error:
        raise PieceError(error.what, where=file, remedy=error.remedy) from error


def _missing(folder: File, file: str) -> PieceError:
    known = sorted(p.relative_to(folder).as_posix() for p in (folder / PATTERNS).glob("*.svg") if p.is_file())
    otherwise = f"There is: {', '.join(known[:8])}." if known else f"Put it there as {quoted(file)}."
    return PieceError("there is no such file in the piece's folder.", remedy=did_you_mean(file, known, otherwise))
