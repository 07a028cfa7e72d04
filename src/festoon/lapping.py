"""Ends of joins and overlaps at cuts, lengthened just so far that separately hooped parts meet.

Nothing is ever shortened, and no lengthening is kept that does not help, or that makes anything else worse.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal, Protocol, TypeVar

import numpy as np
import shapely

from festoon.errors import FestoonError
from festoon.hooping import Division
from festoon.hooping.words import listed, number_word
from festoon.layout import Layout
from festoon.measure import MM_PER_INCH, Units
from festoon.piece import Piece
from festoon.piece.model import MOST_OVERLAP
from festoon.proof import Meeting, Proof
from festoon.proof.meeting import GAP_SELDOM, HIDDEN, gap_finding, lacking, running_on
from festoon.proof.words import fine
from festoon.stitches.outline import THREAD_WIDTH
from festoon.techniques import ElementBase, technique_of
from festoon.work import Finding

Lap = Literal["drawn", "enough"]
"""How far parts run over each other: as the piece file says, or lengthened where that is too little."""

ROUNDS = 8
"""Rounds for each thing that may be lengthened; two are usual (ours)."""

HELPS = 0.25
"""Share of what is lacking that a lengthening must bring: an end that runs in at a corner wins half at first, and one
that has no more motif before it wins nothing (ours)."""

STEP: dict[Units, float] = {"mm": 0.1, "inch": 0.005 * MM_PER_INCH}
"""mm; lengths are raised to the next of these, so that what is told is what is sewn."""

AT_CUTS = ""
"""Stands for the overlap at cuts where else the name of an element stands."""


class Proved(Protocol):
    """A piece laid out, divided and proved."""

    @property
    def layout(self) -> Layout:
        """The piece laid out; it holds the piece itself."""

    @property
    def division(self) -> Division:
        """The piece divided."""

    @property
    def proof(self) -> Proof:
        """What was found."""


P = TypeVar("P", bound=Proved)


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that was lengthened, and the meeting that lacked most.

    element: whose ends run on farther; AT_CUTS for the overlap at cuts. length: what it is called, 'Join "stem": tuck',
    and word: in the piece file. before and after: mm. parts: the two that meet; gap_before and gap_after: the chance of
    a gap between them. hoopings: the numbers of those that sew them; None where one now sews both.
    """

    element: str
    length: str
    word: str
    before: float
    after: float
    parts: tuple[str, str]
    hoopings: tuple[int, int] | None
    gap_before: float
    gap_after: float


@dataclass(frozen=True, slots=True)
class Left:
    """One thing that was left as it is though parts may miss each other.

    element and length: as in Change; at: mm, as it is; to: mm, what was tried; why: what spoke against it, a clause.
    """

    element: str
    length: str
    at: float
    to: float
    why: str


@dataclass(frozen=True, slots=True)
class Lapping:
    """What was lengthened, and what was left, both in the order of the file; the overlap at cuts stands last."""

    changes: tuple[Change, ...]
    left: tuple[Left, ...]


@dataclass(frozen=True, eq=False)
class _Want:
    """That a length (named as in Change) should grow to `to` mm for the sake of these meetings."""

    element: str
    to: float
    meetings: tuple[Meeting, ...]


