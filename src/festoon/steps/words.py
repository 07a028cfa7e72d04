"""What is said at each step, as a teacher beside the machine would say it."""

from __future__ import annotations

from collections.abc import Sequence

from festoon.hooping import Mark
from festoon.hooping.words import listed
from festoon.measure import Units, show_length, show_metres, show_minutes, show_place
from festoon.piece.bench import Needle, Stabiliser

PEN = "Use a pen that comes out of this cloth: try it on a scrap, and take it out before you iron."
"""Common practice: heat sets the ink of many marking pens."""

SMOOTH = "Lay the cloth smooth, and do not pull it once it is hooped: what was stretched draws back afterwards."
"""Common practice."""

LOWER = (
    "At each wait lower the needle by hand. Facing the machine, see how far right or left, up or down of the needle "
    "the cross lies."
)

_REMOVED = {
    "tear": "Tear the stabiliser away gently, a thumb on the stitching.",
    "cut": "Cut the stabiliser back on the wrong side, the scissors' blade flat.",
    "wash": "Rinse the stabiliser out when all is sewn and the crosses are no longer wanted.",
    "solub": "Rinse the stabiliser out when all is sewn and the crosses are no longer wanted.",
}
"""How each kind of stabiliser comes off, by a word of its name (common practice)."""


def crosses(names: Sequence[str]) -> str:
    """'cross A', 'crosses A and B'."""
    return f"cross{'es' if len(names) > 1 else ''} {listed(names)}"


def place_of(mark: Mark, units: Units) -> str:
    """Where a cross stands on its panel."""
    x, y = (show_place(v, units) for v in mark.at)
    return f"{mark.name}: {x} from the left edge, {y} from the top edge."


def after(numbers: Sequence[int]) -> str:
    """What must be sewn before."""
    told = [str(n) for n in numbers]
    return f"Hooping{'s' if len(told) > 1 else ''} {listed(told)} must be sewn before this one."


def turned(turn: float, hoop: str) -> str:
    """How to lay the hoop on the cloth."""
    degrees = round((turn + 180.0) % 360.0 - 180.0, 1)
    if degrees == 0:
        return f"The hoop “{hoop}” lies upright on the cloth."
    way = "clockwise" if degrees > 0 else "anticlockwise"
    return f"On the cloth, the hoop “{hoop}” is turned {abs(degrees):g}° {way} (computed)."


def floated(sides: Sequence[str], panel: str) -> str:
    """What to do where the hoop reaches past the cloth; nothing where it does not."""
    if not sides:
        return ""
    return (
        f"The hoop reaches past {panel} at the {listed(sides)}. Hoop the stabiliser alone, and float the cloth on it: "
        "lay it to the crosses and baste or pin it outside the field."
    )


def laid_under(stabiliser: Stabiliser, size: tuple[float, float], units: Units) -> str:
    """What to cut of the stabiliser; size: of a piece, as in the hoop."""
    w, h = (show_length(s, units) for s in size)
    count = "one piece" if stabiliser.layers == 1 else f"{stabiliser.layers} pieces"
    return f"Under it: {count} of {stabiliser.name}, {w} by {h}."


def needle(told: Needle) -> str:
    """'75/11 embroidery'."""
    return f"{told.size} {told.point}"


def bobbin(metres: float, full: float) -> str:
    """Whether the bobbin will do."""
    return f"The bobbin gives about {show_metres(metres)} here; a full one holds {show_metres(full)}."


def sewn(stitches: int, minutes: float) -> str:
    """'1,234 stitches, about 3 minutes.'"""
    return f"{stitches:,} stitch{'' if stitches == 1 else 'es'}, about {show_minutes(minutes)}."


def taken_off(stabiliser: Stabiliser) -> str:
    """How the stabiliser comes off."""
    name = stabiliser.name.casefold()
    told = (way for word, way in _REMOVED.items() if word in name)
    return next(told, f"Take the stabiliser ({stabiliser.name}) off as its maker says.")


def kept(wanted: Sequence[tuple[str, Sequence[int]]]) -> str:
    """Which crosses must stay, and for which hoopings."""
    told = [f"{name} for hooping{'s' if len(of) > 1 else ''} {listed([str(n) for n in of])}" for name, of in wanted]
    return f"Leave {'cross' if len(told) == 1 else 'crosses'} {listed(told)}."


def done_with(names: Sequence[str]) -> str:
    """Which crosses may go."""
    return f"Cross{'es' if len(names) > 1 else ''} {listed(names)} will not be wanted again."


def lies_elsewhere(number: int) -> str:
    """That a hooping must be hooped anew."""
    return (
        f"Since steps of hooping {number} were ticked, its crosses or the place of its hoop were changed. It must be "
        "hooped anew; what is sewn of it still counts."
    )


def sews_otherwise(number: int, last: str) -> str:
    """That what was ticked of a hooping was other stitching; last: what was done last, as it stood then."""
    return (
        f"Steps of hooping {number} were ticked, last “{last}”, when it sewed other stitches: the piece was changed "
        "since. Those ticks do not count, and what is on the cloth already may not be what is drawn here."
    )


def numbered_anew(now: int, before: int) -> str:
    """That a hooping has another number than when its steps were ticked."""
    return f"This was hooping {before} when its steps were ticked; it sews the same stitches, and is now hooping {now}."
