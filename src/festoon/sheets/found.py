"""Findings as the sheets show them: like ones together, each with its sign, figure, limit and source."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from festoon.hooping.words import number_word
from festoon.proof import worst_first
from festoon.proof.cloth import HOLES_SOURCE, LAYERS, LAYERS_STOP
from festoon.proof.words import accepted_told, against, alike, others, word
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
        "word": word(finding),
        "where": finding.where,
        "told": " ".join(t for t in (finding.reason, against(finding), others(group)) if t),
        "remedy": finding.remedy,
        "accepted": bool(finding.accepted),
        "note": finding.lapsed or accepted_told(finding),
        "source": finding.source,
    }


def is_dense(finding: Finding) -> bool:
    """Whether it is about so much stitching in one place that a needle may break."""
    return finding.source in _OF_THICKNESS


def verdict_told(groups: tuple[tuple[Finding, ...], ...]) -> str:
    """All findings in one sentence, and how many are accepted in another.

    >>> verdict_told(())
    'Sound: nothing was found that keeps it from working.'
    """
    let_be = sum(bool(g[0].accepted) for g in groups)
    told = _verdict_told([g[0] for g in groups if not g[0].accepted], bool(let_be))
    return f"{told} {_things(let_be).capitalize()} you have accepted." if let_be else told


def _verdict_told(findings: Sequence[Finding], more: bool) -> str:
    stops = sum(f.verdict == "will not work" for f in findings)
    looks = sum(f.verdict == "look again" for f in findings)
    if stops and looks:
        return f"{_things(stops).capitalize()} will not work, and {_things(looks)} should be looked at again."
    if stops:
        return f"{_things(stops).capitalize()} will not work."
    if looks:
        return f"Nothing keeps it from working; {_things(looks)} should be looked at again."
    if more:
        return "Nothing keeps it from working."
    return "Sound: nothing was found that keeps it from working."


def _things(count: int) -> str:
    return f"{number_word(count)} thing{'' if count == 1 else 's'}"
