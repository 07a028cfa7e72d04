"""What runs in a process of its own; results are plain values that travel."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict, replace
from urllib.parse import quote

from festoon.hooping import Division, divide, record
from festoon.hooping.divide import Progress
from festoon.layout import Layout
from festoon.make import Proved, machine_names, planned, proved_as_laid, refusals
from festoon.measure import Units
from festoon.piece import Piece
from festoon.proof.accepting import unneeded_told
from festoon.proof.picture import LEVELS, SHADES, levels_picture, levels_told
from festoon.proof.told import LIKELY, meeting_told, reach
from festoon.proof.values import Meeting, Thickness
from festoon.proof.words import alike
from festoon.report_proof import assurances
from festoon.supplies import own_say, own_say_told
from festoon.supplies.minutes import minutes
from festoon.web.answers import (
    BlockTold,
    FindingTold,
    HoopingsTold,
    HoopingTold,
    LevelTold,
    MeetingTold,
    OwnSayTold,
    ProofTold,
    ThicknessTold,
    UnneededTold,
)
from festoon.web.bench import packed
from festoon.web.results import Results, What
from festoon.web.told import findings_told
from festoon.work import Finding

FINEST_PICTURE, MOST_PIXELS = 2.0, 3000
"""Pixels to a mm of a picture of thickness, and the most along a side: enough for a screen."""


Asked = tuple[Layout, str]
"""The piece laid out, as the server has it already, and its revision."""


def hoopings_of(asked: Asked, tell: Progress) -> Results:
    """The piece divided."""
    layout, revision = asked
    return Results(_hoopings(divide(layout, tell), layout.piece, revision))


def proof_of(asked: Asked, tell: Progress) -> Results:
    """The piece divided and proved."""
    layout, revision = asked
    return _proved(proved_as_laid(layout, tell), revision)


def sheets_of(asked: Asked, tell: Progress) -> Results:
    """The piece divided and proved, with every file that it comes to, whatever the proof found."""
    layout, revision = asked
    so_far = proved_as_laid(layout, tell)
    told = _proved(so_far, revision)
    return replace(told, files=planned(so_far, tell).files, refused=tuple(refusals(so_far.proof)), bench=packed(so_far))


TASKS: dict[What, Callable[[Asked, Progress], Results]] = {
    "hoopings": hoopings_of,
    "proof": proof_of,
    "sheets": sheets_of,
}
"""In order: each brings what those before it bring."""


def _hoopings(division: Division, piece: Piece, revision: str) -> HoopingsTold:
    held = record(division, machine_names(division, piece.bench.machine.format))
    each = minutes([(h.number, h.stitching) for h in division.hoopings], piece.bench.machine)
    return HoopingsTold(
        revision=revision,
        headline=division.headline,
        reasons=list(division.reasons),
        notes=list(division.notes),
        record=held,
        hoopings=[
            HoopingTold(
                record=entry,
                blocks=[BlockTold(name=b.name, part=b.part, told=b.told) for b in hooping.blocks],
                float_sides=list(hooping.float_sides),
                reason=hooping.reason,
                minutes=round(taken.total, 2),
                laid=hooping.laid,
            )
            for hooping, entry, taken in zip(division.hoopings, held["hoopings"], each, strict=True)
        ],
        own_say=_own_say(division, piece),
        findings=findings_told(division.findings),
        minutes=round(sum(taken.total for taken in each), 2),
    )


def _own_say(division: Division, piece: Piece) -> OwnSayTold | None:
    say = own_say(division, piece.bench.machine)
    sentence = own_say_told(say, piece.file.piece.units)
    return None if say is None else OwnSayTold(sentence=sentence, **asdict(say))


def _proved(found: Proved, revision: str) -> Results:
    piece, proof = found.layout.piece, found.proof
    return Results(
        _hoopings(found.division, piece, revision),
        ProofTold(
            revision=revision,
            verdict=proof.verdict,
            findings=_grouped(proof.findings),
            told=assurances(proof, piece.file.piece.units),
            meetings=[_meeting(m, piece.file.piece.units) for m in proof.meetings],
            thickness=[_thickness(t) for t in proof.thickness if t.layers.size],
            levels=[
                LevelTold(layers=n, colour=c, told=told) for (n, c), told in zip(LEVELS, levels_told(), strict=True)
            ],
            unneeded=[
                UnneededTold(rule=a.rule, panel=a.panel, about=list(a.about), told=told)
                for a, told in zip(proof.unneeded, unneeded_told(proof.unneeded), strict=True)
            ],
        ),
        {t.panel: levels_picture(t, _fineness(t)) for t in proof.thickness if t.layers.size},
    )


def _grouped(findings: Sequence[Finding]) -> list[FindingTold]:
    """Every finding, numbered as they are told together."""
    groups = {id(f): n for n, group in enumerate(alike(findings)) for f in group}
    told = zip(findings_told(findings), findings, strict=True)
    return [t.model_copy(update={"group": groups[id(f)]}) for t, f in told]


def _meeting(meeting: Meeting, units: Units) -> MeetingTold:
    told = {
        "covariance": meeting.covariance.tolist(),
        "told": meeting_told(meeting, units),
        "within": f"±{reach(LIKELY * meeting.across_sd, units)}",
    }
    return MeetingTold.model_validate({**asdict(meeting), **told})


def _thickness(thickness: Thickness) -> ThicknessTold:
    rows, columns = thickness.layers.shape
    return ThicknessTold(
        panel=thickness.panel,
        origin=thickness.origin,
        size=(columns * thickness.cell, rows * thickness.cell),
        shades=SHADES,
        picture=f"proof/thickness.png?panel={quote(thickness.panel, safe='')}",
    )


def _fineness(thickness: Thickness) -> float:
    longest: float = max(thickness.layers.shape) * thickness.cell
    return min(FINEST_PICTURE, MOST_PIXELS / longest)
