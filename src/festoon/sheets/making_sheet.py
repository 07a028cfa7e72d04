"""The making sheet: what is not done by the embroidery machine. What to buy and cut, the order of the whole work, then
every element with its picture, its figures and its steps."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from festoon.hooping.values import Division
from festoon.layout import Layout
from festoon.measure import Units, show_bought, show_length
from festoon.piece import Panel
from festoon.shaping.tucks import flat_size
from festoon.sheets.care import cautions_told, halves, length
from festoon.sheets.figures import Figure, element_figure, element_window, in_rows, panel_figure
from festoon.sheets.found import found, together
from festoon.sheets.tiles import paper_named
from festoon.sheets.typeset import typeset
from festoon.steps import HOOPINGS, Deed, in_order
from festoon.supplies import Supplies
from festoon.work import Finding, Stage, Supply, Work

_ROOM = (174.0, 78.0)
"""Room for the picture of the piece, mm."""
_GAP = 10.0
"""Between two panels there, mm."""
_WIDE = (174.0, 62.0)
_BESIDE = (84.0, 62.0)
"""Room for an element's picture across the page, and beside its figures, mm."""
_LONG = 2.2
"""How many times wider than high it is where it goes across the page."""

_WORTH_EXACT = 10_000.0
"""mm; what is longer is told rounded alone."""
_BALANCED = 84
"""Rows of the order of the work that stand in two columns as long as each other; more run over pages."""

_STAGES: dict[Stage, str] = {
    "prepare": "Make ready",
    "tuck": "Tuck the cloth",
    "embroider": "Embroider",
    "shape": "Shape the lace",
    "set": "Set on the cloth",
    "trim": "Trim behind",
    "join": "Join",
    "cut out": "Cut out",
    "seam": "Seams",
    "edge": "Edges and hems",
    "finish": "Finish",
}


def is_by_hand(layout: Layout) -> bool:
    """Whether any element asks for more than its stitching: steps, figures or supplies of its own."""
    return any(_told_of(w) for w in layout.works)


def making_sheet(
    layout: Layout,
    division: Division,
    supplies: Supplies,
    *,
    paper: str,
    units: Units,
    findings: Sequence[Finding] = (),
) -> bytes:
    """The making sheet as a PDF on 'A4' or 'Letter', for a piece of which something `is_by_hand`.

    findings are those of the proof, worst first: each element shows those that concern it. Raises MeasureError for an
    unknown paper.
    """
    sheet = paper_named(paper)
    panels = {p.name: p for p in layout.panels}
    shaped = [p.name for p in layout.panels if p.shaped]
    deeds = in_order(layout.works, list(panels), {n: _numbers(division, n) for n in panels}, shaped)
    numbered = list(enumerate(deeds, start=1))
    rows = _order(numbered, several=len(panels) > 1)
    told = [w for w in layout.works if _told_of(w)]
    data = {
        "piece": layout.piece.name,
        "paper": [sheet.width, sheet.height],
        "headline": _headline(deeds, division),
        "panels": _pictures(layout),
        "cut": [_cut(p, layout, units) for p in layout.panels],
        "buy": [_bought(s, units) for s in merged(s for w in layout.works for s in w.supplies)],
        "hoopings": division.count,
        "cautions": halves(cautions_told(supplies.cautions), length),
        "order": halves(rows, lambda _: 1) if len(rows) <= _BALANCED else [rows],
        "elements": [_element(w, panels[w.panel], numbered, findings) for w in told],
    }
    return typeset("making_sheet", data)


def merged(supplies: Iterable[Supply]) -> list[Supply]:
    """Supplies of the same thing in the same unit added up, in the order in which they are met; how each was reckoned
    is told once."""
    by_what: dict[tuple[str, str], list[Supply]] = {}
    for supply in supplies:
        by_what.setdefault((supply.what, supply.unit), []).append(supply)
    return [
        Supply(what, sum(s.quantity for s in of), unit, "; ".join(dict.fromkeys(s.reckoned for s in of)))
        for (what, unit), of in by_what.items()
    ]


def _told_of(work: Work) -> bool:
    return bool(work.steps or work.figures or work.supplies)


def _numbers(division: Division, panel: str) -> list[int]:
    return [h.number for h in division.hoopings if h.panel == panel]


