"""Findings as JSON, for other tools."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from festoon.work.values import Finding


def findings_json(findings: Iterable[Finding]) -> str:
    """Findings as a JSON list, in the same order (its words stand in docs/records.md)."""
    return json.dumps([_object(f) for f in findings], indent=2, ensure_ascii=False)


def _object(finding: Finding) -> dict[str, Any]:
    return {
        "verdict": finding.verdict,
        "where": {
            "panel": finding.panel,
            "at": None if finding.at is None else [round(v, 3) for v in finding.at],
            "elements": list(finding.elements),
            "hooping": finding.hooping,
            "told": finding.where,
        },
        "figure": finding.figure,
        "limit": finding.limit,
        "reason": finding.reason,
        "remedy": finding.remedy,
        "source": finding.source,
        "rule": finding.rule,
        "about": list(finding.concerns),
        "amount": None if finding.amount is None else asdict(finding.amount),
        "mends": [asdict(mend) for mend in finding.mends],
        "accepted": finding.accepted,
        "lapsed": finding.lapsed,
    }
