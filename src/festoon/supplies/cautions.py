"""What can hurt while the supplies are used. The machine's own manual comes first."""

from __future__ import annotations

from collections.abc import Iterable

from festoon.hooping import Hooping
from festoon.piece import Hoop
from festoon.work import Caution

_ALWAYS = (
    Caution(
        "Needle: keep hands clear while the machine runs, stop it before you trim, and switch it off to change the "
        "needle, as the machine's manual says. Begin each large piece with a new needle. When one breaks, find every "
        "part of it before you go on.",
    ),
    Caution("Pins: count them in and count them out again, above all in work for a child."),
    Caution(
        "Scissors: cut close to stitching with blunt-tipped or duck-billed ones, the blade flat, and look at both "
        "layers before you close them.",
        "a lace tutorial (blunt tips); common practice",
    ),
    Caution(
        "Iron: set it for the most delicate of cloth, thread and stabiliser: one dot is 110 °C, two are 150 °C, three "
        "200 °C. Try it on a scrap, and unplug it when you leave.",
        "ISO 3758, as care-label pages give it",
    ),
)
_MAGNETS = Caution(
    "Magnets: take your fingers away before a magnetic hoop closes. Keep it 15 cm from pacemakers and other implants, "
    "away from cards and telephones, and never leave a loose magnet where a child can reach it. Follow the manuals of "
    "hoop and machine.",
    "a US health agency's advice on consumer magnets (2021) and 16 CFR 1262, from memory",
)
DENSE = Caution(
    "Dense stitching: the needle may be turned aside there, strike the plate and break, and its pieces fly. Wear "
    "glasses, keep your face away, sew slowly with a new needle of the size that the thread wants, and stop at once "
    "when the sound changes. The machine's manual comes first.",
)
"""For places where stitching lies too thick."""
TRIMMING = Caution(
    "Trimming: stop the machine before you reach in, as its manual says, and cut with blunt-tipped or duck-billed "
    "scissors, the blade flat.",
    "a lace tutorial (blunt tips); common practice",
)
CLOSING = Caution(
    "Magnetic hoop: fingers away as it closes, and 15 cm from pacemakers and other implants; its manual comes first.",
    _MAGNETS.source,
)
"""For every hooping in a magnetic hoop."""


def cautions_at(hooping: Hooping, *, dense: bool) -> tuple[Caution, ...]:
    """The cautions for one hooping, where they matter: its hoop, dense stitching, thread to trim, in this order.

    dense: whether stitching was found too thick there. Thread is trimmed between runs and where it is changed.
    """
    trims = len(hooping.stitching.runs()) > 1
    told = ((hooping.hoop.magnetic, CLOSING), (dense, DENSE), (trims, TRIMMING))
    return tuple(caution for matters, caution in told if matters)


def cautions(hoops: Iterable[Hoop]) -> tuple[Caution, ...]:
    """The cautions for work in these hoops; magnets are spoken of where one of them is magnetic."""
    return (*_ALWAYS, _MAGNETS) if any(h.magnetic for h in hoops) else _ALWAYS
