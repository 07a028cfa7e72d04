"""A lace band in figures: its headings, what is drawn up where, and what it takes. Not a technique itself."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator

from shapely import Polygon

from festoon.measure import Units, fine, show_length
from festoon.plane import Path
from festoon.shaping.band import radius_limit
from festoon.shaping.set_out import SetOut
from festoon.techniques.fastening import supply
from festoon.techniques.lace_shapes import Strip
from festoon.techniques.lace_sheet import FINE, size
from festoon.techniques.lace_told import Made
from festoon.techniques.lace_words import PAIRED, LaceBand
from festoon.work.values import Figure, Supply, Template

MARGIN = 20.0
"""mm of stabiliser beyond what is traced on it. Common practice."""

STRETCHES = 6
"""The most stretches of a strip whose drawing up is told one by one (own choice)."""

SORTS = 4
"""The most sorts of strip that are told in sentences; the figures tell all (own choice)."""


def cut_length(words: LaceBand, strip: Strip) -> float:
    """The lace to cut for one strip, mm: the longer heading everywhere, what the mitres fold away, an allowance at both
    ends, and where it closes in a seam up to one repeat of its pattern, to match it."""
    return strip.laid.strip_length + 2 * words.allowance + (words.pattern if strip.laid.closes else 0.0)


def sides(strip: Strip) -> tuple[str, str]:
    """What the traced heading and the other are called: outer and inner of a closed piece, else lower and upper."""
    if strip.course.closed:
        return ("outer", "inner") if _area(strip.course) >= _area(strip.over) else ("inner", "outer")
    return ("lower", "upper") if strip.laid.side == "left" else ("upper", "lower")


def sorts(made: Iterable[Strip]) -> list[tuple[Strip, int]]:
    """One of every sort of strip, with how many there are: closed pieces of one size are one sort."""
    found: dict[tuple[object, ...], list[Strip]] = {}
    for strip in made:
        sort = strip.name.rstrip("0123456789"), strip.number, strip.behind, round(strip.laid.strip_length, 1)
        found.setdefault(sort, []).append(strip)
    return [(group[0], len(group)) for group in found.values()]


def figures(
    words: LaceBand, out: SetOut | None, made: tuple[Strip, ...], state: Made, units: Units
) -> Iterator[Figure]:
    """Everything for the making sheet's table."""
    if out:
        wide = f"{out.count} of {fine(out.worst.pitch, units)} ({out.worst.stretch:+.1%} against the wish)"
        yield Figure("repeats", f"{wide}; at the middle of the line {at_middle(out)}")
    for strip, count in sorts(made):
        yield from _of_strip(words, strip, _title(strip, count), units)
    if words.strips > 1:
        yield Figure("strips side by side", f"{words.strips}, together {fine(words.total, units)} wide")
    if words.shape == "loops" and out:
        yield Figure("the lace crosses itself", f"{out.count} times, once below every loop")
    if state.traced:
        yield Figure("pins", f"{state.pins}, every {fine(words.pins, units)} on curves and two at every point")


def supplies(
    words: LaceBand, out: SetOut | None, made: tuple[Strip, ...], traced: tuple[Template, ...], units: Units
) -> Iterator[Supply]:
    """Lace, thread and the stabiliser to trace on."""
    yield Supply(
        f"lace insertion, {fine(words.width, units)}",
        sum(cut_length(words, strip) for strip in made),
        "mm",
        "computed: the longer heading of every strip, mitre folds, allowances and pattern matching",
    )
    yield supply(
        words.sewn,
        sum((s.course.length if s.innermost else 0) + (s.over.length if s.outermost else 0) for s in made),
    )
    beside = sum(s.over.length for s in made if not s.outermost)
    if out and words.shape in PAIRED and not words.closed_pieces:
        beside += out.count * words.between
    if beside:
        yield supply(words.butted, beside)
    for template in traced:
        wide, long = sorted(size(template))
        often = "once" if template.times == 1 else f"{template.times} times in a row"
        yield Supply(
            f"stabiliser to trace lace on, {fine(math.ceil(wide + 2 * MARGIN), units)} wide",
            template.times * long + 2 * MARGIN,
            "mm",
            f"computed: traced {often}, {fine(MARGIN, units)} more on every side",
        )


