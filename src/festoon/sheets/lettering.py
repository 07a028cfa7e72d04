"""Words beside lines: along them where there is room, off everything else that is drawn."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Geometry, LineString

from festoon.sheets.ground import Ground, overlap
from festoon.sheets.labels import OUTSIDE, TAKEN
from festoon.sheets.tiles import Window

POINTS = 8.0
"""Size of the words, points."""
LETTER, HEIGHT = 1.55, 3.0
"""Width of a letter on the average and height of the words with the room round them, mm on paper (measured)."""
OFF = 0.7
"""From the line to the room round the words, mm."""
STEP = 5.0
"""From one place tried along a line to the next, mm."""
SHORTEST = 4.0
"""Where less of a line shows, mm, it has no words."""
CLEAR = 0.4
"""mm² of line that words may touch and still count as clear of it: two cells of the ground."""
UPRIGHT = 3
"""Words of so few letters, a number above all, stand upright whichever way their line runs."""
STRAIGHT = 1.02
"""How much longer than from end to end a line may be for words beyond its end to run on in its direction."""
NEAR = 1e-3
"""What it costs to stand one mm off the middle of the line: of equal places the nearest is taken."""

Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Lettering:
    """Words with their middle at a place of the drawing, turned clockwise by degrees; boxes: the room they take."""

    text: str
    at: tuple[float, float]
    turn: float
    boxes: tuple[Box, ...]


def letter_lines(
    named: Iterable[tuple[str, LineString]], ground: Ground, taken: Sequence[Box], window: Window
) -> list[Lettering]:
    """Each line's words beside what a window shows of it, or beyond its end where it is short.

    taken are boxes to leave free. Words that no place is clear for are left out where a line of the same words has
    them already.
    """
    placed: list[Lettering] = []
    obstacles = list(taken)
    for text, line in named:
        run = _longest(shapely.clip_by_rect(line, *window))
        if run is None:
            continue
        best, clear = _best(text, run, ground, obstacles, window)
        if clear or all(p.text != text for p in placed):
            placed.append(best)
            obstacles.extend(best.boxes)
    return placed


def _longest(seen: Geometry) -> LineString | None:
    merged = shapely.line_merge(seen) if seen.geom_type == "MultiLineString" else seen
    runs = [g for g in shapely.get_parts(merged) if g.geom_type == "LineString" and g.length >= SHORTEST]
    return max(runs, key=lambda g: float(g.length), default=None)


def _best(text: str, run: LineString, ground: Ground, taken: Sequence[Box], window: Window) -> tuple[Lettering, bool]:
    wide = LETTER * len(text) + 1.0
    middles, turns, costs = _offers(run, wide)
    if len(text) <= UPRIGHT:
        turns = np.zeros(len(turns))
    steps = _steps(wide)
    ways = np.column_stack([np.cos(np.radians(turns)), np.sin(np.radians(turns))])
    centres = middles[:, None] + steps[None, :, None] * ways[:, None]
    boxes = np.concatenate([centres - HEIGHT / 2, centres + HEIGHT / 2], axis=2)
    flat = boxes.reshape(-1, 4)
    lying = ground.cost(flat) + TAKEN * overlap(flat, taken) + OUTSIDE * TAKEN * _beyond(flat, window)
    covered = lying.reshape(len(middles), -1).sum(axis=1)
    k = int(np.argmin(np.round(covered + costs, 6)))
    x, y = middles[k].tolist()
    room = tuple((b[0], b[1], b[2], b[3]) for b in boxes[k].tolist())
    return Lettering(text, (x, y), round(float(turns[k]), 2), room), bool(covered[k] <= CLEAR)


def _steps(wide: float) -> NDArray[np.float64]:
    """Middles of the small squares that cover words so wide, from the words' own middle."""
    half = max(0.0, (wide - HEIGHT) / 2)
    return np.linspace(-half, half, max(1, math.ceil(wide / HEIGHT)))


def _offers(run: LineString, wide: float) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Middles (n, 2), turns (n,) in degrees and what each costs for standing off the middle of the line."""
    length = float(run.length)
    reach = max(0.0, (length - wide) / 2)
    from_middle = np.arange(-reach, reach + 1e-9, STEP) if reach else np.zeros(1)
    at = length / 2 + from_middle
    on, ahead = _on(run, at), _on(run, at + 0.2) - _on(run, at - 0.2)
    turns = _turn(ahead)
    off = OFF + HEIGHT / 2
    normal = np.column_stack([np.sin(np.radians(turns)), -np.cos(np.radians(turns))]) * off
    first, last = _on(run, np.array([0.0, length]))
    chord = math.hypot(*(last - first))
    beyond = np.zeros((0, 2))
    if chord * STRAIGHT > length:
        beyond = np.array([first, last]) + np.array([first - last, last - first]) / chord * (wide / 2 + OFF)
    middles = np.concatenate([on + normal, on - normal, beyond])
    along = _turn(np.tile(last - first, (len(beyond), 1)))
    standing = np.abs(np.concatenate([from_middle, from_middle, np.full(len(beyond), length / 2)]))
    return middles, np.concatenate([turns, turns, along]), NEAR * standing


def _turn(ways: NDArray[np.float64]) -> NDArray[np.float64]:
    """Turns of directions (n, 2), degrees, so that words are never upside down."""
    turned = np.degrees(np.arctan2(ways[:, 1], ways[:, 0]))
    return np.asarray((turned + 90.0) % 180.0 - 90.0)


def _on(run: LineString, at: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(shapely.get_coordinates(shapely.line_interpolate_point(run, at)))


def _beyond(boxes: NDArray[np.float64], window: Window) -> NDArray[np.float64]:
    """mm² of each box outside the window."""
    low, high = np.maximum(boxes[:, :2], window[:2]), np.minimum(boxes[:, 2:], window[2:])
    inside = np.maximum(0.0, high - low).prod(axis=1)
    return np.asarray((boxes[:, 2:] - boxes[:, :2]).prod(axis=1) - inside)
