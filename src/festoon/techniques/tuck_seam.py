"""Where a seam or cut edge runs along inside a tuck's fold. Not a technique itself: festoon.techniques.tucks is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import shapely
from shapely import Geometry

from festoon.techniques.base import Setting
from festoon.techniques.tuck_plan import STRAIGHT, Plan

MOST = 10.0
"""mm that a seam may run inside a fold and still only cross it (common practice)."""

SLANT = 2.0
"""A seam that runs on inside a fold for so many times what it crosses runs along it (common practice)."""

Run = Literal["down", "across"]


@dataclass(frozen=True, slots=True)
class Caught:
    """A fold that a seam runs along: how far, mm, at which place across the tucks, and the seam's name."""

    along: float
    at: float
    name: str


def caught(plan: Plan, run: Run, setting: Setting) -> Caught | None:
    """The longest way that one of the panel's seams, or its cut edge, runs along inside a fold."""
    found = [
        Caught(along, tuck.at, name)
        for name, line in _seams(setting)
        for tuck in plan.tucks
        for along, across in _inside(line, _strip(plan, run, tuck.span), run)
        if along > max(MOST, SLANT * across)
    ]
    return max(found, key=lambda c: c.along, default=None)


def _seams(setting: Setting) -> Iterator[tuple[str, Geometry]]:
    """The panel's seams and its cut edge, by name."""
    yield "cut edge", setting.outline.boundary
    for name, path in setting.lines.items():
        if name.endswith("seam") and "/" not in name:
            yield name, shapely.linestrings(path.flatten(STRAIGHT))


def _strip(plan: Plan, run: Run, span: tuple[float, float]) -> tuple[float, float, float, float]:
    """What a tuck covers, less a hair all round: left, top, right, bottom."""
    low, high = span[0] + STRAIGHT, span[1] - STRAIGHT
    start, stop = plan.start + STRAIGHT, plan.stop - STRAIGHT
    return (low, start, high, stop) if run == "down" else (start, low, stop, high)


def _inside(line: Geometry, strip: tuple[float, float, float, float], run: Run) -> Iterator[tuple[float, float]]:
    """How far each stretch of a line inside a strip runs on along the tuck, and across it."""
    left, top, right, bottom = strip
    a, b, c, d = line.bounds
    if left >= right or top >= bottom or a > right or c < left or b > bottom or d < top:
        return
    for stretch in shapely.get_parts(shapely.line_merge(shapely.clip_by_rect(line, *strip))):
        a, b, c, d = stretch.bounds
        yield (d - b, c - a) if run == "down" else (c - a, d - b)
