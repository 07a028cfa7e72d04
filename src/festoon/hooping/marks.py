"""Where the crosses stand that place the hoopings of one panel.

Crosses stand on bare cloth inside the field, at whole millimetres, where the placing error they lead to is least; two
hoopings use the same cross where that costs neither of them much, since an error they share opens no gap.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Geometry, Polygon, union_all

from festoon.errors import HoopingError
from festoon.hooping.values import Hooping, Mark
from festoon.plane.pose import Points, Pose

Indices = NDArray[np.intp]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Codes = NDArray[np.int64]

ARM = 4.0
"""mm from the middle of a cross to the end of its arms, which stay inside the field (common practice)."""
FROM_CUT_EDGE = 5.0
"""mm from a cross to the cloth's cut edge at least (common practice)."""
FROM_STITCHING = 3.0
"""mm from a cross to stitching that already lies there, at least (common practice)."""
LATTICES = (10, 5, 1)
"""mm between the places a cross may take, coarsest first: whole numbers are quick to measure (own choice)."""
APART = 25.0
"""mm between two crosses of one hooping at least, unless there is no other place (own choice)."""
MOST = 4
"""Crosses of one hooping at most (own choice)."""
CROSSES_APART = 10.0
"""mm between any two crosses of the panel at least: nearer ones run into each other (own choice)."""
COARSE_COSTS = 1.1
"""A coarser lattice, and cloth that stays bare, are kept until giving them up lowers the rms error by this factor
(own choice)."""
SHARING_COSTS = 1.05
"""A neighbour's cross is used where it raises the rms error by no more than this factor (own choice)."""

_LOOSENED = 0.2  # mm by which outlines are simplified before they are widened
_STARTS = 8  # turns of each kind of first guess
_MANY = 1000  # from here on only the rim of the bare cloth is searched
_ROUNDED = 12  # decimals at which two losses count as equal
_REMEMBERED = 64  # widened regions: a piece is divided with and without what the worker laid


@dataclass(frozen=True, eq=False)
class Framed:
    """A hooping that wants marks.

    field carries hoop axes to the panel, size is the field's width and height (mm), holes (n, 2) the penetrations on
    the panel, n at least 1, region the area they cover there, and order its place in the order of sewing.
    """

    field: Pose
    size: tuple[float, float]
    holes: Points
    region: Geometry
    order: int


@dataclass(frozen=True, eq=False)
class _Chosen:
    """One hooping's crosses so far: indices `at` into its `places` (n, 2), whose codes are `codes`.

    best is the least mean TRE²/FLE² found for it; middle (2,) and variance sum up its holes.
    """

    places: Points
    codes: Codes
    at: Indices
    apart: float
    best: float
    middle: Points
    variance: float

    @property
    def crosses(self) -> Points:
        return self.places[self.at]

    @property
    def used(self) -> Codes:
        return self.codes[self.at]


def choose_marks(hoopings: Sequence[Framed], cloth: Polygon, most: int = MOST) -> list[tuple[Mark, ...]]:
    """The marks of every hooping of one panel, in the order given; a shared cross is the same Mark.

    Each hooping gets up to `most` (2 to 4) crosses, whole inside its field, FROM_CUT_EDGE inside `cloth` and
    FROM_STITCHING clear of what any earlier hooping sewed, where the mean of TRE² over its holes is least
    (the trace of `registration.target_covariance`; it grows with FLE² alone, so the places do not depend on it). Names
    run from 'A' in the order of sewing. HoopingError where fewer than two crosses find room.
    """
    if not 2 <= most <= MOST:
        raise ValueError(f"a hooping takes 2 to {MOST} marks, not {most}")
    ground = _Ground.of(hoopings, cloth)
    turns = sorted(range(len(hoopings)), key=lambda k: hoopings[k].order)
    chosen: list[_Chosen] = []
    taken = np.zeros((0, 2))
    for k in turns:
        chosen.append(_choose(hoopings[k], ground, taken, most))
        taken = np.unique(np.concatenate([taken, chosen[-1].crosses]), axis=0)
    marks = dict(zip(turns, _named(_shared(chosen)), strict=True))
    return [marks[k] for k in range(len(hoopings))]


def free_places(hoopings: Sequence[Hooping], cloth: Polygon, wanted: Collection[int]) -> dict[int, Points]:
    """For each of the `wanted` numbers of one panel's hoopings, the places (n, 2) where a cross of it may stand.

    They are chosen as by `choose_marks`, but whatever other crosses there are: of the sets of places that it tries, the
    first that holds all crosses which the hooping has, else the first that holds any; of many places only the rim.
    """
    framed = [
        Framed(h.field, h.hoop.field, h.stitching.holes, union_all([b.region for b in h.blocks]), h.number)
        for h in hoopings
    ]
    ground = _Ground.of(framed, cloth)
    return {h.number: _held(f, ground, h.marks) for h, f in zip(hoopings, framed, strict=True) if h.number in wanted}


