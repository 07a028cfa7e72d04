"""Does the hoop hold the cloth all round: where its outline passes the cloth's edge, it does not."""

from __future__ import annotations

import numpy as np

from festoon.hooping import Division, Hooping
from festoon.hooping.placing import overhang
from festoon.hooping.words import listed
from festoon.layout import Layout
from festoon.measure import Units
from festoon.piece import Panel
from festoon.proof.words import fine
from festoon.work import Amount, Finding


def held_findings(division: Division, layout: Layout) -> tuple[Finding, ...]:
    """A finding for every hooping whose hoop passes the cloth's edge, the one that passes it farthest first."""
    units = layout.piece.file.piece.units
    panels = {p.name: p for p in layout.panels}
    past = [(_past(h, panels[h.panel]), h) for h in division.hoopings if h.float_sides]
    return tuple(_told(h, by, panels[h.panel], units) for by, h in sorted(past, key=lambda one: -one[0]))


def _past(hooping: Hooping, panel: Panel) -> float:
    """By how much its outline passes the cloth's edge at the most, mm."""
    beyond = overhang(hooping.field, hooping.hoop.outer_size, panel.size)
    return max(beyond[side] for side in hooping.float_sides)


def _told(hooping: Hooping, by: float, panel: Panel, units: Units) -> Finding:
    """Its place: the point of the cloth's edges nearest to the middle of the field, at all sides that are passed."""
    x, y = np.clip(hooping.field.shift, 0.0, panel.size).tolist()
    edges = {"left": 0.0, "right": panel.size[0]}, {"top": 0.0, "bottom": panel.size[1]}
    for side in hooping.float_sides:
        x, y = edges[0].get(side, x), edges[1].get(side, y)
    return Finding(
        "look again",
        f"hooping {hooping.number} on {hooping.panel}",
        "The hoop reaches past the cloth, so it cannot hold it there, and the cloth may creep.",
        f"At the {listed(hooping.float_sides)} hoop the stabiliser alone, and float the cloth on it: lay it to the "
        "crosses, and baste or pin it outside the field. Or leave more cloth round the work and cut it off afterwards.",
        figure=f"{fine(by, units)} past the edge",
        limit=fine(0.0, units),
        source="computed from the hoop's outside and the cloth's edge; floating: common practice",
        panel=hooping.panel,
        at=(round(x, 3), round(y, 3)),
        hooping=hooping.number,
        rule="past the cloth",
        about=tuple(b.name for b in hooping.blocks),
        amount=Amount(round(by, 1), "mm"),
    )
