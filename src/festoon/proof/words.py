"""How findings are told, wherever they are: in the terminal, on the sheet, in a refusal."""

from __future__ import annotations

import re
from collections.abc import Iterable

from festoon.hooping.words import number_word
from festoon.measure import Units, show_length
from festoon.measure import fine as fine
from festoon.work import Finding, Verdict

VERDICT: dict[Verdict, str] = {"will not work": "Will not work", "look again": "Look again", "sound": "Sound"}
"""Each verdict as a sentence begins with it."""

PLACES = 3
"""Further places of a finding told by name; the rest are counted."""

_ASIDE = re.compile(
    r"(\d+ )?\d+/\d+|\d[\d,]*(\.\d+)?|\bto the (left|right)\b|\b(up|down|no|one|two|three|four|five|six|seven|eight)\b"
)
"""Figures and ways: what may differ between findings that say the same."""


_SQUARE = re.compile(r" over a | from hole ")
"""Where the telling figure of several words ends."""


def spot(at: tuple[float, float] | None, units: Units = "mm") -> str:
    """', 120 mm from the left and 35.5 mm from the top', or nothing where no place is known.

    >>> spot((120.0, 35.52)), spot((25.4, 38.1), "inch"), spot(None)
    (', 120 mm from the left and 35.5 mm from the top', ', 1 in from the left and 1 1/2 in from the top', '')
    """
    if at is None:
        return ""
    return f", {show_length(at[0], units)} from the left and {show_length(at[1], units)} from the top"


def against(finding: Finding) -> str:
    """Its figure against its limit: 'Found 31 %; the limit is 25 %.'"""
    if not finding.figure:
        return ""
    return f"Found {finding.figure}; the limit is {finding.limit}." if finding.limit else f"Found {finding.figure}."


def alike(findings: Iterable[Finding]) -> tuple[tuple[Finding, ...], ...]:
    """Findings that say the same but for places, names and figures, together; the order of the first of each stays."""
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for f in findings:
        said = _kind(f, f.reason), _kind(f, f.remedy), f.limit, f.source, f.accepted, _kind(f, f.lapsed)
        groups.setdefault((f.verdict, *said), []).append(f)
    return tuple(tuple(group) for group in groups.values())


def _kind(finding: Finding, text: str) -> str:
    """The text without the names, figures and ways in it."""
    for name in sorted(finding.elements, key=len, reverse=True):
        text = re.sub(rf"(?<!\w){re.escape(name)}(?!\w)", "·", text)
    return re.sub(r"·(, ·)*( and ·)?", "·", _ASIDE.sub("#", text))


def others(group: tuple[Finding, ...]) -> str:
    """Where else the same was found: 'The same at seven more places: ... (3.2 layers); ... and four more.'"""
    more = group[1:]
    if not more:
        return ""
    named = [_elsewhere(f, group[0]) for f in more[:PLACES]]
    rest = f"; and {number_word(len(more) - PLACES)} more" if len(more) > PLACES else ""
    places = "place" if len(more) == 1 else "places"
    return f"The same at {number_word(len(more))} more {places}: {'; '.join(named)}{rest}."


def _elsewhere(finding: Finding, worst: Finding) -> str:
    """Its place, without what was said of the worst already, and its figure in short."""
    head, on, tail = finding.where.partition(f" on {finding.panel}, ")
    where = tail if tail and worst.where.startswith(head + on) else finding.where
    return f"{where} ({_SQUARE.split(finding.figure)[0]})" if finding.figure else where


def word(finding: Finding) -> str:
    """What a sentence on it begins with: its verdict, or that it is accepted."""
    return "Accepted" if finding.accepted else VERDICT[finding.verdict]


def accepted_told(finding: Finding) -> str:
    """'Accepted by you: the heart is meant to stand out.'; nothing where it is not."""
    return f"Accepted by you: {finding.accepted}" if finding.accepted else ""


def sentence(group: tuple[Finding, ...]) -> str:
    """Where it is worst, the reason, figure against limit, what to do, the source in brackets, where else, her note."""
    worst = group[0]
    said = worst.lapsed or accepted_told(worst)
    told = (f"{worst.where}: {worst.reason}", against(worst), worst.remedy, f"({worst.source})", others(group), said)
    return " ".join(part for part in told if part)
