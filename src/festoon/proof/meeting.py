"""Do separately hooped parts meet: how far one may miss the other, and whether the overlap covers that."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtr, ndtri

from festoon.hooping import Block, Division, Hooping
from festoon.hooping.blocks import touching
from festoon.hooping.expected import stitch_direction
from festoon.hooping.words import listed
from festoon.layout import Layout
from festoon.measure import Units
from festoon.proof.contact import Contact, contact
from festoon.proof.values import Meeting, MeetingKind
from festoon.proof.words import fine, spot
from festoon.registration.covariance import (
    own_covariance,
    relative_covariance,
    round_covariance,
    target_covariance,
)
from festoon.registration.model import PlacingModel, measured_names, placing_model
from festoon.techniques import ElementBase, technique_of
from festoon.work import Amount, Finding, Mend, Verdict

HIDDEN = 0.3
"""mm of gap or step that nobody sees (common practice, from how fine a step the eye makes out)."""

PILED = 2.0
"""mm by which an overlap grows before it is seen as a ridge (common practice)."""

GAP_SELDOM = 0.05
"""Chance of a gap that is let pass (common practice)."""

GAP_LIKELY = 0.5
"""Chance of a gap from which on the parts will not meet (common practice)."""

PILE_SELDOM = 0.2
"""Chance of a ridge that is let pass (common practice)."""


Trued = Mapping[int, Collection[str]]
"""Numbers of the hoopings whose crosses were read after hooping, and the names of the crosses that were."""

NOTHING_READ: Trued = MappingProxyType({})

_NONE = np.zeros((2, 2))


def _source(m: Meeting, layout: Layout) -> str:
    units = layout.piece.file.piece.units
    own = measured_names(placing_model(layout.piece.bench.measured))
    measured = f"; measured by you: {listed(own)}" if own else ""
    read = " and readings after hooping" if m.learned else ""
    return (
        f"computed: misfit of two hoopings to first order, from their crosses and the bench's spreads{read}{measured}; "
        f"common practice: a gap under {fine(HIDDEN, units)} is unseen, an overlap {fine(PILED, units)} wider than "
        "drawn is seen"
    )


def meetings(
    division: Division, model: PlacingModel, layout: Layout, trued: Trued = NOTHING_READ
) -> tuple[Meeting, ...]:
    """Every place where stitching of two hoopings touches or overlaps, panel by panel in the order of sewing.

    Blocks count as `hooping.blocks.touching` has it. Two parts drawn with more than HIDDEN of cloth between them are
    meant to show it, so they do not meet, unless one is a column that ends there or both are cut from one part. For
    `trued` see `misfit`.
    """
    return tuple(m for panel in layout.panels for m in _on_panel(division, model, panel.name, trued))


def _on_panel(division: Division, model: PlacingModel, panel: str, trued: Trued) -> Iterator[Meeting]:
    sewn = [(h, b) for h in division.hoopings if h.panel == panel for b in h.blocks]
    if not sewn:
        return
    for i, j in touching([b for _, b in sewn]):
        (first, a), (second, b) = sewn[i], sewn[j]
        if first.number == second.number:
            continue
        met = contact(a.region, b.region)
        kind: MeetingKind = "cut" if a.part == b.part else "end" if met.is_end else "side"
        if kind != "side" or met.lap >= -HIDDEN:
            yield _meeting(first, a, second, b, met, kind, model, trued)


def _meeting(
    first: Hooping,
    a: Block,
    second: Hooping,
    b: Block,
    met: Contact,
    kind: MeetingKind,
    model: PlacingModel,
    trued: Trued,
) -> Meeting:
    covariance = misfit(first, a, second, b, met.at, model, trued)
    along = np.array([-met.across[1], met.across[0]])
    sd = _spread(covariance, met.across)
    return Meeting(
        panel=first.panel,
        first=first.number,
        second=second.number,
        parts=(a.part, b.part),
        at=_pair(met.at),
        across=_pair(met.across),
        covariance=covariance,
        across_sd=sd,
        along_sd=_spread(covariance, along),
        lap=met.lap,
        gap_chance=gap_chance(sd, met.lap),
        pile_chance=pile_chance(sd),
        lap_wanted=lap_wanted(sd),
        kind=kind,
        learned=bool(model.learned) or first.number in trued or second.number in trued,
    )


def misfit(
    first: Hooping,
    a: Block,
    second: Hooping,
    b: Block,
    at: NDArray[np.float64],
    model: PlacingModel,
    trued: Trued = NOTHING_READ,
) -> NDArray[np.float64]:
    """(2, 2) mm2 of how far block b of the second hooping misses block a of the first at the point `at` (2,).

    Drawing a cross that both hoopings use moves both; all else happens anew in each. A hooping that was trued lies by
    the crosses that were read, and errs by what `PlacingModel.trued` leaves.
    """
    total = apart(first, second, at, model, trued)
    drawn = replace(model, shift=0.0, turn=0.0)
    for h, block in ((first, a), (second, b)):
        reach = at - block.stitching.holes.mean(axis=0)
        total = total + own_covariance(drawn, h.field.shift, at, stitch_direction(block), reach)[0]
    return total


def apart(
    first: Hooping, second: Hooping, at: ArrayLike, model: PlacingModel, trued: Trued = NOTHING_READ
) -> NDArray[np.float64]:
    """(2, 2) mm2 of `misfit` without the draw-in: by crosses, shifts and turns alone, whatever the blocks."""
    crosses, others = (places(h, trued) for h in (first, second))
    total = relative_covariance(crosses, others, at, round_covariance(model.marking), _NONE)[0]
    misses: NDArray[np.float64] = total + sum(lined_up(h, at, model, trued) for h in (first, second))
    return misses


def lined_up(hooping: Hooping, at: ArrayLike, model: PlacingModel, trued: Trued = NOTHING_READ) -> NDArray[np.float64]:
    """(2, 2) mm2 of what lining a hooping up on drawn crosses adds at a point: reading, seat, shift and turn."""
    left = model.trued if hooping.number in trued else model
    read = round_covariance(math.hypot(left.reading, left.seating))
    moved = own_covariance(left, hooping.field.shift, at, (1.0, 0.0), (0.0, 0.0))
    added: NDArray[np.float64] = (target_covariance(places(hooping, trued), at, read) + moved)[0]
    return added


def places(hooping: Hooping, trued: Trued = NOTHING_READ) -> list[tuple[float, float]]:
    """The crosses that place a hooping."""
    read = trued.get(hooping.number)
    return [m.at for m in hooping.marks if read is None or m.name in read]


def gap_chance(across_sd: float, lap: float) -> float:
    """Chance that a misfit with this spread, mm, opens more than HIDDEN beyond an overlap of `lap` mm (normal)."""
    reserve = lap + HIDDEN
    return float(ndtr(-reserve / across_sd)) if across_sd > 0 else float(reserve < 0)


def pile_chance(across_sd: float) -> float:
    """Chance that a misfit with this spread, mm, makes the overlap more than PILED wider than drawn (normal)."""
    return float(ndtr(-PILED / across_sd)) if across_sd > 0 else 0.0


def lap_wanted(across_sd: float) -> float:
    """The overlap, mm, at which a gap comes with a chance of GAP_SELDOM; 0 where none is needed."""
    return max(0.0, float(ndtri(1.0 - GAP_SELDOM)) * across_sd - HIDDEN)


def meeting_findings(found: Sequence[Meeting], layout: Layout) -> tuple[Finding, ...]:
    """A finding for every meeting that is likely to gap or to pile up; none where the overlap covers the misfit.

    Gaps stand first, each kind from the worst, so that what helps the first is enough for the others.
    """
    gaps = sorted(found, key=lambda m: -lacking(m))
    piles = sorted(found, key=lambda m: -m.pile_chance)
    told = (*(gap_finding(m, layout) for m in gaps), *(_pile(m, layout) for m in piles))
    return tuple(f for f in told if f is not None)


def lacking(m: Meeting) -> float:
    """By how much it overlaps less than is wanted, mm; below 0 where it overlaps more."""
    return m.lap_wanted - m.lap


def gap_finding(m: Meeting, layout: Layout) -> Finding | None:
    """The finding for a meeting that is likely to gap; None where it is not."""
    if m.gap_chance <= GAP_SELDOM:
        return None
    units = layout.piece.file.piece.units
    lap = fine(abs(m.lap), units)
    drawn = f"They overlap by {lap}" if m.lap >= 0 else f"They are drawn {lap} apart"
    reason = f"{drawn} and may miss each other by {fine(2 * m.across_sd, units)}, so cloth may show between them."
    verdict: Verdict = "will not work" if m.gap_chance > GAP_LIKELY else "look again"
    mend = _mend(m, layout)
    found = _finding(
        m, "gap", verdict, reason, mend.told + "." if mend else _closer(m, units), m.gap_chance, GAP_SELDOM, layout
    )
    return replace(found, mends=(mend,)) if mend else found


def _pile(m: Meeting, layout: Layout) -> Finding | None:
    if m.pile_chance <= PILE_SELDOM:
        return None
    units = layout.piece.file.piece.units
    reason = (
        f"They may miss each other by {fine(2 * m.across_sd, units)}, so the overlap may grow into a ridge "
        f"more than {fine(PILED, units)} wider than drawn."
    )
    remedy = "Use more crosses for a hooping (marks, under [hooping]), or a larger hoop that sews both at once."
    return _finding(m, "ridge", "look again", reason, remedy, m.pile_chance, PILE_SELDOM, layout)


def _finding(
    m: Meeting, rule: str, verdict: Verdict, reason: str, remedy: str, chance: float, limit: float, layout: Layout
) -> Finding:
    a, b = m.parts
    what = f"where {a} is divided" if m.kind == "cut" else f"where {a} meets {b}"
    return Finding(
        verdict=verdict,
        where=f"{what} on {m.panel}, hoopings {m.first} and {m.second}{spot(m.at, layout.piece.file.piece.units)}",
        reason=reason,
        remedy=remedy,
        figure=f"a chance of {100 * chance:.0f} %",
        limit=f"{100 * limit:g} %",
        source=_source(m, layout),
        panel=m.panel,
        at=m.at,
        elements=tuple(dict.fromkeys(m.parts)),
        hooping=m.second,
        rule=rule,
        amount=Amount(round(chance, 2), "share"),
    )


def _mend(m: Meeting, layout: Layout) -> Mend | None:
    """What of the piece file closes the gap: an end that runs on farther, or a longer overlap at cuts."""
    units = layout.piece.file.piece.units
    more = lacking(m)
    element = running_on(m, layout)
    word = None if element is None else technique_of(element).run_on(element)
    if element is not None and word is not None:
        to = _up(getattr(element, word) + more)
        return Mend(f"Lengthen {word} to {fine(to, units)}", element.name, word, to)
    if m.kind == "cut":
        to = _up(layout.piece.file.hooping.overlap + more)
        told = f"{to:g}" if units == "mm" else f'"{fine(to, units)}"'
        return Mend(f"Set overlap = {told} under [hooping]", "", "overlap", to)
    return None


def _closer(m: Meeting, units: Units) -> str:
    """What else closes it: the end let run on, or the two moved closer."""
    more = fine(_up(lacking(m)), units)
    return f"Let the end run on {more} farther." if m.kind == "end" else f"Move them {more} closer together."


def running_on(m: Meeting, layout: Layout) -> ElementBase | None:
    """The element whose end meets the other part here, and runs on over it by a length of its own; else None.

    Where two such meet, it is the one that leans on the other.
    """
    if m.kind != "end":
        return None
    homes = {p.name: w.element for w in layout.works if w.panel == m.panel for p in w.parts}
    elements = {e.name: e for e in layout.piece.file.element}
    ending = [
        (met, element)
        for met, element in zip(reversed(m.parts), (elements[homes[part]] for part in m.parts), strict=True)
        if technique_of(element).run_on(element) is not None
    ]
    leaning = (element for met, element in ending if {met, homes[met]} & set(technique_of(element).needs(element)))
    return next(leaning, ending[0][1] if ending else None)


def _up(mm: float) -> float:
    """To the next tenth of a millimetre, so that what is asked for is enough."""
    return math.ceil(round(10 * mm, 6)) / 10


def _spread(covariance: NDArray[np.float64], way: NDArray[np.float64]) -> float:
    return math.sqrt(max(0.0, float(way @ covariance @ way)))


def _pair(v: NDArray[np.float64]) -> tuple[float, float]:
    x, y = v.tolist()
    return x, y