def lapped(found: P, proved: Callable[[Piece], P]) -> tuple[P, Lapping]:
    """The piece with ends that run on (a join's tuck) and the overlap at cuts long enough, and what was lengthened.

    Each grows just so far that a gap at every meeting that it may help comes with a chance of no more than GAP_SELDOM.
    `proved` lays out, divides and proves a piece, and `found` is what it gives for the piece as drawn. An element has
    one such length, so the end that lacks most says how long it is. Left as they are: meetings side by side, ends that
    lengthening does not help by HELPS, and every lengthening after which more would be amiss with the parts, or there
    would be another hooping, another part divided, or a bare end.
    """
    now, cause, left = found, dict[str, Meeting](), dict[str, tuple[float, str]]()
    aside: tuple[Meeting, ...] = ()
    together, vain = True, 0.0
    for _ in range(ROUNDS * len(_names(found.layout.piece))):
        wants = _wanted(now, aside, vain)
        if not wants:
            break
        some = wants if together else wants[:1]
        raised = _raised(now, some, proved)
        if isinstance(raised, str) and len(some) > 1:
            together = False
            continue
        together = together or isinstance(raised, str)
        stuck = _stuck(some, raised)
        rows = next((w.to for w in some if not isinstance(raised, str) and _needs_a_row(w, stuck)), None)
        if rows is not None:
            vain = rows
            continue
        if isinstance(raised, str) or stuck:
            why = raised if isinstance(raised, str) else "brings it hardly any farther over what it meets"
            left |= {want.element: (want.to, why) for want in some if any(m in stuck for m in want.meetings)}
            aside = (*aside, *stuck)
            continue
        aside = tuple(n for m in aside if (n := same(m, raised.proof.meetings)))
        cause = {want.element: max(want.meetings, key=lacking) for want in some} | cause
        now = raised
    names, wanting = _names(found.layout.piece), {want.element for want in _wanted(now, (), 0.0)}
    changes = tuple(_change(n, cause[n], found, now) for n in names if n in cause)
    piece = now.layout.piece
    kept = tuple(Left(n, _called(piece, n), _length(piece, n), *left[n]) for n in names if n in left and n in wanting)
    return now, Lapping(changes, kept)


def told(lapping: Lapping, units: Units) -> tuple[str, ...]:
    """A sentence for everything that was lengthened or left, and one on how to keep what was lengthened.

    'Join "stem": tuck 3 mm to 3.8 mm, so that hoopings 2 and 5 meet: chance of a gap 12 % to 4.0 %.'
    """
    if not lapping.changes and not lapping.left:
        return ("Nothing had to be lengthened.",)
    changes = (_told(change, units) for change in lapping.changes)
    left = (
        f"{each.length} left at {fine(each.at, units, 2)}; {fine(each.to, units, 2)} {each.why}."
        for each in lapping.left
    )
    return (*changes, *left, *_kept(lapping.changes, units))


def _called(piece: Piece, name: str) -> str:
    if name == AT_CUTS:
        return "Overlap at cuts:"
    return f'{_element(piece, name).kind.capitalize()} "{name}": {_word(piece, name)}'


def _told(change: Change, units: Units) -> str:
    grown = f"{change.length} {fine(change.before, units, 2)} to {fine(change.after, units, 2)}"
    if change.hoopings is None:
        return f"{grown}; one hooping now sews {listed(list(dict.fromkeys(change.parts)))}."
    first, second = change.hoopings
    chances = f"{_percent(change.gap_before)} to {_percent(change.gap_after)}"
    meet = "meet" if change.gap_after <= GAP_SELDOM else "are likelier to meet"
    return f"{grown}, so that hoopings {first} and {second} {meet}: chance of a gap {chances}."


def _kept(changes: Sequence[Change], units: Units) -> tuple[str, ...]:
    words = [
        f'{c.word} = {_written(c.after, units)} in "{c.element}"'
        if c.element
        else f"overlap = {_written(c.after, units)} under [hooping]"
        for c in changes
    ]
    return (f"piece.toml stays as it was. To have this in it, write {listed(words)}.",) if words else ()


def lengthened(lapping: Lapping) -> list[dict[str, Any]]:
    """What was lengthened, for the record (docs/records.md); lengths in mm, rounded to 0.001."""
    return [
        {
            "element": c.element or None,
            "word": c.word,
            "from": round(c.before, 3),
            "to": round(c.after, 3),
        }
        for c in lapping.changes
    ]


