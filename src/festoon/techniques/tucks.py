"""Tucks: folds of the cloth sewn down, singly or in mirrored groups, and how they are marked on the flat cloth.

Everything stands on the tucked panel: what lies across the tucks is placed where it comes to lie.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal

import numpy as np
from shapely import box

from festoon.measure import Units, show_length
from festoon.plane import Path, Points, polyline
from festoon.shaping.tucks import Tuck, TwinRow, flat_marks
from festoon.techniques.base import Beginning, Setting, Technique, element_of_line
from festoon.techniques.tuck_limits import findings
from festoon.techniques.tuck_plan import STRAIGHT, Plan, planned
from festoon.techniques.tuck_told import cautions, figures, sentences, steps, supplies
from festoon.techniques.tuck_words import Tucks
from festoon.work.values import Area, Handle, Line, Role, TakeUp, Template, Work

STRIP = 120.0
"""mm of the tucks' length that their template shows; the rest is drawn on with a ruler (own choice: fits any sheet)."""

ARROW, BARB = 14.0, 2.5
"""mm: length of the arrow that shows where folds are pressed to, and of its barbs (own choice)."""

BELOW = 8.0
"""mm from the end of the template's lines to its arrow (own choice)."""

TICK = 3.0
"""mm of the tick across the end of a released tuck, on either side (own choice)."""

ROOM = 12.0
"""mm from line to line that a number needs on a template (own choice)."""

Run = Literal["down", "across"]


def needs(tucks: Tucks) -> tuple[str, ...]:
    """The element in whose line they mirror each other, if it is one's."""
    return element_of_line(tucks.about) if tucks.about else ()


def work(tucks: Tucks, setting: Setting) -> Work:
    """Fold and stitching lines on the tucked panel, the cloth that each takes, and templates of the flat cloth."""
    plan = planned(tucks, setting)
    return Work(
        element=tucks.name,
        panel=setting.panel,
        lines=tuple(_lines(tucks, plan)),
        areas=tuple(_area(t, tucks, plan) for t in plan.tucks if t.span[1] > t.span[0] and plan.stop > plan.start),
        templates=tuple(_templates(tucks, plan, setting)),
        taken=tuple(TakeUp("x" if tucks.run == "down" else "y", t.at, t.by) for t in plan.tucks),
        named=_named(tucks, plan),
        handles=_handles(tucks, plan),
        figures=figures(tucks, plan, setting.units),
        supplies=supplies(tucks, plan),
        steps=steps(tucks, plan, setting.units),
        cautions=cautions(tucks),
        findings=findings(tucks, plan, setting),
        sentences=sentences(tucks, plan, setting.units),
    )


def _points(run: Run, across: Sequence[float], along: Sequence[float]) -> Points:
    """Points by what is measured across the tucks and along them."""
    x, y = (across, along) if run == "down" else (along, across)
    return np.array([x, y], dtype=np.float64).T


def _straight(run: Run, at: float, start: float, stop: float) -> Points:
    return _points(run, (at, at), (start, stop))


