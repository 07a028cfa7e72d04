"""What a technique is, and what it is told about the place where it stands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from shapely import Polygon

from festoon.plane.path import Path
from festoon.stitches.stitching import Stitching
from festoon.stitches.thread import Thread
from festoon.work.fields import Table
from festoon.work.values import Part, Work


class ElementBase(Table):
    """Words that every element of a piece has."""

    name: str
    panel: str | None = None


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

    def members(self, name: str) -> tuple[Part, ...]:
        """The parts of the element `name`, or the part itself; empty where there is none."""
        if name in self.parts:
            return (self.parts[name],)
        return tuple(p for p in self.parts.values() if p.element == name)


@dataclass(frozen=True, slots=True)
class Technique:
    """One technique: its word, its words' model, what it leans on, and what it comes to.

    needs(element) names the elements or parts that must be laid out before it. work(element, setting) is pure.
    """

    kind: str
    model: type[ElementBase]
    needs: Callable[[Any], tuple[str, ...]]
    work: Callable[[Any, Setting], Work]
