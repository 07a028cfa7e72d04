"""The flat cloth: rigid poses, paths measured by arc length, parallels, and repeats fitted to a length.

Millimetres and degrees; x to the right, y down, positive turns clockwise as seen.
"""

from festoon.plane.offset import offset
from festoon.plane.path import CORNER, Path, arc_through, circle, polyline, through
from festoon.plane.pose import Points, Pose
from festoon.plane.repeat import Parity, Repeats, fit_repeats
from festoon.plane.segments import Arc, Bezier, Line, Segment
from festoon.plane.svg import from_svg

__all__ = [
    "CORNER",
    "Arc",
    "Bezier",
    "Line",
    "Parity",
    "Path",
    "Points",
    "Pose",
    "Repeats",
    "Segment",
    "arc_through",
    "circle",
    "fit_repeats",
    "from_svg",
    "offset",
    "polyline",
    "through",
]
