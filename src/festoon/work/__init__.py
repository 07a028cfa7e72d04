"""The values that every technique gives back: parts of stitching, lines, handles, supplies, steps, findings.

A technique fills in a `Work`; everything after it reads these values and knows no technique.
"""

from festoon.work.values import (
    Amount,
    Caution,
    Finding,
    Handle,
    Line,
    Mend,
    Part,
    Sentence,
    Step,
    Supply,
    Verdict,
    Work,
)

__all__ = [
    "Amount",
    "Caution",
    "Finding",
    "Handle",
    "Line",
    "Mend",
    "Part",
    "Sentence",
    "Step",
    "Supply",
    "Verdict",
    "Work",
]
