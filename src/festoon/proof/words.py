"""How findings are told, wherever they are: in the terminal, on the sheet, in a refusal."""

from __future__ import annotations

from festoon.measure import show_length
from festoon.work import Finding, Verdict

VERDICT: dict[Verdict, str] = {"will not work": "Will not work", "look again": "Look again", "sound": "Sound"}
"""Each verdict as a sentence begins with it."""


def spot(at: tuple[float, float] | None) -> str:
    """', 120 mm from the left and 35.5 mm from the top', or nothing where no place is known.

    >>> spot((120.0, 35.52)), spot(None)
    (', 120 mm from the left and 35.5 mm from the top', '')
    """
    return "" if at is None else f", {show_length(at[0])} from the left and {show_length(at[1])} from the top"


def against(finding: Finding) -> str:
    """Its figure against its limit: 'Found 31 %; the limit is 25 %.'"""
    if not finding.figure:
        return ""
    return f"Found {finding.figure}; the limit is {finding.limit}." if finding.limit else f"Found {finding.figure}."


def sentence(finding: Finding) -> str:
    """Where, the reason, figure against limit, what to do, and the source in brackets."""
    told = (f"{finding.where}: {finding.reason}", against(finding), finding.remedy, f"({finding.source})")
    return " ".join(part for part in told if part)
