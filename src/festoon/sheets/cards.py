"""The card on which a template says what it is and what is done with it, and a clear place for it."""

from __future__ import annotations

import math
import textwrap
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from festoon.hooping.words import number_word
from festoon.sheets.captions import CHECK, KEEP, check_line
from festoon.sheets.ground import Ground
from festoon.sheets.key import BOX, Entry
from festoon.sheets.tiles import MARGIN, Tile, Tiling
from festoon.work.values import MATCH, Template

WIDTHS = (CHECK + 4.0, 160.0, 240.0)
"""Widths of a card that are tried in turn, mm: the check line, and what fits upright and turned paper (ours)."""

_STEP = 4.0
"""From one place that is tried to the next, mm."""
_CLEAR = 0.3
"""mm² that may be covered: one cell of the ground."""
_LETTER, _LINE = 1.6, 4.3
"""Width of a letter at 9 points on the average, and height of a line, mm (measured, and a little more)."""
_TITLE_LETTER, _TITLE_LINE = 2.6, 6.2
"""The same of the title at 14 points."""
_NAME, _CHECK, _GAP = 5.0, 9.0, 1.5
"""Heights of the line with the element's name, of the check line with its words, and between two things, mm."""
_KEY_COLUMN = 48.0
"""Width of a column of the key, mm."""


@dataclass(frozen=True, eq=False)
class Card:
    """What a sheet says of its template, `width` mm wide. name: of the sheet, where there are several. whose: of which
    element of which piece. key: its lines and signs."""

    width: float
    title: str
    name: str
    whose: str
    told: tuple[str, ...] = ()
    key: tuple[Entry, ...] = ()

    @property
    def columns(self) -> int:
        """How many columns its key has."""
        return int(self.width // _KEY_COLUMN)

    @property
    def height(self) -> float:
        """The room that it takes, mm, rather too much than too little."""
        title = _lines(self.title, self.width - (18.0 if self.name else 0.0), _TITLE_LETTER) * _TITLE_LINE
        told = sum(_lines(t, self.width, _LETTER) * _LINE + 0.6 for t in self.told)
        rows = math.ceil(len(self.key) / self.columns)
        return title + _NAME + told + rows * (BOX[1] + 0.4) + _CHECK + 3 * _GAP

    def shown(self, at: tuple[float, float]) -> dict[str, Any]:
        """Plain values for the typesetter, its left upper corner at a place on the paper."""
        return {
            "at": list(at),
            "size": [self.width, self.height],
            "title": self.title,
            "name": self.name,
            "whose": self.whose,
            "told": list(self.told),
            "key": list(self.key),
            "columns": self.columns,
            "check": check_line(1.0, 2.6),
        }


def _lines(text: str, width: float, letter: float) -> int:
    return len(textwrap.wrap(text, max(1, int(width / letter))))


def times_told(template: Template) -> tuple[str, ...]:
    """How often a template is used, in a sentence; nothing where it is once.

    >>> times_told(Template("Ring", (), (), times=6))
    ('Use it six times.',)
    """
    if template.times == 1:
        return ()
    goes_on = any(line.label == MATCH for line in template.lines)
    return (f"Use it {number_word(template.times)} times{', each repeat beginning at the match line' * goes_on}.",)


def clear_place(card: Card, ground: Ground, tile: Tile, tiles: Tiling) -> tuple[float, float] | None:
    """The uppermost, then leftmost place on a sheet where a card covers nothing, mm from its window's corner."""
    corners, covered = _offers(card, ground, tile, tiles)
    clear = np.flatnonzero(covered <= _CLEAR)
    if not len(clear):
        return None
    x, y = corners[clear[0]].tolist()
    return x, y


def least_covering(card: Card, ground: Ground, tile: Tile, tiles: Tiling) -> tuple[float, float]:
    """The place on a sheet where a card covers least of the drawing, mm from its window's corner."""
    corners, covered = _offers(card, ground, tile, tiles)
    x, y = corners[int(np.argmin(np.round(covered, 3)))].tolist()
    return x, y


def _offers(card: Card, ground: Ground, tile: Tile, tiles: Tiling) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Corners (n, 2) of the card from the window's own, uppermost first, and mm² covered by each; off all seams."""
    left, top, right, bottom = tile.window
    keep = {side: KEEP if tiles.neighbour(tile, *side) else 0.0 for side in ((-1, 0), (1, 0), (0, -1), (0, 1))}
    least = keep[0, -1], keep[-1, 0]
    most = right - left - card.width - keep[0, 1], bottom - top - card.height - keep[1, 0]
    xs, ys = (np.arange(a, max(a, b) + 1e-9, _STEP) for a, b in zip(least, most, strict=True))
    corners = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    first = corners + np.array([left, top])
    return corners, ground.cost(np.concatenate([first, first + np.array([card.width, card.height])], axis=1))


def on_paper(at: tuple[float, float]) -> tuple[float, float]:
    """A place of a sheet's window on its paper, mm."""
    return at[0] + MARGIN, at[1] + MARGIN
