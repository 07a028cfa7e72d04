"""What a technique is, and what it is told about the place where it stands."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import Field
from shapely import Polygon

from festoon.errors import PieceError
from festoon.measure import Units
from festoon.plane import Path, Pose, from_svg
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
    """What surrounds an element: its panel's cloth and lines, what it needs of other elements, motif files, threads.

    outline: the panel's cut edge. block: width and height of the cloth that it is cut from; None where they are the
    outline's. lines: the panel's by their names, and those of the elements that it needs, 'hem lace/lower'. loops: the
    names of lines whose two ends meet in a seam, so that what follows them closes. places: where something may stand in
    each repeat of an element that it needs. shaped: those of the elements that it needs which are shaped before they
    are set on the cloth, so that what is sewn to them is sewn then.

    motif(file) reads a stitch file of the piece's folder, as it is; thread(name) finds a thread on the bench. Both
    raise FestoonError. parts are those of the elements that it needs, in the order in which they were laid out;
    members(element) names the parts of one element (or the one part of that name). others names what else stands on
    the panel, for what a worker is told where something is amiss, and for nothing else; units are those that she
    is told lengths in. twin_take_up: the share of a twin needle's distance that a row takes up, where it was measured.
    """

    panel: str
    outline: Polygon
    lines: Mapping[str, Path]
    parts: Mapping[str, Part]
    motif: Callable[[str], Stitching]
    thread: Callable[[str], Thread]
    loops: frozenset[str] = frozenset()
    places: Mapping[str, tuple[Pose, ...]] = field(default_factory=dict)
    shaped: frozenset[str] = frozenset()
    others: tuple[str, ...] = ()
    units: Units = "mm"
    twin_take_up: float | None = None
    block: tuple[float, float] | None = None

    def line(self, text: str) -> Path:
        """The line of that name, the panel's or another element's, or what SVG path data draws. Raises PieceError."""
        if text in self.lines:
            return self.lines[text]
        if text[:1] in "Mm":
            return from_svg(text)
        known = ", ".join(f'"{name}"' for name in self.lines) or "none"
        raise PieceError(
            f'panel "{self.panel}" has no line called "{text}".',
            remedy=f"Its lines are: {known}. Name one of them, or write SVG path data that begins with M.",
        )

    def closes(self, text: str) -> bool:
        """Whether a line comes back to its beginning, on the cloth or through a seam. Raises PieceError as `line`."""
        return text in self.loops or self.line(text).closed

    def no_part(self, name: str) -> PieceError:
        """The sentence for a part that is not there, with the nearest name that is."""
        known = [*self.parts, *dict.fromkeys(p.element for p in self.parts.values()), *self.others]
        near = difflib.get_close_matches(name, known, n=1)
        return PieceError(
            f'nothing on panel "{self.panel}" is called "{name}".',
            remedy=f'Did you mean "{near[0]}"?' if near else "Name a motif that stands on the same panel.",
        )

    def members(self, name: str) -> tuple[Part, ...]:
        """The parts of the element `name`, or the part itself; empty where there is none."""
        if name in self.parts:
            return (self.parts[name],)
        return tuple(p for p in self.parts.values() if p.element == name)


@dataclass(frozen=True, slots=True)
class Ask:
    """What is asked for in beginning an element: the word that it fills, and how it is asked."""

    word: str
    told: str


@dataclass(frozen=True, slots=True)
class Beginning:
    """One way in which an element of a technique is begun.

    told: what it is, 'a join'. sentence: what it does. asks: what must be pointed out, in order; what is to be pointed
    at, the word's own type says. words: those set with it. under: whether it is laid under what it leans on, else over
    everything. example: words that draw one on a panel of 80 by 40 mm with a motif file of any name, a thread of any
    name, and nothing else.
    """

    told: str
    sentence: str
    asks: tuple[Ask, ...]
    example: Mapping[str, Any]
    words: Mapping[str, Any] = field(default_factory=dict)
    under: bool = False


def element_of_line(text: str) -> tuple[str, ...]:
    """The element whose line a text names, for Technique.needs: the part before the stroke. Empty for the panel's own
    lines and for path data.

    >>> element_of_line("hem lace/lower"), element_of_line("hem"), element_of_line("M 0 0 H 10")
    (('hem lace',), (), ())
    """
    name, stroke, _ = text.partition("/")
    return (name,) if stroke else ()


def _ends_there(_: Any) -> None:
    return None


def _one(_: Any, __: Setting) -> tuple[dict[str, Any], ...]:
    return ({},)


@dataclass(frozen=True, slots=True)
class Technique:
    """One technique: its word, its words' model, what it leans on, and what it comes to.

    needs(element) names the elements or parts that must be laid out before it. work(element, setting) is pure.
    run_on(element) names the word of the length by which its ends run on over what they meet; None where there is none.
    told: what one of its elements is, 'a join'; begins: how they are begun. singly(element, setting) gives the words to
    change, in the piece file's spelling, for each of its parts to be an element by itself at the same place; None takes
    a word out.
    """

    kind: str
    model: type[ElementBase]
    needs: Callable[[Any], tuple[str, ...]]
    work: Callable[[Any, Setting], Work]
    told: str
    begins: tuple[Beginning, ...]
    run_on: Callable[[Any], str | None] = _ends_there
    singly: Callable[[Any, Setting], tuple[dict[str, Any], ...]] = _one
