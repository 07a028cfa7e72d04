"""The work at the machine, hooping by hooping: what to do in turn, and how far it has got.

`steps_of` gives each hooping's steps, `standing` says which of them are done by what was ticked, `ticked` ticks; a
piece's ticks are kept in its folder by `read_progress` and `progress_bytes`. `in_order` puts what is done by hand, and
the hoopings among it, in the order of the whole work.
"""

from festoon.steps.by_hand import HOOPINGS, STAGES, Deed, in_order
from festoon.steps.progress import Standing, standing, ticked
from festoon.steps.record import PROGRESS, Progress, progress_bytes, read_progress, revision_of
from festoon.steps.steps import steps_of
from festoon.steps.values import Step, minutes_left, printed

__all__ = [
    "HOOPINGS",
    "PROGRESS",
    "STAGES",
    "Deed",
    "Progress",
    "Standing",
    "Step",
    "in_order",
    "minutes_left",
    "printed",
    "progress_bytes",
    "read_progress",
    "revision_of",
    "standing",
    "steps_of",
    "ticked",
]
