"""Correcting a hooping from what was measured after hooping.

`true_hooping` finds from the crosses' readings how the cloth lies and moves the sewing to it, or says why it must not;
`true_piece` does so for a piece's folder and writes the corrected machine file; `learned_of` is what the readings so
far say of the placing error.
"""

from festoon.truing.piece import Done, learned_of, true_piece
from festoon.truing.true import true_hooping
from festoon.truing.values import Readings, Truing, Verdict

__all__ = ["Done", "Readings", "Truing", "Verdict", "learned_of", "true_hooping", "true_piece"]
