"""The work sheet: the piece and what it takes on the first page, then one block a hooping to sew by."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from typing import Any

from festoon.hooping.values import Division, Hooping
from festoon.hooping.words import listed
from festoon.layout import Layout
from festoon.measure import Units, show_length, show_metres, show_minutes, show_place
from festoon.piece import Bench, Panel, thread_name
from festoon.proof import Carrying
from festoon.proof.told import marking_told, reach
from festoon.sheets.care import cautions_told, halves, length
from festoon.sheets.figures import Figure, hoop_figure, in_rows, locator, piece_figure
from festoon.sheets.found import found, is_dense, together
from festoon.sheets.panel_words import cutting_told
from festoon.sheets.portraits import Portrait, portraits
from festoon.sheets.tiles import paper_named
from festoon.sheets.typeset import typeset
from festoon.steps import Step, printed, steps_of
from festoon.steps.words import floated, turned
from festoon.stitches.thread import Thread
from festoon.supplies import HoopingMinutes, Supplies
from festoon.supplies.cautions import DENSE, TRIMMING, cautions_at
from festoon.supplies.wearing import wearing_cautions
from festoon.work import Caution, Finding

_ROOM = (174.0, 96.0)
"""Room for the picture of the piece on the first page, mm."""
_GAP = 10.0
"""Between two panels there, mm."""
_HOOP_ROOM = 68.0
"""Longer side of a hoop's picture, mm."""
_LOCATOR = (25.0, 25.0)
_PRINTED_PX = 8.0
"""Pixels a printed mm of a hoop's picture: about 200 to the inch, finer than a home printer shows thread."""


def work_sheet(
    layout: Layout,
    division: Division,
    supplies: Supplies,
    *,
    paper: str,
    units: Units,
    files: Mapping[int, str],
    findings: Sequence[Finding] = (),
    lengthened: Sequence[str] = (),
    carrying: Sequence[Carrying] = (),
) -> bytes:
    """The work sheet as a PDF on 'A4' or 'Letter'.

    files names the machine file of every hooping by its number; findings are those of the proof, worst first;
    lengthened has a sentence for everything that was lengthened so that parts meet; carrying says which way to mark.

    Raises MeasureError for an unknown paper.
    """
    sheet = paper_named(paper)
    panels = {p.name: p for p in layout.panels}
    minutes = {m.number: m for m in supplies.minutes}
    steps = steps_of(division, supplies.minutes, layout.piece.bench, units, files)
    bench = layout.piece.bench
    images = {
        n: p
        for h in division.hoopings
        for n, p in portraits([h], _PRINTED_PX * _HOOP_ROOM / max(h.hoop.outer_size)).items()
    }
    groups = together((*findings, *supplies.findings))
    dense = {f.hooping for f in findings if is_dense(f)}
    worn = wearing_cautions(layout)
    data = {
        "piece": layout.piece.name,
        "paper": [sheet.width, sheet.height],
        "headline": division.headline,
        "panels": _panels(layout, division, images, units),
        "reasons": list(division.reasons),
        "notes": list(division.notes),
        "lengthened": list(lengthened),
        "marking": marking_told(carrying, units),
        "found": [found(g) for g in groups],
        "threads": [
            {**_thread(t.thread, bench), "stitches": f"{t.stitches:,}", "metres": show_metres(t.needle_metres)}
            for t in supplies.threads
        ],
        "things": _things(supplies, bench, units),
        "cautions": cautions_told(c for c in (*supplies.cautions, *([DENSE] if dense else [])) if c not in worn),
        "worn": halves(cautions_told(worn), length) if worn else [],
        "assumptions": [[a.name, a.value, a.basis, a.source] for a in supplies.assumptions],
        "hoopings": [
            {
                **_hooping(h, division, minutes[h.number], steps[h.number], bench, units),
                "file": files[h.number],
                **_care(cautions_at(h, dense=h.number in dense)),
                "figure": _shown(hoop_figure(h, panels[h.panel], _HOOP_ROOM, images.get(h.number))),
                "locator": _shown(locator(h, division, panels[h.panel], _LOCATOR)),
            }
            for h in division.hoopings
        ],
    }
    return typeset("work_sheet", data, images={p.file: p.data for p in images.values()})


