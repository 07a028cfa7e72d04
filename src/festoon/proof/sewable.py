"""Will the machine sew it: stitches too short, too long, too wide, too many; thread left across; needle and field."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from festoon.hooping import Division, Hooping
from festoon.hooping.words import listed
from festoon.measure import largest_thread, show_length, thread_diameter
from festoon.piece import Bench
from festoon.piece.bench import Machine, Needle
from festoon.proof.limits import (
    ACROSS,
    FOOT,
    LONG,
    SATIN,
    SATIN_STOP,
    SHORT,
    SHORT_SHARE,
    TINY,
    TINY_SHARE,
    TINY_STOP,
)
from festoon.proof.lines import EXACT, Lines, jumps, locking, stitches
from festoon.proof.words import spot
from festoon.stitches.commands import programme
from festoon.stitches.encoding import MOST_CHANGES
from festoon.work import Finding, Verdict

NAMED = 3
"""Parts named in the place of a finding; the rest are counted."""

BACK = -0.7
"""Cosine of the turn from one satin stitch to the next, at most: it goes back again (135 degrees or more, ours)."""


def sewable_findings(division: Division, bench: Bench) -> tuple[Finding, ...]:
    """What keeps the bench's machine from sewing the hoopings well.

    Stitch lengths are judged part by part, and told once for all parts of an element that have the same fault, at
    the worst of them; counts and the field's edge are judged hooping by hooping. Limits stand in `limits`.
    """
    laid = stitches(division)
    judged = [*_each(laid, _short), *_each(laid, _wide), *_each(laid, _long), *_each(jumps(division), _across)]
    return (
        *_gathered(judged),
        *(f for h in division.hoopings for f in _counts(h, bench.machine)),
        *(f for h in division.hoopings for f in _edge(h)),
        *_too_thick(division, bench.needle),
    )


@dataclass(frozen=True, slots=True)
class _Judged:
    """A finding on one part, and how bad it is among its like."""

    finding: Finding
    element: str
    severity: float


def _each(parts: list[Lines], judge: Callable[[Lines], _Judged | None]) -> Iterator[_Judged]:
    yield from filter(None, (judge(part) for part in parts if len(part.run)))


def _gathered(judged: list[_Judged]) -> Iterator[Finding]:
    """One finding for all parts of an element with the same fault: the worst one's, naming them all."""
    alike: dict[tuple[str, ...], list[_Judged]] = {}
    for one in judged:
        f = one.finding
        alike.setdefault((f.panel, one.element, f.verdict, f.reason), []).append(one)
    for group in alike.values():
        worst = max(group, key=lambda one: one.severity).finding
        parts = tuple(dict.fromkeys(name for one in group for name in one.finding.elements))
        worst_of = f", worst {worst.elements[0]}" if len(parts) > 1 else ""
        where = f"{listed(parts, NAMED)} on {worst.panel}{worst_of}{spot(worst.at)}"
        yield replace(worst, where=where, elements=parts)


def _judged(
    lines: Lines,
    worst: int,
    severity: float,
    verdict: Verdict,
    reason: str,
    remedy: str,
    figure: str,
    limit: str,
    source: str,
) -> _Judged:
    """A finding on a part, at its line `worst`."""
    finding = Finding(
        verdict,
        lines.part,
        reason,
        remedy,
        figure=figure,
        limit=limit,
        source=source,
        panel=lines.panel,
        at=lines.at(worst),
        elements=(lines.part,),
        hooping=int(lines.hooping[worst]),
    )
    return _Judged(finding, lines.element, severity)


