"""A panel divided over sheets of paper: which sheets, what each shows, and the marks that join them again."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from festoon.hooping.marks import letters
from festoon.measure import paper_size

MARGIN = 10.0
"""Unprinted edge of every sheet, mm (common practice; printers' manuals ask for 4 mm, inkjets 6.7 mm at the foot)."""

OVERLAP = 10.0
"""How much of the panel two neighbouring sheets both show, mm (common practice)."""

Window = tuple[float, float, float, float]
"""Left, top, right, bottom on the panel, mm."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, mm as it lies."""

    name: str
    width: float
    height: float

    @property
    def turned(self) -> Paper:
        """The same paper a quarter turned."""
        return Paper(self.name, self.height, self.width)

    @property
    def printable(self) -> tuple[float, float]:
        """Width and height inside the margins, mm."""
        return self.width - 2 * MARGIN, self.height - 2 * MARGIN


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet: its row and column, counted from 0, and what it shows of the panel."""

    row: int
    column: int
    window: Window

    @property
    def name(self) -> str:
        """'B2': row letter and column number."""
        return f"{letters(self.row)}{self.column + 1}"


@dataclass(frozen=True, slots=True)
class AssemblyMark:
    """A crossed diamond that two neighbouring sheets both show at the same place `at` of the panel, mm.

    It stands on the line along which the second sheet is trimmed and laid on the first. `upright` is true where
    that line runs up and down (the sheets lie side by side).
    """

    letter: str
    at: tuple[float, float]
    tiles: tuple[str, str]
    upright: bool


@dataclass(frozen=True, slots=True)
class Tiling:
    """A panel over sheets of `paper` (as it lies). `left_out` are the sheets that hold nothing."""

    paper: Paper
    rows: int
    columns: int
    tiles: tuple[Tile, ...]
    left_out: tuple[Tile, ...]
    marks: tuple[AssemblyMark, ...]

    def marks_of(self, tile: Tile) -> tuple[AssemblyMark, ...]:
        """The assembly marks that one sheet shows."""
        return tuple(m for m in self.marks if tile.name in m.tiles)

    def neighbour(self, tile: Tile, rows: int, columns: int) -> Tile | None:
        """The printed sheet so many rows down and columns to the right, if there is one."""
        place = (tile.row + rows, tile.column + columns)
        return next((t for t in self.tiles if (t.row, t.column) == place), None)


def tile_count(length: float, printable: float, overlap: float = OVERLAP) -> int:
    """How many sheets one side takes: ceil((length - overlap) / (printable - overlap)), geometry.

    >>> tile_count(600, 190), tile_count(400, 277)
    (4, 2)
    """
    return max(1, math.ceil((length - overlap) / (printable - overlap) - 1e-9))


def paper_for(size: tuple[float, float], paper: Paper) -> Paper:
    """The paper upright or turned, whichever covers a panel of this size (mm) with fewer sheets; upright if equal."""

    def sheets(p: Paper) -> int:
        return tile_count(size[0], p.printable[0]) * tile_count(size[1], p.printable[1])

    return min(paper, paper.turned, key=sheets)


def paper_named(name: str) -> Paper:
    """The paper of that name, upright. Raises MeasureError for a paper that is not known."""
    return Paper(name, *paper_size(name))


def tiling(size: tuple[float, float], paper: Paper, holds: Callable[[Window], bool]) -> Tiling:
    """Divide a panel of `size` (mm) over sheets, with the panel in the middle of them.

    holds(window) tells whether anything lies there. A sheet that holds nothing is left out, unless the others would
    then no longer hang together by their edges.
    """
    lying = paper_for(size, paper)
    columns, rows = (tile_count(s, u) for s, u in zip(size, lying.printable, strict=True))
    grid = [_tile(size, lying, rows, columns, r, c) for r in range(rows) for c in range(columns)]
    kept = _thinned(grid, holds)
    out = tuple(t for t in grid if t not in kept)
    return Tiling(lying, rows, columns, tuple(kept), out, _assembly_marks(kept))


def _tile(size: tuple[float, float], paper: Paper, rows: int, columns: int, row: int, column: int) -> Tile:
    width, height = paper.printable
    left = (size[0] - columns * (width - OVERLAP) - OVERLAP) / 2 + column * (width - OVERLAP)
    top = (size[1] - rows * (height - OVERLAP) - OVERLAP) / 2 + row * (height - OVERLAP)
    return Tile(row, column, (left, top, left + width, top + height))


def _thinned(tiles: list[Tile], holds: Callable[[Window], bool]) -> list[Tile]:
    """The sheets without those that can be left out; again from the first while one is found, so that no tail stays."""
    kept = list(tiles)
    empty = [t for t in tiles if not holds(t.window)]
    while True:
        before = len(kept)
        for tile in [t for t in empty if t in kept]:
            rest = [t for t in kept if t is not tile]
            if rest and _hang_together(rest):
                kept = rest
        if len(kept) == before:
            return kept


def _hang_together(tiles: list[Tile]) -> bool:
    places = {(t.row, t.column) for t in tiles}
    reached: set[tuple[int, int]] = set()
    ahead = [min(places)]
    while ahead:
        r, c = ahead.pop()
        if (r, c) in places and (r, c) not in reached:
            reached.add((r, c))
            ahead += [(r + 1, c), (r - 1, c), (r, c + 1), (r, c - 1)]
    return reached == places


def _assembly_marks(tiles: list[Tile]) -> tuple[AssemblyMark, ...]:
    """Two marks on every pair of neighbours, a quarter in from each end of their seam, lettered in reading order."""
    at = {(t.row, t.column): t for t in tiles}
    found: list[tuple[Tile, Tile, tuple[float, float], bool]] = []
    for tile in tiles:
        left, top, right, bottom = tile.window
        for upright, place in ((True, (tile.row, tile.column + 1)), (False, (tile.row + 1, tile.column))):
            if place not in at:
                continue
            for share in (0.25, 0.75):
                along = top + share * (bottom - top) if upright else left + share * (right - left)
                across = (right if upright else bottom) - OVERLAP / 2
                found.append((tile, at[place], (across, along) if upright else (along, across), upright))
    return tuple(
        AssemblyMark(letters(i).lower(), point, (a.name, b.name), upright)
        for i, (a, b, point, upright) in enumerate(found)
    )
