"""The words by which a band of lace, an edging or a row of stitching follows a line. Not a technique itself."""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import Field

from festoon.errors import PieceError
from festoon.measure import fine
from festoon.plane import Path, offset
from festoon.shaping.band import band
from festoon.techniques.base import ElementBase, Setting, element_of_line
from festoon.work.fields import Length, LineName


class Following(ElementBase):
    """An element that follows a line of its panel."""

    along: LineName = Field(
        description="The line it follows: a named line of the panel ('hem'), another element's line "
        "('hem lace/lower'), or SVG path data in mm."
    )
    up: Length = Field(
        0.0,
        description="How far to the left of the line it runs, looking along it: above a hem drawn from left to right.",
    )
    begin: Length = Field(0.0, ge=0, description="Length left free at the line's beginning.")
    end: Length = Field(0.0, ge=0, description="Length left free at the line's end.")


@dataclass(frozen=True, eq=False)
class Course:
    """The line that an element follows; closes: whether its end meets its beginning, on the cloth or in a seam."""

    path: Path
    closes: bool


def course_of(element: Following, setting: Setting) -> Course:
    """The line, its free ends cut off, moved `up`. Raises PieceError where nothing is left of it."""
    line = setting.line(element.along)
    closes = setting.closes(element.along) and not (element.begin or element.end)
    if element.begin or element.end:
        if element.begin + element.end >= line.length:
            raise PieceError(
                f"the {fine(element.begin + element.end, setting.units)} left free at the ends use up a line of "
                f"{fine(line.length, setting.units)}.",
                remedy="Make begin and end smaller.",
            )
        line = line.trimmed(element.begin, line.length - element.end)
    return Course(_moved(line, element.up), closes)


def _moved(line: Path, up: float) -> Path:
    """The parallel, in as few pieces as the line itself where it lies clear of itself."""
    if not up:
        return line
    laid = band(line, abs(up), "left" if up > 0 else "right", line.closed)
    return laid.over if laid.possible else offset(line, -up)


def needs(element: Following) -> tuple[str, ...]:
    """The element whose line it follows, if it is one's."""
    return element_of_line(element.along)
