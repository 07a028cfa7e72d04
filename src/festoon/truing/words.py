"""The verdicts on a truing, as a teacher would say them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from festoon.errors import HoopingError
from festoon.hooping import ExpectedError, Hooping
from festoon.measure import show_length
from festoon.piece.near import did_you_mean, listed
from festoon.plane.pose import Pose
from festoon.truing.values import Spread
from festoon.work.fields import quoted

Units = Literal["mm", "inch"]

LEFT_RIGHT, UP_DOWN = ("left", "right"), ("up", "down")

SMALL_TURN = 0.05
"""Degrees; a smaller turn is told as none, because it shows as 0.0."""


def lies(pose: Pose, units: Units) -> str:
    """How the cloth lies in the hoop, by the move that carries what was planned to what is there."""
    told = listed([*_shift(pose.x, pose.y, units), *_turn("turned", pose.turn)] or ["just as planned"], "and")
    return f"The cloth lies {told}."


def hoop_again(pose: Pose, units: Units) -> str:
    """What to do with the cloth so that it comes to lie as planned.

    The cloth's point that belongs at the middle of the field lies at the pose's shift: moved back first, then turned
    about the middle, all of it comes right.
    """
    shift = _shift(-pose.x, -pose.y, units)
    moves = [f"moving the cloth {listed(shift, 'and')}"] if shift else []
    moves += [f"{turn} about the middle of the field" for turn in _turn("turning it", -pose.turn)]
    return f"Too far off: hoop again, {listed(moves, 'and then')}." if moves else "Hoop again."


def too_far(shift: float, turn: float, units: Units) -> str:
    """The limits that were passed."""
    return f"Up to {show_length(shift, units)} and {turn:g}° the sewing can follow the cloth; this is more."


def leaves_field(past: Sequence[float], play: float, units: Units) -> str:
    """By how much stitching that followed the cloth would pass each side of the field."""
    sides = zip(("left", "top", "right", "bottom"), past, strict=True)
    told = [f"{_exact(p, units)} past its {side} edge" for side, p in sides if p > play]
    return f"Following the cloth, the stitching would leave the field: {listed(told, 'and')}."


def stretched(names: Sequence[str], scale: float, reach: float, units: Units) -> tuple[str, str]:
    """That the cloth is stretched, or, by two marks, may be; reach: mm from the marks' middle to the farthest stitch."""
    share = f"{abs(scale - 1.0) * 100.0:.1f} %"
    kind = "stretched" if scale > 1.0 else "drawn together"
    off = _exact(abs(scale - 1.0) * reach, units)
    left = f"Stitches keep their length, so the farthest will lie up to {off} off for that."
    if len(names) > 2:
        return f"The cloth is {kind} by {share}. Ease it in the hoop if you can, and read the marks again.", left
    farther = "farther apart" if scale > 1.0 else "nearer together"
    return (
        f"Marks {names[0]} and {names[1]} lie {share} {farther} than they should: either the cloth is {kind}, or one of "
        "them was misread. Two marks cannot tell which; read a third if you can.",
        f"If it is the cloth: {left[0].lower()}{left[1:]}",
    )


def unknowable(names: Sequence[str]) -> tuple[str, ...]:
    """What two marks that agree still leave unknown; nothing to say of more."""
    if len(names) > 2:
        return ()
    return (
        f"By marks {names[0]} and {names[1]} alone, one misread across the line between them cannot be told from a turn, "
        "nor a stretch from one misread along it. Read a third mark to be surer.",
    )


def misread(
    names: Sequence[str], suspects: Sequence[int], rms: float, fle: float, scale: float, units: Units
) -> tuple[str, ...]:
    """Which mark was probably misread, as far as can be known, and what to do."""
    apart = (
        f"The readings disagree by {_exact(rms, units)} on the average, more than the {_exact(fle, units)} to be expected "
        "of a cross explains."
    )
    if len(names) == 2:
        farther = "farther apart" if scale > 1.0 else "nearer together"
        return (
            f"Mark {names[0]} or mark {names[1]} was misread, or drawn in the wrong place: they lie "
            f"{abs(scale - 1.0) * 100.0:.1f} % {farther} than they should, more than cloth stretches. Two marks cannot "
            "tell which.",
            "Read both again, and a third if there is one.",
        )
    if not suspects:
        return apart, "No single mark explains it. Read all of them again."
    blamed = [names[n] for n in suspects]
    again = "Read it" if len(blamed) == 1 else "Read them"
    return (
        f"Mark {listed(blamed)} was probably misread: without it the others agree.",
        apart,
        f"{again} again. A cross that reads the same was drawn in the wrong place: leave it out.",
    )


def expected(error: ExpectedError, units: Units) -> str:
    """The placing error that is left, which no small misfit of the readings makes smaller."""
    return (
        f"Trued by these marks, the worst stitch is predicted to land within {_exact(error.mm, units)} of its place, "
        f"{error.confidence * 100:.0f} times in 100."
    )


def unreached(names: Sequence[str]) -> str:
    """Marks that lie outside the field now."""
    marks = f"Mark {names[0]} lies" if len(names) == 1 else f"Marks {listed(names, 'and')} lie"
    return f"{marks} outside the field as the cloth is hooped, so the needle check passes over {_them(names)}."


def so_far(spread: Spread | None, assumed: float, units: Units) -> tuple[str, ...]:
    """How far crosses stood from where they should, over all truings of the piece, against what was assumed."""
    if spread is None:
        return ()
    hoopings = "" if spread.hoopings == 1 else f" of {spread.hoopings} hoopings"
    told = (
        f"So far, by {spread.readings} readings{hoopings}, you mark and read within {_exact(spread.mm, units)} (root mean square; 95 times in 100 the "
        f"truth lies from {_exact(spread.least, units)} to {_exact(spread.most, units)}); "
        f"{_exact(assumed, units)} was assumed."
    )
    if spread.least <= assumed <= spread.most:
        return (told,)
    return told, (
        "That differs. Readings cannot tell marking, reading and seating apart, so Festoon changes none of them: if it "
        "goes on so, set them under [measured] in bench.toml."
    )


def no_mark(hooping: Hooping, name: str) -> HoopingError:
    """The sentence for a mark that the hooping does not have."""
    known = [m.name for m in hooping.marks]
    return HoopingError(
        f"it has no mark called {quoted(name)}.",
        where=f"hooping {hooping.number}",
        remedy=did_you_mean(name, known, f"Its marks are {listed(known, 'and')}."),
    )


def _them(names: Sequence[str]) -> str:
    return "it" if len(names) == 1 else "them"


def _shift(x: float, y: float, units: Units) -> list[str]:
    """['7.2 mm right', '1.1 mm down'], without what shows as nothing."""
    nothing = show_length(0.0, units)
    told = [(show_length(abs(v), units, denominator=64), sides[v > 0]) for v, sides in ((x, LEFT_RIGHT), (y, UP_DOWN))]
    return [f"{length} {side}" for length, side in told if length != nothing]


def _turn(verb: str, turn: float) -> list[str]:
    way = "clockwise" if turn > 0 else "anticlockwise"
    return [f"{verb} {abs(turn):.1f}° {way}"] if abs(turn) >= SMALL_TURN else []


def _exact(mm: float, units: Units) -> str:
    """Fine lengths: tenths of a millimetre, or 64ths of an inch."""
    return show_length(mm, units, denominator=64)
