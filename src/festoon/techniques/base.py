"""What a technique is, and what it is told about the place where it stands."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import Field
from shapely import Polygon

from festoon.errors import PieceError
from festoon.plane import Path, from_svg
from festoon.stitches.stitching import Stitching
from festoon.stitches.thread import Thread
from festoon.work.fields import Table
from festoon.work.values import Part, Work


class ElementBase(Table):
    """Words that every element of a piece has."""

    name: str = Field(min_length=1, description="What you call it; no two elements share a name.")
    panel: str | None = Field(None, description="The panel it stands on. Left out: the only one.")


@dataclass(frozen=True, eq=False)
class Setting:
    """What surrounds an element: its panel's cloth and named lines, parts already laid out, motif files, threads.

    motif(file) reads a stitch file of the piece's folder, as it is; thread(name) finds a thread on the bench. Both
    raise FestoonError. parts are in the order in which they were laid out; members(element) names the parts of one
    element (or the one part of that name).
    """

    panel: str
    outline: Polygon
    lines: Mapping[str, Path]
    parts: Mapping[str, Part]
    motif: Callable[[str], Stitching]
    thread: Callable[[str], Thread]

    def line(self, text: str) -> Path:
        """The panel's line of that name, or the line that SVG path data describes. Raises PieceError."""
        if text in self.lines:
            return self.lines[text]
        if text[:1] in "Mm":
            return from_svg(text)
        known = ", ".join(f'"{name}"' for name in self.lines) or "none"
        raise PieceError(
            f'panel "{self.panel}" has no line called "{text}".',
            remedy=f"Its lines are: {known}. Name one of them, or write SVG path data that begins with M.",
        )

    def no_part(self, name: str) -> PieceError:
        """The sentence for a part that is not there, with the nearest name that is."""
        near = difflib.get_close_matches(name, [*self.parts, *{p.element for p in self.parts.values()}], n=1)
        return PieceError(
            f'nothing on panel "{self.panel}" is called "{name}".',
            remedy=f'Did you mean "{near[0]}"?' if near else "Name a motif that stands on the same panel.",
        )

    def members(self, name: str) -> tuple[Part, ...]:
        """The parts of the element `name`, or the part itself; empty where there is none."""
        if name in self.parts:
            return (self.parts[name],)
        return tuple(p for p in self.parts.values() if p.element == name)


def _ends_there(_: Any) -> None:
    return None


@dataclass(frozen=True, slots=True)
class Technique:
    """One technique: its word, its words' model, what it leans on, and what it comes to.

    needs(element) names the elements or parts that must be laid out before it. work(element, setting) is pure.
    run_on(element) names the word of the length by which its ends run on over what they meet; None where there is none.
    """

    kind: str
    model: type[ElementBase]
    needs: Callable[[Any], tuple[str, ...]]
    work: Callable[[Any, Setting], Work]
    run_on: Callable[[Any], str | None] = _ends_there