def same(met: Meeting, meetings: Iterable[Meeting]) -> Meeting | None:
    """The meeting of the same parts nearest to that place; None where they meet no more in two hoopings."""
    alike = (m for m in meetings if m.panel == met.panel and sorted(m.parts) == sorted(met.parts))
    return min(alike, key=lambda m: math.dist(m.at, met.at), default=None)


def _wanted(found: Proved, aside: Sequence[Meeting], vain: float) -> list[_Want]:
    """What should grow, in the order of the file and the overlap at cuts last; but not for meetings put aside.

    vain: mm, an overlap at cuts that was tried and did not help.
    """
    piece, by = found.layout.piece, dict[str, list[Meeting]]()
    for met in found.proof.meetings:
        name = _lengthens(met, found.layout)
        if name is not None and met.gap_chance > GAP_SELDOM and not any(met is other for other in aside):
            by.setdefault(name, []).append(met)
    wants = [_want(n, by[n], piece, vain) for n in _names(piece) if n in by]
    return [w for w in wants if w.to > _length(piece, w.element)]


def _names(piece: Piece) -> tuple[str, ...]:
    """The elements in the order of the file, and the overlap at cuts last."""
    return (*(e.name for e in piece.file.element), AT_CUTS)


def _lengthens(met: Meeting, layout: Layout) -> str | None:
    """What a longer lap here is a matter of: the name of an element, or AT_CUTS; None where nothing lengthens it."""
    if met.kind == "cut":
        return AT_CUTS
    element = running_on(met, layout)
    return None if element is None else element.name


def _want(name: str, meetings: Sequence[Meeting], piece: Piece, vain: float) -> _Want:
    """The length that is enough for all of the meetings."""
    more = max(lacking(m) for m in meetings)
    if name:
        return _Want(name, _up(_length(piece, name) + more, piece), tuple(meetings))
    return _Want(name, min(MOST_OVERLAP, _up(max(_length(piece, name), vain) + more, piece)), tuple(meetings))


def _needs_a_row(want: _Want, stuck: Sequence[Meeting]) -> bool:
    """Whether an overlap at cuts that did not help may still help when it is longer.

    Whole rows are shared there, so it may have to grow by one before anything does; what is shared is longer than the
    overlap by the thread's own width.
    """
    asked = max((m.lap_wanted for m in stuck if m.kind == "cut"), default=0.0) - THREAD_WIDTH / 2
    return want.element == AT_CUTS and want.to < min(asked, MOST_OVERLAP)


def _up(mm: float, piece: Piece) -> float:
    step = STEP[piece.file.piece.units]
    return round(math.ceil(round(mm / step, 6)) * step, 4)


def _length(piece: Piece, name: str) -> float:
    return float(getattr(piece.file.hooping if name == AT_CUTS else _element(piece, name), _word(piece, name)))


def _word(piece: Piece, name: str) -> str:
    """The piece file's word for a length (named as in Change)."""
    return "overlap" if name == AT_CUTS else _run_on(_element(piece, name)) or ""


def _element(piece: Piece, name: str) -> Any:
    return next(e for e in piece.file.element if e.name == name)


def _run_on(element: ElementBase) -> str | None:
    return technique_of(element).run_on(element)


def with_lengths(piece: Piece, to: Mapping[str, float]) -> Piece:
    """The piece with other lengths, mm, by the name of the element whose ends run on, or AT_CUTS."""
    elements = tuple(
        e.model_copy(update={_word(piece, e.name): to[e.name]}) if e.name in to else e for e in piece.file.element
    )
    hooping = piece.file.hooping.model_copy(update={"overlap": to.get(AT_CUTS, piece.file.hooping.overlap)})
    return replace(piece, file=piece.file.model_copy(update={"element": elements, "hooping": hooping}))


