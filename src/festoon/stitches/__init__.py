"""Stitching as arrays: its records, its machine files, its outline, its picture.

`Stitching` is what every technique lays and every hooping sews; `read_stitches` and `write_stitches` are the way to
and from machine files.
"""

from festoon.stitches.describe import Description, describe
from festoon.stitches.dump import dump, undump
from festoon.stitches.encoding import FORMATS, Format, encode
from festoon.stitches.files import read_bytes, read_stitches, write_stitches
from festoon.stitches.needle_check import needle_check
from festoon.stitches.outline import outlines_by_thread, stitched_region, traced
from festoon.stitches.portrait import portrait
from festoon.stitches.stitching import Act, Stitching, empty, from_points, joined
from festoon.stitches.thread import Thread

__all__ = [
    "FORMATS",
    "Act",
    "Description",
    "Format",
    "Stitching",
    "Thread",
    "describe",
    "dump",
    "empty",
    "encode",
    "from_points",
    "joined",
    "needle_check",
    "outlines_by_thread",
    "portrait",
    "read_bytes",
    "read_stitches",
    "stitched_region",
    "traced",
    "undump",
    "write_stitches",
]
