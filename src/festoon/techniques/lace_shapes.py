"""The strips of a lace band: which line each is laid on, and on which side of it. Not a technique itself."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from shapely import Geometry

from festoon.plane import Path, Pose, circle
from festoon.plane.segments import Point
from festoon.shaping.band import Band, Side, band
from festoon.shaping.ends import Ends, cut_off, seamed
from festoon.shaping.scallop import Drawn, diamond, loop, pointed_oval, scallop, vee
from festoon.shaping.set_out import Place, SetOut, set_out, strung
from festoon.techniques.closing import PARITY
from festoon.techniques.course import Course
from festoon.techniques.lace_words import PAIRED, REPEATED, LaceBand

MOST_BETWEEN = 0.9
"""The most of a repeat that its straight stretch may take (own choice)."""

LEAST_LOOP = 0.02
"""A loop is at least this share of its rise less wide than high, else the swag below it has no bottom (own choice)."""


@dataclass(frozen=True, eq=False)
class Drawing:
    """One band as it is drawn: what it is called, its line, and the side on which its strips lie, one beside the other.

    shift: mm by which the first heading is moved to the other side of the line, before the strips are laid. behind:
    one strip only, under all the others. ends: where and square to which the lace ends, as it does in a seam; None
    where it closes on the cloth or its ends are square to its own line.
    """

    name: str
    line: Path
    side: Side
    closes: bool
    shift: float = 0.0
    behind: bool = False
    ends: Ends | None = None


@dataclass(frozen=True, eq=False)
class Strip:
    """One strip of lace as it is laid, cut at its ends. number: 1 for the one next to the line that was drawn, of `of`
    strips. course and over: its headings, as `laid` names them. trouble: places (mm) where it cannot be laid so."""

    name: str
    laid: Band
    number: int
    of: int
    behind: bool
    course: Path
    over: Path
    region: Geometry
    trouble: tuple[Point, ...] = ()

    @property
    def innermost(self) -> bool:
        """Whether its course is the band's own edge, not butted to another strip."""
        return self.number == 1

    @property
    def outermost(self) -> bool:
        """Whether its other heading is the band's own edge."""
        return self.number == self.of


def repeats(words: LaceBand, course: Course) -> SetOut | None:
    """The element's repeats on its course; None where it runs along the line as it is. PieceError as set_out."""
    if words.shape not in REPEATED:
        return None
    return set_out(course.path, words.repeat, PARITY[words.centre])


def drawings(words: LaceBand, course: Course, places: tuple[Place, ...] = ()) -> tuple[Drawing, ...]:
    """What is drawn for the element along a course, the lowest first; its repeats at their places."""
    if words.shape not in REPEATED:
        return (_single(words, course.path, course.closes),)
    ends = None if course.path.closed else _ends(course.path)
    return (*_behind(words, course), *_repeated(words, places, course.closes, ends))


def without_behind(words: LaceBand, places: tuple[Place, ...]) -> tuple[Drawing, ...]:
    """Only what is shaped in repeats, on so many of them, its ends open."""
    return _repeated(words, places, closes=False, ends=None)


def strips(words: LaceBand, drawn: tuple[Drawing, ...]) -> tuple[Strip, ...]:
    """The strips of every drawing, each laid on the other heading of the one before it."""
    return tuple(strip for one in drawn for strip in _strips(words, one))


def middles(words: LaceBand, out: SetOut | None) -> tuple[Pose, ...]:
    """The middle of every repeat, turned with the line: of its chord, or of the loop."""
    if out is None:
        return ()
    if words.shape != "loops":
        return tuple(place.pose for place in out.places)
    down = _below(words) * (words.rise - loop_width(words) / 2)
    return tuple(place.pose.after(Pose(0.0, down)) for place in out.places)


def loop_width(words: LaceBand, across: float | None = None) -> float:
    """How wide the loops are made: as asked (or `across`), as long as that is less than their rise."""
    return min(words.across if across is None else across, words.rise * (1 - LEAST_LOOP))


def between(words: LaceBand, place: Place) -> float:
    """The straight stretch of a repeat, as long as asked where the repeat leaves it."""
    return min(words.between, MOST_BETWEEN * place.chord)


