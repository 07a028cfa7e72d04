"""What comes with Festoon to begin from: finished pieces, motifs of its own, and what they look like."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import cv2
import numpy as np

from festoon.errors import FestoonError
from festoon.layout import lay_out
from festoon.piece import Piece, read_piece
from festoon.piece.read import BENCH, MOTIFS, PIECE
from festoon.piece.sprig import sprig
from festoon.stitches import Stitching, encode, read_bytes
from festoon.stitches.portrait import blank, draw, finished, png
from festoon.web.laid_picture import draw_areas
from festoon.work import Area

PACKED = Path(__file__).parents[1] / "examples"
"""Where they lie once Festoon is installed."""
UNPACKED = Path(__file__).parents[3] / "examples"
"""Where they lie among its sources."""

ACROSS, MOTIF_ACROSS = 720, 240
"""px of the longer side of a picture: sharp on a screen of twice the usual fineness (own choice)."""

FINER = 3
"""Pixels drawn to one of the picture: threads stay smooth when they are brought down to it."""

AROUND = 0.06
"""Bare cloth around the stitching in a picture, a fraction of its longer side (by eye)."""


@dataclass(frozen=True, slots=True)
class Example:
    """A finished piece: what its folder is called, and what its first remark says of it."""

    key: str
    told: str
    piece: Piece


@dataclass(frozen=True, slots=True)
class OwnMotif:
    """A motif of Festoon's own: its key, also the name of its file in a piece; its name to people; and its file among
    the examples, "" for the one that `festoon new` lays."""

    key: str
    name: str
    file: str

    @property
    def data(self) -> bytes:
        """Its stitch file, a vp3."""
        return (_home() / self.file).read_bytes() if self.file else encode(sprig(), "vp3")


OWN_MOTIFS = (
    OwnMotif("sea-holly", "sea-holly", "sea-holly-cushion/motifs/sprig.vp3"),
    OwnMotif("small-sea-holly", "small sea-holly", "sea-holly-cushion/motifs/sprig-small.vp3"),
    OwnMotif("flax-spray", "flax spray", "tablecloth-hem/motifs/spray.vp3"),
    OwnMotif("corner-flower", "corner flower", "tablecloth-hem/motifs/corner.vp3"),
    OwnMotif("snowdrops", "snowdrops", "christening-gown/motifs/snowdrops.vp3"),
    OwnMotif("rose-sprig", "rose sprig", ""),
)


@lru_cache(maxsize=1)
def examples() -> tuple[Example, ...]:
    """All finished pieces that come with Festoon, by the names of their folders."""
    folders = sorted(path.parent for path in _home().glob(f"*/{PIECE}"))
    return tuple(Example(folder.name, _first_remark(folder / PIECE), read_piece(folder)) for folder in folders)


def example(key: str) -> Example:
    """The finished piece of that key. Raises FestoonError."""
    found = next((e for e in examples() if e.key == key), None)
    if found is None:
        raise FestoonError("there is no such example.", remedy="Choose one of those that are shown.")
    return found


def example_files(key: str) -> dict[str, bytes]:
    """What belongs to the piece itself, by its place in the folder. Raises FestoonError."""
    home = example(key).piece.folder
    paths = (home / PIECE, home / BENCH, *sorted((home / MOTIFS).iterdir()))
    return {path.relative_to(home).as_posix(): path.read_bytes() for path in paths if path.is_file()}


def own_motif(key: str) -> OwnMotif:
    """The motif of that key. Raises FestoonError."""
    found = next((m for m in OWN_MOTIFS if m.key == key), None)
    if found is None:
        raise FestoonError("Festoon has no such motif of its own.", remedy="Choose one of those that are shown.")
    return found


@lru_cache(maxsize=16)
def example_picture(key: str) -> bytes:
    """What is sewn and laid on an example's first panel, as a PNG without cloth. Raises FestoonError."""
    layout = lay_out(example(key).piece)
    works = [work for work in layout.works if work.panel == layout.panels[0].name]
    stitchings = [part.stitching for work in works for part in work.parts]
    return _picture(ACROSS, stitchings, [area for work in works for area in work.areas])


@lru_cache(maxsize=16)
def motif_picture(key: str) -> bytes:
    """A motif as a PNG without cloth. Raises FestoonError."""
    return _picture(MOTIF_ACROSS, [read_bytes(own_motif(key).data, ".vp3")])


def _home() -> Path:
    return PACKED if PACKED.is_dir() else UNPACKED


def _first_remark(path: Path) -> str:
    first = path.read_text("utf-8").partition("\n")[0]
    return first.lstrip("# ") if first.startswith("#") else ""


def _picture(across: int, stitchings: Sequence[Stitching], areas: Sequence[Area] = ()) -> bytes:
    """All of it, areas first and then bottom first, with a little room around; `across` px along its longer side."""
    boxes = [*(s.bounds for s in stitchings), *(area.region.bounds for area in areas)]
    left, top = (min(box[n] for box in boxes) for n in (0, 1))
    right, bottom = (max(box[n] for box in boxes) for n in (2, 3))
    longer = max(right - left, bottom - top)
    room = longer * AROUND
    scale = FINER * across / (longer + 2 * room)
    canvas = blank(right - left + 2 * room, bottom - top + 2 * room, scale)
    origin = left - room, top - room
    draw_areas(canvas, areas, scale, origin)
    for stitching in stitchings:
        draw(canvas, stitching, scale, origin)
    size = [max(1, round(side / FINER)) for side in canvas.shape[1::-1]]
    return png(finished(cv2.resize(canvas, size, interpolation=cv2.INTER_AREA).astype(np.uint8)))
