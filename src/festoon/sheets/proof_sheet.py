"""The proof sheet: what was found, how thick it gets, how well the parts will meet, and what all of it rests on."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from festoon.hooping.marks import letters
from festoon.hooping.values import Division
from festoon.layout import Layout
from festoon.measure import Units, show_length
from festoon.piece import Panel
from festoon.proof.meeting import GAP_SELDOM, PILE_SELDOM
from festoon.proof.picture import LEVELS, levels_told, thickness_picture
from festoon.proof.told import LIKELY, advice_told, chance, marking_told, meetings_told, reach, thickest_told
from festoon.proof.values import Meeting, Proof, Thickness
from festoon.proof.words import fine, spot
from festoon.registration.model import placing_model
from festoon.sheets.figures import Figure
from festoon.sheets.found import found, is_dense, together, verdict_told
from festoon.sheets.making_sheet import is_by_hand
from festoon.sheets.proof_figures import bar_figure, factor, fitted, meetings_figure, thickness_figure
from festoon.sheets.tiles import paper_named
from festoon.sheets.typeset import typeset
from festoon.supplies import Supplies
from festoon.supplies.assumed import part_told
from festoon.supplies.cautions import DENSE
from festoon.work import Finding

MOST_MEETINGS = 20
"""Meetings told and named by a letter; the rest are counted (ours)."""
MOST_NAMED = 8
"""Places of like findings that have their number on a map; the rest have a dot (ours)."""
_APART = 12.0
"""How far from one another those stand at least, mm on paper (ours)."""
_ROOM = (174.0, 160.0)
"""Room for one panel's map, mm."""
_SMALL = (130.0, 72.0)
"""Room for one panel's meetings, mm."""
_PRINTED_PX = 5.0
"""Pixels of the map to a printed mm: about 130 to the inch, and a single thread is finer than the map anyway."""

Groups = tuple[tuple[Finding, ...], ...]


def proof_sheet(
    layout: Layout, division: Division, proof: Proof, supplies: Supplies, *, paper: str, units: Units
) -> bytes:
    """The proof sheet as a PDF on 'A4' or 'Letter', lengths in the units given.

    It tells the findings of the proof and of the supplies. Raises MeasureError for an unknown paper.
    """
    sheet = paper_named(paper)
    groups = together((*proof.findings, *supplies.findings))
    numbered = [(str(n), g) for n, g in enumerate(groups, start=1)]
    asked = division.hoopings or is_by_hand(layout)
    maps = {m.panel: m for m in proof.thickness}
    lettered = _lettered(proof.meetings)
    model = proof.learned.model if proof.learned else placing_model(layout.piece.bench.measured)
    sewn = [p for p in layout.panels if p.name in maps and maps[p.name].layers.size]
    images = {
        _file(k): thickness_picture(maps[p.name], _PRINTED_PX * fitted(p.size, _ROOM)) for k, p in enumerate(sewn)
    }
    data = {
        "piece": layout.piece.name,
        "paper": [sheet.width, sheet.height],
        "headline": verdict_told(groups) if asked or groups else "Nothing to sew, so nothing to prove.",
        "found": [found(g, n) for n, g in numbered],
        "caution": [DENSE.text, DENSE.source] if any(is_dense(g[0]) for g in groups) else [],
        "levels": _levels(),
        "maps": [
            _thick(panel, maps[panel.name], _file(k), proof.meetings, numbered, units) for k, panel in enumerate(sewn)
        ],
        "met": _met_told(proof, units),
        "meetings": [
            {
                "figure": _shown(figure),
                "panel": panel.name,
                "enlarged": enlarged,
                "bar": _shown(bar_figure(fitted(panel.size, _SMALL), units)),
            }
            for panel in layout.panels
            for figure, enlarged in _met(layout, division, panel, lettered)
        ],
        "rows": [_row(name, m, len(layout.panels) > 1, units) for name, m in lettered[:MOST_MEETINGS]],
        "more": max(0, len(lettered) - MOST_MEETINGS),
        "limits": [chance(GAP_SELDOM), chance(PILE_SELDOM)],
        "marking": marking_told(proof.carrying, units),
        "advice": [advice_told(a, units) for a in proof.advice],
        "parts": [[p.name, part_told(p, units), p.basis, p.source] for p in model.parts] if division.hoopings else [],
    }
    return typeset("proof_sheet", data, images=images)


def _file(number: int) -> str:
    return f"thickness-{number}.png"


