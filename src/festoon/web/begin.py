"""New pieces: a folder of their own below the worker's home, written whole or not at all, never over anything."""

from __future__ import annotations

import errno
import itertools
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from importlib.resources import files
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, FiniteFloat, JsonValue

from festoon.desk import AddElement, Edit, SetBench, SetPanel, SetPiece
from festoon.desk.apply import applied
from festoon.desk.motif import DEVICES
from festoon.errors import FestoonError, OutputError, PieceError
from festoon.files import cannot_write, write_whole
from festoon.layout import lay_out
from festoon.measure import Units, show_length
from festoon.piece import read_piece
from festoon.piece.bench import Bench
from festoon.piece.read import BENCH, MOTIFS, PIECE, read_bench, shared_bench
from festoon.web.examples import OwnMotif, example, example_files, own_motif

PIECES = "Festoon"
"""The folder in the worker's home that new pieces go into."""

LONGEST = 60
"""Letters of a folder's name: whole in any list of files (own choice)."""

MOST_MOTIFS = 20
"""Chosen at once of Festoon's own (own choice: more than there are)."""

CLOTH = "cloth"
"""What the panel of a new piece is called."""

Format = Literal["dst", "exp", "pes", "jef", "vp3"]
Size = tuple[FiniteFloat, FiniteFloat]

_BEGUN = f"""\
# A piece for Festoon. Lengths are in millimetres, or in quotes with their unit: "40 cm", "15 3/4 in".
# x runs to the right and y down, both from the panel's left upper corner.

[piece]
name = ""

[[panel]]
name = "{CLOTH}"
size = [0, 0]

[hooping]
turn = "quarter"

# What is sewn, in the order in which it lies: bottom first.
"""


class Answers(BaseModel):
    """The three questions answered: the cloth, hoop and machine, motifs (of Festoon's own, by key). Lengths in mm."""

    model_config = ConfigDict(extra="forbid")
    name: str = Field(max_length=200)
    units: Units = "mm"
    size: Size
    cloth: str = Field("", max_length=200)
    field: Size
    magnetic: bool = False
    format: Format
    motifs: list[str] = Field(default_factory=list, max_length=MOST_MOTIFS)


USUAL = Answers(name="", size=(400, 400), cloth="linen", field=(100, 100), format="dst")
"""Answers to begin with where nothing is known: a cushion, and the smallest hoop in wide use (common practice)."""


def usual_answers() -> Answers:
    """Answers to begin with: those of the shared bench, where there is one that can be read."""
    bench = _shared()
    if bench is None:
        return USUAL
    hoop = bench.hoop[0]
    known = {"field": hoop.field, "magnetic": hoop.magnetic, "format": bench.machine.format}
    return USUAL.model_copy(update=known)


def pieces_home() -> Path:
    """Where new pieces go. Raises FestoonError where the system knows no home."""
    try:
        return Path.home() / PIECES
    except RuntimeError as error:
        raise FestoonError(
            "your home folder cannot be found.", remedy="Make a piece with `festoon new` and open its folder."
        ) from error


def begin(answers: Answers) -> Path:
    """A new piece after these answers; gives its folder. Raises FestoonError, and then nothing was written."""
    name = " ".join(answers.name.split())
    if not name:
        raise PieceError("the piece has no name yet.", remedy="Say what you call it.")
    motifs = [own_motif(key) for key in dict.fromkeys(answers.motifs)]
    piece, bench = _texts(name, answers, motifs)
    held = {PIECE: piece.encode(), **{_file(m): m.data for m in motifs}}
    if bench is not None:
        held[BENCH] = bench.encode()
    return _kept(name, held)


def copy_example(key: str) -> Path:
    """A copy of an example to work on; gives its folder. Raises FestoonError, and then nothing was written."""
    return _kept(example(key).piece.name, example_files(key))


def folder_name(name: str) -> str:
    """What the folder of a piece of that name is called on any system.

    >>> folder_name("Sea-holly cushion"), folder_name("../Kissen für Ö."), folder_name("con"), folder_name("?!")
    ('sea-holly-cushion', 'kissen-für-ö', 'piece-con', 'piece')
    """
    letters = "".join(c if c.isalnum() else " " for c in name.casefold())
    plain = "-".join(letters.split())[:LONGEST].rstrip("-")
    return f"piece-{plain}" if plain in DEVICES else plain or "piece"


