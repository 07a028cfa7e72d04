"""Layout and division -> Proof: every question asked, the answers worst first."""

from __future__ import annotations

from festoon.hooping import Division
from festoon.layout import Layout
from festoon.proof.dense import thickness_findings
from festoon.proof.meeting import meeting_findings, meetings
from festoon.proof.sewable import sewable_findings
from festoon.proof.thickness import thickness
from festoon.proof.values import Proof, worst_first
from festoon.registration.model import placing_model


def prove(layout: Layout, division: Division) -> Proof:
    """Will it be sewn well, will the parts meet, does it get too thick; and what the techniques found themselves.

    Findings stand worst first; alike bad ones in the order of the questions, and for each in the order of the work.
    """
    bench = layout.piece.bench
    met = meetings(division, placing_model(bench.measured), layout)
    maps = tuple(
        thickness([h.stitching for h in division.hoopings if h.panel == panel.name], panel.name)
        for panel in layout.panels
    )
    found = (
        *layout.findings,
        *sewable_findings(division, bench),
        *meeting_findings(met, layout),
        *thickness_findings(maps, layout, division, bench),
    )
    return Proof(worst_first(found), met, maps)