def _headline(deeds: Sequence[Deed], division: Division) -> str:
    by_hand = sum(d.name != HOOPINGS for d in deeds)
    told = f"{by_hand} step{'' if by_hand == 1 else 's'} by hand and at the sewing machine"
    if not division.count:
        return f"{told}."
    return f"{told}, and {division.count} hooping{'' if division.count == 1 else 's'}."


def _shown(figure: Figure) -> dict[str, Any]:
    return {"size": list(figure.size), "records": figure.records}


def _pictures(layout: Layout) -> list[list[dict[str, Any]]]:
    """Every panel at one scale, in rows that together fill the room."""
    counts, scale = in_rows([p.size for p in layout.panels], _ROOM, _GAP)
    told = iter({"told": p.name, "figure": _shown(panel_figure(layout, p, scale))} for p in layout.panels)
    return [list(itertools.islice(told, count)) for count in counts]


def _cut(panel: Panel, layout: Layout, units: Units) -> dict[str, str]:
    taken = [take for work in layout.works if work.panel == panel.name for take in work.taken]
    size, flat = panel.size, flat_size(panel.size, taken)
    then = [panel.cloth] if panel.cloth else []
    if flat != size:
        then.append(f"its tucks make it {_by(size, units)}")
    if panel.shaped:
        then.append("a block: its shape is cut out when the work on it is done")
    return {"name": panel.name, "size": _by(flat, units), "told": "; ".join(then), "basis": _basis(panel, flat)}


def _basis(panel: Panel, flat: tuple[float, float]) -> str:
    return "measured" if panel.block and flat == panel.size else "computed"


def _by(size: tuple[float, float], units: Units) -> str:
    return " by ".join(show_length(s, units) for s in size)


def _bought(supply: Supply, units: Units) -> dict[str, str]:
    if supply.unit == "mm":
        amount = show_bought(supply.quantity, units)
        told = show_length(supply.quantity, units, places=0)
        exactly = "" if supply.quantity > _WORTH_EXACT or told == amount else f"({told})"
    else:
        amount, exactly = f"{supply.quantity:g}" + ("" if supply.unit == "pieces" else f" {supply.unit}"), ""
    return {"what": supply.what, "amount": amount, "exactly": exactly, "reckoned": supply.reckoned}


def _order(numbered: Sequence[tuple[int, Deed]], *, several: bool) -> list[dict[str, str]]:
    """The rows of the order: each deed, and before the first of every stage its name."""
    rows: list[dict[str, str]] = []
    stage = ""
    for number, deed in numbered:
        if deed.stage != stage:
            stage = deed.stage
            rows.append({"number": "", "words": _STAGES[deed.stage], "where": ""})
        words = _sentence(deed.name) if deed.element else deed.text.removesuffix(".")
        rows.append({"number": str(number), "words": words, "where": deed.panel if several else ""})
    return rows


def _element(
    work: Work, panel: Panel, numbered: Sequence[tuple[int, Deed]], findings: Sequence[Finding]
) -> dict[str, Any]:
    figure, across = _picture(work, panel)
    return {
        "name": work.element,
        "panel": panel.name,
        "across": across,
        "figure": _shown(figure) if figure else None,
        "figures": [[f.what.removeprefix(f"{work.element}: "), f.value, f.reckoned] for f in work.figures],
        "steps": [
            {"number": str(n), "name": _sentence(d.name), "text": d.text}
            for n, d in numbered
            if d.element == work.element
        ],
        "cautions": cautions_told(work.cautions),
        "found": [found(g) for g in together(f for f in findings if _concerns(f, work))],
    }


def _concerns(finding: Finding, work: Work) -> bool:
    """Whether a finding names the element or is the technique's own, accepted or not."""
    return work.element in finding.concerns or replace(finding, accepted="", lapsed="") in work.findings


def _picture(work: Work, panel: Panel) -> tuple[Figure | None, bool]:
    """The element's picture, and whether it goes across the page."""
    window = element_window(work)
    if window is None:
        return None, False
    across = window[2] - window[0] > _LONG * (window[3] - window[1])
    return element_figure(work, panel, window, _WIDE if across else _BESIDE), across


def _sentence(name: str) -> str:
    return name[:1].upper() + name[1:]
