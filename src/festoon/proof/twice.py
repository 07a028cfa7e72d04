"""Is the same stitching sewn more than once, stitch on stitch: a motif that was placed twice by mistake."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from festoon.hooping import Division
from festoon.hooping.words import listed, number_word
from festoon.measure import Units
from festoon.plane.pose import Points
from festoon.proof.limits import TINY
from festoon.proof.lines import Lines, stitches
from festoon.proof.words import spot
from festoon.work import Amount, Finding

SAME = 0.9
"""Share of the penetrations of either that fall into those of the other. Chosen."""


def twice_findings(division: Division, units: Units) -> tuple[Finding, ...]:
    """Parts that lie over each other hole in hole (within TINY), all of the same stitching as one finding.

    However thin it is, as line work: thread goes through its own holes again, which wear, and no one meant it.
    """
    return tuple(_told(group, units) for group in _groups(stitches(division)))


def _groups(parts: list[Lines]) -> Iterator[list[Lines]]:
    """Parts of the same stitching, two or more each, in the order of sewing."""
    waiting = [p for p in parts if len(p.run)]
    bounds = np.array([_bounds(p) for p in waiting]).reshape(-1, 4)
    left = list(range(len(waiting)))
    while left:
        first = left.pop(0)
        near = [k for k in left if (np.abs(bounds[k] - bounds[first]) <= TINY.value).all()]
        same = [k for k in near if waiting[k].panel == waiting[first].panel and _same(waiting[first], waiting[k])]
        left = [k for k in left if k not in same]
        if same:
            yield [waiting[k] for k in (first, *same)]


def _bounds(part: Lines) -> NDArray[np.float64]:
    holes = _holes(part)
    return np.concatenate([holes.min(axis=0), holes.max(axis=0)])


def _holes(part: Lines) -> Points:
    return np.concatenate([part.start, part.end])


def _same(a: Lines, b: Lines) -> bool:
    first, second = _holes(a), _holes(b)
    return _within(first, second) >= SAME and _within(second, first) >= SAME


def _within(holes: Points, others: Points) -> float:
    """The share of holes that fall into one of the others."""
    return float(np.mean(cKDTree(others).query(holes)[0] <= TINY.value))


def _told(group: list[Lines], units: Units) -> Finding:
    names = tuple(dict.fromkeys(p.part for p in group))
    at = group[-1].at(0)
    return Finding(
        "look again",
        f"{listed(names, 3)} on {group[0].panel}{spot(at, units)}",
        "They are the same stitching, hole in hole over each other.",
        "Leave out all but one of them, or put them where they belong.",
        figure="twice" if len(group) == 2 else f"{number_word(len(group))} times",
        limit="once",
        source="computed; common practice",
        panel=group[0].panel,
        at=at,
        elements=names,
        hooping=int(group[-1].hooping[0]),
        rule="sewn twice",
        amount=Amount(len(group), "times"),
    )
