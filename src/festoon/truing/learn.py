"""What readings after hooping teach: how well this worker draws and reads crosses, and what that changes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from festoon.hooping import Division, Hooping
from festoon.hooping.expected import expected_error
from festoon.layout import Layout
from festoon.measure import Units
from festoon.proof.meeting import meetings
from festoon.proof.values import Learned, Meeting
from festoon.registration.model import PlacingModel
from festoon.truing import words
from festoon.truing.judge import FINEST
from festoon.truing.record import Change, Outlook, TruingRecord, rounded

PRIOR_READINGS = 12.0
"""Degrees of freedom that the bench's own figure counts for: those of four hoopings with three crosses each (ours)."""

SAME = 0.002
"""mm on the panel by which a cross may lie off its place in the record, which rounds to 0.001."""


def learned_model(model: PlacingModel, records: Iterable[TruingRecord]) -> PlacingModel:
    """The bench's placing error with that of a cross as all sound truings have it.

    The residuals of k crosses hold 2k - 3 degrees of freedom of a variance FLE²/2 along each axis (Sibson 1979, from
    memory; checked by simulation). The bench's FLE counts as PRIOR_READINGS more: the conjugate update of a variance
    with a scaled inverse chi-square prior, (ν₀ s₀² + squares) / (ν₀ + degrees of freedom). Stretched cloth is left out,
    because its residuals tell of the cloth. Readings cannot tell drawing from reading, so both are scaled alike; the
    hoop's seat does not show in them, because the hoop stays in its carrier.
    """
    sound = _sound(records)
    if not sound:
        return model
    before = model.trued.cross
    squares = sum(len(r.marks) * r.residual**2 for r in sound)
    free = sum(2 * len(r.marks) - 3 for r in sound)
    variance = (PRIOR_READINGS * max(before, FINEST) ** 2 / 2.0 + squares) / (PRIOR_READINGS + free)
    now = max(FINEST, math.sqrt(2.0 * variance))
    marking, reading = (model.marking * now / before, model.reading * now / before) if before else (0.0, now)
    return replace(model, marking=marking, reading=reading, learned=frozenset({"marking", "reading"}))


def learned(model: PlacingModel, division: Division, records: Sequence[TruingRecord], units: Units) -> Learned | None:
    """What these truings teach of a division, for the proof; None where there are none.

    A hooping counts as trued where its crosses still stand where they stood when they were read.
    """
    if not records:
        return None
    now = learned_model(model, records)
    hoopings = {h.number: h for h in division.hoopings}
    trued = {
        r.number: frozenset(m.name for m in r.marks)
        for r in records
        if r.number in hoopings and fits(r, hoopings[r.number])
    }
    sound = _sound(records)
    count = sum(len(r.marks) for r in sound)
    told = words.learned(count, [r.number for r in sound], now.trued.cross, model.trued.cross, list(trued), units)
    return Learned(now, trued, told)


def outlook(layout: Layout, division: Division, model: PlacingModel, found: Learned) -> tuple[Outlook, ...]:
    """What is predicted now, and was by the bench alone, of every hooping after the last one that was trued."""
    before, now = meetings(division, model, layout), meetings(division, found.model, layout, found.trued)
    later = (h for h in division.hoopings if h.number > max(found.trued, default=0))
    return tuple(_outlook(h, model, found.model, before, now) for h in later)


def _outlook(
    hooping: Hooping, model: PlacingModel, now: PlacingModel, met: Iterable[Meeting], met_now: Iterable[Meeting]
) -> Outlook:
    error, error_now = (expected_error(hooping.marks, hooping.blocks, hooping.field, m).mm for m in (model, now))
    across, across_now = (
        max((m.across_sd for m in found if hooping.number in (m.first, m.second)), default=None)
        for found in (met, met_now)
    )
    return Outlook(
        number=hooping.number,
        expected=Change(before=rounded(error), now=rounded(error_now)),
        across=None
        if across is None or across_now is None
        else Change(before=rounded(across), now=rounded(across_now)),
    )


def _sound(records: Iterable[TruingRecord]) -> list[TruingRecord]:
    return [r for r in records if r.verdict == "sound"]


def fits(record: TruingRecord, hooping: Hooping) -> bool:
    """Whether the crosses of a hooping still stand where they stood when they were read."""
    places = {m.name: m.at for m in hooping.marks}
    return record.panel == hooping.panel and all(
        m.name in places and math.dist(m.at, places[m.name]) <= SAME for m in record.marks
    )