def _raised(now: P, wants: Sequence[_Want], proved: Callable[[Piece], P]) -> P | str:
    """The piece so lengthened and proved; where that cannot be or makes anything worse, what is against it."""
    try:
        raised = proved(with_lengths(now.layout.piece, {want.element: want.to for want in wants}))
    except FestoonError as error:
        return f"would not do: {error.what.rstrip('.')}"
    if raised.division.count > now.division.count:
        return f"would take {number_word(raised.division.count)} hoopings"
    cut = [name for name in _divided(raised.division) if name not in _divided(now.division)]
    if cut:
        return f"would have {listed(cut)} divided"
    more = _amiss(raised) - _amiss(now)
    if more:
        known = {f.where for f in now.proof.findings}
        worse = min((f for f in raised.proof.findings if _key(f) in more), key=lambda f: f.where in known)
        return f"would bring another finding, {worse.where}: {worse.reason.rstrip('.')}"
    return "would bring an end out on bare cloth" if _bare_ends(raised.layout) - _bare_ends(now.layout) else raised


def _divided(division: Division) -> tuple[str, ...]:
    """The parts that are cut, in the order of sewing."""
    return tuple(dict.fromkeys(b.part for h in division.hoopings for b in h.blocks if b.piece))


def _stuck(wants: Iterable[_Want], raised: Proved | str) -> tuple[Meeting, ...]:
    """The meetings that this does not help; all of them where it cannot be."""
    meetings = (m for want in wants for m in want.meetings)
    return tuple(m for m in meetings if isinstance(raised, str) or not _helped(m, same(m, raised.proof.meetings)))


def _helped(met: Meeting, after: Meeting | None) -> bool:
    return after is None or after.gap_chance <= GAP_SELDOM or after.lap - met.lap >= HELPS * lacking(met)


def _amiss(found: Proved) -> Counter[tuple[str, ...]]:
    """How much will not work, and where to look again at parts, by each rule.

    Gaps that lengthening may close yet do not count, nor does what concerns only where the hoop lies.
    """
    gaps = {gap_finding(m, found.layout) for m in found.proof.meetings if _lengthens(m, found.layout) is not None}
    rest = (f for f in found.proof.findings if f.verdict == "will not work" or (f.elements and f not in gaps))
    return Counter(_key(f) for f in rest)


def _key(finding: Finding) -> tuple[str, ...]:
    """By which rule it is amiss, wherever and with which parts: both may change as the division does."""
    return (finding.verdict, finding.limit, finding.source)


def _bare_ends(layout: Layout) -> Counter[str]:
    """How many ends that run on come out where nothing else is stitched, by more than HIDDEN, for each element."""
    running = {e.name for e in layout.piece.file.element if _run_on(e) is not None}
    bare = Counter[str]()
    for work in (w for w in layout.works if w.element in running):
        others = np.array([p.region for p in layout.parts(work.panel) if p.element != work.element], dtype=object)
        tips = shapely.points(np.concatenate([line.points[[0, -1]] for line in work.lines]))
        covered = shapely.dwithin(tips[:, None], others[None, :], HIDDEN).any(axis=1)
        bare[work.element] += int((~covered).sum())
    return bare


def _change(name: str, met: Meeting, found: Proved, now: Proved) -> Change:
    after = same(met, now.proof.meetings)
    return Change(
        element=name,
        length=_called(found.layout.piece, name),
        word=_word(found.layout.piece, name),
        before=_length(found.layout.piece, name),
        after=_length(now.layout.piece, name),
        parts=met.parts,
        hoopings=None if after is None else (after.first, after.second),
        gap_before=met.gap_chance,
        gap_after=0.0 if after is None else after.gap_chance,
    )


def _percent(chance: float) -> str:
    """Whole per cents; below ten, tenths."""
    percent = 100 * chance
    if percent < 0.1:
        return "under 0.1 %"
    return f"{percent:.0f} %" if percent >= 9.95 else f"{percent:.1f} %"


def _written(mm: float, units: Units) -> str:
    return f"{mm:g}" if units == "mm" else f'"{fine(mm, units)}"'
