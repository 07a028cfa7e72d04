"""The second heading of a band: parallels of the course's cells, joined at its corners and breaks."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from festoon.plane import Line, Path, Segment
from festoon.plane.path import MEETING
from festoon.plane.segments import Point
from festoon.shaping.cells import Cell, cells, pair
from festoon.shaping.mitre import MITRE_LIMIT, Meeting, meeting, mitre_point, refined, turn_between

_NO_GAP = 1e-7
"""mm; parallels that part by less at a break of the course are one line."""
_CUSP = math.radians(179.9)
"""From this turn on, the way a cusp turns is read from the course beside it."""


@dataclass(frozen=True, eq=False)
class Joint:
    """A break of the course between two cells, where the other heading has the point `over`. mm, radians.

    arrives and leaves: the break's s at the end of one cell and at the beginning of the next. before and after: the
    feet of `over` on the course, square across, no further than the leg goes; the break itself where the other heading
    runs on (outside). straight: `over` is the mitre point of two straight legs.
    """

    at: Point
    over: Point
    turn: float
    arrives: float
    leaves: float
    before: float
    after: float
    outside: bool
    mitred: bool
    straight: bool


@dataclass(slots=True)
class Piece:
    """A segment of the other heading that belongs to a cell, from its parameter t0 to t1."""

    cell: int
    segment: Segment
    t0: float
    t1: float


@dataclass(eq=False)
class Headings:
    """Both headings of a band from its first corner on (from its beginning, where it has none or is open).

    first: that corner's s on the course. legs: the other heading's pieces between corners; legs_cells: the first cell
    of each and, last, the number of cells. trouble: places on the course where lace cannot lie so. around: the end
    is joined to the beginning.
    """

    cells: list[Cell]
    first: float
    around: bool
    distance: float
    legs_cells: list[int]
    legs: list[list[Piece]] = field(default_factory=list)
    joints: list[Joint] = field(default_factory=list)
    trouble: list[Point] = field(default_factory=list)

    @property
    def spans(self) -> list[tuple[float, float]]:
        """From where to where each leg goes, mm from the first corner."""
        edges = [self.cells[k].s0 for k in self.legs_cells[:-1]] + [self.cells[-1].s1]
        return list(itertools.pairwise(edges))

    @property
    def over(self) -> Path:
        """The other heading, begun opposite the course's beginning; only where nothing is in trouble."""
        pieces = [p for leg in self.legs for p in leg]
        whole = Path(tuple(p.segment for p in pieces))
        if not self.first:
            return whole
        begins = self._opposite(pieces, self.cells[-1].s1 - self.first)
        return whole.trimmed(begins, begins + whole.length)

    def _opposite(self, pieces: list[Piece], s: float) -> float:
        """How far along the pieces the place square across from s lies, or the mitre that took it away."""
        far = 0.0
        for p in pieces:
            cell = self.cells[p.cell]
            if s <= cell.s1 + MEETING and p.t1 > p.t0:
                t = float(cell.course.t_at(max(s - cell.s0, 0.0)))
                if t <= p.t1:
                    u = max((t - p.t0) / (p.t1 - p.t0), 0.0)
                    return far + (p.segment.part(0.0, u).length if u else 0.0)
            far += p.segment.length
        return far


@dataclass(slots=True)
class _Kept:
    """What is kept of a cell's parallel: between two parameters, and on to two points."""

    t0: float = 0.0
    t1: float = 1.0
    lead: Point | None = None
    tail: Point | None = None


