"""Correcting a hooping from what was measured after hooping.

`true_hooping` finds from the crosses' readings how the cloth lies and moves the sewing to it, or says why it must not;
`true_piece` does so for a piece's folder and writes the corrected machine file (`true_made` where it is divided
already, `judged` writes nothing); `learned_of` is what the readings so far say of the placing error.
"""

from festoon.truing.piece import Done, judged, learned_of, true_made, true_piece, trued_before, trued_name
from festoon.truing.true import true_hooping
from festoon.truing.values import Readings, Truing, Verdict

__all__ = [
    "Done",
    "Readings",
    "Truing",
    "Verdict",
    "judged",
    "learned_of",
    "true_hooping",
    "true_made",
    "true_piece",
    "trued_before",
    "trued_name",
]
