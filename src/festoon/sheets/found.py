"""Findings as the sheets show them: like ones together, each with its sign, figure, limit and source."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from festoon.hooping.words import number_word
from festoon.proof import worst_first
from festoon.proof.cloth import HOLES_SOURCE, LAYERS, LAYERS_STOP
from festoon.proof.words import VERDICT, against, alike, others
from festoon.work import Finding

_OF_THICKNESS = {LAYERS.source, LAYERS_STOP.source, HOLES_SOURCE}
"""The limits by which stitching is found too dense for the needle."""


def together(findings: Iterable[Finding]) -> tuple[tuple[Finding, ...], ...]:
    """Worst first, those alike as one."""
    return alike(worst_first(findings))


def found(group: tuple[Finding, ...], number: str = "") -> dict[str, Any]:
    """Like findings as one: the first of them, and where else the same was found. number: by which a map names it."""
    finding = group[0]
    return {
        "number": number,
        "verdict": finding.verdict,
        "word": VERDICT[finding.verdict],
        "where": finding.where,
        "told": " ".join(t for t in (finding.reason, against(finding), others(group)) if t),
        "remedy": finding.remedy,
        "source": finding.source,
    }


def is_dense(finding: Finding) -> bool:
    """Whether it is about so much stitching in one place that a needle may break."""
    return finding.source in _OF_THICKNESS


def verdict_told(groups: tuple[tuple[Finding, ...], ...]) -> str:
    """All findings in one sentence.

    >>> verdict_told(())
    'Sound: nothing was found that keeps it from working.'
    """
    stops = sum(g[0].verdict == "will not work" for g in groups)
    looks = sum(g[0].verdict == "look again" for g in groups)
    if stops and looks:
        return f"{_things(stops).capitalize()} will not work, and {_things(looks)} should be looked at again."
    if stops:
        return f"{_things(stops).capitalize()} will not work."
    if looks:
        return f"Nothing keeps it from working; {_things(looks)} should be looked at again."
    return "Sound: nothing was found that keeps it from working."


def _things(count: int) -> str:
    return f"{number_word(count)} thing{'' if count == 1 else 's'}"
