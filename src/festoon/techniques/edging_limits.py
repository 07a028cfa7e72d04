"""Where an edging would not lie flat, or is too full to be sewn. Not a technique itself."""

from __future__ import annotations

import math

from festoon.measure import fine
from festoon.shaping.band import LEVEL, Band
from festoon.shaping.gather import Gathers, Point, least_at_point
from festoon.techniques.base import Setting
from festoon.techniques.edging_words import Edging
from festoon.techniques.fastening import needle_finding
from festoon.techniques.strip import SLACK, TENTH, Amiss, finding
from festoon.work.values import Amount, Finding, Mend

FULLEST = 3.0
"""Strip to line: 2 light, 2.5 medium, 3 full. Source: three sewing pages on ruffles."""

HUNDREDTH = 0.01
"""The step in which a better fullness is offered."""


def findings(words: Edging, band: Band, gathered: Gathers, setting: Setting) -> tuple[Finding, ...]:
    """What had better be looked at, each with the nearest that lies flat or can be sewn."""
    found = (
        _thin_at_curves(words, band, gathered, setting),
        _thin_at_points(words, band, gathered, setting),
        _too_full(words, band, gathered, setting),
        needle_finding(words.sewn, words.name, setting.panel, setting.units),
    )
    return tuple(f for f in found if f is not None)


def _thin_at_curves(words: Edging, band: Band, gathered: Gathers, setting: Setting) -> Finding | None:
    """Round an outward curve the outer edge is longer than what is let in."""
    if words.at_curves is None or gathered.needed <= words.at_curves * (1 + LEVEL):
        return None
    least = math.ceil(gathered.needed / HUNDREDTH - SLACK) * HUNDREDTH
    told = Amiss(
        rule="edging without fullness round curves",
        verdict="look again",
        reason=f"Round its tightest outward curve the edging is {words.at_curves:g} times as long as the line, and its "
        "outer edge would draw up and curl over.",
        figure=f"{words.at_curves:g}",
        limit=f"{least:.2f}",
        source="geometry: (R + w)/R lies just flat",
        amount=Amount(round(words.at_curves, 2), "times the line", least=True),
        at=tuple(band.course.at(gathered.tightest()).tolist()),
    )
    mend = Mend(f"Make at_curves {least:.2f}", words.name, "at_curves", round(least, 2))
    return finding(words, setting, told, (mend,), "leave at_curves out, so that what lies flat is let in")


def _thin_at_points(words: Edging, band: Band, gathered: Gathers, setting: Setting) -> Finding | None:
    """Round an outward point the outer edge goes in a fan, which takes more than what is let in."""
    if words.at_points is None or not gathered.points:
        return None
    worst = max(gathered.points, key=lambda p: _short(p, words))
    if _short(worst, words) <= SLACK:
        return None
    units = setting.units
    least = math.ceil((worst.extra + _short(worst, words)) / TENTH - SLACK) * TENTH
    told = Amiss(
        rule="edging without fullness round points",
        verdict="look again",
        reason=f"At an outward point of {worst.turn:.0f}° only {fine(words.at_points, units)} more is let in, and the "
        "edging would draw up round it and curl over.",
        figure=fine(words.at_points, units),
        limit=fine(least, units),
        source="geometry: the outer edge goes round a point in a fan, w·φ; old school texts of sewing let in two "
        "widths at a square corner",
        amount=Amount(round(words.at_points, 1), "mm", least=True),
        at=tuple(band.course.at(worst.s).tolist()),
    )
    mend = Mend(f"Make at_points {fine(least, units)}", words.name, "at_points", round(least, 1))
    return finding(words, setting, told, (mend,), "leave at_points out, so that what lies flat is let in")


def _short(point: Point, words: Edging) -> float:
    """What is missing at a point, mm: its own fullness beside what is let in."""
    full = (words.fullness - 1) * (point.end - point.begin)
    return least_at_point(words.width, point.turn) - full - point.extra


def _too_full(words: Edging, band: Band, gathered: Gathers, setting: Setting) -> Finding | None:
    """More edging than its heading can be drawn up to."""
    curves = gathered.needed if words.at_curves is None else words.at_curves if gathered.needed > 1 + LEVEL else 1.0
    full = max(words.fullness, curves)
    if full <= FULLEST * (1 + LEVEL):
        return None
    units, mends = setting.units, []
    if words.fullness > FULLEST:
        mends.append(Mend(f"Make fullness {FULLEST:g}", words.name, "fullness", FULLEST))
    if words.at_curves is not None and words.fullness <= FULLEST:
        mends.append(Mend(f"Make at_curves {FULLEST:g}", words.name, "at_curves", FULLEST))
    if words.at_curves is None and words.fullness <= FULLEST:
        wide = math.floor(words.width * (FULLEST - 1) / (full - 1) / TENTH + SLACK) * TENTH
        mends += [Mend(f"Make width {fine(wide, units)}", words.name, "width", round(wide, 1))] if wide > 0 else []
    told = Amiss(
        rule="edging too full",
        verdict="look again",
        reason=f"So much edging, {full:.2f} times the line, hardly goes on its heading: gathers lie over gathers.",
        figure=f"{full:.2f}",
        limit=f"{FULLEST:g}",
        source="three sewing pages on ruffles: 3 is full; geometry round curves",
        amount=Amount(round(full, 2), "times the line"),
        at=tuple(band.course.at(gathered.tightest()).tolist()),
    )
    return finding(words, setting, told, tuple(mends), "smooth the line where it turns tightest")
