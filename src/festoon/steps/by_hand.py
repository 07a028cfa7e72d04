"""The whole work in one order: what every element asks to be done by hand, and the hoopings in their place among it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import get_args

from festoon.hooping.words import listed
from festoon.work.values import Stage, Work

STAGES: tuple[Stage, ...] = get_args(Stage)
"""The stages in the order of the work."""

HOOPINGS = "hoopings"
"""The name of the deed in which a panel's hoopings are sewn."""


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing to do, of the whole work: a step of an element, or (element: '') a panel's hoopings or cutting out."""

    name: str
    text: str
    stage: Stage
    panel: str
    element: str = ""


def in_order(
    works: Sequence[Work],
    panels: Sequence[str],
    hoopings: Mapping[str, Sequence[int]],
    shaped: Collection[str] = (),
) -> tuple[Deed, ...]:
    """Every step of the works, every panel's hoopings and every cutting out, each once, in the order of the work.

    By stage; within a stage panel by panel, and on a panel element by element as `works` has them. A panel's hoopings
    come first of all that it has at the stage "embroider". What a step must come `after` is done before it, at whatever
    stage it stands; where two steps wait for each other, the earlier goes first. Where tucks are sewn on a panel, what
    other elements make ready on it waits for them: it lies on the tucked cloth.

    panels: all that the works and hoopings stand on, in order. hoopings: their numbers by panel. shaped: panels that
    are cut out of a block of cloth when the work on it is done.
    """
    tucked = {w.panel for w in works if _tucks(w)}
    cut_out = (_Entry(_cut_out(p), STAGES.index("cut out")) for p in panels if p in shaped)
    entries = [*_hoopings(panels, hoopings), *cut_out, *(e for w in works for e in _steps_of(w, w.panel in tucked))]
    entries.sort(key=lambda e: (e.rank, panels.index(e.deed.panel)))  # stable: elements stay as they are
    by_name: dict[tuple[str, str], list[_Entry]] = {}
    for entry in entries:
        by_name.setdefault((entry.deed.element, entry.deed.name), []).append(entry)
    done: list[Deed] = []
    begun: set[int] = set()

    def visit(entry: _Entry) -> None:
        if id(entry) in begun:
            return
        begun.add(id(entry))
        for name in entry.after:
            for before in by_name.get((entry.deed.element, name), ()):
                visit(before)
        done.append(entry.deed)

    for entry in entries:
        visit(entry)
    return tuple(done)


@dataclass(frozen=True, eq=False)
class _Entry:
    """A deed, how early its stage comes, and the names of its element's steps that it comes after."""

    deed: Deed
    rank: float
    after: tuple[str, ...] = ()


def _cut_out(panel: str) -> Deed:
    return Deed("cut out", f"Cut {panel} out of its block, along the cut edge of its template.", "cut out", panel)


def _tucks(work: Work) -> bool:
    return any(s.stage == "tuck" for s in work.steps)


def _steps_of(work: Work, tucked: bool) -> Iterator[_Entry]:
    waits = tucked and not _tucks(work)
    first = STAGES.index("tuck") + 0.5 if waits else 0.0
    for step in work.steps:
        deed = Deed(step.name, step.text, step.stage, work.panel, work.element)
        yield _Entry(deed, max(first, STAGES.index(step.stage)), step.after)


def _hoopings(panels: Sequence[str], hoopings: Mapping[str, Sequence[int]]) -> Iterator[_Entry]:
    for panel in panels:
        if numbers := hoopings.get(panel):
            told = f"Sew hooping{'s' if len(numbers) > 1 else ''} {_spans(numbers)} (work sheet)."
            yield _Entry(Deed(HOOPINGS, told, "embroider", panel), STAGES.index("embroider"))


def _spans(numbers: Sequence[int]) -> str:
    """'1 to 9', '1, 3 and 5 to 7'."""
    spans: list[list[int]] = []
    for n in sorted(numbers):
        if spans and n == spans[-1][-1] + 1:
            spans[-1].append(n)
        else:
            spans.append([n])
    told = [part for s in spans for part in ([f"{s[0]} to {s[-1]}"] if len(s) > 2 else map(str, s))]
    return listed(told)