def headings(course: Path, distance: float, closes: bool, corner: float) -> Headings:
    """Both headings with the other `distance` mm to the right of the course (negative: left).

    corner: degrees from which a break is mitred. Outside of a break the other heading runs straight on to the mitre
    point; inside it is trimmed to where its two sides meet.
    """
    around = closes and course.closed
    pieces = cells(course, distance)
    breaks = [(k, _turn(pieces, k)) for k in range(0 if around else 1, len(pieces))]
    breaks = [(k, turn) for k, turn in breaks if abs(distance) * 2 * math.sin(abs(turn) / 2) > _NO_GAP]
    first = next((k for k, turn in breaks if around and _folded(turn, corner)), 0)
    begins = pieces[first].s0
    if first:
        breaks = [((k - first) % len(pieces), turn) for k, turn in breaks]
        pieces = _begun_at(first, pieces)
    folds = {k for k, turn in breaks if _folded(turn, corner)}
    starts = sorted(folds | {0})
    out = Headings(pieces, begins, around, distance, [*starts, len(pieces)])
    out.trouble += [pair(c.course.point(0.5)) for c in pieces if c.tight]
    kept = [_Kept() for _ in pieces]
    for k, turn in breaks:
        if turn * distance < 0:
            out.joints.append(_run_on(out, kept, k, turn, k in folds))
        elif k not in folds:
            _ease_in(out, kept, k, turn)
    out.legs = [
        [p for k in range(a, b) for p in _pieces(out.cells[k], k, kept[k])]
        for a, b in zip(starts, out.legs_cells[1:], strict=True)
    ]
    out.trouble += [
        pair(c.course.point(0.5)) for c, k in zip(pieces, kept, strict=True) if k.t0 >= k.t1 and not c.tight
    ]
    _trim(out, [(k, turn) for k, turn in breaks if k in folds and turn * distance > 0])
    out.joints.sort(key=lambda j: j.leaves)
    return out


def _folded(turn: float, corner: float) -> bool:
    return math.degrees(abs(turn)) >= corner - 1e-9


def _begun_at(first: int, pieces: list[Cell]) -> list[Cell]:
    """The cells of a closed course with another one first, s counted from there."""
    total, begins = pieces[-1].s1, pieces[first].s0
    ahead = [replace(c, s0=c.s0 - begins, s1=c.s1 - begins) for c in pieces[first:]]
    behind = [replace(c, s0=c.s0 + total - begins, s1=c.s1 + total - begins) for c in pieces[:first]]
    return ahead + behind


def _turn(pieces: list[Cell], k: int) -> float:
    a, b = pieces[k - 1], pieces[k]
    turn = turn_between(a.last, b.first)
    if abs(turn) < _CUSP:
        return turn
    at = b.course.point(0.0)
    beside = turn_between(pair(at - a.course.point(0.99)), pair(b.course.point(0.01) - at))
    return math.copysign(turn, beside)


def _run_on(out: Headings, kept: list[_Kept], k: int, turn: float, mitred: bool) -> Joint:
    """The joint outside of a break before cell k."""
    a, b = out.cells[k - 1], out.cells[k]
    at, over = _corner(a, b, out.distance)
    if MITRE_LIMIT * math.cos(turn / 2) < 1.0:
        out.trouble.append(at)
    reach = abs(out.distance * math.tan(turn / 2))
    if isinstance(a.over, Line):
        kept[k - 1].t1 += reach / a.over.length
    if isinstance(b.over, Line):
        kept[k].t0 -= reach / b.over.length
    kept[k - 1].tail = kept[k].lead = over
    return Joint(at, over, turn, a.s1, b.s0, a.s1, b.s0, True, mitred, True)


def _ease_in(out: Headings, kept: list[_Kept], k: int, turn: float) -> None:
    """Trim both sides of a small break before cell k to where they meet inside of it."""
    a, b = out.cells[k - 1], out.cells[k]
    at, over = _corner(a, b, out.distance)
    if a.over is None or b.over is None:
        return
    reach = abs(out.distance * math.tan(turn / 2))
    ta, tb = 1 - reach / a.over.length, reach / b.over.length
    if not (isinstance(a.over, Line) and isinstance(b.over, Line)):
        met = refined([a.over], 0, max(ta, 0.0), [b.over], 0, min(tb, 1.0))
        if met is None:
            out.trouble.append(at)
            return
        ta, tb, over = met.ta, met.tb, pair(a.over.point(met.ta))
    kept[k - 1].t1, kept[k - 1].tail = ta, over
    kept[k].t0, kept[k].lead = tb, over
    feet = a.foot(max(ta, 0.0)), b.foot(min(tb, 1.0))
    out.joints.append(_inside(out, k, turn, over, feet, False))