def _short(lines: Lines) -> _Judged | None:
    """Too large a share of stitches under TINY or else SHORT, locks aside."""
    sewn = lines.chosen(~locking(lines))
    if not len(sewn.run):
        return None
    tiny, short = (sewn.lengths < limit.value - EXACT for limit in (TINY, SHORT))
    worst = int(sewn.lengths.argmin())
    remedy = "Have it drawn for this size instead of scaling it down, or take out its shortest stitches."
    if tiny.mean() > TINY_SHARE.value:
        stop = bool(tiny.mean() > TINY_STOP.value)
        reason = (
            f"Too many of its stitches are shorter than {show_length(TINY.value)}: the needle goes back into the same "
            "hole, and the thread frays or nests."
        )
        most = TINY_STOP if stop else TINY_SHARE
        verdict: Verdict = "will not work" if stop else "look again"
        return _judged(
            sewn,
            worst,
            float(tiny.mean()),
            verdict,
            reason,
            remedy,
            _percent(tiny.mean()),
            _percent(most.value),
            TINY.source,
        )
    if short.mean() > SHORT_SHARE.value:
        reason = (
            f"Many of its stitches are shorter than {show_length(SHORT.value)}, where neighbouring holes share the "
            "same threads of the cloth: cloth and thread wear."
        )
        return _judged(
            sewn,
            worst,
            float(short.mean()),
            "look again",
            reason,
            remedy,
            _percent(short.mean()),
            _percent(SHORT_SHARE.value),
            f"{SHORT.source}; the share is {SHORT_SHARE.source}",
        )
    return None


def satin(lines: Lines) -> NDArray[np.bool_]:
    """(m,) true for satin: three stitches or more that each go back from the last, the small steps between aside."""
    steps = lines.lengths < SHORT.value - EXACT
    across = lines.chosen(~steps)
    way = (across.end - across.start) / across.lengths[:, None]
    back = ((way[1:] * way[:-1]).sum(axis=1) <= BACK) & (across.run[1:] == across.run[:-1])
    found = np.zeros(len(steps), np.bool_)
    if len(way):
        inner = np.append(back, False) & np.append(False, back)
        found[~steps] = inner | np.append(inner[1:], False) | np.append(False, inner[:-1])
    return found


def _wide(lines: Lines) -> _Judged | None:
    """Satin wider than snags allow."""
    width = np.where(satin(lines), lines.lengths, 0.0)
    worst = int(width.argmax())
    if width[worst] <= SATIN.value + EXACT:
        return None
    stop = width[worst] > SATIN_STOP.value + EXACT
    limit = SATIN_STOP if stop else SATIN
    reason = (
        "Its satin is so wide that its loose threads snag."
        if stop
        else "Its satin is wide for a small machine, and for goods that are worn: its loose threads may snag."
    )
    return _judged(
        lines,
        worst,
        float(width[worst]),
        "will not work" if stop else "look again",
        reason,
        "Make it narrower, split its stitches, or have it laid as a fill.",
        show_length(float(width[worst])),
        show_length(limit.value),
        limit.source,
    )


def _long(lines: Lines) -> _Judged | None:
    """Stitches longer than LONG that are no satin."""
    length = np.where(satin(lines), 0.0, lines.lengths)
    worst = int(length.argmax())
    many = int((length > LONG.value + EXACT).sum())
    if not many:
        return None
    return _judged(
        lines,
        worst,
        float(length[worst]),
        "look again",
        "It has stitches longer than a machine lays in one: the file cuts them into moves, and the thread lies loose.",
        "Split the long stitches, or have the thread cut there.",
        f"{_counted(many, 'stitch', 'stitches')}, the longest {show_length(float(length[worst]))}",
        show_length(LONG.value),
        LONG.source,
    )


def _across(lines: Lines) -> _Judged | None:
    """Thread that lies across the work between stitches, long enough to be cut."""
    length = lines.lengths
    worst = int(length.argmax())
    many = int((length > ACROSS.value + EXACT).sum())
    if not many:
        return None
    return _judged(
        lines,
        worst,
        float(length[worst]),
        "look again",
        "Thread is carried from one place to another without a cut, and lies across the work.",
        "Trim these threads by hand while you sew, or put a cut there in the motif's file.",
        f"{_counted(many, 'place', 'places')}, the longest {show_length(float(length[worst]))}",
        show_length(ACROSS.value),
        ACROSS.source,
    )


