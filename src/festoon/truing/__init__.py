"""Correcting a hooping from what was measured after hooping.

`true_hooping` finds from the crosses' readings how the cloth lies and moves the sewing to it, or says why it must not;
`true_piece` does so for a piece's folder and writes the corrected machine file.
"""

from festoon.truing.piece import Done, true_piece
from festoon.truing.readings import parse_pair, parse_readings
from festoon.truing.record import TruingRecord, remaining_error
from festoon.truing.true import true_hooping
from festoon.truing.values import Truing, Verdict

__all__ = [
    "Done",
    "Truing",
    "TruingRecord",
    "Verdict",
    "parse_pair",
    "parse_readings",
    "remaining_error",
    "true_hooping",
    "true_piece",
]
