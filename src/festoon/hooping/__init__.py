"""Layout -> Hoopings: candidate fields, the fewest that cover, their order, marks and machine files.

`divide` does all of it; the values it gives are in `values`.
"""

from festoon.hooping.divide import divide
from festoon.hooping.machine_file import check_order, machine_stitching
from festoon.hooping.records import record
from festoon.hooping.values import Block, Division, ExpectedError, Hooping, Mark

__all__ = [
    "Block",
    "Division",
    "ExpectedError",
    "Hooping",
    "Mark",
    "check_order",
    "divide",
    "machine_stitching",
    "record",
]
