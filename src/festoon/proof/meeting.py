"""Do separately hooped parts meet: how far one may miss the other, and whether the overlap covers that."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

from festoon.hooping import Block, Division, Hooping
from festoon.hooping.blocks import touching
from festoon.layout import Layout
from festoon.measure import show_length
from festoon.plane.pose import Points
from festoon.proof.contact import Contact, contact
from festoon.proof.values import Meeting, MeetingKind
from festoon.registration.covariance import own_covariance, relative_covariance, round_covariance
from festoon.registration.model import PlacingModel
from festoon.work import Finding, Verdict

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

SOURCE = (
    "computed: misfit of two hoopings to first order, from their crosses and the bench's spreads; a gap under "
    f"{HIDDEN:g} mm is unseen, an overlap {PILED:g} mm wider than drawn is seen (common practice)"
)


def meetings(division: Division, model: PlacingModel, layout: Layout) -> tuple[Meeting, ...]:
    """Every place where stitching of two hoopings touches or overlaps, panel by panel in the order of sewing.

    Blocks count as `hooping.blocks.touching` has it. Two parts drawn with more than HIDDEN of cloth between them are
    meant to show it, so they do not meet, unless one is a column that ends there or both are cut from one part.
    """
    return tuple(m for panel in layout.panels for m in _on_panel(division, model, panel.name))


def _on_panel(division: Division, model: PlacingModel, panel: str) -> Iterator[Meeting]:
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
            yield _meeting(first, a, second, b, met, kind, model)


def _meeting(
    first: Hooping, a: Block, second: Hooping, b: Block, met: Contact, kind: MeetingKind, model: PlacingModel
) -> Meeting:
    covariance = misfit(first, a, second, b, met.at, model)
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
    )


def misfit(
    first: Hooping, a: Block, second: Hooping, b: Block, at: NDArray[np.float64], model: PlacingModel
) -> NDArray[np.float64]:
    """(2, 2) mm2 of how far block b of the second hooping misses block a of the first at the point `at` (2,).

    Drawing a cross that both hoopings use moves both; all else happens anew in each.
    """
    lining_up = round_covariance(math.hypot(model.reading, model.seating))
    crosses, others = ([m.at for m in h.marks] for h in (first, second))
    between = relative_covariance(crosses, others, at, round_covariance(model.marking), lining_up)
    own = (
        own_covariance(model, h.field.shift, at, stitch_direction(block), at - block.stitching.holes.mean(axis=0))
        for h, block in ((first, a), (second, b))
    )
    total: NDArray[np.float64] = sum(own, start=between)[0]
    return total


def stitch_direction(block: Block) -> Points:
    """Unit vector (2,) along which most thread of a block is laid; any where it is laid all ways alike."""
    i = block.stitching.laid()
    d = block.stitching.points[i] - block.stitching.points[i - 1]
    length = np.hypot(*d.T)
    kept = length > 0
    ways = d[kept] / np.sqrt(length[kept])[:, None]
    direction: Points = np.linalg.eigh(ways.T @ ways)[1][:, -1]
    return direction


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
    """A finding for every meeting that is likely to gap or to pile up; none where the overlap covers the misfit."""
    return tuple(f for m in found for f in (_gap(m, layout), _pile(m, layout)) if f is not None)


def _gap(m: Meeting, layout: Layout) -> Finding | None:
    if m.gap_chance <= GAP_SELDOM:
        return None
    units = layout.piece.file.piece.units
    lap = show_length(abs(m.lap), units)
    drawn = f"They overlap by {lap}" if m.lap >= 0 else f"They are drawn {lap} apart"
    reason = (
        f"{drawn} and may miss each other by {show_length(2 * m.across_sd, units)}, so cloth may show between them."
    )
    verdict: Verdict = "will not work" if m.gap_chance > GAP_LIKELY else "look again"
    return _finding(m, verdict, reason, _closer(m, layout), m.gap_chance, GAP_SELDOM)


def _pile(m: Meeting, layout: Layout) -> Finding | None:
    if m.pile_chance <= PILE_SELDOM:
        return None
    units = layout.piece.file.piece.units
    reason = (
        f"They may miss each other by {show_length(2 * m.across_sd, units)}, so the overlap may grow into a ridge "
        f"more than {show_length(PILED, units)} wider than drawn."
    )
    remedy = "Use more crosses for a hooping (marks, under [hooping]), or a larger hoop that sews both at once."
    return _finding(m, "look again", reason, remedy, m.pile_chance, PILE_SELDOM)


def _finding(m: Meeting, verdict: Verdict, reason: str, remedy: str, chance: float, limit: float) -> Finding:
    a, b = m.parts
    what = f"where {a} is divided" if m.kind == "cut" else f"where {a} meets {b}"
    return Finding(
        verdict=verdict,
        where=f"{what}, hoopings {m.first} and {m.second}",
        reason=reason,
        remedy=remedy,
        figure=f"chance {100 * chance:.0f} %",
        limit=f"{100 * limit:g} %",
        source=SOURCE,
        panel=m.panel,
        at=m.at,
        elements=tuple(dict.fromkeys(m.parts)),
        hooping=m.second,
    )


def _closer(m: Meeting, layout: Layout) -> str:
    """What closes the gap: a longer tuck, a longer overlap at cuts, or the two moved closer."""
    units = layout.piece.file.piece.units
    more = m.lap_wanted - m.lap
    tuck = _tuck(m, layout)
    if tuck is not None:
        return f"Lengthen tuck to {show_length(_up(tuck + more), units)}."
    if m.kind == "cut":
        return f"Set overlap = {_up(layout.piece.file.hooping.overlap + more):g} under [hooping]."
    if m.kind == "end":
        return f"Let the end run on {show_length(_up(more), units)} farther."
    return f"Move them {show_length(_up(more), units)} closer together."


def _tuck(m: Meeting, layout: Layout) -> float | None:
    """The tuck of the join that ends here; None where no join does, or its path alone says where it ends."""
    if m.kind != "end":
        return None
    homes = {p.name: w.element for w in layout.works if w.panel == m.panel for p in w.parts}
    elements = {e.name: e for e in layout.piece.file.element}
    both = (elements[homes[part]] for part in m.parts)
    tucks = (getattr(e, "tuck", None) for e in both if getattr(e, "path", None) is None)
    return next((t for t in tucks if t is not None), None)


def _up(mm: float) -> float:
    """To the next tenth of a millimetre, so that what is asked for is enough."""
    return math.ceil(round(10 * mm, 6)) / 10


def _spread(covariance: NDArray[np.float64], way: NDArray[np.float64]) -> float:
    return math.sqrt(max(0.0, float(way @ covariance @ way)))


def _pair(v: NDArray[np.float64]) -> tuple[float, float]:
    x, y = v.tolist()
    return x, y
