"""The stitching of each hooping as an image, drawn once and shown wherever it is needed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from festoon.hooping.values import Hooping
from festoon.plane.pose import Pose
from festoon.sheets.drawing import Record
from festoon.sheets.tiles import Window
from festoon.stitches.portrait import png, portrait

_BLEED = 1.0
"""Room round the stitching in its image, mm: half a thread and its shadow."""


@dataclass(frozen=True, eq=False)
class Portrait:
    """One hooping's stitching: the image's name and PNG, its middle and its size on the panel, mm."""

    file: str
    data: bytes
    middle: tuple[float, float]
    size: tuple[float, float]

    def record(self, window: Window, scale: float, to_drawing: Pose | None = None) -> Record:
        """The image at its place in a window of a drawing; to_drawing carries the panel to that drawing's axes."""
        pose = to_drawing or Pose()
        middle = (pose.apply(self.middle) - window[:2]) * scale
        size = np.array(self.size) * scale
        at = (middle - size / 2).tolist()
        return {"kind": "image", "at": at, "size": size.tolist(), "file": self.file, "turn": pose.turn}


def portraits(hoopings: Iterable[Hooping], px_per_mm: float) -> dict[int, Portrait]:
    """Every hooping's image by its number, px_per_mm pixels a mm of cloth; none for one that sews nothing."""
    return {h.number: _portrait(h, px_per_mm) for h in hoopings if h.stitching.stitch_count}


def _portrait(hooping: Hooping, px_per_mm: float) -> Portrait:
    picture = portrait(hooping.stitching, px_per_mm, margin_mm=_BLEED)
    left, top, *_ = hooping.stitching.bounds
    height, width = (side / px_per_mm for side in picture.shape[:2])
    middle = (left - _BLEED + width / 2, top - _BLEED + height / 2)
    return Portrait(f"hooping-{hooping.number}.png", png(picture), middle, (width, height))
