"""What the proof found, told in the terminal and as JSON for other tools."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

import numpy as np
from rich.console import Group, RenderableType
from rich.text import Text

from festoon.measure import show_length, tenths_up
from festoon.proof import Meeting, Proof, Thickness
from festoon.proof.cloth import WIDE
from festoon.proof.heap import spread
from festoon.proof.words import VERDICT, sentence, spot
from festoon.work import Finding, Verdict

STYLE: dict[Verdict, str] = {"will not work": "bold red", "look again": "yellow", "sound": "green"}

LIKELY = 1.96
"""Standard deviations that hold 95 in 100 of a normal distribution (computed)."""


def proof_told(name: str, proof: Proof) -> RenderableType:
    """The findings as sentences, worst first, then how well parts meet and how thick the stitching gets."""
    parts: list[RenderableType] = [Text(name, style="bold"), *findings_told(proof.findings)]
    if not proof.findings:
        parts.append(Text.assemble(("Sound", STYLE["sound"]), ": nothing was found that keeps it from working."))
    parts.extend(Text(line) for line in (_meetings(proof.meetings), _thickest(proof.thickness)) if line)
    return Group(*parts)


def findings_told(findings: Iterable[Finding]) -> list[RenderableType]:
    """A paragraph a finding: the verdict's word, where, the reason, figure against limit, what to do, the source."""
    return [Text.assemble((VERDICT[f.verdict], STYLE[f.verdict]), f": {sentence(f)}") for f in findings]


def findings_json(findings: Iterable[Finding]) -> str:
    """The same as a JSON list, in the same order (its words stand in docs/records.md)."""
    return json.dumps([_object(f) for f in findings], indent=2, ensure_ascii=False)


def _object(finding: Finding) -> dict[str, Any]:
    return {
        "verdict": finding.verdict,
        "where": {
            "panel": finding.panel,
            "at": None if finding.at is None else [round(v, 3) for v in finding.at],
            "elements": list(finding.elements),
            "hooping": finding.hooping,
            "told": finding.where,
        },
        "figure": finding.figure,
        "limit": finding.limit,
        "reason": finding.reason,
        "remedy": finding.remedy,
        "source": finding.source,
    }


def _meetings(meetings: tuple[Meeting, ...]) -> str:
    if not meetings:
        return ""
    worst = max(meetings, key=lambda m: m.across_sd)
    count = "One place where hoopings meet" if len(meetings) == 1 else f"{len(meetings)} places where hoopings meet"
    names = " and ".join(dict.fromkeys(worst.parts))
    return (
        f"{count}; the least sure is predicted to meet within ±{tenths_up(LIKELY * worst.across_sd):.1f} mm 95 times "
        f"in 100: {names}, hoopings {worst.first} and {worst.second}{spot(worst.at)}."
    )


def _thickest(maps: tuple[Thickness, ...]) -> str:
    """The most layers over the square by which every part is judged, and where."""
    sewn = [(m, spread(m)) for m in maps if m.layers.size]
    if not sewn:
        return ""
    most, over = max(sewn, key=lambda pair: float(pair[1].wide.max()))
    row, column = np.unravel_index(int(over.wide.argmax()), over.wide.shape)
    x, y = ((over.corner[1] + int(column)) * most.cell, (over.corner[0] + int(row)) * most.cell)
    return (
        f"Thickest: {float(over.wide.max()):.1f} layers of thread over a square of {show_length(WIDE.value)}, on "
        f"{most.panel}{spot((x, y))}."
    )
