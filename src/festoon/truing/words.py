"""The verdicts on a truing, as a teacher would say them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from festoon.errors import HoopingError
from festoon.hooping import ExpectedError, Hooping
from festoon.hooping.words import listed
from festoon.measure import Units
from festoon.piece.near import did_you_mean
from festoon.plane.pose import Pose
from festoon.proof.told import LIKELY, reach
from festoon.proof.words import fine
from festoon.truing.values import Reading
from festoon.work.fields import quoted

LEFT_RIGHT, UP_DOWN = ("left", "right"), ("up", "down")

SMALL_TURN = 0.05
"""Degrees; a smaller turn is told as none, because it shows as 0.0."""


def understood(readings: Mapping[str, Reading], units: Units) -> str:
    """The readings told back, so that a left taken for a right is seen before the first stitch.

    >>> understood({"A": (0.5, -0.3), "B": (0.0, 0.0)}, "mm")
    'Read, facing the machine: cross A lies 0.5 mm right and 0.3 mm up of its place; B lies on its place.'
    """
    told = []
    for name, (x, y) in readings.items():
        off = _shift(x, y, units)
        told.append(f"{name} lies {listed(off)} of its place" if off else f"{name} lies on its place")
    return f"Read, facing the machine: cross {'; '.join(told)}."


def lies(pose: Pose, units: Units, *, agreed: bool) -> str:
    """How the cloth lies in the hoop, by the move that carries what was planned to what is there."""
    told = [*_shift(pose.x, pose.y, units), *_turn("turned", pose.turn)]
    place = f"at the middle of the field the cloth lies {listed(told)}" if told else "the cloth lies just as planned"
    return f"The readings agree: {place}." if agreed else f"{place[0].upper()}{place[1:]}."


def gist(pose: Pose, units: Units) -> str:
    """How the cloth lies, in few words.

    >>> gist(Pose(0.6, -0.2, 0.6), "mm")
    'The cloth lies 0.6 mm right, 0.2 mm up and turned 0.6° clockwise.'
    """
    told = [*_shift(pose.x, pose.y, units), *_turn("turned", pose.turn)]
    return f"The cloth lies {listed(told)}." if told else "The cloth lies just as planned."


def hoop_again(pose: Pose, far: bool, units: Units) -> str:
    """What to do with the cloth so that it comes to lie as planned; far: whether it lies too far off to be followed.

    The cloth's point that belongs at the middle of the field lies at the pose's shift: moved back first, then turned
    about the middle, all of it comes right.
    """
    shift = _shift(-pose.x, -pose.y, units)
    moves = [f"moving the cloth {listed(shift)}"] if shift else []
    moves += [f"{turn} about the middle of the field" for turn in _turn("turning it", -pose.turn)]
    begun = "Too far off: hoop" if far else "Hoop"
    return f"{begun} again, {listed(moves, joint='and then')}." if moves else f"{begun} again."


def too_far(shift: float, turn: float, units: Units) -> str:
    """The limits that were passed."""
    return f"Up to {fine(shift, units)} and {turn:g}° the sewing can follow the cloth; this is more."


def leaves_field(past: Sequence[float], play: float, units: Units) -> str:
    """By how much stitching that followed the cloth would pass each side of the field."""
    sides = zip(("left", "top", "right", "bottom"), past, strict=True)
    told = [f"{reach(p, units)} past its {side} edge" for side, p in sides if p > play]
    return f"Following the cloth, the stitching would leave the field: {listed(told)}."


def stretched(names: Sequence[str], scale: float, far: float, units: Units) -> tuple[str, str]:
    """That the cloth is stretched, or, by two marks, may be; far: mm from the marks' middle to the farthest stitch."""
    share = _share(scale)
    kind = "stretched" if scale > 1.0 else "drawn together"
    off = fine(abs(scale - 1.0) * far, units)
    left = f"titches keep their length, so the farthest will lie up to {off} off for that."
    if len(names) > 2:
        told = f"The cloth is {kind} by {share}. Ease it in the hoop if you can, and read the marks again."
        return told, f"S{left}"
    return (
        f"Marks {names[0]} and {names[1]} lie {share} {_apart(scale)} than they should: either the cloth is {kind}, or "
        "one of them was misread. Two marks cannot tell which; read a third if you can.",
        f"If it is the cloth: s{left}",
    )


def unknowable(names: Sequence[str]) -> tuple[str, ...]:
    """What two marks that agree still leave unknown; nothing to say of more."""
    if len(names) > 2:
        return ()
    return (
        f"By marks {names[0]} and {names[1]} alone, one misread across the line between them cannot be told from a "
        "turn, nor a small stretch from one misread along it. Read a third mark to be surer.",
    )


