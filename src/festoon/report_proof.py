"""What the proof found, told in the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.console import Group, RenderableType
from rich.text import Text

from festoon.hooping import Division
from festoon.measure import Units
from festoon.piece import Piece
from festoon.proof import Proof
from festoon.proof.accepting import unneeded_told
from festoon.proof.told import advice_told, marking_told, measured_told, meetings_told, thickest_told
from festoon.proof.words import alike, sentence, word
from festoon.supplies import own_say, own_say_told
from festoon.work import Finding, Verdict

STYLE: dict[Verdict, str] = {"will not work": "bold red", "look again": "yellow", "sound": "green"}


def proof_told(name: str, proof: Proof, units: Units, lengthened: Sequence[str] = ()) -> RenderableType:
    """What was lengthened, the findings, worst first, then how well parts meet, how to mark, how thick it gets, and
    which acceptances nothing needs.
    """
    parts: list[RenderableType] = [
        Text(name, style="bold"),
        *lengthened_told(lengthened),
        *findings_told(proof.findings),
    ]
    if not proof.findings:
        parts.append(Text.assemble(("Sound", STYLE["sound"]), ": nothing was found that keeps it from working."))
    parts.extend(Text(line) for line in (*assurances(proof, units), *unneeded_told(proof.unneeded)))
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
    return [Text.assemble((word(g[0]), STYLE[g[0].verdict]), f": {sentence(g)}") for g in alike(findings)]


def own_say_lines(division: Division, piece: Piece) -> list[RenderableType]:
    """What the worker's own hoopings and order cost, in a line; none where she has no say that is kept."""
    told = own_say_told(own_say(division, piece.bench.machine), piece.file.piece.units)
    return [Text(told)] if told else []


def lengthened_told(lengthened: Sequence[str]) -> list[RenderableType]:
    """A line for each sentence on what was lengthened, under its heading."""
    return [Text("Lengthened", style="bold"), *(Text(f"  {line}") for line in lengthened)] if lengthened else []
