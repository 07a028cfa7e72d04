"""Hoopings -> Supplies: thread, bobbins, stabiliser and minutes, and on what each figure rests.

`count` does all of it. Figures are computed from the stitching; rules of thumb stand in `assumed`.
"""

from festoon.supplies.assumed import Assumption, Rule
from festoon.supplies.count import Supplies, count
from festoon.supplies.minutes import HoopingMinutes
from festoon.supplies.own_say import OwnSay, own_say, own_say_told
from festoon.supplies.stabiliser import Stabiliser, StabiliserPiece
from festoon.supplies.thread_use import ThreadUse, thread_use
from festoon.supplies.wearing import wearing_cautions

__all__ = [
    "Assumption",
    "HoopingMinutes",
    "OwnSay",
    "Rule",
    "Stabiliser",
    "StabiliserPiece",
    "Supplies",
    "ThreadUse",
    "count",
    "own_say",
    "own_say_told",
    "thread_use",
    "wearing_cautions",
]