def misread(
    names: Sequence[str], suspects: Sequence[int], rms: float, fle: float, scale: float, units: Units
) -> tuple[str, ...]:
    """Which mark was probably misread, as far as can be known, and what to do."""
    if len(names) == 2:
        return (
            f"Mark {names[0]} or mark {names[1]} was misread, or drawn in the wrong place: they lie {_share(scale)} "
            f"{_apart(scale)} than they should, more than cloth stretches. Two marks cannot tell which.",
            "Read both again, and a third if there is one.",
        )
    disagree = (
        f"Together the readings leave {fine(rms, units, 2)} that no move of the cloth explains (root mean square); a "
        f"cross errs by {fine(fle, units, 2)}."
    )
    if not suspects:
        return disagree, "No single mark is the cause. Read all of them again."
    blamed = [names[n] for n in suspects]
    again = "Read it" if len(blamed) == 1 else "Read them"
    return (
        f"Mark {listed(blamed, joint='or')} was probably misread: without it the others agree.",
        disagree,
        f"{again} again. A cross that reads the same was drawn in the wrong place: leave it out.",
    )


def expected(error: ExpectedError, units: Units) -> str:
    """The placing error that is left, which no small misfit of the readings makes smaller."""
    return (
        f"Trued by these marks, the worst stitch is predicted to land within {reach(error.mm, units)} of its place "
        f"{error.confidence * 100:.0f} times in 100, however well the readings agree."
    )


def unreached(names: Sequence[str]) -> str:
    """Marks that lie outside the field now."""
    if len(names) == 1:
        return f"Mark {names[0]} lies outside the field as the cloth is hooped, so the needle check passes over it."
    return f"Marks {listed(names)} lie outside the field as the cloth is hooped, so the needle check passes over them."


def learned(readings: int, sound: Sequence[int], now: float, before: float, trued: Sequence[int], units: Units) -> str:
    """What the readings so far have taught.

    readings: how many, of the hoopings `sound` that the error of a cross is judged by, now and before, mm rms; trued:
    the hoopings that lie where their crosses were read.
    """
    told = []
    if sound:
        told.append(
            f"By {readings} readings after hooping (of {_hoopings(sound)}) a cross, drawn and read, is reckoned to err "
            f"by {fine(now, units, 2)}, before by {fine(before, units, 2)} (root mean square)."
        )
    if trued:
        one = len(trued) == 1
        told.append(
            f"{_hoopings(trued).capitalize()} {'counts as lying where its' if one else 'count as lying where their'} "
            "crosses were read."
        )
    return " ".join(told)


def outlook(
    later: Sequence[int], expected: tuple[float, float], across: tuple[float, float] | None, units: Units
) -> str:
    """How surely the hoopings to come will be placed and meet, now and before.

    expected: the placing error of the worst stitch, mm; across: the spread of the least sure meeting, mm; each before
    and now.
    """
    before, now = expected
    told = f"the worst stitch is now predicted within {reach(now, units)} of its place (before {reach(before, units)})"
    if across is not None:
        was, now_within = (reach(LIKELY * sd, units) for sd in across)
        told += f", the least sure meeting within ±{now_within} (before ±{was})"
    return f"Still to come, {_hoopings(later)}: {told}, 95 times in 100."


def no_mark(hooping: Hooping, name: str) -> HoopingError:
    """The sentence for a mark that the hooping does not have."""
    known = [m.name for m in hooping.marks]
    return HoopingError(
        f"it has no mark called {quoted(name)}.",
        where=f"hooping {hooping.number}",
        remedy=did_you_mean(name, known, f"Its marks are {listed(known)}."),
    )


def _hoopings(numbers: Sequence[int]) -> str:
    """'hooping 3', 'hoopings 1 and 2', 'hoopings 3 to 7'."""
    if len(numbers) == 1:
        return f"hooping {numbers[0]}"
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"hoopings {numbers[0]} to {numbers[-1]}"
    return f"hoopings {listed([str(n) for n in numbers])}"


def _share(scale: float) -> str:
    return f"{abs(scale - 1.0) * 100.0:.1f} %"


def _apart(scale: float) -> str:
    return "farther apart" if scale > 1.0 else "nearer together"


def _shift(x: float, y: float, units: Units) -> list[str]:
    """['7.2 mm right', '1.1 mm down'], without what shows as nothing."""
    nothing = fine(0.0, units)
    told = [(fine(abs(v), units), sides[v > 0]) for v, sides in ((x, LEFT_RIGHT), (y, UP_DOWN))]
    return [f"{length} {side}" for length, side in told if length != nothing]


def _turn(verb: str, turn: float) -> list[str]:
    way = "clockwise" if turn > 0 else "anticlockwise"
    return [f"{verb} {abs(turn):.1f}° {way}"] if abs(turn) >= SMALL_TURN else []
