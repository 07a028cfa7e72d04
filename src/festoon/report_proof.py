"""What the proof found, told in the terminal and as JSON for other tools."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import Any

from rich.console import Group, RenderableType
from rich.text import Text

from festoon.hooping.words import Units
from festoon.proof import Proof
from festoon.proof.told import advice_told, marking_told, measured_told, meetings_told, thickest_told
from festoon.proof.words import VERDICT, alike, sentence
from festoon.work import Finding, Verdict

STYLE: dict[Verdict, str] = {"will not work": "bold red", "look again": "yellow", "sound": "green"}


def proof_told(name: str, proof: Proof, units: Units, lengthened: Sequence[str] = ()) -> RenderableType:
    """What was lengthened, the findings, worst first, then how well parts meet, how to mark, and how thick it gets."""
    parts: list[RenderableType] = [
        Text(name, style="bold"),
        *lengthened_told(lengthened),
        *findings_told(proof.findings),
    ]
    if not proof.findings:
        parts.append(Text.assemble(("Sound", STYLE["sound"]), ": nothing was found that keeps it from working."))
    parts.extend(Text(line) for line in assurances(proof, units))
    return Group(*parts)


def assurances(proof: Proof, units: Units) -> list[str]:
    """How well parts meet, what readings taught, how to mark, how thick it gets, and whose figures: a sentence each."""
    told = (
        meetings_told(proof.meetings, units),
        proof.learned.told if proof.learned else "",
        marking_told(proof.carrying, units),
        *(advice_told(a, units) for a in proof.advice),
        thickest_told(proof.thickness, units),
        measured_told(proof.measured),
    )
    return [line for line in told if line]


def findings_told(findings: Iterable[Finding]) -> list[RenderableType]:
    """A paragraph for findings that are alike: the verdict's word, then their `sentence`."""
    return [Text.assemble((VERDICT[g[0].verdict], STYLE[g[0].verdict]), f": {sentence(g)}") for g in alike(findings)]


def lengthened_told(lengthened: Sequence[str]) -> list[RenderableType]:
    """A line for each sentence on what was lengthened, under its heading."""
    return [Text("Lengthened", style="bold"), *(Text(f"  {line}") for line in lengthened)] if lengthened else []


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
