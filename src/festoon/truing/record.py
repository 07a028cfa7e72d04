"""`truing.json` in the piece's folder: what was read of each hooping, open for other tools and for later."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, ValidationError
from scipy.special import chdtri

from festoon.errors import PieceError
from festoon.truing.judge import FINEST
from festoon.truing.values import Spread, Truing

TRUING = "truing.json"
"""The file in the piece's folder."""

_Mm = Annotated[float, Field(allow_inf_nan=False)]


class TruingRecord(BaseModel):
    """One hooping's truing: lengths in mm, places in the hoop's own axes, turns clockwise in degrees.

    readings: right and down by mark. shift and turn carry planned places in the hoop to where the cloth lay. residual:
    rms mm that this leaves over. scale: how far apart the marks lay against how far they should.
    """

    model_config = ConfigDict(frozen=True)

    number: int
    panel: str
    file: str
    readings: dict[str, tuple[_Mm, _Mm]] = Field(min_length=2)
    shift: tuple[_Mm, _Mm]
    turn: _Mm
    residual: Annotated[_Mm, Field(ge=0)]
    scale: _Mm
    verdict: str


class _TruingFile(BaseModel):
    hoopings: tuple[TruingRecord, ...]


def truing_record(truing: Truing, file: str) -> TruingRecord:
    """The record of a truing whose corrected machine file is called `file`; rounded to 0.001, the scale to 0.00001."""
    pose = truing.pose
    return TruingRecord(
        number=truing.hooping.number,
        panel=truing.hooping.panel,
        file=file,
        readings={name: (_round(x), _round(y)) for name, (x, y) in sorted(truing.readings.items())},
        shift=(_round(pose.x), _round(pose.y)),
        turn=_round(pose.turn),
        residual=_round(truing.fit.rms),
        scale=round(truing.scale, 5),
        verdict=truing.verdict,
    )


def with_record(earlier: Iterable[TruingRecord], new: TruingRecord) -> tuple[TruingRecord, ...]:
    """All records by hooping number, the new one in place of an earlier one of its hooping."""
    by_number = {r.number: r for r in earlier} | {new.number: new}
    return tuple(by_number[n] for n in sorted(by_number))


def record_bytes(records: Iterable[TruingRecord]) -> bytes:
    """The file that holds the records."""
    whole = {"unit": "mm", "hoopings": [r.model_dump(mode="json") for r in records]}
    return (json.dumps(whole, indent=2, ensure_ascii=False) + "\n").encode()


def read_records(path: Path) -> tuple[TruingRecord, ...]:
    """The records in the file; none where there is no file. Raises PieceError where it cannot be understood."""
    try:
        return _TruingFile.model_validate_json(path.read_bytes()).hoopings
    except FileNotFoundError:
        return ()
    except (OSError, ValidationError) as error:
        raise PieceError(
            "the earlier readings in it cannot be understood.",
            where=str(path),
            remedy="Move it away, and earlier readings are left out of account; or mend it.",
        ) from error


def remaining_error(truings: Iterable[TruingRecord]) -> Spread | None:
    """Rms error of one cross by all sound truings so far; None where there is none.

    Stretched cloth is left out, because its residuals tell of the cloth. The residuals of k crosses hold (k - 3/2) FLE²
    (Sibson 1979, from memory; checked by simulation), so FLE² is the sum of their squares over the sum of k - 3/2; its
    bounds are those of a chi-square with 2k - 3 degrees of freedom each.
    """
    sound = [t for t in truings if t.verdict == "sound"]
    if not sound:
        return None
    squares = sum(len(t.readings) * t.residual**2 for t in sound)
    freedom = sum(2 * len(t.readings) - 3 for t in sound)
    mm = max(FINEST, math.sqrt(2.0 * squares / freedom))
    least, most = (float(mm * math.sqrt(freedom / chdtri(freedom, tail))) for tail in (0.025, 0.975))
    return Spread(mm, least, most, len(sound), sum(len(t.readings) for t in sound))


def _round(number: float) -> float:
    """To 0.001, and never minus zero."""
    return round(number, 3) + 0.0