def height(words: LaceBand, place: Place) -> float:
    """How far one repeat reaches from its chord: its rise, or half a square or ring."""
    if words.shape in ("squares", "rings"):
        return (place.chord - between(words, place)) / 2
    return words.rise


def _repeated(words: LaceBand, places: tuple[Place, ...], closes: bool, ends: Ends | None) -> tuple[Drawing, ...]:
    if words.closed_pieces:
        return tuple(_piece(words, place, k) for k, place in enumerate(places, start=1))
    if words.shape in PAIRED:
        return (
            Drawing("upper band", _through(words, places, -1.0), "left", closes, ends=ends),
            Drawing("lower band", _through(words, places, 1.0), "right", closes, ends=ends),
        )
    return (_single(words, _through(words, places, _below(words)), closes, ends),)


def _single(words: LaceBand, line: Path, closes: bool, ends: Ends | None = None) -> Drawing:
    if words.lies == "middle":
        return Drawing("band", line, "left", closes, shift=words.total / 2, ends=ends)
    return Drawing("band", line, "left" if words.lies == "above" else "right", closes, ends=ends)


def _through(words: LaceBand, places: tuple[Place, ...], below: float) -> Path:
    """The line of a band that runs on from repeat to repeat; `below`: 1 for rounds below the line, -1 above it."""
    one = _one(words, below)
    return strung([one(place) for place in places], places)


def _one(words: LaceBand, below: float) -> Callable[[Place], Drawn]:
    if words.shape in ("scallops", "pointed ovals"):
        return lambda place: scallop(place.chord, below * words.rise, between(words, place))
    if words.shape == "loops":
        return lambda place: loop(place.chord, below * words.rise, loop_width(words))
    return lambda place: vee(place.chord, below * height(words, place), between(words, place))


def _piece(words: LaceBand, place: Place, number: int) -> Drawing:
    """A closed piece, drawn clockwise, its lace inside."""
    across = place.chord - between(words, place)
    if words.shape == "rings":
        name, path = "ring", circle((0.0, 0.0), across / 2)
    elif words.shape == "pointed ovals":
        name, path = "oval", pointed_oval(across, words.rise)
    else:
        name = "square" if words.shape == "squares" else "diamond"
        path = diamond(across, height(words, place))
    return Drawing(f"{name} {number}", path.placed(place.pose), "right", True)


def _behind(words: LaceBand, course: Course) -> tuple[Drawing, ...]:
    if not words.behind or words.shape not in (*PAIRED, "rings"):
        return ()
    return (Drawing("strip behind", course.path, "left", course.closes, shift=words.width / 2, behind=True),)


def _strips(words: LaceBand, one: Drawing) -> tuple[Strip, ...]:
    course = seamed(one.line, one.ends, *_reach(words, one)) if one.ends else one.line
    trouble: tuple[Point, ...] = ()
    if one.shift:
        moved = band(course, one.shift, "right" if one.side == "left" else "left", one.closes)
        course, trouble = moved.over, moved.trouble
    of = 1 if one.behind else words.strips
    out: list[Strip] = []
    for number in range(1, of + 1):
        laid = band(course, words.width, one.side, one.closes)
        trouble = (*trouble, *laid.trouble)
        cut = cut_off(laid, one.ends) if one.ends else (laid.course, laid.over, laid.region)
        out.append(Strip(one.name, laid, number, of, one.behind, *cut, trouble))
        course = laid.over
    return tuple(out)


def _reach(words: LaceBand, one: Drawing) -> tuple[float, float]:
    """From how far to how far to the right of its line the lace of a drawing lies, mm."""
    side = 1.0 if one.side == "right" else -1.0
    return -side * one.shift, side * (words.total - one.shift)


def _ends(path: Path) -> Ends:
    """The ends of a line, each square to it."""
    s = [0.0, path.length]
    first, last = (Pose(x, y, turn) for (x, y), turn in zip(path.points(s).tolist(), path.turns(s), strict=True))
    return first, last


def _below(words: LaceBand) -> float:
    return 1.0 if words.rounds == "below" else -1.0
