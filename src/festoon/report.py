"""What was made, and what a stitch file holds, told in the terminal."""

from __future__ import annotations

from pathlib import Path

import cv2
from rich.console import Group, RenderableType
from rich.markup import escape
from rich.table import Table
from rich.text import Text

from festoon.hooping import Hooping
from festoon.hooping.records import RECORD
from festoon.make import MAKING_SHEET, PROOF_SHEET, TEMPLATES, WORK_SHEET, Made
from festoon.measure import Units, show_length, show_metres, show_minutes
from festoon.piece import thread_name
from festoon.proof.told import reach
from festoon.report_proof import findings_told, lengthened_told, own_say_lines
from festoon.stitches import Stitching, describe, portrait
from festoon.stitches.thread import Thread

PICTURE_COLUMNS = 44
"""Characters across the small picture of a motif; two dots of the picture stand above each other in one."""

FINE = 400.0
"""Dots along the longer side of the picture before it is made small."""

SHADES = " .:oO#"
"""Lightest to densest, where the terminal has no colour."""

WITHIN = "'within': how far from its place the worst stitch is predicted to land, 95 times in 100"

SHEETS = {
    TEMPLATES: "true-size templates: print at 100 per cent, and measure the check line",
    MAKING_SHEET: "what is made by hand and at the sewing machine, step by step, and what to buy and cut",
    WORK_SHEET: "the work, hooping by hooping, and what to buy",
    PROOF_SHEET: "what was found, how thick it gets, and how well the hoopings will meet",
    RECORD: "the same as an open record, for other tools",
}
"""All files but the machine's, and what each is."""

PAPER = (250, 248, 243)
"""The ground that the small picture is drawn on."""


def told(made: Made, folder: Path) -> RenderableType:
    """The result of the main job in plain words."""
    division = made.division
    parts: list[RenderableType] = [Text(made.layout.piece.name, style="bold"), Text(division.headline)]
    if len(division.reasons) > 1 or division.count > 1:  # else the headline says the same
        parts.extend(Text(reason) for reason in division.reasons)
    parts.extend(own_say_lines(division, made.layout.piece))
    parts.extend(Text(note) for note in division.notes)
    parts.extend(lengthened_told(made.lengthened))
    parts.extend(findings_told(made.findings))
    if division.hoopings:
        table = _hoopings(division.hoopings, made.layout.piece.file.piece.units)
        parts.extend([Text(), table, Text(WITHIN, style="dim"), Text(), Text(_supplies(made))])
    parts.extend([Text(), Text(f"Written to {folder}:")])
    parts.append(_files(made))
    return Group(*parts)


def _hoopings(hoopings: tuple[Hooping, ...], units: Units) -> Table:
    table = Table(box=None, padding=(0, 2, 0, 0), header_style="dim")
    for heading in ("hooping", "sews", "stitches", "crosses", "within", "why now"):
        table.add_column(heading, justify="right" if heading in ("hooping", "stitches", "within") else "left")
    for h in hoopings:
        table.add_row(
            str(h.number),
            escape(", ".join(h.sews)),
            f"{h.stitching.stitch_count:,}",
            " ".join(m.name for m in h.marks),
            reach(h.expected.mm, units),
            escape(h.reason),
        )
    return table


def _supplies(made: Made) -> str:
    s = made.supplies
    bench = made.layout.piece.bench
    threads = "; ".join(f"{thread_name(t.thread, bench)} {show_metres(t.needle_metres)}" for t in s.threads)
    bobbins = (
        f"{show_metres(s.bobbin_metres)} of bobbin thread ({s.bobbins} {'bobbin' if s.bobbins == 1 else 'bobbins'})"
    )
    return (
        f"Needle thread: {threads}. {bobbins}; {show_metres(s.stabiliser.metres)} of {s.stabiliser.name}; about "
        f"{show_minutes(s.total_minutes)} at the machine for {s.stitches:,} stitches."
    )


def _files(made: Made) -> Table:
    table = Table.grid(padding=(0, 2))
    machine = sorted(name for name in made.files if name not in SHEETS)
    if machine:
        span = machine[0] if len(machine) == 1 else f"{machine[0]} to {machine[-1]}"
        table.add_row("", span, "one machine file a hooping; each begins with the needle check at its crosses")
    for name, told_of in SHEETS.items():
        if name in made.files:
            table.add_row("", name, told_of)
    return table


def described(name: str, stitching: Stitching, units: Units, width: int, coloured: bool) -> RenderableType:
    """One stitch file: its figures beside a small picture, in a terminal `width` characters wide."""
    d = describe(stitching)
    facts = Table.grid(padding=(0, 2))
    size = f"{show_length(d.width, units)} wide, {show_length(d.height, units)} high"
    facts.add_row("size", size)
    facts.add_row("stitches", f"{d.stitches:,}")
    facts.add_row("longest", f"{show_length(d.longest, units)}; on the average {show_length(d.mean, units)}")
    facts.add_row("trims", str(d.trims))
    facts.add_row("stops", str(d.stops))
    facts.add_row("threads", _swatches(d.threads))
    body = Table.grid(padding=(0, 3))
    body.add_row(facts, _picture(stitching, min(PICTURE_COLUMNS, max(12, width // 2)), coloured))
    return Group(Text(name, style="bold"), body, Text())


def _swatches(threads: tuple[tuple[Thread, int], ...]) -> Text:
    text = Text()
    for k, (thread, stitches) in enumerate(threads):
        text.append("\n" if k else "")
        text.append("██ ", style=thread.colour)
        text.append(f"{thread.name}, {stitches:,} {'stitch' if stitches == 1 else 'stitches'}")
    return text


def _picture(stitching: Stitching, columns: int, coloured: bool) -> Text:
    """The stitching, each character showing two dots, one above the other; in shades where there is no colour."""
    left, top, right, bottom = stitching.bounds
    fine = max(2.0, FINE / max(right - left, bottom - top, 1.0))
    whole = portrait(stitching, fine, cloth=PAPER if coloured else None)
    columns, rows = _dots(columns, whole.shape[0] / whole.shape[1])
    dots = cv2.resize(whole, (columns, rows), interpolation=cv2.INTER_AREA)
    text = Text()
    for upper, lower in zip(dots[0::2], dots[1::2], strict=True):
        for a, b in zip(upper.tolist(), lower.tolist(), strict=True):
            if coloured:
                text.append("▀", style=f"rgb({a[0]},{a[1]},{a[2]}) on rgb({b[0]},{b[1]},{b[2]})")
            else:
                text.append(SHADES[min(len(SHADES) - 1, (a[3] + b[3]) * len(SHADES) // 511)])
        text.append("\n")
    text.rstrip()
    return text


def _dots(columns: int, slope: float) -> tuple[int, int]:
    """(across, down) dots for a picture `slope` times as high as wide; down is even and at most twice across."""
    across = columns if slope <= 1 else max(2, round(columns / slope))
    return across, max(2, 2 * round(across * slope / 2))
