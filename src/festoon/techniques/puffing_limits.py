"""Puffing too full or too thin at an edge, or too wide for its curve. Not a technique itself."""

from __future__ import annotations

import math

from festoon.measure import fine
from festoon.plane.segments import Point
from festoon.shaping.band import Band
from festoon.shaping.puffed import Puffed
from festoon.techniques.base import Setting
from festoon.techniques.fastening import needle_finding
from festoon.techniques.puffing_words import Puffing
from festoon.techniques.strip import SLACK, TENTH, Amiss, finding
from festoon.work.values import Amount, Finding, Mend

FULLEST = 3.0
"""Strip to edge at most: 2.5 to 3, as an encyclopedia of sewing machine techniques is quoted."""

THINNEST = 1.5
"""Strip to edge at least, below which it hardly puffs: 1.5 to 2 is also taught (from memory)."""

HUNDREDTH = 0.01
"""The step in which a better fullness is offered."""


def findings(words: Puffing, puffed: Puffed, laid: Band | None, setting: Setting) -> tuple[Finding, ...]:
    """What does not come out well, each with the nearest that does. laid: None where it lies between two lines."""
    if laid is not None and not laid.possible:
        shaped = [_wide(words, laid, setting)]
    elif puffed.crossed:
        shaped = [_crossed(words, puffed, setting)]
    else:
        shaped = [f for f in (_full(words, puffed, laid, setting), _thin(words, puffed, laid, setting)) if f]
    needle = needle_finding(words.sewn, words.name, setting.panel, setting.units)
    return (*shaped, *([needle] if needle else []))


def _wide(words: Puffing, laid: Band, setting: Setting) -> Finding:
    """Wider than the curve of its line: nothing is left of the inner edge."""
    units = setting.units
    radius = laid.tightest.radius + laid.width if laid.tightest else 0.0
    share = 0.5 if words.lies == "middle" else 0.0
    line = radius - share * laid.width
    wide = math.floor(line / (1 + share) * (1 - THINNEST / FULLEST) / TENTH + SLACK) * TENTH
    mends = (Mend(f"Make width {fine(wide, units)}", words.name, "width", round(wide, 1)),) if wide > 0 else ()
    at = laid.tightest.at if laid.tightest else next(iter(laid.trouble), None)
    amiss = Amiss(
        rule="puffing wider than its curve",
        verdict="will not work",
        reason="It is wider than its line's curve or corner has room for: nothing is left of its inner edge there.",
        figure=fine(words.width, units),
        limit=fine(wide, units),
        source="geometry: the inner edge's radius is the outer's less the width",
        amount=Amount(round(words.width, 1), "mm"),
        at=at,
    )
    return finding(words, setting, amiss, mends, "smooth the line")


def _crossed(words: Puffing, puffed: Puffed, setting: Setting) -> Finding:
    amiss = Amiss(
        rule="puffing between lines that cross",
        verdict="will not work",
        reason="Its two lines cross or lie on each other, so that nothing is left between them there.",
        figure="crossing",
        limit="apart all along",
        source="computed",
        amount=Amount(1, "crossing"),
        at=_beginning(puffed),
    )
    return finding(words, setting, amiss, (), "move one of the lines, or leave more free at the ends")


def _full(words: Puffing, puffed: Puffed, laid: Band | None, setting: Setting) -> Finding | None:
    full = words.fullness * puffed.middle / puffed.shorter
    if full <= FULLEST * (1 + SLACK):
        return None
    amiss = Amiss(
        rule="puffing too full at an edge",
        verdict="look again",
        reason=f"At its shorter edge the strip is {full:.2f} times the line: so much cloth hardly goes into the seam.",
        figure=f"{full:.2f}",
        limit=f"{FULLEST:g}",
        source="an encyclopedia of sewing machine techniques, as quoted: 2.5 to 3; geometry",
        amount=Amount(round(full, 2), "times the line"),
        at=_beginning(puffed),
    )
    return finding(words, setting, amiss, _mends(words, puffed, laid, setting), _OTHERWISE)


def _thin(words: Puffing, puffed: Puffed, laid: Band | None, setting: Setting) -> Finding | None:
    full = words.fullness * puffed.middle / puffed.longer
    if full >= THINNEST * (1 - SLACK):
        return None
    amiss = Amiss(
        rule="puffing too thin at an edge",
        verdict="look again",
        reason=f"At its longer edge the strip is only {full:.2f} times the line: it hardly puffs there.",
        figure=f"{full:.2f}",
        limit=f"{THINNEST:g}",
        source="1.5 to 2 is taught, from memory; geometry",
        amount=Amount(round(full, 2), "times the line", least=True),
        at=_beginning(puffed),
    )
    return finding(words, setting, amiss, _mends(words, puffed, laid, setting), _OTHERWISE)


_OTHERWISE = "bring the two lines nearer to one length, or cut the strip to the curve's shape"


def _mends(words: Puffing, puffed: Puffed, laid: Band | None, setting: Setting) -> tuple[Mend, ...]:
    """The nearest fullness, and the greatest width, with which both edges are right."""
    most, least = FULLEST * puffed.shorter / puffed.middle, THINNEST * puffed.longer / puffed.middle
    low = math.ceil(least / HUNDREDTH - SLACK) * HUNDREDTH
    high = math.floor(most / HUNDREDTH + SLACK) * HUNDREDTH
    mends = []
    if low <= high + SLACK:
        near = round(min(max(words.fullness, low), high), 2)
        mends.append(Mend(f"Make fullness {near:g}", words.name, "fullness", near))
    wide = _width(words, puffed) if laid is not None else None
    if wide:
        mends.append(Mend(f"Make width {fine(wide, setting.units)}", words.name, "width", wide))
    return tuple(mends)


def _width(words: Puffing, puffed: Puffed) -> float | None:
    """The width, in whole tenths, at which both edges come out right with the fullness as it is; None for none.

    The edges' lengths differ by the width times what the line turns (geometry of a ring), so that their ratio may be at
    most q, with (1 + q)/2 = FULLEST/fullness and (1 + 1/q)/2 = THINNEST/fullness.
    """
    most = 2 * FULLEST / words.fullness - 1
    least = 2 * THINNEST / words.fullness - 1
    ratio = min(most, 1 / least if least > 0 else math.inf)
    each = (puffed.longer - puffed.shorter) / words.width
    if ratio <= 1 or each <= 0:
        return None
    if words.lies == "middle":
        wide = 2 * puffed.middle * (ratio - 1) / (ratio + 1) / each
    elif (words.lies == "below") == (puffed.upper.length < puffed.lower.length):
        wide = puffed.shorter * (ratio - 1) / each
    else:
        wide = puffed.longer * (1 - 1 / ratio) / each
    told = math.floor(wide / TENTH + SLACK) * TENTH
    return round(told, 1) if TENTH <= told < words.width else None


def _beginning(puffed: Puffed) -> Point:
    x, y = puffed.upper.start.tolist()
    return x, y