def _met_told(proof: Proof, units: Units) -> str:
    """How well the hoopings meet, and what readings after hooping have to do with it; nothing where none meet."""
    told = meetings_told(proof.meetings, units)
    return f"{told} {proof.learned.told}" if told and proof.learned else told


def _thick(
    panel: Panel,
    thickness: Thickness,
    file: str,
    meetings: Sequence[Meeting],
    numbered: Sequence[tuple[str, tuple[Finding, ...]]],
    units: Units,
) -> dict[str, Any]:
    """One panel's map with its captions; `file` is its image."""
    scale = fitted(panel.size, _ROOM)
    here = [m for m in meetings if m.panel == panel.name]
    places = numbered_places(numbered, panel.name, _APART / scale)
    figure = thickness_figure(panel, thickness, file, here, places, scale)
    size = " by ".join(show_length(s, units) for s in panel.size)
    return {
        "name": panel.name,
        "told": thickest_told((thickness,), units),
        "size": f"{panel.name}, {size}, drawn at {_ratio(scale)}",
        "figure": _shown(figure),
        "bar": _shown(bar_figure(scale, units)),
        "met": bool(here),
    }


def numbered_places(
    numbered: Sequence[tuple[str, tuple[Finding, ...]]], panel: str, apart: float
) -> list[tuple[str, tuple[float, float]]]:
    """Where the findings lie on a panel, with their numbers.

    Like ones nearer than `apart` mm to one that has the number go without, and so do the last of many.
    """
    places = []
    for number, group in numbered:
        named: list[tuple[float, float]] = []
        for at in (f.at for f in group if f.panel == panel and f.at is not None):
            alone = len(named) < MOST_NAMED and all(math.dist(at, other) >= apart for other in named)
            places.append((number if alone else "", at))
            named += [at] if alone else []
    return places


def worst_meetings(meetings: Sequence[Meeting]) -> list[Meeting]:
    """Those whose chance of a gap or a ridge comes nearest to its limit first; alike ones by how far they may miss."""

    def ranked(m: Meeting) -> tuple[float, float]:
        return -round(max(m.gap_chance / GAP_SELDOM, m.pile_chance / PILE_SELDOM), 2), -m.across_sd

    return sorted(meetings, key=ranked)


def _lettered(meetings: Sequence[Meeting]) -> list[tuple[str, Meeting]]:
    """The worst first, the first MOST_MEETINGS named a, b, c, ..."""
    ranked = worst_meetings(meetings)
    return [(letters(k).lower() if k < MOST_MEETINGS else "", m) for k, m in enumerate(ranked)]


def _met(
    layout: Layout, division: Division, panel: Panel, lettered: Sequence[tuple[str, Meeting]]
) -> list[tuple[Figure, int]]:
    """The drawing of a panel's meetings and how many times its ellipses are enlarged; none without meetings."""
    here = [(name, m) for name, m in lettered if m.panel == panel.name]
    if not here:
        return []
    scale = fitted(panel.size, _SMALL)
    enlarged = factor([m for _, m in here], scale)
    return [(meetings_figure(layout, division, panel, here, enlarged, scale), enlarged)]


def _row(name: str, m: Meeting, several: bool, units: Units) -> dict[str, Any]:
    parts = f"{m.parts[0]}, divided" if m.kind == "cut" else " and ".join(dict.fromkeys(m.parts))
    return {
        "name": name,
        "parts": f"{parts} on {m.panel}" if several else parts,
        "at": spot(m.at, units).removeprefix(", "),
        "hoopings": f"{m.first}, {m.second}",
        "across": f"± {reach(LIKELY * m.across_sd, units)}",
        "along": f"± {reach(LIKELY * m.along_sd, units)}",
        "lap": fine(m.lap, units) if m.lap >= 0 else f"{fine(-m.lap, units)} apart",
        "wanted": reach(m.lap_wanted, units) if m.lap_wanted > 0 else "none",
        "gap": chance(m.gap_chance),
        "pile": chance(m.pile_chance),
        "bad": [m.gap_chance > GAP_SELDOM, m.pile_chance > PILE_SELDOM],
    }


def _ratio(scale: float) -> str:
    """'1 : 2.3', or '3 : 1' for a panel drawn larger than it is."""
    return f"1 : {1 / scale:.3g}" if scale <= 1 else f"{scale:.3g} : 1"


def _levels() -> list[dict[str, str]]:
    """The legend: each level's colour and its words."""
    return [{"colour": c, "words": words} for (_, c), words in zip(LEVELS, levels_told(), strict=True)]


def _shown(figure: Figure) -> dict[str, Any]:
    return {"size": list(figure.size), "records": figure.records}