def _lines(tucks: Tucks, plan: Plan) -> Iterator[Line]:
    """What is seen of them on the tucked panel: stitching (of a ridge, its middle), fold edges, ends, and the side they
    are pressed to."""
    run, start, stop = tucks.run, plan.start, plan.stop
    for tuck in plan.tucks:
        yield Line("stitching", _straight(run, tuck.at, start, stop))
        if isinstance(tuck, Tuck):
            yield Line("fold", _straight(run, tuck.fold, start, stop))
        for end in _ends(plan):
            yield Line("placement", _points(run, (tuck.at - TICK, tuck.at + TICK), (end, end)))
    if not tucks.twin:
        for group in filter(None, (plan.first, plan.second)):
            tuck = group[len(group) // 2]
            yield Line("placement", _arrow(run, tuck, sum(tuck.span) / 2, (start + stop) / 2))


def _ends(plan: Plan) -> Iterator[float]:
    """Where tucks are released, along them."""
    if plan.start > STRAIGHT:
        yield plan.start
    if plan.released:
        yield plan.stop


def _arrow(run: Run, tuck: Tuck | TwinRow, middle: float, along: float) -> Points:
    """An arrow, drawn in one stroke, to the side that a tuck is folded to."""
    way = 1.0 if isinstance(tuck, Tuck) and tuck.ahead else -1.0
    tail, tip = middle - way * ARROW / 2, middle + way * ARROW / 2
    back, side = tip - way * BARB, BARB / math.sqrt(3)
    return _points(run, (tail, tip, back, tip, back), (along, along, along - side, along, along + side))


def _area(tuck: Tuck | TwinRow, tucks: Tucks, plan: Plan) -> Area:
    (low, high), start, stop = tuck.span, plan.start, plan.stop
    region = box(low, start, high, stop) if tucks.run == "down" else box(start, low, stop, high)
    return Area("cloth", region, "twin-needle row" if tucks.twin else "tuck")


def _named(tucks: Tucks, plan: Plan) -> dict[str, Path]:
    """The first and the last stitching of each group, down from the top or from left to right."""
    groups = (("", plan.first), ("mirrored ", plan.second))
    return {
        f"{which}{name}": polyline(_straight(tucks.run, tuck.at, plan.start, plan.stop))
        for which, group in groups
        if group and plan.stop > plan.start
        for name, tuck in (("first", group[0]), ("last", group[-1]))
    }


def _handles(tucks: Tucks, plan: Plan) -> tuple[Handle, ...]:
    """Where the group stands, how deep it is, and how far it is sewn; only words that the element has."""
    across, along = ((1.0, 0.0), (0.0, 1.0)) if tucks.run == "down" else ((0.0, 1.0), (1.0, 0.0))
    middle, first = (plan.start + plan.stop) / 2, plan.first[0]
    found = []

    def grip(name: str, at: float, far: float, word: str, way: tuple[float, float], share: float = 1.0) -> None:
        x, y = _points(tucks.run, (at,), (far,))[0].round(3).tolist()
        found.append(Handle(name, (x, y), word, (way[0] * share, way[1] * share)))

    if tucks.first is not None:
        grip("first tuck", first.at, middle, "first", across)
    elif tucks.middle is not None:
        grip("group", (first.at + plan.first[-1].at) / 2, middle, "middle", across)
    if tucks.depth is not None and isinstance(first, Tuck):
        grip("depth", first.fold, (plan.start + middle) / 2, "depth", across, 1.0 if first.ahead else -1.0)
    if tucks.sewn is not None:
        grip("end", first.at, plan.stop, "sewn", along)
    return tuple(found)


def _templates(tucks: Tucks, plan: Plan, setting: Setting) -> Iterator[Template]:
    """The lines of each group on the flat cloth, from the first of them; the group that is sewn first comes first."""
    marks = dict(zip(plan.tucks, flat_marks(plan.tucks), strict=True))
    sides = ("left", "right") if tucks.run == "down" else ("upper", "lower")
    groups = sorted((sorted(g, key=lambda t: t.at) for g in (plan.first, plan.second) if g), key=lambda g: g[0].at)
    for group, side in zip(groups, sides, strict=False):
        which = f", {side} group" if len(groups) > 1 else ""
        flat = [marks[tuck] for tuck in group]
        yield Template(
            title=f"Marking {tucks.name}{which}",
            told=_told(tucks, plan, group, flat, setting.units),
            lines=tuple(_flat_lines(tucks, plan, group, flat)),
        )


def _told(
    tucks: Tucks,
    plan: Plan,
    group: Sequence[Tuck | TwinRow],
    flat: Sequence[tuple[float, ...]],
    units: Units,
) -> tuple[str, ...]:
    edge, end = ("left", "lower") if tucks.run == "down" else ("upper", "right")
    place = show_length(group[0].begin, units)
    sewn = show_length(plan.stop - plan.start, units)
    begins = f" from {show_length(plan.start, units)} inside the edge" if plan.start > STRAIGHT else ""
    goes = f"for {sewn}{begins}, where the tucks are released" if plan.released else f"on to the {end} edge{begins}"
    lines = "the middle lines of" if tucks.twin else "fold and stitching lines of"
    what = "rows, the needles to either side" if tucks.twin else "tucks"
    return (
        f"True size, on the flat cloth, right side up: {lines} {len(group)} {what}, "
        f"{show_length(flat[-1][-1] - flat[0][0], units)} from the first line to the last.",
        f"Set the first line {place} from the {edge} edge. With several groups on a panel begin at that edge, and mark "
        "each once those before it are sewn.",
        f"Draw the lines on with a ruler {goes}.",
    )


def _flat_lines(
    tucks: Tucks, plan: Plan, group: Sequence[Tuck | TwinRow], flat: Sequence[tuple[float, ...]]
) -> Iterator[Line]:
    run, sewn = tucks.run, plan.stop - plan.start
    origin, long = flat[0][0], min(STRIP, sewn)
    roles: tuple[Role, ...] = ("placement",) if tucks.twin else ("stitching", "fold", "stitching")
    pitch = flat[1][0] - flat[0][0] if len(flat) > 1 else ROOM
    every = max(1, math.ceil(ROOM / pitch))
    for number, marks in enumerate(flat):
        for role, mark in zip(roles, marks, strict=True):
            numbered = role != "stitching" and (number % every == 0 or number == len(flat) - 1)
            yield Line(role, _straight(run, mark - origin, 0.0, long), label=f"{number + 1}" if numbered else "")
        if plan.released and sewn <= STRIP:
            across = (marks[0] - origin - TICK, marks[-1] - origin + TICK)
            yield Line("placement", _points(run, across, (sewn, sewn)))
    if not tucks.twin:
        middle_of_all = (flat[-1][-1] - origin) / 2
        yield Line("placement", _arrow(run, group[0], middle_of_all, long + BELOW), label="press")


BEGINNINGS = (
    Beginning(
        told="pin tucks",
        sentence="A group of fine folds, sewn down close to their edges.",
        asks=(),
        words={"sort": "pin", "count": 5, "depth": 2.0, "gap": 6.0, "first": 20.0},
        example={"sort": "pin", "count": 7, "depth": 2.0, "gap": 6.0},
    ),
    Beginning(
        told="mirrored tucks",
        sentence="Two groups of folds, pressed away from the line between them.",
        asks=(),
        words={"sort": "spaced", "count": 3, "depth": 6.0, "gap": 6.0, "mirrored": True, "first": 10.0},
        example={"sort": "spaced", "count": 3, "depth": 5.0, "gap": 4.0, "mirrored": True, "first": 6.0, "sewn": 28.0},
    ),
    Beginning(
        told="twin-needle tucks",
        sentence="Fine ridges, each sewn between the two rows of a twin needle.",
        asks=(),
        words={"sort": "twin needle", "count": 9, "gap": 4.0, "first": 20.0},
        example={"sort": "twin needle", "count": 13, "gap": 4.0},
    ),
)

TECHNIQUE = Technique(kind="tucks", model=Tucks, needs=needs, work=work, told="a group of tucks", begins=BEGINNINGS)
