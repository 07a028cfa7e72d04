"""Piece -> Layout: every element at its place on the cloth, in the order in which they lie, bottom first."""

from __future__ import annotations

import difflib
import functools
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from pydantic import BaseModel

from festoon.errors import FestoonError, PieceError
from festoon.kept import Kept, Read
from festoon.measure import Units, fine
from festoon.piece import Panel, Piece, shape_of
from festoon.piece.motifs import motif_reader
from festoon.stitches import Stitching, Thread
from festoon.techniques import Setting, technique_of
from festoon.work import Finding, Part, Work

Works = tuple[Work, ...]

OFF_CLOTH = 0.05
"""mm of stitching beyond the panel's edge that rounding may cause; more is refused (half a file step)."""


@dataclass(frozen=True, eq=False)
class Layout:
    """The piece laid out. works are in the order of the piece file: later ones lie over earlier ones."""

    piece: Piece
    works: tuple[Work, ...]

    def parts(self, panel: str) -> tuple[Part, ...]:
        """Every part on one panel, bottom first."""
        return tuple(p for w in self.works if w.panel == panel for p in w.parts)

    @property
    def panels(self) -> tuple[Panel, ...]:
        """The panels of the piece, in the order of the file."""
        return self.piece.panels

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the techniques themselves found."""
        return tuple(f for w in self.works for f in w.findings)


def lay_out(piece: Piece, motif: Read | None = None, kept: Kept | None = None) -> Layout:
    """Set every element at its place.

    Elements are worked out after those they lean on (a join after its motifs) but lie in the order of the file.
    `motif` reads a stitch file by its name in the piece; left out, it reads from the piece's folder. `kept`: what
    earlier layings of this piece came to; the outcome is the same without it. Raises FestoonError for a motif that
    cannot be read, a part that is not there, or stitching off its panel.
    """
    kept = kept or Kept()
    kept.room(len(piece.file.element))
    read = functools.cache(motif or motif_reader(piece.folder, kept.decoded))
    elements = {e.name: e for e in piece.file.element}
    done = _worked_out(piece, _in_order_of_need(piece, elements), read, kept)
    return Layout(piece, tuple(done[e.name] for e in piece.file.element))


def settings(piece: Piece, names: Collection[str]) -> dict[str, Setting]:
    """What surrounds each of these elements, with all that it needs laid out and nothing else. Raises FestoonError as
    `lay_out`."""
    read = functools.cache(motif_reader(piece.folder, Kept().decoded))
    elements = {e.name: e for e in piece.file.element}
    asked = [elements[name] for name in names]
    below = {n.name: n for e in asked for n in _leaned_on(e, elements)}
    done = _worked_out(piece, _in_order_of_need(piece, elements, below.values()), read, Kept())
    return {
        e.name: _setting(piece, _panel_of(piece, e), _needed(e, elements, done), tuple(done.values()), read)
        for e in asked
    }


def _needed(element: Any, elements: Mapping[str, Any], done: Mapping[str, Work]) -> Works:
    leaned_on = {e.name for e in _leaned_on(element, elements)}
    return tuple(w for w in done.values() if w.element in leaned_on)


def _worked_out(piece: Piece, ordered: Sequence[Any], read: Read, kept: Kept) -> dict[str, Work]:
    """The work of every element by its name, each made after those before it."""
    elements = {e.name: e for e in piece.file.element}
    told_by = (
        piece.file.piece.units,
        repr([t.model_dump() for t in piece.bench.thread]),
        piece.bench.measured.twin_take_up,
    )
    done: dict[str, Work] = {}
    for element in ordered:
        panel = _panel_of(piece, element)
        needed = _needed(element, elements, done)
        make = functools.partial(_work, piece, element, panel, needed, tuple(done.values()))
        try:
            done[element.name] = kept.work((_origin(element), _origin(panel), told_by), needed, read, make)
        except FestoonError as error:
            line = piece.lines.get(element.name)
            place = f"piece.toml, line {line}" if line else "piece.toml"
            raise error.at(f'{element.kind} "{element.name}"').at(place) from error
    return done


def _origin(words: BaseModel) -> str:
    """All that words of the piece file say, told so that only equal words are told alike."""
    return repr(words.model_dump())


def _work(piece: Piece, element: Any, panel: Panel, needed: Works, done: Works, read: Read) -> Work:
    """One element at its place, all of it on its panel."""
    work = technique_of(element).work(element, _setting(piece, panel, needed, done, read))
    for part in work.parts:
        _refuse_off_panel(part, panel, piece.file.piece.units)
    return work


def _setting(piece: Piece, panel: Panel, needed: Works, done: Works, read: Read) -> Setting:
    """What surrounds an element on its panel, of what is done."""
    here = [w for w in done if w.panel == panel.name]
    leaned_on = [w for w in needed if w.panel == panel.name]
    shape = shape_of(panel)
    return Setting(
        panel=panel.name,
        outline=shape.cut,
        lines={
            **shape.lines,
            **{f"{w.element}/{name}": line for w in leaned_on for name, line in w.named.items()},
        },
        loops=shape.loops | {f"{w.element}/{name}" for w in leaned_on if w.closes for name in w.named},
        parts={p.name: p for w in leaned_on for p in w.parts},
        places={w.element: w.places for w in leaned_on if w.places},
        shaped=frozenset(w.element for w in leaned_on if any(step.stage == "shape" for step in w.steps)),
        motif=_shelved(read, piece),
        thread=_threads(piece),
        others=tuple(dict.fromkeys(n for w in here for n in (*(p.name for p in w.parts), w.element))),
        units=piece.file.piece.units,
        twin_take_up=piece.bench.measured.twin_take_up,
        block=panel.size,
    )


def _leaned_on(element: Any, elements: Mapping[str, Any]) -> list[Any]:
    """The elements that one needs; a part's name stands for its element."""
    needs = technique_of(element).needs(element)
    found = (elements.get(name) or elements.get(name.rpartition("-")[0]) for name in needs)
    return [e for e in found if e is not None]


