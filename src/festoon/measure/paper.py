"""Sheet sizes, upright."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from festoon.errors import MeasureError
from festoon.measure.number import nearest

PAPERS: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "A0": (841.0, 1189.0),
        "A1": (594.0, 841.0),
        "A2": (420.0, 594.0),
        "A3": (297.0, 420.0),
        "A4": (210.0, 297.0),
        "A5": (148.0, 210.0),
        "Letter": (215.9, 279.4),
        "Legal": (215.9, 355.6),
        "Tabloid": (279.4, 431.8),
    }
)
"""Name -> (width, height) in mm. A sizes by ISO 216, whose sides are halved and rounded down; Letter and Tabloid are
ANSI A and B (ANSI Y14.1, from memory), Legal is common US practice."""


def paper_size(name: str) -> tuple[float, float]:
    """Width and height in mm of an upright sheet; capitals do not matter. Raises MeasureError.

    >>> paper_size('A4'), paper_size('letter')
    ((210.0, 297.0), (215.9, 279.4))
    """
    names = {paper.casefold(): paper for paper in PAPERS}
    small = name.strip().casefold()
    if small in names:
        return PAPERS[names[small]]
    near = nearest(small, names)
    guess = f'Did you mean "{names[near]}"? ' if near else ""
    raise MeasureError(
        f'"{name[:40]}" is not a paper size known here.', remedy=f"{guess}The sizes are {', '.join(PAPERS)}."
    )