def _trim(out: Headings, breaks: list[tuple[int, float]]) -> None:
    """Trim the legs at every inner mitre, each found on the untrimmed legs."""
    starts = out.legs_cells[:-1]
    cuts: list[list[tuple[int, float]]] = [[(0, 0.0), (len(leg) - 1, 1.0)] for leg in out.legs]
    for k, turn in breaks:
        after = starts.index(k)
        before = after - 1  # the last leg before the first, on a closed course
        a, b = out.legs[before], out.legs[after]
        met = _met(out, a, b, k, turn) if a and b else None
        if met is None:
            out.trouble.append(_corner(out.cells[k - 1], out.cells[k], out.distance)[0])
            continue
        over = pair(a[met.ia].segment.point(met.ta))
        feet = (_foot(out.cells, a[met.ia], met.ta), _foot(out.cells, b[met.ib], met.tb))
        out.joints.append(_inside(out, k, turn, over, feet, True))
        cuts[before][1], cuts[after][0] = (met.ia, met.ta), (met.ib, met.tb)
    for i, (low, high) in enumerate(cuts):
        leg = out.legs[i]
        if leg and not low < high:
            middle = (starts[i] + out.legs_cells[i + 1] - 1) // 2
            out.trouble.append(pair(out.cells[middle].course.point(0.5)))
        elif leg:
            out.legs[i] = _cut(leg, low, high)


def _met(out: Headings, a: list[Piece], b: list[Piece], k: int, turn: float) -> Meeting | None:
    one, two = a[-1].segment, b[0].segment
    if isinstance(one, Line) and isinstance(two, Line):
        reach = abs(out.distance * math.tan(turn / 2))
        if reach < min(one.length, two.length):
            return Meeting(len(a) - 1, 1 - reach / one.length, 0, reach / two.length)
    return meeting([p.segment for p in a], [p.segment for p in b])


def _inside(out: Headings, k: int, turn: float, over: Point, feet: tuple[float, float], mitred: bool) -> Joint:
    a, b = out.cells[k - 1], out.cells[k]
    at, point = _corner(a, b, out.distance)
    return Joint(at, over, turn, a.s1, b.s0, *feet, False, mitred, math.dist(point, over) <= MEETING)


def _corner(a: Cell, b: Cell, distance: float) -> tuple[Point, Point]:
    at = b.course.start
    return at, mitre_point(at, a.last, b.first, distance)


def _pieces(cell: Cell, k: int, kept: _Kept) -> list[Piece]:
    """What is kept of a cell's parallel, with the straight pieces on which it runs on."""
    if cell.over is None or kept.t0 >= kept.t1:
        return []
    if isinstance(cell.over, Line):
        return [Piece(k, Line(kept.lead or cell.over.start, kept.tail or cell.over.end), kept.t0, kept.t1)]
    whole = (kept.t0, kept.t1) == (0.0, 1.0)
    over = cell.over if whole else cell.over.part(kept.t0, kept.t1)
    out = [Piece(k, over, kept.t0, kept.t1)]
    if kept.lead and kept.t0 == 0.0:
        out.insert(0, Piece(k, Line(kept.lead, over.start), 0.0, 0.0))
    if kept.tail and kept.t1 == 1.0:
        out.append(Piece(k, Line(over.end, kept.tail), 1.0, 1.0))
    return out


def _foot(cells: Sequence[Cell], piece: Piece, t: float) -> float:
    return cells[piece.cell].foot(min(max(piece.t0 + (piece.t1 - piece.t0) * t, 0.0), 1.0))


def _cut(leg: list[Piece], low: tuple[int, float], high: tuple[int, float]) -> list[Piece]:
    out = []
    for i in range(low[0], high[0] + 1):
        p = leg[i]
        a, b = (low[1] if i == low[0] else 0.0), (high[1] if i == high[0] else 1.0)
        if b <= a:
            continue
        if (a, b) != (0.0, 1.0):
            at = [p.t0 + (p.t1 - p.t0) * x for x in (a, b)]
            p = Piece(p.cell, p.segment.part(a, b), *at)
        out.append(p)
    return out