def _in_order_of_need(piece: Piece, elements: Mapping[str, Any], asked: Iterable[Any] | None = None) -> list[Any]:
    """Elements so that each comes after those it needs: the `asked` with all that they need, or every one."""
    ordered: list[Any] = []
    state: dict[str, str] = {}

    def visit(element: Any, way: tuple[str, ...]) -> None:
        if state.get(element.name) == "done":
            return
        if element.name in way:
            ring = " needs ".join(f'"{n}"' for n in (*way[way.index(element.name) :], element.name))
            raise PieceError(f"these need each other in a ring: {ring}.", where="piece.toml", remedy="Break the ring.")
        for leaned_on in _leaned_on(element, elements):
            visit(leaned_on, (*way, element.name))
        state[element.name] = "done"
        ordered.append(element)

    wanted = piece.file.element if asked is None else asked
    for element in sorted(wanted, key=lambda e: bool(technique_of(e).needs(e))):
        visit(element, ())
    return ordered


def _panel_of(piece: Piece, element: Any) -> Panel:
    return next((p for p in piece.panels if p.name == element.panel), piece.panels[0])


def _threads(piece: Piece) -> Callable[[str], Thread]:
    shelf = {t.name: Thread(t.colour, t.weight) for t in piece.bench.thread}

    def thread(name: str) -> Thread:
        if name in shelf:
            return shelf[name]
        if not name:
            return next(iter(shelf.values()), Thread())
        near = difflib.get_close_matches(name, shelf, n=1)
        known = ", ".join(f'"{n}"' for n in shelf) or "none"
        raise PieceError(
            f'there is no thread called "{name}" on the bench.',
            remedy=f'Did you mean "{near[0]}"?' if near else f"The bench has: {known}.",
        )

    return thread


def _shelved(read: Read, piece: Piece) -> Read:
    """Motif files with the bench's own thread wherever it has one of just that colour, so that its weight counts."""
    shelf = {t.colour: Thread(t.colour, t.weight) for t in reversed(piece.bench.thread)}

    def shelved(file: str) -> Stitching:
        stitching = read(file)
        return replace(stitching, threads=tuple(shelf.get(t.colour, t) for t in stitching.threads))

    return shelved


def _refuse_off_panel(part: Part, panel: Panel, units: Units) -> None:
    off = off_cloth(part.stitching, panel, units)
    if off is not None:
        told = "it" if part.name == part.element else f'"{part.name}"'
        raise PieceError(f"{told} {off.reaches}", remedy=f"{off.back}, or make the panel larger.")


@dataclass(frozen=True, slots=True)
class OffCloth:
    """That stitching `reaches` beyond the cloth, and what brings it `back`, in words."""

    reaches: str
    back: str


def off_cloth(stitching: Stitching, panel: Panel, units: Units) -> OffCloth | None:
    """Where stitching passes the panel's edge farthest, by more than OFF_CLOTH; None where it does not."""
    left, top, right, bottom = stitching.bounds
    over = {
        "left": -left,
        "top": -top,
        "right": right - panel.size[0],
        "bottom": bottom - panel.size[1],
    }
    side, by = max(over.items(), key=lambda item: item[1])
    if by <= OFF_CLOTH:
        return None
    back = {"left": "to the right", "right": "to the left", "top": "down", "bottom": "up"}[side]
    far = fine(by, units)
    return OffCloth(f'reaches {far} beyond the {side} edge of panel "{panel.name}".', f"Move it {far} {back}")