def _held(hooping: Framed, ground: _Ground, marks: Sequence[Mark]) -> Points:
    crosses = np.array([m.at for m in marks])
    first = crosses
    for places in _grounds(hooping, ground, np.zeros((0, 2))):
        if not len(places):
            continue
        if (_squares(crosses, places) == 0).any(axis=1).all():
            first = places
            break
        first = places if first is crosses else first
    return first[_rim(first)] if len(first) > _MANY else first


@dataclass(frozen=True, eq=False)
class _Ground:
    """The cloth that crosses may stand on, and what each hooping covers of it, latest first."""

    inner: Geometry
    covers: tuple[tuple[int, Geometry, tuple[float, float, float, float]], ...]

    @staticmethod
    def of(hoopings: Sequence[Framed], cloth: Polygon) -> _Ground:
        latest_first = sorted((h for h in hoopings if not h.region.is_empty), key=lambda h: -h.order)
        shapes = [_widened(h.region) for h in latest_first]
        covers = tuple((h.order, shape, shape.bounds) for h, shape in zip(latest_first, shapes, strict=True))
        inner = shapely.buffer(cloth, -FROM_CUT_EDGE, join_style="mitre")
        shapely.prepare([inner, *shapes])
        return _Ground(inner, covers)

    def first_covered(self, points: Points) -> Floats:
        """(n,) order of the first hooping that sews at each point; infinite where none does."""
        first = np.full(len(points), np.inf)
        x, y = points.T
        for order, shape, (left, top, right, bottom) in self.covers:
            within = np.flatnonzero((x >= left) & (x <= right) & (y >= top) & (y <= bottom))
            first[within[shapely.intersects_xy(shape, x[within], y[within])]] = order
        return first


@functools.lru_cache(maxsize=_REMEMBERED)
def _widened(region: Geometry) -> Geometry:
    """The region and all within FROM_STITCHING of it; never less, by up to 0.5 mm more."""
    return shapely.buffer(shapely.simplify(region, _LOOSENED), FROM_STITCHING + _LOOSENED + 0.05, quad_segs=8)


def _lattice(hooping: Framed, step: int) -> Points:
    """The points (n, 2) of the panel's lattice on which a whole cross lies in the field; rows from the top."""
    w, h = hooping.size
    reach = np.array([w / 2 - ARM, h / 2 - ARM])
    if reach.min() < 0:
        return np.zeros((0, 2))
    corners = hooping.field.apply(reach * [[-1, -1], [1, -1], [1, 1], [-1, 1]])
    low, high = np.ceil(corners.min(axis=0) / step - 1e-9), np.floor(corners.max(axis=0) / step + 1e-9)
    y, x = np.meshgrid(*(np.arange(low[k], high[k] + 1) * step for k in (1, 0)), indexing="ij")
    points = np.stack([x.ravel(), y.ravel()], axis=1)
    return points[(np.abs(hooping.field.inverse().apply(points)) <= reach + 1e-9).all(axis=1)]


def _grounds(hooping: Framed, ground: _Ground, taken: Points) -> Iterator[Points]:
    """Sets of places to choose from, the ones liked best first: bare for good on ever finer lattices, then bare now."""
    finer: list[tuple[Points, Floats]] = []
    for step in LATTICES:
        points = _lattice(hooping, step)
        points = points[shapely.intersects_xy(ground.inner, *points.T)]
        points = points[~crowded(points, taken)]
        finer.append((points, ground.first_covered(points)))
        yield points[np.isinf(finer[-1][1])]
    for points, covered in finer:
        if np.isfinite(covered).any():
            yield points[covered >= hooping.order]


def crowded(points: Points, crosses: Points) -> Bools:
    """(n,) whether each of points (n, 2) runs into one of crosses (k, 2) that it does not coincide with."""
    if not len(points):
        return np.zeros(0, dtype=bool)
    low, high = points.min(axis=0) - CROSSES_APART, points.max(axis=0) + CROSSES_APART
    d = _squares(points, crosses[((crosses > low) & (crosses < high)).all(axis=1)])
    return np.asarray(((d > 0) & (d < CROSSES_APART**2)).any(axis=1))


