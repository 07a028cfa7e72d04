"""What the worker has accepted: 'look again' findings that she has looked at and lets be, with her note."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from festoon.hooping.words import listed
from festoon.measure import Units
from festoon.piece.model import Accepted
from festoon.proof.values import Proof, worst_first
from festoon.proof.words import fine
from festoon.work import Amount, Finding

Key = tuple[str, str, tuple[str, ...]]
"""Rule, panel, and the names that it concerns: no number of a hooping, which another order would change."""


def key_of(finding: Finding) -> Key | None:
    """What a finding is accepted by; None where its rule cannot be accepted at all."""
    if not finding.rule or finding.amount is None:
        return None
    return finding.rule, finding.panel, finding.concerns


def key_accepted(accepted: Accepted) -> Key:
    """The same of an acceptance."""
    return accepted.rule, accepted.panel, tuple(sorted(set(accepted.about)))


def with_accepted(proof: Proof, accepted: Sequence[Accepted], units: Units) -> Proof:
    """The proof with every finding marked that the worker accepted, and with every acceptance that holds no longer.

    One acceptance holds for all places of the same parts that are no worse than what was accepted. It lapses where one
    is worse, and never holds for what will not work. Verdicts, and everything else, stay as they were; accepted
    findings stand behind the others that should be looked at again.
    """
    of = {key_accepted(a): a for a in accepted}
    findings = tuple(_marked(f, of, units) for f in proof.findings)
    found = {key_of(f) for f in findings}
    unneeded = tuple(a for key, a in of.items() if key not in found)
    return replace(proof, findings=worst_first(findings), unneeded=unneeded)


def _marked(finding: Finding, of: dict[Key, Accepted], units: Units) -> Finding:
    key = key_of(finding)
    accepted = None if key is None else of.get(key)
    if accepted is None or finding.amount is None:
        return finding
    if finding.verdict == "look again" and not finding.amount.worse_than(accepted.amount):
        return replace(finding, accepted=accepted.note)
    return replace(finding, lapsed=_lapsed(finding.amount, accepted.amount, finding.verdict == "will not work", units))


def _lapsed(now: Amount, before: float, stops: bool, units: Units) -> str:
    """'You accepted 3.2 layers here; now it is 3.6.'"""
    if not now.worse_than(before):
        return "You accepted this once; as things are now it will not work."
    was, told = (amount_told(replace(now, value=v), units) for v in (before, now.value))
    is_now = told.removesuffix(f" {now.unit}") if now.unit not in ("mm", "share") else told
    return f"You accepted {was} here; now it is {is_now}{', and that will not work' if stops else ''}."


def amount_told(amount: Amount, units: Units) -> str:
    """A figure in short.

    >>> amount_told(Amount(3.0, "layers"), "mm"), amount_told(Amount(0.07, "share"), "mm")
    ('3.0 layers', '7 %')
    >>> amount_told(Amount(0.4, "mm"), "inch"), amount_told(Amount(820, "penetrations per cm²"), "mm")
    ('0.016 in', '820 penetrations per cm²')
    """
    if amount.unit == "mm":
        return fine(amount.value, units, 2)
    if amount.unit == "share":
        return f"{100 * amount.value:.0f} %"
    told = f"{amount.value:.1f}" if amount.unit == "layers" else f"{amount.value:,.0f}"
    return f"{told} {amount.unit}"


def unneeded_told(unneeded: Iterable[Accepted]) -> list[str]:
    """A sentence for every acceptance of what is found no longer. It is kept: what is moved may come back."""
    return [
        f"Not needed now: you accepted “{a.rule}”{f' of {listed(a.about, 3)}' if a.about else ''}"
        f"{f' on {a.panel}' if a.panel else ''} ({a.note}), and nothing of the kind is found there any more. "
        "It is kept in the piece file in case it comes back."
        for a in unneeded
    ]
