"""`truing.json` in the piece's folder: what was read of each hooping, and what it changes for those to come."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

from festoon.errors import PieceError
from festoon.hooping import Hooping
from festoon.truing.values import Truing, Verdict

TRUING = "truing.json"
"""The file in the piece's folder."""

FARTHEST = 1e5
"""mm, also degrees and a share, beyond which a number in the file cannot be meant (ours)."""

_Mm = Annotated[float, Field(ge=-FARTHEST, le=FARTHEST)]
_Size = Annotated[float, Field(ge=0, le=FARTHEST)]


class _Frozen(BaseModel):
    model_config = ConfigDict(frozen=True)


class ReadMark(_Frozen):
    """A cross: `at`, its place on the panel, mm, and how far `off` it was read, right and down, mm."""

    name: str
    at: tuple[_Mm, _Mm]
    off: tuple[_Mm, _Mm]


def _each_once(marks: tuple[ReadMark, ...]) -> tuple[ReadMark, ...]:
    if len({m.name for m in marks}) < len(marks):
        raise ValueError("a mark stands twice")
    return marks


class TruingRecord(_Frozen):
    """One hooping's truing: lengths in mm, turns clockwise in degrees.

    shift and turn carry planned places in the hoop to where the cloth lay. residual: rms mm that this leaves over.
    scale: how far apart the marks lay against how far they should.
    """

    number: int
    panel: str
    file: str
    verdict: Verdict
    marks: Annotated[tuple[ReadMark, ...], Field(min_length=2), AfterValidator(_each_once)]
    shift: tuple[_Mm, _Mm]
    turn: _Mm
    residual: _Size
    scale: _Mm


class Change(_Frozen):
    """A length, mm, as it was predicted before anything was read, and now."""

    before: _Size
    now: _Size


class Outlook(_Frozen):
    """What is predicted of a hooping still to come.

    expected: the placing error of its worst stitch (the radius that holds it 95 times in 100); across: the standard
    deviation at its least sure meeting, over the line where the parts meet; None where it meets none.
    """

    number: int
    expected: Change
    across: Change | None


class TruingFile(_Frozen):
    """All of it: the hoopings that were trued, by number, and those to come."""

    unit: Literal["mm"] = "mm"
    hoopings: tuple[TruingRecord, ...] = ()
    outlook: tuple[Outlook, ...] = ()


def truing_record(truing: Truing, hooping: Hooping, file: str) -> TruingRecord:
    """The record of a truing of `hooping` whose corrected machine file is called `file`.

    Rounded to 0.001, the scale to 0.00001.
    """
    pose, places = truing.pose, {m.name: m.at for m in hooping.marks}
    return TruingRecord(
        number=hooping.number,
        panel=hooping.panel,
        file=file,
        verdict=truing.verdict,
        marks=tuple(
            ReadMark(name=name, at=_pair(places[name]), off=_pair(off)) for name, off in sorted(truing.readings.items())
        ),
        shift=_pair((pose.x, pose.y)),
        turn=rounded(pose.turn),
        residual=rounded(truing.fit.rms),
        scale=round(truing.scale, 5),
    )


def with_record(earlier: Iterable[TruingRecord], new: TruingRecord) -> tuple[TruingRecord, ...]:
    """All records by hooping number, the new one in place of an earlier one of its hooping."""
    by_number = {r.number: r for r in earlier} | {new.number: new}
    return tuple(by_number[n] for n in sorted(by_number))


def file_bytes(file: TruingFile) -> bytes:
    """The file as it stands on the disk."""
    return (json.dumps(file.model_dump(mode="json"), indent=2, ensure_ascii=False) + "\n").encode()


def read_records(path: Path) -> tuple[TruingRecord, ...]:
    """The records in the file; none where there is no file. Raises PieceError where it cannot be understood."""
    try:
        return TruingFile.model_validate_json(path.read_bytes()).hoopings
    except FileNotFoundError:
        return ()
    except (OSError, ValidationError) as error:
        raise PieceError(
            "the readings in it cannot be understood.",
            where=str(path),
            remedy="Mend it, or move it away: then earlier readings are left out of account.",
        ) from error


def rounded(number: float) -> float:
    """To 0.001, and never minus zero."""
    return round(number, 3) + 0.0


def _pair(pair: tuple[float, float]) -> tuple[float, float]:
    return rounded(pair[0]), rounded(pair[1])
