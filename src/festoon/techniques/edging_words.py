"""The words of an edging. Not a technique itself: festoon.techniques.edging is."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from festoon.techniques.strip import Strip
from festoon.work.fields import Length, PositiveLength

WIDTH = 20.0
"""mm: a narrow edging. Common practice."""

ALLOWANCE = 25.4
"""mm at each end for the pull threads: 1 in, as an heirloom teacher (restoring a christening gown) leaves it."""


class Edging(Strip):
    """Edging sewn along a line by its heading: flat, or gathered to a stated fullness."""

    kind: Literal["edging"] = Field(description="'edging'.")
    width: PositiveLength = Field(WIDTH, description="Its width, from heading to outer edge.")
    lies: Literal["above", "below"] = Field(
        "below",
        description="On which side of the line it hangs: 'below' it (to the right, looking along it: away from the "
        "cloth at a hem drawn from left to right) or 'above' it.",
    )
    fullness: float = Field(
        1.0,
        ge=1,
        le=10,
        description="Length of edging to length of line: 1 is flat, 1.5 moderate, 2.5 full, as on to entredeux.",
    )
    at_curves: float | None = Field(
        None,
        ge=1,
        le=10,
        description="Fullness round outward curves, where it is more than that. Left out: what lies flat there.",
    )
    at_points: Length | None = Field(
        None,
        ge=0,
        description="Length let in besides at every outward point, from one width before it to one after. Left out: "
        "what lies flat there, two widths at a square corner.",
    )
    pull_thread: bool = Field(
        True, description="Whether its heading has a thread to gather it by; without one two rows are sewn for that."
    )
    allowance: Length = Field(ALLOWANCE, ge=0, description="Left over at either end of every piece, for pull threads.")
    ends: Literal["joined", "hemmed"] | None = Field(
        None,
        description="Whether its ends are 'joined' in a seam or 'hemmed'. Left out: joined where the line closes.",
    )

    @model_validator(mode="after")
    def _gathered_more(self) -> Edging:
        if self.at_curves is not None and self.at_curves < self.fullness:
            raise ValueError(
                "it is less full at_curves than everywhere else. Make at_curves the larger, or leave it out."
            )
        return self
