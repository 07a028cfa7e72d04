"""The limits that hold for the whole piece: what a home machine sews well, each with where it comes from."""

from __future__ import annotations

from dataclasses import dataclass

from festoon.stitches.lay.limits import LONGEST_SATIN, MAX_STITCH


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit (mm, a share from 0 to 1, or a count, as its name says) and its source."""

    value: float
    source: str


_STEP = "a trade magazine, Dec 2016, p. 30, on the steps in which machines move and the safe zone of stitches"
_SATIN = "a trade magazine, Feb 2016, p. 61, on the shortest and longest satin stitches"

TINY = Limit(0.3, f"{_STEP}; three such steps: common practice")
"""mm; three steps of 0.1 mm of the machine: a shorter stitch goes back into the hole that it came from."""
TINY_SHARE = Limit(0.05, "common practice")
"""Share of a part's stitches under TINY that is still let pass: tips of columns have a few."""
TINY_STOP = Limit(0.25, "common practice")
"""The same from which the thread frays and nests before the part is done."""
SHORT = Limit(1.0, _STEP)
"""mm, the magazine's safe zone; shorter stitches wear thread and cloth."""
SHORT_SHARE = Limit(0.25, "common practice")
"""Share of a part's stitches under SHORT that is still let pass."""
LOCKS = Limit(6, "common practice")
"""Short stitches at each end of a run that only lock the thread, and are not judged."""
LONG = Limit(12.0, "common practice")
"""mm; a longer stitch catches, and past 12.1 mm a dst record no longer reaches it."""
SATIN = Limit(MAX_STITCH, "a home embroiderers' list; usual teaching")
"""mm; the widest satin for the smaller machine and for goods that are worn."""
SATIN_STOP = Limit(LONGEST_SATIN, _SATIN)
"""mm; the magazine gives 1 to 9 mm, and a wider satin snags."""
ACROSS = Limit(10.0, "common practice")
"""mm; a longer way from stitch to stitch without a cut leaves a thread lying across the work."""
FOOT = Limit(1.0, "common practice")
"""mm from the field's edge; stitching nearer may bring the presser foot against the hoop."""