def _counts(hooping: Hooping, machine: Machine) -> Iterator[Finding]:
    """More stitches, or more stops, than the file or the machine takes."""
    if machine.most_stitches is not None and hooping.stitching.stitch_count > machine.most_stitches:
        yield _on(
            hooping,
            f"Its file has more stitches than {machine.name} takes.",
            "Divide the piece more finely: a smaller hoop, or a margin under [hooping].",
            f"{hooping.stitching.stitch_count:,} stitches",
            f"{machine.most_stitches:,} stitches",
            "most_stitches in the bench file",
        )
    most, source = _most_stops(machine)
    stops = len(hooping.marks) + len(programme(hooping.stitching).threads) - 1
    if most is not None and stops > most:
        yield _on(
            hooping,
            "It stops more often, at its crosses and to change thread, than the machine's file can say.",
            "Use fewer threads, or fewer crosses: marks under [hooping].",
            f"{stops} stops",
            f"{most} stops",
            source,
        )


def _most_stops(machine: Machine) -> tuple[int | None, str]:
    """The fewer of what the format's header holds and what the worker says."""
    known = [
        (MOST_CHANGES.get(machine.format), f"the header of a {machine.format} file"),
        (machine.most_stops, "most_stops in the bench file"),
    ]
    given = [(most, source) for most, source in known if most is not None]
    return min(given) if given else (None, "")


def _on(hooping: Hooping, reason: str, remedy: str, figure: str, limit: str, source: str) -> Finding:
    return Finding(
        "will not work",
        f"hooping {hooping.number}",
        reason,
        remedy,
        figure=figure,
        limit=limit,
        source=source,
        panel=hooping.panel,
        elements=hooping.elements,
        hooping=hooping.number,
    )


def _edge(hooping: Hooping) -> Iterator[Finding]:
    """Stitching so near the field's edge that the presser foot may touch the hoop."""
    holes = hooping.stitching.holes
    if not len(holes):
        return
    own = hooping.field.inverse().apply(holes)
    room = (np.array(hooping.hoop.field) / 2 - np.abs(own)).min(axis=1)
    worst = int(room.argmin())
    if room[worst] >= FOOT.value - EXACT:
        return
    x, y = holes[worst].round(3).tolist()
    yield Finding(
        "look again",
        f"hooping {hooping.number} on {hooping.panel}{spot((x, y))}",
        "It sews so near the edge of the field that the presser foot may touch the hoop.",
        "Turn the wheel by hand past that place once, or give a margin under [hooping].",
        figure=show_length(max(0.0, float(room[worst]))),
        limit=show_length(FOOT.value),
        source=FOOT.source,
        panel=hooping.panel,
        at=(x, y),
        hooping=hooping.number,
    )


def _too_thick(division: Division, needle: Needle) -> Iterator[Finding]:
    """Threads too thick for the eye of the bench's needle; a topstitch needle's eye is wider than the rule knows."""
    if "topstitch" in needle.point.casefold():
        return
    widest = largest_thread(needle.size)
    for thread in dict.fromkeys(t for h in division.hoopings for t in h.stitching.threads):
        if thread_diameter(thread.tex) > widest:
            yield Finding(
                "look again",
                f"thread {thread.name}",
                f"It is thicker than runs freely through the eye of a {needle.size} needle.",
                "Take a larger needle, or a topstitch needle with its larger eye.",
                figure=show_length(thread_diameter(thread.tex), places=2),
                limit=show_length(widest, places=2),
                source="a needle maker: eye 1.4 × the thread; eye 0.40 × the blade, common practice",
            )


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"


def _counted(many: int, one: str, several: str) -> str:
    return f"{many} {one if many == 1 else several}"
