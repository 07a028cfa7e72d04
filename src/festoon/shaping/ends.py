"""The ends of a shaped band in a seam: lace runs on to the seam, and what reaches beyond it is cut off.

A scallop's lace leans over the end of its line, or away from it. Two panels' lace meets in the seam between them as two
repeats meet in a point; so each is cut there along the line that halves the point.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely import Geometry, Polygon

from festoon.plane import Path, Points, Pose
from festoon.plane.segments import Floats
from festoon.shaping.band import Band

Ends = tuple[Pose, Pose]
"""Where a line begins and ends, each turned to the line's own direction there; the seams are square to them."""

STEEPEST = 0.2
"""Cosine of the steepest angle to its line at which a band is still cut in the seam; steeper ones end square to
themselves (own choice: 78 degrees)."""

EVEN = 1e-6
"""mm beyond a seam that is none."""

SAMPLES = 33
"""Points looked at for where a heading first crosses the seam."""

SEARCHES = 60
"""Steps towards that place at most; a handful are needed."""


def seamed(line: Path, ends: Ends, *reach: float) -> Path:
    """The line run on straight at either end, as far as lace needs to reach the seam there.

    reach: mm to the right of the line (below 0: left) to which the lace lies, the farthest to both sides.
    """
    heads = line.tangents([0.0, line.length])
    run_on = []
    for head, end, sign in zip(heads, ends, (1.0, -1.0), strict=True):
        along = float(head @ _ahead(end))
        right = np.array([-head[1], head[0]])
        short = max(0.0, *(sign * r * float(right @ _ahead(end)) for r in reach))
        run_on.append(short / along if along >= STEEPEST else 0.0)
    return line.extended(*run_on)


def cut_off(laid: Band, ends: Ends) -> tuple[Path, Path, Geometry]:
    """A band's course, its other heading and its region without what lies beyond the seams at its ends."""
    heads = laid.course.tangents([0.0, laid.course.length])
    course, over, beyond = laid.course, laid.over, []
    for end, head, last in zip(ends, heads, (False, True), strict=True):
        if float(head @ _ahead(end)) >= STEEPEST:
            beyond.append(_beyond(end, course, over, laid.width, last))
            course, over = _cut(course, end, last), _cut(over, end, last)
    return course, over, shapely.difference(laid.region, shapely.union_all(beyond)) if beyond else laid.region


def _beyond(end: Pose, course: Path, over: Path, width: float, last: bool) -> Polygon:
    """A square on the far side of a seam, large enough for all of the band's own end there."""
    tips = np.array([course.end, over.end] if last else [course.start, over.start])
    far = float(np.hypot(*(tips - end.shift).T).max()) + width
    x = far if last else -far
    return Polygon(end.apply([[0.0, -far], [x, -far], [x, far], [0.0, far]]))


def _cut(path: Path, end: Pose, last: bool) -> Path:
    """A heading without what lies beyond the seam at one of its ends."""
    sign, tip = (-1.0, path.length) if last else (1.0, 0.0)
    if _inside(path, np.array([tip]), end, sign)[0] >= -EVEN:
        return path
    s = np.linspace(tip, path.length / 2, SAMPLES)
    off = _inside(path, s, end, sign)
    within = np.flatnonzero(off >= 0)
    if not len(within):
        return path
    k = int(within[0])
    at = _crossed(path, (float(s[k - 1]), float(s[k])), (float(off[k - 1]), float(off[k])), end, sign)
    return path.trimmed(0.0, at) if last else path.trimmed(at, path.length)


def _crossed(path: Path, s: tuple[float, float], off: tuple[float, float], end: Pose, sign: float) -> float:
    """Where a path crosses the seam between two places, the first beyond it by off[0] < 0, the second not: by false
    position that halves the end it leans on (the Illinois rule), at once where it is straight there."""
    (outside, inside), (beyond, within) = s, off
    leaning = 0
    for _ in range(SEARCHES):
        at = (beyond * inside - within * outside) / (beyond - within)
        found = float(_inside(path, np.array([at]), end, sign)[0])
        if abs(found) <= EVEN:
            return at
        if found < 0:
            outside, beyond = at, found
            within, leaning = within / 2 if leaning < 0 else within, -1
        else:
            inside, within = at, found
            beyond, leaning = beyond / 2 if leaning > 0 else beyond, 1
    return inside


def _inside(path: Path, s: Floats, end: Pose, sign: float) -> Floats:
    """How far the points of a path at s lie on the lace's side of the seam, (n,) mm; sign: 1 at the line's beginning,
    -1 at its end."""
    inside: Floats = sign * ((path.points(s) - end.shift) @ _ahead(end))
    return inside


def _ahead(end: Pose) -> Points:
    """The direction of the line at an end, (2,)."""
    ahead: Points = end.matrix @ np.array([1.0, 0.0])
    return ahead
