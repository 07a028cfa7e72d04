"""Findings accepted on the page: what cannot be is refused; what was worked out is kept, since nothing else changes."""

from __future__ import annotations

from collections.abc import Sequence

from festoon.desk import AcceptFinding, Edit
from festoon.errors import FestoonError
from festoon.web.answers import AmountTold, FindingTold, ProofTold


class NotAccepted(FestoonError):
    """A finding that cannot be accepted."""


def key_told(rule: str, panel: str, about: Sequence[str]) -> str:
    """What all findings share that are accepted together."""
    return " · ".join([rule, panel, *sorted(set(about))])


def may_accept(finding: FindingTold) -> bool:
    """Whether it may be accepted, as it stands."""
    return finding.verdict == "look again" and bool(finding.rule) and finding.amount is not None


def refuse_unacceptable(edits: Sequence[Edit], proof: ProofTold | None) -> None:
    """NotAccepted where an edit would accept what will not work, or what was not found in this proof."""
    for edit in edits:
        if not isinstance(edit, AcceptFinding) or edit.note is None:
            continue
        if proof is None:
            raise NotAccepted(
                "the piece as it stands has not been proved, so nothing can be accepted.",
                remedy="Have it proved first.",
            )
        same = [f for f in proof.findings if _key(edit) == key_told(f.rule, f.where.panel, f.about)]
        stops = next((f for f in same if f.verdict == "will not work"), None)
        if stops is not None:
            raise NotAccepted(f"{stops.where.told}: this will not work, so it cannot be accepted.", remedy=stops.remedy)
        if not any(map(may_accept, same)):
            raise NotAccepted("nothing of the kind was found there.", remedy="Look at the proof as it is now.")
        if edit.amount is None or any(_worse(f.amount, edit.amount) for f in same):
            raise NotAccepted(
                "it is worse there than what would be accepted.", remedy="Accept it with its worst figure as it stands."
            )


def carried(proof: ProofTold, edits: Sequence[Edit], revision: str) -> ProofTold | None:
    """The proof after a change that only accepts findings or takes that back; None after any other change.

    The edits are such as `refuse_unacceptable` lets pass.
    """
    for edit in edits:
        if not isinstance(edit, AcceptFinding):
            return None
        key = _key(edit)
        proof = proof.model_copy(
            update={
                "findings": sorted(
                    (_noted(f, edit.note or "") if _is(f, key) else f for f in proof.findings), key=_rank
                ),
                "unneeded": [u for u in proof.unneeded if key_told(u.rule, u.panel, u.about) != key],
            }
        )
    return proof.model_copy(update={"revision": revision})


def _key(edit: AcceptFinding) -> str:
    return key_told(edit.rule, edit.panel, edit.about)


def _is(finding: FindingTold, key: str) -> bool:
    return key_told(finding.rule, finding.where.panel, finding.about) == key


def _noted(finding: FindingTold, note: str) -> FindingTold:
    return finding.model_copy(update={"accepted": note, "lapsed": ""})


def _rank(finding: FindingTold) -> tuple[int, bool]:
    """As festoon.proof has them: the worst verdicts first, what is accepted behind its like."""
    return ("will not work", "look again", "sound").index(finding.verdict), bool(finding.accepted)


def _worse(amount: AmountTold | None, accepted: float) -> bool:
    if amount is None:
        return True
    return amount.value < accepted if amount.least else amount.value > accepted