def _shown(figure: Figure) -> dict[str, Any]:
    return {"size": list(figure.size), "records": figure.records}


def _panels(
    layout: Layout, division: Division, images: Mapping[int, Portrait], units: Units
) -> list[list[dict[str, Any]]]:
    """Every panel at one scale, in rows that together fill the room."""
    counts, scale = in_rows([p.size for p in layout.panels], _ROOM, _GAP)
    told = iter(
        {"told": _panel_told(p, units), "figure": _shown(piece_figure(layout, division, p, scale, images))}
        for p in layout.panels
    )
    return [list(itertools.islice(told, count)) for count in counts]


def _panel_told(panel: Panel, units: Units) -> str:
    told = cutting_told(panel, units)
    return f"{panel.name}, {told[:1].lower()}{told[1:]}"


def _things(supplies: Supplies, bench: Bench, units: Units) -> list[list[str]]:
    """Everything but the needle threads: what, how much, a word on it, and what that rests on."""
    under = supplies.stabiliser
    pieces = "; ".join(
        f"{p.count} of {show_length(p.size[0], units)} by {show_length(p.size[1], units)}" for p in under.pieces
    )
    bobbins = "one bobbin" if supplies.bobbins == 1 else f"{supplies.bobbins} bobbins"
    return [
        ["Bobbin thread", bobbins, f"{show_metres(supplies.bobbin_metres)} in all", "computed"],
        ["Stabiliser", f"{show_metres(under.metres)} of {under.name}", f"cut {pieces}" if pieces else "", "computed"],
        ["Needle", f"{bench.needle.size} {bench.needle.point}", "", _needle_basis(bench)],
        ["Time at the machine", show_minutes(supplies.total_minutes), f"{supplies.stitches:,} stitches", "computed"],
    ]


def _needle_basis(bench: Bench) -> str:
    return "measured" if "size" in bench.needle.model_fields_set else "assumed"


def _care(cautions: Sequence[Caution]) -> dict[str, list[dict[str, str]]]:
    """A hooping's cautions; trimming comes with nearly every one, so it is told more quietly."""
    return {
        "loud": cautions_told(c for c in cautions if c != TRIMMING),
        "quiet": cautions_told(c for c in cautions if c == TRIMMING),
    }


def _hooping(
    hooping: Hooping, division: Division, minutes: HoopingMinutes, steps: Sequence[Step], bench: Bench, units: Units
) -> dict[str, Any]:
    marks = sorted(hooping.marks, key=lambda m: (len(m.name), m.name))
    return {
        "number": str(hooping.number),
        "of": str(division.count),
        "panel": hooping.panel if len({h.panel for h in division.hoopings}) > 1 else "",
        "holds": listed(hooping.sews, 6),
        "reason": hooping.reason,
        "after": _after(hooping.after),
        "turned": turned(hooping.field.turn, hooping.hoop.name),
        "float": floated(hooping.float_sides, hooping.panel),
        "marks": [[m.name, show_place(m.at[0], units), show_place(m.at[1], units)] for m in marks],
        "threads": [{**_thread(t.thread, bench), "stitches": f"{t.stitches:,}"} for t in minutes.threads],
        "needle": f"{bench.needle.size} {bench.needle.point}",
        "needle_basis": _needle_basis(bench),
        "stitches": f"{minutes.stitches:,}",
        "minutes": show_minutes(minutes.total),
        "sewing": show_minutes(minutes.sewing),
        "error": f"within {reach(hooping.expected.mm, units)}",
        "confidence": f"{hooping.expected.confidence * 100:g} times in 100",
        "steps": printed(steps),
    }


def _thread(thread: Thread, bench: Bench) -> dict[str, str]:
    """A swatch and what to call it."""
    return {"colour": thread.colour, "name": thread_name(thread, bench)}


def _after(numbers: tuple[int, ...]) -> str:
    if not numbers:
        return ""
    return f"after hooping{'s' if len(numbers) > 1 else ''} {listed([str(n) for n in numbers])}"
