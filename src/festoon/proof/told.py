"""How well the parts meet, how to mark for it, and how thick the stitching gets, in a sentence each."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np

from festoon.measure import MM_PER_INCH, Units, show_length, tenths_up
from festoon.proof.cloth import NEAR
from festoon.proof.heap import boxed, first_cell, window_cells
from festoon.proof.values import Carrying, MarkAdvice, Meeting, Thickness
from festoon.proof.words import fine, spot

LIKELY = 1.96
"""Standard deviations that hold 95 in 100 of a normal distribution (computed)."""

FEW = 0.005
"""Chances under this are told as such: half a per cent."""


def reach(mm: float, units: Units) -> str:
    """A length rounded up, so that it is no less than predicted.

    >>> reach(0.83, "mm"), reach(0.83, "inch")
    ('0.9 mm', '0.04 in')
    """
    if units == "mm":
        return f"{tenths_up(mm):.1f} mm"
    return f"{tenths_up(10 * mm / MM_PER_INCH) / 10:.2f} in"


def chance(share: float) -> str:
    """Per cent, rounded up.

    >>> chance(0.0), chance(0.051), chance(0.05)
    ('under 0.5 %', '6 %', '5 %')
    """
    return f"{math.ceil(100 * share - 1e-9)} %" if share >= FEW else f"under {100 * FEW:g} %"


def meeting_told(m: Meeting, units: Units) -> str:
    """One place where hoopings meet, in a sentence or two: which parts, the overlap, the miss, and the chances."""
    parts = f"{m.parts[0]} is divided" if m.kind == "cut" else f"{m.parts[0]} meets {m.parts[1]}"
    lap = f"they overlap by {fine(m.lap, units)}" if m.lap >= 0 else f"they are drawn {fine(-m.lap, units)} apart"
    enough = (
        "no overlap is needed"
        if m.lap_wanted <= 0
        else f"{reach(m.lap_wanted, units)} {'is enough' if m.lap >= m.lap_wanted else 'is wanted'}"
    )
    across, along = (reach(LIKELY * sd, units) for sd in (m.across_sd, m.along_sd))
    gap, ridge = chance(m.gap_chance), chance(m.pile_chance)
    return (
        f"{parts}, hoopings {m.first} and {m.second}: {lap}, {enough}. They miss each other by no more than ±{across} "
        f"across and ±{along} along, 95 times in 100; the chance of a gap is {gap}, of a ridge {ridge}."
    )


def meetings_told(meetings: Sequence[Meeting], units: Units) -> str:
    """How many places there are where hoopings meet, and the least sure of them; nothing where there are none."""
    if not meetings:
        return ""
    worst = max(meetings, key=lambda m: m.across_sd)
    count = "One place where hoopings meet" if len(meetings) == 1 else f"{len(meetings)} places where hoopings meet"
    names = " and ".join(dict.fromkeys(worst.parts))
    return (
        f"{count}; the least sure is predicted to meet within ±{reach(LIKELY * worst.across_sd, units)} 95 times "
        f"in 100: {names}, hoopings {worst.first} and {worst.second}{spot(worst.at, units)}."
    )


def measured_told(measured: Sequence[str]) -> str:
    """Whose figures it rests on; nothing where the worker measured none.

    >>> measured_told(["drawing a cross", "the hoop's seat in its carrier"])
    "By your own figures, as measured: drawing a cross; the hoop's seat in its carrier. The rest is assumed."
    """
    return f"By your own figures, as measured: {'; '.join(measured)}. The rest is assumed." if measured else ""


def marking_told(carrying: Sequence[Carrying], units: Units) -> str:
    """Which way to mark the cloth and what it gains, a sentence a panel; nothing where no hoopings meet."""
    panels = len(carrying) > 1
    return " ".join(f"On {c.panel}: {_marking(c, units)}" if panels else _marking(c, units) for c in carrying)


def _marking(c: Carrying, units: Units) -> str:
    whole, carried = (reach(LIKELY * sd, units) for sd in (c.whole, c.carried))
    if whole == carried:
        return (
            "Draw every cross from the whole template before you begin: crosses carried from hooping to hooping would "
            f"serve no better, the least sure meeting is predicted within ±{whole} 95 times in 100 either way."
        )
    if c.whole < c.carried:
        there = "would make it" if c.carried_at == c.whole_at else f"would make {_pair(c.carried_at)} meet within"
        over = f", since errors add up over {c.steps} hoopings" if c.steps > 1 else ""
        return (
            f"Draw every cross from the whole template before you begin: the least sure meeting ({_pair(c.whole_at)}) "
            f"is then predicted within ±{whole}, 95 times in 100; crosses carried from hooping to hooping {there} "
            f"±{carried}{over}."
        )
    there = "" if c.carried_at == c.whole_at else f" ({_pair(c.whole_at)})"
    return (
        "Carry the crosses: draw those of each hooping from what the one it joins has sewn. The least sure meeting "
        f"({_pair(c.carried_at)}) is then predicted within ±{carried}, 95 times in 100; crosses drawn from the whole "
        f"template before you begin would make it ±{whole}{there}. The farther from the first hooping, the less surely "
        "carried stitching lies on the cloth itself: where that matters, draw from the whole template."
    )


def _pair(numbers: tuple[int, int]) -> str:
    return f"hoopings {numbers[0]} and {numbers[1]}"


def advice_told(advice: MarkAdvice, units: Units) -> str:
    """Which cross to move or to add, and what it gains: 'Hooping 3: move cross C to 120 mm from the left, ...'."""
    if advice.onto is not None:
        change = f"use cross {advice.onto} {'as well' if advice.mark is None else f'instead of {advice.mark}'}"
    else:
        place = f"{show_length(advice.to[0], units)} from the left, {show_length(advice.to[1], units)} from the top"
        change = f"add a cross at {place}" if advice.mark is None else f"move cross {advice.mark} to {place}"
    before, after = (fine(LIKELY * sd, units, 2) for sd in (advice.before, advice.after))
    return (
        f"Hooping {advice.hooping}: {change}: the least sure meeting there is then predicted within ±{after} rather "
        f"than ±{before}, 95 times in 100."
    )


def thickest_told(maps: Iterable[Thickness], units: Units) -> str:
    """The most layers over the square by which every part is judged, and where; nothing where nothing is sewn."""
    sewn = [(*_thickest(m), m) for m in maps if m.layers.size]
    if not sewn:
        return ""
    layers, at, most = max(sewn, key=lambda found: found[0])
    return (
        f"Thickest: {layers:.1f} layers of thread over a square of {fine(NEAR.value, units)}, on "
        f"{most.panel}{spot(at, units)}."
    )


def _thickest(thickness: Thickness) -> tuple[float, tuple[float, float]]:
    """The most layers over a NEAR square, and its middle on the panel, mm."""
    near = window_cells(thickness.cell)
    layers = boxed(np.pad(thickness.layers.astype(np.float64), near), near)
    down, right = np.unravel_index(int(layers.argmax()), layers.shape)
    row, column = first_cell(thickness)
    x, y = column - near + int(right), row - near + int(down)
    return float(layers.max()), (x * thickness.cell, y * thickness.cell)
