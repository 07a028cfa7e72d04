"""What long work brings; it travels from the process that did it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from festoon.web.answers import HoopingsTold, ProofTold

What = Literal["hoopings", "proof", "sheets"]
"""Kinds of long work."""


@dataclass(frozen=True, slots=True)
class Results:
    """What was worked out for one revision of a piece; later work brings what earlier work brings, too.

    pictures: PNG by panel; files: name -> bytes, those of `festoon make`; refused: the sentences with which it would
    refuse to write them. bench: what the stage beside the machine works with, as `packed` of festoon.web.bench has it.
    """

    hoopings: HoopingsTold
    proof: ProofTold | None = None
    pictures: dict[str, bytes] = field(default_factory=dict)
    files: dict[str, bytes] | None = None
    refused: tuple[str, ...] = ()
    bench: bytes = b""

    def with_proof(self, proof: ProofTold) -> Results:
        """The same for a revision at which only the proof reads otherwise; its sheets would have to be set anew."""
        hoopings = self.hoopings.model_copy(update={"revision": proof.revision})
        return Results(hoopings, proof, self.pictures)