def _texts(name: str, answers: Answers, motifs: list[OwnMotif]) -> tuple[str, str | None]:
    """The piece file, and the bench file where the shared bench does not serve."""
    shared = _shared()
    starter = (files("festoon.piece") / "starter" / BENCH).read_text("utf-8")
    before = shared_bench().read_text("utf-8") if shared else starter
    hoop, bench_edits = _hoop(answers, shared)
    piece, bench = applied([*_piece_edits(name, answers, motifs, hoop), *bench_edits], _BEGUN, before)
    return piece, None if shared and bench == before else bench


def _piece_edits(name: str, answers: Answers, motifs: list[OwnMotif], hoop: str) -> Iterator[Edit]:
    yield SetPiece(table="piece", word="name", value=name)
    yield SetPiece(table="piece", word="units", value=answers.units)
    yield SetPiece(table="piece", word="paper", value="Letter" if answers.units == "inch" else "A4")
    yield SetPanel(panel=CLOTH, word="size", value=_plain(answers.size))
    if answers.cloth.strip():
        yield SetPanel(panel=CLOTH, word="cloth", value=" ".join(answers.cloth.split()))
    yield SetPiece(table="hooping", word="hoop", value=hoop)
    width, height = answers.size
    for n, motif in enumerate(motifs):
        at = _plain((width * (n + 0.5) / len(motifs), height / 2))
        yield AddElement(element={"kind": "motif", "name": motif.name, "file": _file(motif), "at": at})


def _hoop(answers: Answers, shared: Bench | None) -> tuple[str, list[Edit]]:
    """The name of her hoop, and what makes the bench hers."""
    edits: list[Edit] = []
    width, height = (show_length(side, answers.units) for side in answers.field)
    name = f"{width} x {height}" + (", magnetic" if answers.magnetic else "")
    hoop = {"name": name, "field": _plain(answers.field), "magnetic": answers.magnetic}
    if shared is None:
        edits += [SetBench(path="hoop.1", value=None), SetBench(path="hoop.0", value=hoop)]
    else:
        same = [h.name for h in shared.hoop if (h.field, h.magnetic) == (answers.field, answers.magnetic)]
        if same:
            name = same[0]
        else:
            edits.append(SetBench(path=f"hoop.{len(shared.hoop)}", value=hoop))
    if shared is None or shared.machine.format != answers.format:
        edits.append(SetBench(path="machine.format", value=answers.format))
    return name, edits


def _plain(lengths: Size) -> list[JsonValue]:
    """Lengths as a hand would write them: 400, not 400.0."""
    return [round(v) if v == round(v) else round(v, 3) for v in lengths]


def _shared() -> Bench | None:
    """The shared bench, where there is one that can be read."""
    try:
        return read_bench(shared_bench()) if shared_bench().is_file() else None
    except FestoonError:
        return None


def _file(motif: OwnMotif) -> str:
    return f"{MOTIFS}/{motif.key}.vp3"


def _kept(name: str, held: Mapping[str, bytes]) -> Path:
    """Write a piece's files into a new folder, which takes its place once it is whole and can be laid out."""
    home = pieces_home()
    try:
        home.mkdir(parents=True, exist_ok=True)
        beside = Path(tempfile.mkdtemp(prefix=".new-", dir=home))
    except OSError as error:
        raise cannot_write(home, error) from error
    try:
        (beside / MOTIFS).mkdir()
        for place, data in held.items():
            write_whole(beside / place, data)
        lay_out(read_piece(beside))
        beside.chmod(0o755)
        return _placed(beside, home, folder_name(name))
    except OSError as error:
        raise cannot_write(home, error) from error
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def _placed(beside: Path, home: Path, name: str) -> Path:
    """Give the folder the first name, numbered from the second, that nothing in `home` bears."""
    for wanted in itertools.chain([name], (f"{name}-{n}" for n in itertools.count(2))):
        place = home / wanted
        if place.exists() or place.is_symlink():
            continue
        try:
            return beside.rename(place)
        except OSError as error:  # whoever was quicker keeps the name
            if error.errno not in (errno.EEXIST, errno.ENOTEMPTY, errno.ENOTDIR):
                raise
    raise OutputError("no name is free for the piece.", where=str(home))
