"""The values that every technique gives back: parts of stitching, lines, handles, supplies, steps, findings.

A technique fills in a `Work`; everything after it reads these values and knows no technique.
"""

from festoon.work.values import (
    Amount,
    Area,
    Caution,
    Figure,
    Finding,
    Handle,
    Line,
    Mend,
    Part,
    Pin,
    Sentence,
    Stage,
    Step,
    Supply,
    TakeUp,
    Template,
    Verdict,
    Work,
)

__all__ = [
    "Amount",
    "Area",
    "Caution",
    "Figure",
    "Finding",
    "Handle",
    "Line",
    "Mend",
    "Part",
    "Pin",
    "Sentence",
    "Stage",
    "Step",
    "Supply",
    "TakeUp",
    "Template",
    "Verdict",
    "Work",
]
