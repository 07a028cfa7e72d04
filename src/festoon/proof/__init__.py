"""Layout and hoopings -> Proof: will the parts meet, does it get too thick, will the machine sew it.

One module a question, each giving Findings; `prove` asks them all.
"""

from festoon.proof.values import Meeting, Proof, Thickness

__all__ = ["Meeting", "Proof", "Thickness"]
