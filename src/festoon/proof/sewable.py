"""Will the machine sew it: stitches too short, too long, too wide, too many; thread left across; needle and field."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from festoon.hooping import Division, Hooping
from festoon.measure import Units, largest_thread, thread_diameter
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
from festoon.proof.lines import EXACT, Lines, jumps, locking, satin, stitches
from festoon.proof.words import fine, spot
from festoon.stitches.commands import programme
from festoon.stitches.encoding import MOST_CHANGES
from festoon.work import Amount, Finding, Verdict


def sewable_findings(division: Division, bench: Bench, units: Units = "mm") -> tuple[Finding, ...]:
    """What keeps the bench's machine from sewing the hoopings well.

    Stitch lengths are judged part by part, one finding a part and fault, at its worst stitch, and the worst part first;
    counts and the field's edge are judged hooping by hooping. Limits stand in `limits`; lengths are told in `units`.
    """
    laid, left = stitches(division), jumps(division)
    return (
        *_each(laid, _short, units),
        *_each(laid, _wide, units),
        *_each(laid, _long, units),
        *_each(left, _across, units),
        *(f for h in division.hoopings for f in _counts(h, bench.machine)),
        *_worst_first(j for h in division.hoopings for j in _edge(h, units)),
        *_too_thick(division, bench.needle, units),
    )


@dataclass(frozen=True, slots=True)
class _Judged:
    """A finding, and how bad it is among its like."""

    finding: Finding
    severity: float


def _each(parts: list[Lines], judge: Callable[[Lines, Units], _Judged | None], units: Units) -> tuple[Finding, ...]:
    return _worst_first(filter(None, (judge(part, units) for part in parts if len(part.run))))


def _worst_first(judged: Iterable[_Judged]) -> tuple[Finding, ...]:
    return tuple(j.finding for j in sorted(judged, key=lambda j: -j.severity))


def _judged(
    lines: Lines,
    worst: int,
    severity: float,
    units: Units,
    verdict: Verdict,
    reason: str,
    remedy: str,
    figure: str,
    limit: str,
    source: str,
    rule: str,
    amount: Amount,
) -> _Judged:
    """A finding on a part, at its line `worst`."""
    at = lines.at(worst)
    finding = Finding(
        verdict,
        f"{lines.part} on {lines.panel}{spot(at, units)}",
        reason,
        remedy,
        figure=figure,
        limit=limit,
        source=source,
        panel=lines.panel,
        at=at,
        elements=(lines.part,),
        hooping=int(lines.hooping[worst]),
        rule=rule,
        amount=amount,
    )
    return _Judged(finding, severity)


def _short(lines: Lines, units: Units) -> _Judged | None:
    """Too large a share of stitches under TINY or else SHORT, locks aside."""
    sewn = lines.chosen(~locking(lines))
    if not len(sewn.run):
        return None
    tiny, short = (float((sewn.lengths < limit.value - EXACT).mean()) for limit in (TINY, SHORT))
    worst = int(sewn.lengths.argmin())
    remedy = "Have it drawn for this size instead of scaling it down, or take out its shortest stitches."
    if tiny > TINY_SHARE.value:
        stop = tiny > TINY_STOP.value
        reason = (
            f"Too many of its stitches are shorter than {fine(TINY.value, units)}: the needle goes back into the same "
            "hole, and the thread frays or nests."
        )
        verdict: Verdict = "will not work" if stop else "look again"
        share, limit = _share(tiny), _percent((TINY_STOP if stop else TINY_SHARE).value)
        amount = Amount(round(tiny, 2), "share")
        return _judged(
            sewn, worst, tiny, units, verdict, reason, remedy, share, limit, TINY.source, "tiny stitches", amount
        )
    if short > SHORT_SHARE.value:
        reason = (
            f"Many of its stitches are shorter than {fine(SHORT.value, units)}, where neighbouring holes share the "
            "same threads of the cloth: cloth and thread wear."
        )
        source = f"{SHORT.source}; the share is {SHORT_SHARE.source}"
        share, limit = _share(short), _percent(SHORT_SHARE.value)
        amount = Amount(round(short, 2), "share")
        return _judged(
            sewn, worst, short, units, "look again", reason, remedy, share, limit, source, "short stitches", amount
        )
    return None


def _wide(lines: Lines, units: Units) -> _Judged | None:
    """Satin wider than snags allow."""
    width = np.where(satin(lines), lines.lengths, 0.0)
    worst = int(width.argmax())
    widest = float(width[worst])
    if widest <= SATIN.value + EXACT:
        return None
    stop = widest > SATIN_STOP.value + EXACT
    limit = SATIN_STOP if stop else SATIN
    reason = (
        "Its satin is so wide that its loose threads snag."
        if stop
        else "Its satin is wide for a small machine, and for goods that are worn: its loose threads may snag."
    )
    verdict: Verdict = "will not work" if stop else "look again"
    remedy = "Make it narrower, split its stitches, or have it laid as a fill."
    figure, most = fine(widest, units), fine(limit.value, units)
    amount = Amount(round(widest, 1), "mm")
    return _judged(
        lines, worst, widest, units, verdict, reason, remedy, figure, most, limit.source, "wide satin", amount
    )


def _long(lines: Lines, units: Units) -> _Judged | None:
    """Stitches longer than LONG that are no satin."""
    length = np.where(satin(lines), 0.0, lines.lengths)
    worst = int(length.argmax())
    many = int((length > LONG.value + EXACT).sum())
    if not many:
        return None
    longest = float(length[worst])
    reason = (
        "It has stitches longer than a machine lays in one: the file cuts them into moves, and the thread lies loose."
    )
    remedy = "Split the long stitches, or have the thread cut there."
    figure = _counted(many, "stitch", "stitches", fine(longest, units))
    most = fine(LONG.value, units)
    amount = Amount(round(longest, 1), "mm")
    return _judged(
        lines, worst, longest, units, "look again", reason, remedy, figure, most, LONG.source, "long stitches", amount
    )


def _across(lines: Lines, units: Units) -> _Judged | None:
    """Thread that lies across the work between stitches, long enough to be cut."""
    length = lines.lengths
    worst = int(length.argmax())
    many = int((length > ACROSS.value + EXACT).sum())
    if not many:
        return None
    longest = float(length[worst])
    reason = "Thread is carried from one place to another without a cut, and lies across the work."
    remedy = "Trim these threads by hand while you sew, or put a cut there in the motif's file."
    figure = _counted(many, "place", "places", fine(longest, units))
    most = fine(ACROSS.value, units)
    amount = Amount(round(longest, 1), "mm")
    return _judged(
        lines, worst, longest, units, "look again", reason, remedy, figure, most, ACROSS.source, "thread across", amount
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
            "too many stitches",
            Amount(hooping.stitching.stitch_count, "stitches"),
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
            "too many stops",
            Amount(stops, "stops"),
        )


def _most_stops(machine: Machine) -> tuple[int | None, str]:
    """The fewer of what the format's header holds and what the worker says."""
    known = [
        (MOST_CHANGES.get(machine.format), f"the header of a {machine.format} file"),
        (machine.most_stops, "most_stops in the bench file"),
    ]
    given = [(most, source) for most, source in known if most is not None]
    return min(given) if given else (None, "")


