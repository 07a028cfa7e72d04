"""Laying stitches: running stitch, satin, zigzag and fill along paths and over areas, and locking their ends.

Every function takes a shape in mm and a thread and gives a Stitching; measures are named and have the trade's usual
values.
"""

from festoon.stitches.lay.fill import fill
from festoon.stitches.lay.lock import lock
from festoon.stitches.lay.run import bean, double_run, run
from festoon.stitches.lay.satin import (
    SATIN_SPACING,
    ZIGZAG_SPACING,
    satin,
    satin_between,
    satin_on,
    satin_spacing,
    zigzag,
)
from festoon.stitches.lay.unbroken import unbroken

__all__ = [
    "SATIN_SPACING",
    "ZIGZAG_SPACING",
    "bean",
    "double_run",
    "fill",
    "lock",
    "run",
    "satin",
    "satin_between",
    "satin_on",
    "satin_spacing",
    "unbroken",
    "zigzag",
]
