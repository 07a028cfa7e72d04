"""Layout and hoopings -> Proof: will the parts meet, does it get too thick, will the machine sew it.

One module a question, each giving Findings; `prove` asks them all.
"""

from festoon.proof.accepting import with_accepted
from festoon.proof.prove import prove
from festoon.proof.values import Carrying, MarkAdvice, Meeting, Proof, Thickness, worst_first

__all__ = ["Carrying", "MarkAdvice", "Meeting", "Proof", "Thickness", "prove", "with_accepted", "worst_first"]