def _choose(hooping: Framed, ground: _Ground, taken: Points, most: int) -> _Chosen:
    """The hooping's best crosses, as if it were alone on the cloth but for not running into `taken`."""
    found: _Chosen | None = None
    middle, variance = _holes(hooping)
    w, h = hooping.size
    reach = max(math.hypot(w / 2 - ARM, h / 2 - ARM), ARM)
    least = (1 + variance / (2 * reach**2)) / most  # no crosses in this field do better
    for apart in (APART, CROSSES_APART):
        for places in _grounds(hooping, ground, taken):
            result = _best(places, middle, variance, most, apart)
            if result is not None and (found is None or result[1] * COARSE_COSTS**2 < found.best):
                found = _Chosen(places, _codes(places), result[0], apart, result[1], middle, variance)
                if found.best <= COARSE_COSTS**2 * least:
                    return found
        if found is not None:
            return found
    raise HoopingError(
        f"no two crosses find room on bare cloth in this field of {w:g} × {h:g} mm: what is sewn before covers it, or "
        "the cloth ends.",
        where=f"hooping {hooping.order + 1}",
        remedy="Choose a larger hoop, or leave bare cloth between the elements there.",
    )


def _holes(hooping: Framed) -> tuple[Points, float]:
    """Centroid (2,) of the holes and their mean squared distance from it: all that the choice needs of them."""
    middle = hooping.holes.mean(axis=0)
    return middle, float(((hooping.holes - middle) ** 2).sum(axis=1).mean())


def _best(places: Points, middle: Points, variance: float, most: int, apart: float) -> tuple[Indices, float] | None:
    """Indices of the best crosses among places (n, 2), as many as `most` if they fit, and mean TRE²/FLE².

    First guesses that look outwards, each then bettered one cross at a time until none can be. None where not even
    two stand `apart` mm from each other.
    """
    kept = _rim(places) if len(places) > _MANY else np.arange(len(places))
    points = places[kept] - middle
    for count in range(most, 1, -1):
        sets = _guesses(points, count, apart)
        if len(sets):
            sets, losses = _bettered(points, sets, variance, apart)
            first = int(np.argmin(losses))
            at: Indices = kept[np.sort(sets[first])]
            return at, float(losses[first])
    return None


def _guesses(points: Points, count: int, apart: float) -> Indices:
    """(b, count) sets of points far out and `apart` from each other, all round or at two opposite ends; b may be 0."""
    slots, starts = np.arange(count), np.arange(_STARTS)[:, None] / _STARTS
    turn = 2 * math.pi * np.concatenate([(slots + starts) / count, starts + slots % 2 / 2])
    outward = np.stack([np.cos(turn), np.sin(turn)], axis=-1) @ points.T
    free = np.ones((len(turn), len(points)), dtype=bool)
    sets = np.zeros((len(turn), count), dtype=np.intp)
    whole = np.full(len(turn), len(points) > 0)
    for slot in range(count):
        if not whole.any():
            break
        sets[:, slot] = np.argmax(np.where(free, np.round(outward[:, slot], _ROUNDED), -np.inf), axis=1)
        free &= _squares(points[sets[:, slot]], points) >= apart**2
        whole &= free.any(axis=1) | (slot == count - 1)
    complete: Indices = sets[whole]
    return complete


def _bettered(points: Points, sets: Indices, variance: float, apart: float) -> tuple[Indices, Floats]:
    """The sets (b, k) after exchanging one point at a time for the best, until none is better; their losses (b,)."""
    sets = sets.copy()
    count = sets.shape[1]
    row = np.arange(len(sets))
    losses = np.full(len(sets), np.inf)
    while True:
        before = losses.copy()
        for slot in range(count):
            others = points[np.delete(sets, slot, axis=1)]
            trial = _losses(others, points, variance, apart)
            best = np.argmin(trial, axis=1)
            sets[:, slot] = np.where(trial[row, best] < losses, best, sets[:, slot])
            losses = np.minimum(trial[row, best], losses)
        if (losses == before).all():
            return sets, losses


def _losses(others: Points, points: Points, variance: float, apart: float) -> Floats:
    """(b, n) mean TRE²/FLE² of each set of others (b, k - 1, 2) with each of points (n, 2) added.

    Coordinates from the holes' centroid. With c the crosses' centroid and S = k·f² the sum of their squares about
    it, the mean of 1/k·(1 + d²/(2·f²)) over the holes is 1/k + (variance + |c|²)/(2·S). Infinite where the point
    stands less than `apart` from one of the others.
    """
    count = others.shape[1] + 1
    near = (_squares(others.reshape(-1, 2), points).reshape(*others.shape[:2], -1) < apart**2).any(axis=1)
    middle = ((others.sum(axis=1)[:, None] + points) ** 2).sum(axis=-1) / count**2
    spread = (others**2).sum(axis=(1, 2))[:, None] + (points**2).sum(axis=1) - count * middle
    loss = 1 / count + (variance + middle) / (2 * np.where(near, 1.0, spread))
    losses: Floats = np.where(near, np.inf, np.round(loss, _ROUNDED))
    return losses


