"""What a truing is: how the cloth lies in the hoop, the hooping moved to it, and a verdict."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from festoon.hooping import Hooping
from festoon.plane.pose import Pose
from festoon.registration import Fit

Verdict = Literal["sound", "stretched", "stretched or misread", "misread", "hoop again"]
"""After the first three the hooping can be sewn as trued; after the others it must not be."""

Reading = tuple[float, float]
"""(dx, dy) mm: with the needle where a mark should be, the cross on the cloth lies dx to its right and dy below it, as
seen facing the machine. So the cross was seen at its place in the hoop plus (dx, dy)."""

Readings = Mapping[str, Reading]
"""A reading for each mark's name."""


@dataclass(frozen=True, eq=False)
class Truing:
    """One hooping, trued.

    fit: the move from where the marks should be in the hoop to where they were seen, in hoop axes (mm from the middle
    of the field, y down): it carries what was planned to what lies there, never stretched. scale: how far apart the
    marks lie against how far they should, 1.008 for cloth stretched by 0.8 %. hooping: the same hooping with its field
    where the hoop really lies on the cloth, and only those marks that the needle still reaches, in the order of its
    needle check; `machine_stitching` of it and of these marks is the corrected file. sentences: how the readings were
    understood, the verdict in plain words, and what to do.
    """

    verdict: Verdict
    readings: Readings
    fit: Fit
    scale: float
    hooping: Hooping
    sentences: tuple[str, ...]

    @property
    def pose(self) -> Pose:
        """How the cloth lies: carries planned places in the hoop to where they are."""
        return self.fit.pose

    @property
    def usable(self) -> bool:
        """Whether the hooping may be sewn as trued."""
        return self.verdict not in ("misread", "hoop again")
