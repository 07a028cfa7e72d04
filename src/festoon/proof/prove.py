"""Layout and division -> Proof: every question asked, the answers worst first."""

from __future__ import annotations

from festoon.hooping import Division
from festoon.layout import Layout
from festoon.piece.bench import Measured
from festoon.proof.carried import carrying
from festoon.proof.cut_off import cut_off_findings
from festoon.proof.dense import thickness_findings
from festoon.proof.held import held_findings
from festoon.proof.hides import hiding_findings
from festoon.proof.mark_advice import mark_advice
from festoon.proof.meeting import NOTHING_READ, meeting_findings, meetings
from festoon.proof.overlaps import overlap_findings
from festoon.proof.sewable import sewable_findings
from festoon.proof.thickness import thickness
from festoon.proof.twice import twice_findings
from festoon.proof.values import Learned, Proof, worst_first
from festoon.registration.model import measured_names, placing_model


def prove(layout: Layout, division: Division, learned: Learned | None = None) -> Proof:
    """Will it be sewn well, will the parts meet, does it get too thick; and what the techniques found themselves.

    Findings stand worst first; alike bad ones in the order of the questions, and for each in the order of the work.
    `learned` stands in place of what the bench says of the placing error.
    """
    bench = layout.piece.bench
    model = learned.model if learned else placing_model(bench.measured)
    trued = learned.trued if learned else NOTHING_READ
    met = meetings(division, model, layout, trued)
    maps = tuple(
        thickness([h.stitching for h in division.hoopings if h.panel == panel.name], panel.name)
        for panel in layout.panels
    )
    found = (
        *layout.findings,
        *overlap_findings(layout),
        *cut_off_findings(layout),
        *division.findings,
        *sewable_findings(division, bench, layout.piece.file.piece.units),
        *held_findings(division, layout),
        *meeting_findings(met, layout),
        *thickness_findings(maps, layout, division, bench),
        *twice_findings(division, layout.piece.file.piece.units),
        *hiding_findings(division, maps, bench.measured.cover, layout.piece.file.piece.units),
    )
    return Proof(
        worst_first(found),
        met,
        maps,
        carrying=carrying(division, met, model, trued),
        advice=mark_advice(layout, division, met, model, trued),
        learned=learned,
        measured=_measured(bench.measured),
    )


def _measured(figures: Measured) -> tuple[str, ...]:
    """What the worker measured of all that is asked here."""
    cover = () if figures.cover is None else ("the widest satin spacing that hides the cloth",)
    return (*measured_names(placing_model(figures)), *cover)
