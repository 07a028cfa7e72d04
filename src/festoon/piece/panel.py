"""A panel of cloth as the piece file says it: the block, and the shape that is cut from it."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, Field, model_validator

from festoon.errors import PieceError
from festoon.piece.near import listed
from festoon.piece.outline import SHAPES, shape_of
from festoon.plane import from_svg
from festoon.work.fields import Angle, Length, PatternFile, PositiveLength, Spot, Table


def _line(data: str) -> str:
    try:
        from_svg(data)
    except PieceError as error:
        raise ValueError(f"{error.what} {error.remedy}".strip()) from error
    return data


SvgLine = Annotated[str, AfterValidator(_line)]
"""SVG path data in mm that draws one line."""


NARROWEST, WIDEST = 1.0, 10_000.0
"""mm; a radius or diameter beyond these is a slip of the pen (own choice: no cloth is woven so wide)."""

WIDEST_ALLOWANCE = 500.0
"""mm; a wider allowance is a slip of the pen (own choice)."""

Across = Annotated[Length, Field(ge=NARROWEST, le=WIDEST)]


class Flared(Table):
    """A part of a ring whose middle hangs straight down: a flared skirt, a circular frill. Seam line to seam line."""

    waist_radius: Across = Field(description="Radius of the finished waist line.")
    hem_radius: Across = Field(description="Radius of the finished hem.")
    angle: Annotated[Angle, Field(ge=1, le=360)] = Field(description="From seam to seam: 90 is a quarter circle.")

    @model_validator(mode="after")
    def _hangs(self) -> Flared:
        if self.hem_radius < self.waist_radius + NARROWEST:
            raise ValueError(
                f"hem_radius must be greater than waist_radius by {NARROWEST:g} mm at least, and they are "
                f"{self.hem_radius:g} mm and {self.waist_radius:g} mm. Both are measured from the same centre."
            )
        return self


class Circle(Table):
    """A whole circle, seam line to seam line."""

    diameter: Across = Field(description="Across the finished edge.")


class Ring(Table):
    """A circle with a circle cut out of its middle: a flat collar, a table mat. Seam line to seam line."""

    inner: Across = Field(description="Diameter of the finished inner edge.")
    outer: Across = Field(description="Diameter of the finished outer edge.")

    @model_validator(mode="after")
    def _is_left(self) -> Ring:
        if self.outer < self.inner + 2 * NARROWEST:
            raise ValueError(
                f"outer must be greater than inner by {2 * NARROWEST:g} mm at least, and they are {self.outer:g} mm "
                f"and {self.inner:g} mm."
            )
        return self


class Panel(Table):
    """A block of cloth, and what is cut from it. x runs to the right and y down from the block's left upper corner.

    With none of `flared`, `circle`, `ring`, `cut` and `file` the panel is a rectangle of its `size`. With one of them
    the work is done on the block, and the shape is cut out of it afterwards: the shape is told by its finished
    measures, from seam line to seam line, and its cut edge lies outside of that by `seam`, and by `hem_allowance` at
    the hem. Its edges are lines that elements may follow by name: `hem`, `waist`, `left seam`, `right seam` and `centre
    front` of a flared panel, `edge` of a circle, `outer edge` and `inner edge` of a ring; `top`, `bottom`, `left` and
    `right` of a rectangle, inside its seam allowance. A hem, and the edges of a circle and a ring, have the cloth on
    their left: what lies above them lies on it, and edging below them hangs off it.
    """

    name: str = Field(min_length=1, description="What you call it; elements stand on it by this name.")
    block: tuple[PositiveLength, PositiveLength] | None = Field(
        None,
        alias="size",
        description="Width and height: the cut size of a rectangle, or the block of cloth from which a shape is cut "
        "when the work is done. Must be given for a rectangle; left out with a shape: 40 mm more than it needs on "
        "every side.",
    )
    cloth: str = Field("", description="The cloth, in your words: 'natural linen'.")
    grain: Angle = Field(0.0, description="Turn of the straight grain, clockwise from upright.")
    flared: Flared | None = Field(None, description="Its shape: a part of a ring, as of a flared skirt.")
    circle: Circle | None = Field(None, description="Its shape: a circle.")
    ring: Ring | None = Field(None, description="Its shape: a ring.")
    cut: SvgLine | None = Field(
        None, description="Its shape: SVG path data in mm of the finished outline, 'M 40 40 H 300 V 220 H 40 Z'."
    )
    file: PatternFile | None = Field(
        None,
        description="Its shape: an SVG file of the piece's folder in true units, 'patterns/yoke.svg'. The path called "
        "'outline' in it is the finished outline; every other path with an id is a line of that name, _ standing for "
        "a space.",
    )
    at: Spot | None = Field(
        None,
        description="Where the shape stands on the block: the middle of a flared panel's waist line, the centre of a "
        "circle or ring, the (0, 0) of `cut`, the left upper corner of a file's page. Left out: so that what is cut "
        "lies in the middle of the block; `cut` as it is written.",
    )
    seam: Length = Field(
        0.0,
        ge=0,
        le=WIDEST_ALLOWANCE,
        description="Seam allowance all round, inside a rectangle's cut edge and outside a shape's outline.",
    )
    hem_allowance: Length | None = Field(
        None,
        ge=0,
        le=WIDEST_ALLOWANCE,
        description="Allowance along the hem: a flared panel's hem, a circle's edge, a ring's outer edge, the line "
        "called 'hem' of `cut` or `file`, the bottom of a rectangle. Left out: as `seam`.",
    )
    centre_front: Length | None = Field(
        None, description="How far from the block's left edge its centre front runs: the line 'centre front'."
    )
    fold: str | None = Field(
        None, description="The edge, by its line's name, that lies on a fold of the cloth in cutting: no allowance."
    )
    closes: bool = Field(
        False,
        description="true where the panel's left and right seams are sewn to each other, as of a skirt in one piece: "
        "what follows its hem closes. The seams are the left and right of a rectangle; of `cut` and `file` the lines "
        "called 'left seam' and 'right seam'.",
    )
    lines: dict[str, SvgLine] = Field(
        default_factory=dict,
        description="Named lines as SVG path data in mm, for elements to follow: hem = 'M 0 0 H 400'. The panel's "
        "edges are named already: 'hem', 'waist', 'left seam', 'right seam' and 'centre front' of a flared one, 'edge' "
        "of a circle, 'outer edge' and 'inner edge' of a ring, 'top', 'bottom', 'left' and 'right' of a rectangle. "
        "Hems, and the edges of a circle and a ring, have the cloth on their left: what runs up from them lies on it.",
    )

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the block, mm."""
        return self.block or shape_of(self).block

    @property
    def shaped(self) -> bool:
        """Whether another shape than the block is cut from it."""
        return any(getattr(self, word) is not None for word in SHAPES)

    @model_validator(mode="after")
    def _one_shape(self) -> Panel:
        said = [f'"{word}"' for word in SHAPES if getattr(self, word) is not None]
        if len(said) > 1:
            raise ValueError(f"{listed(said, 'and')} each give it a shape. Keep one of them.")
        if not said and self.block is None:
            raise ValueError(
                f'"size" is missing: the width and height of the cloth. Give it, or a shape: {listed(SHAPES)}.'
            )
        if not said and self.at is not None:
            raise ValueError('"at" says where a shape stands on its block, and this panel has none. Take it out.')
        return self