def _on(
    hooping: Hooping, reason: str, remedy: str, figure: str, limit: str, source: str, rule: str, amount: Amount
) -> Finding:
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
        rule=rule,
        amount=amount,
    )


def _edge(hooping: Hooping, units: Units) -> Iterator[_Judged]:
    """Stitching so near the field's edge that the presser foot may touch the hoop."""
    holes = hooping.stitching.holes
    if not len(holes):
        return
    own = hooping.field.inverse().apply(holes)
    room = (np.array(hooping.hoop.field) / 2 - np.abs(own)).min(axis=1)
    worst = int(room.argmin())
    least = max(0.0, float(room[worst]))
    if room[worst] >= FOOT.value - EXACT:
        return
    x, y = holes[worst].round(3).tolist()
    finding = Finding(
        "look again",
        f"hooping {hooping.number} on {hooping.panel}{spot((x, y), units)}",
        "It sews so near the edge of the field that the presser foot may touch the hoop.",
        "Turn the wheel by hand past that place once, or give a margin under [hooping].",
        figure=fine(least, units),
        limit=fine(FOOT.value, units),
        source=FOOT.source,
        panel=hooping.panel,
        at=(x, y),
        hooping=hooping.number,
        rule="near the field's edge",
        about=tuple(b.name for b in hooping.blocks),
        amount=Amount(round(least, 1), "mm", least=True),
    )
    yield _Judged(finding, -least)


def _too_thick(division: Division, needle: Needle, units: Units) -> Iterator[Finding]:
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
                figure=fine(thread_diameter(thread.tex), units, places=2),
                limit=fine(widest, units, places=2),
                source="a needle maker: eye 1.4 × the thread; eye 0.40 × the blade, common practice",
                rule="thread for the needle",
                about=(thread.name,),
                amount=Amount(round(thread_diameter(thread.tex), 2), "mm"),
            )


def _share(share: float) -> str:
    return f"{_percent(share)} of its stitches"


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"


def _counted(many: int, one: str, several: str, longest: str) -> str:
    return f"1 {one} of {longest}" if many == 1 else f"{many} {several}, the longest {longest}"