def computed(words: LaceBand, out: SetOut | None, made: tuple[Strip, ...], units: Units) -> tuple[str, ...]:
    """What came out, in sentences."""
    said = []
    if out:
        said.append(f"{out.count} repeats of {fine(out.worst.pitch, units)} close; at the middle {at_middle(out)}.")
    if words.shape == "loops" and out:
        said.append(f"The lace crosses itself {out.count} times, once below every loop.")
    for strip, count in sorts(made)[:SORTS]:
        traced, other = sides(strip)
        title = _title(strip, count)
        said.append(
            f"{title[0].upper()}{title[1:]}: the {traced} heading is {show_length(strip.course.length, units)}, "
            f"the {other} {show_length(strip.over.length, units)}; "
            f"cut {show_length(cut_length(words, strip), units)} of lace."
        )
    if any(strip.behind for strip in made):
        said.append("The strip behind is laid first, along the line, and shows between the others.")
    return tuple(said)


def at_middle(out: SetOut) -> str:
    """What stands at the middle of the line, of every stretch between its corners."""
    kinds = {repeats.count % 2 for repeats in out.stretches}
    whole, point = "the middle of a repeat", "a point between two repeats"
    return f"{whole} or {point}" if len(kinds) > 1 else whole if kinds == {1} else point


def _of_strip(words: LaceBand, strip: Strip, title: str, units: Units) -> Iterator[Figure]:
    laid = strip.laid
    traced, other = sides(strip)
    both = f"{traced} {show_length(strip.course.length, units)}, {other} {show_length(strip.over.length, units)}"
    yield Figure(f"{title}: headings", both)
    if laid.mitres:
        folds = sorted(m.fold for m in laid.mitres)
        spread = f" to {fine(folds[-1], units)}" if folds[-1] - folds[0] > FINE else ""
        yield Figure(f"{title}: mitres", f"{len(folds)}, each folds away {fine(folds[0], units)}{spread}")
    yield from _drawn(strip, title, words.gather, units)
    yield Figure(f"{title}: lace to cut", show_length(cut_length(words, strip), units), _cutting(words, strip, units))


def _drawn(strip: Strip, title: str, gather: float, units: Units) -> Iterator[Figure]:
    """How much is drawn up where: stretches alike told once, the most drawn first; and the tightest radius."""
    traced, other = sides(strip)
    alike = Counter(
        (
            other if s.longer == "course" else traced,
            round(s.most_drawn, 3),
            round(max(s.course_length, s.over_length), 1),
        )
        for s in strip.laid.stretches
        if s.longer != "equal"
    )
    ordered = sorted(alike.items(), key=lambda one: (-one[0][1], one[0]))
    for (heading, share, length), times in ordered[:STRETCHES]:
        many = f"{times} stretches of " if times > 1 else ""
        yield Figure(
            f"{title}: {heading} heading drawn up", f"by up to {share:.1%} on {many}{show_length(length, units)}"
        )
    if strip.laid.tightest:
        inside, limit = max(strip.laid.tightest.radius, 0.0), radius_limit(strip.laid.width, gather)
        yield Figure(
            f"{title}: tightest inside radius",
            f"{fine(inside, units)}; drawn up no more than allowed down to {fine(limit, units)}",
        )


def _cutting(words: LaceBand, strip: Strip, units: Units) -> str:
    parts = [
        f"computed: longer heading and mitres {show_length(strip.laid.strip_length, units)}",
        f"{fine(words.allowance, units)} at either end",
    ]
    if strip.laid.closes and words.pattern:
        parts.append(f"{fine(words.pattern, units)} to match the pattern")
    return ", ".join(parts)


def _title(strip: Strip, count: int) -> str:
    name = f"{count} {strip.name.split()[0]}s, each" if count > 1 else strip.name
    return name if strip.of == 1 else f"{name}, strip {strip.number}"


def _area(path: Path) -> float:
    return float(Polygon(path.flatten(FINE)).area)
