"""What the page is told at the start, typed; lengths in mm."""

from __future__ import annotations

from festoon.measure import Units
from festoon.web.answers import Spot, Told


class AnswersTold(Told):
    """Answers to begin with; see festoon.web.begin.Answers."""

    units: Units
    size: Spot
    cloth: str
    field: Spot
    magnetic: bool
    format: str


class ExampleTold(Told):
    """A finished piece to take a copy of: what is said of it, and its first panel's size and cloth."""

    key: str
    name: str
    told: str
    size: Spot
    cloth: str


class OwnMotifTold(Told):
    """A motif that Festoon drew."""

    key: str
    name: str


class RecentTold(Told):
    """A piece opened before: where it lies, when it was opened (UTC, ISO 8601), and whether it lies there no longer."""

    key: str
    name: str
    folder: str
    opened: str
    missing: bool


class StartTold(Told):
    """What may be begun and opened. first: the key of the piece that the command opened; home: where new pieces go."""

    first: str | None
    home: str
    answers: AnswersTold
    examples: list[ExampleTold]
    motifs: list[OwnMotifTold]
    recent: list[RecentTold]


class OpenedTold(Told):
    """The key of the piece that now lies open."""

    key: str