def _squares(a: Points, b: Points) -> Floats:
    """(m, n) squared distances between points (m, 2) and (n, 2)."""
    return np.asarray((a[:, None, 0] - b[:, 0]) ** 2 + (a[:, None, 1] - b[:, 1]) ** 2)


def _rim(places: Points) -> Indices:
    """Indices of places that lack a neighbour 1 mm away: further in, moving outwards always does better."""
    codes = _codes(places)
    inside: Bools = np.ones(len(places), dtype=bool)
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        inside &= np.isin(_codes(places + np.array([dx, dy])), codes, assume_unique=True)
    rim: Indices = np.flatnonzero(~inside)
    return rim


def _codes(places: Points) -> Codes:
    """(n,) one whole number for each place of whole millimetres, rising from row to row."""
    x, y = np.rint(places).astype(np.int64).T
    codes: Codes = (y << 24) + x
    return codes


def _shared(chosen: list[_Chosen]) -> list[_Chosen]:
    """The same hoopings with as many crosses in common as SHARING_COSTS allows, pair by pair in sewing order."""
    now = list(chosen)
    for j in range(len(now)):
        for i in range(j):
            if _apart_in_space(now[i].places, now[j].places):
                continue
            common = np.intersect1d(now[i].codes, now[j].codes, assume_unique=True)
            while len(common) and (pair := _share_one(now, i, j, common)) is not None:
                now[i], now[j] = pair
    return now


def _apart_in_space(a: Points, b: Points) -> bool:
    return bool((a.max(axis=0) < b.min(axis=0)).any() or (b.max(axis=0) < a.min(axis=0)).any())


def _share_one(now: list[_Chosen], i: int, j: int, common: Codes) -> tuple[_Chosen, _Chosen] | None:
    """Hoopings i and j with one more cross in common, the one that costs them least; None where none is cheap."""
    rest = np.concatenate([c.crosses for k, c in enumerate(now) if k not in (i, j)] or [np.zeros((0, 2))])
    places = now[i].places[np.searchsorted(now[i].codes, common)]
    (cost_i, slot_i), (cost_j, slot_j) = (_costs(now, k, common, places) for k in (i, j))
    already = np.isin(common, now[i].used) & np.isin(common, now[j].used)
    dear = already | (np.maximum(cost_i, cost_j) > SHARING_COSTS**2) | crowded(places, rest)
    if dear.all():
        return None
    p = int(np.argmin(np.where(dear, np.inf, np.round(cost_i + cost_j, _ROUNDED))))
    return _moved(now[i], int(slot_i[p]), int(common[p])), _moved(now[j], int(slot_j[p]), int(common[p]))


def _costs(now: list[_Chosen], k: int, common: Codes, places: Points) -> tuple[Floats, Indices]:
    """For each common place, mean TRE² over the least possible once hooping k uses it, and the cross it replaces.

    A cross that another hooping uses too stays where it is; a place where the hooping already has one costs nothing.
    """
    own = now[k]
    elsewhere = np.concatenate([c.used for n, c in enumerate(now) if n != k])
    crosses = own.crosses - own.middle
    count = len(crosses)
    others = np.stack([np.delete(crosses, slot, axis=0) for slot in range(count)])
    losses = _losses(others, places - own.middle, own.variance, own.apart)
    losses[np.isin(own.used, elsewhere)] = np.inf
    present = own.used[:, None] == common
    held = float(_losses(others[:1], crosses[:1], own.variance, own.apart)[0, 0])
    losses = np.where(present.any(axis=0), np.where(present, held, np.inf), losses)
    return losses.min(axis=0) / own.best, losses.argmin(axis=0)


def _moved(own: _Chosen, slot: int, code: int) -> _Chosen:
    at = own.at.copy()
    at[slot] = np.searchsorted(own.codes, code)
    return replace(own, at=np.sort(at))


def _named(chosen: list[_Chosen]) -> list[tuple[Mark, ...]]:
    """Marks named in the order in which the hoopings first use them, from the top of each field down."""
    names: dict[tuple[float, float], Mark] = {}
    marks = []
    for one in chosen:
        spots = [(float(x), float(y)) for x, y in one.crosses]
        for spot in spots:
            names.setdefault(spot, Mark(letters(len(names)), spot))
        marks.append(tuple(names[spot] for spot in spots))
    return marks


def letters(number: int) -> str:
    """Letters that count 0, 1, 2, ...

    >>> [letters(i) for i in (0, 1, 25, 26, 701, 702)]
    ['A', 'B', 'Z', 'AA', 'ZZ', 'AAA']
    """
    more, last = divmod(number, 26)
    return (letters(more - 1) if more else "") + chr(ord("A") + last)
