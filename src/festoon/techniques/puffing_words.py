"""The words of puffing. Not a technique itself: festoon.techniques.puffing is."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from festoon.techniques.fastening import Fastening
from festoon.techniques.strip import Lies, Strip
from festoon.work.fields import Length, LineName, PositiveLength

WIDTH = 30.0
"""mm of finished puffing. Common practice."""

FULLNESS = 2.5
"""Strip to finished length: 2.5 to 3, as an encyclopedia of sewing machine techniques is quoted."""

EDGE = 12.7
"""mm more at each long edge: half an inch. Same source."""

ALLOWANCE = 12.7
"""mm at each end: half an inch. Common practice."""

CLOTH_WIDTH = 1100.0
"""mm: strips are cut across fine batiste of 45 in, its selvedges off. Common practice."""

ROWS = 2
"""Rows of gathering stitches at each edge. Common practice."""

APART = 6.0
"""mm from row to row, as many on either side of the seam line. Common practice: 1/4 in."""


class Puffing(Strip):
    """A strip of cloth gathered along both edges, set between two lines or along one."""

    kind: Literal["puffing"] = Field(description="'puffing'.")
    lower: LineName | None = Field(
        None,
        description="The line of its other edge, where it lies between two: begin, end and up hold for both. Left out: "
        "it lies along the one line, as wide as width says.",
    )
    width: PositiveLength = Field(WIDTH, description="Its finished width, where no other line says it.")
    lies: Lies = Field(
        "below",
        description="Where it lies of its one line: 'below' it (to the right, looking along it), 'above' it, or with "
        "its 'middle' on it.",
    )
    fullness: float = Field(
        FULLNESS,
        ge=1,
        le=10,
        description="Length of the strip to its finished length, halfway between its edges.",
    )
    edge: PositiveLength = Field(EDGE, description="Seam allowance at each long edge.")
    allowance: Length = Field(ALLOWANCE, ge=0, description="Left over at either end of every piece.")
    piece: PositiveLength | None = Field(
        CLOTH_WIDTH, description="The longest strip that the cloth gives; longer ones are joined from several."
    )
    sewn: Fastening = Field(Fastening(stitch="straight"), description="How its gathered edges are sewn in.")
    rows: int = Field(ROWS, ge=1, le=9, description="Rows of gathering stitches at each edge.")
    apart: PositiveLength = Field(APART, description="From one such row to the next.")

    @model_validator(mode="after")
    def _rows_in_the_edge(self) -> Puffing:
        if (self.rows - 1) * self.apart / 2 >= self.edge:
            raise ValueError("its rows of gathering reach beyond the edge's allowance. Make apart or rows smaller.")
        return self
