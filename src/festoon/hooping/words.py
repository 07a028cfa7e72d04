"""Why so many hoopings, in sentences that a teacher would use."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from festoon.hooping.assignment import NODE_LIMIT
from festoon.hooping.candidates import Masks
from festoon.hooping.cover import Cover
from festoon.hooping.fitting import Turns, extents, hull_corners
from festoon.hooping.values import Block
from festoon.measure import Units, show_length
from festoon.piece.near import did_you_mean
from festoon.work import Finding
from festoon.work.fields import quoted

SMALL = (
    *("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"),
)


def number_word(n: int) -> str:
    """'seven' for 7; figures above twenty."""
    return SMALL[n] if 0 <= n < len(SMALL) else str(n)


def listed(names: Sequence[str], most: int = 12, joint: str = "and") -> str:
    """'a, b and c'; past `most` names the rest are counted."""
    if len(names) > most:
        return f"{', '.join(names[:most])} {joint} {len(names) - most} more"
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {joint} {names[-1]}"


def headline(count: int, bound: int, cut: bool = False, free: tuple[int, int] | None = None) -> str:
    """'Seven hoopings; fewer than seven is impossible.' or 'Eight hoopings; at least seven are needed.'

    cut: a part was too large for the field and had to be divided; the bound is for the places where that was done.
    free: count and bound without what the worker laid and ordered herself.
    """
    noun = "hooping" if count == 1 else "hoopings"
    many = f"{number_word(count).capitalize()} {noun}"
    if count == 0:
        return "Nothing to sew, so no hoopings."
    if count == 1:
        return "One hooping: everything fits one field."
    end = ", with the large parts divided where they are." if cut else "."
    if free is not None and free[0] < count:
        return _with_own_say(many, count, bound, free) + end
    if count == bound:
        return f"{many}; fewer than {number_word(count)} is impossible{end}"
    verb = "is" if bound == 1 else "are"
    return f"{many}; at least {number_word(bound)} {verb} needed{end}"


def _with_own_say(many: str, count: int, bound: int, free: tuple[int, int]) -> str:
    """'Eight hoopings; your own say costs one: without it seven would do, and fewer than seven is impossible'."""
    left = number_word(free[0])
    least = f", and fewer than {left} is impossible" if free[0] == free[1] > 1 else ""
    if count == bound:
        return f"{many}; your own say costs {number_word(count - free[0])}: without it {left} would do{least}"
    verb = "is" if bound == 1 else "are"
    return f"{many}; at least {number_word(bound)} {verb} needed with your own say. Without it {left} would do{least}"


def own_reason(free: Cover, own: Cover) -> str:
    """What the worker's own hoopings change in the reason why fewer will not do; nothing where they change nothing."""
    if own.lower_bound > free.lower_bound:
        told = f" No division that keeps what you laid yourself does with fewer than {number_word(own.lower_bound)}."
    else:
        told = ""
    if len(own.groups) > max(own.lower_bound, len(free.groups)):
        told += f" Whether fewer than {number_word(len(own.groups))} can keep what you laid is not proven."
    return told


def contradicted(first: str, second: str, panel: str) -> Finding:
    """The worker wants the hooping of the first before that of the second, and layers will not have it so."""
    return Finding(
        "look again",
        "your own order of work",
        f"The hooping of {first} cannot come before that of {second}, since something in it lies over what is sewn "
        "there.",
        "Change your order, or what lies over what.",
        source="your own order",
        panel=panel,
        elements=(first, second),
    )


def no_such_name(name: str, known: Sequence[str]) -> Finding:
    """The worker's order has a name that nothing has."""
    return Finding(
        "look again",
        "your own order of work",
        f"Nothing called {quoted(name)} is sewn.",
        did_you_mean(name, known, "Take the name out, or write the name that it has now."),
        source="your own order",
    )


def widened(names: Sequence[str], along: float | None, across: float | None) -> str:
    """'Widened by 1.2 % along and 0.4 % across their stitches, as measured: a and b.'; along, across: the draw-in.

    >>> widened(["leaf"], 0.012, None)
    'Widened by 1.2 % along its stitches, as measured: leaf.'
    """
    shares = [f"{100 / (1 - d) - 100:.2g} % {way}" for d, way in ((along, "along"), (across, "across")) if d]
    whose = "its" if len(names) == 1 else "their"
    return f"Widened by {listed(shares)} {whose} stitches, as measured: {listed(names)}."


def why(
    blocks: Sequence[Block], sets: Masks, cover: Cover, size: tuple[float, float], turns: Turns, units: Units
) -> str:
    """Why fewer hoopings than the bound cannot do, as a teacher would say it.

    sets (m, n): what one field can hold at most; size, the usable field in mm.
    """
    if len(cover.groups) <= 1:
        return "Everything fits one field."
    needed = cover.fields_needed
    if needed > 1:
        told = _apart(blocks, sets, needed, size, turns, units) or _counted(blocks, sets, needed) or _compared(needed)
    else:
        told = "No single field was found to hold all the stitching."
    if cover.lower_bound > needed:
        told += (
            f" Nor will {listed([number_word(n) for n in range(needed, cover.lower_bound)], joint='or')} do: what lies "
            "over what would go round in a ring, each hooping waiting for the next."
        )
    if not cover.proven:
        told += f" Whether fewer than {number_word(len(cover.groups))} can do is not proven."
    return told


def _apart(
    blocks: Sequence[Block], sets: Masks, bound: int, size: tuple[float, float], turns: Turns, units: Units
) -> str | None:
    """The largest company of blocks of which no two share a field, where it alone explains the bound."""
    area = np.array([b.region.area for b in blocks])
    answer = milp(
        -(1.0 + 1e-3 * area / area.sum()),
        constraints=LinearConstraint(sets.astype(np.float64), ub=1.0),
        integrality=np.ones(len(blocks), dtype=int),
        bounds=Bounds(0, 1),
        options={"node_limit": NODE_LIMIT},
    )
    if answer.x is None:
        return None
    company = np.flatnonzero(answer.x > 0.5).tolist()
    if len(company) < bound:
        return None
    names = [blocks[i].told for i in company]
    field = " x ".join(show_length(s, units) for s in size)
    if len(company) == 2:
        told = f"{listed(names)} can't share a field"
    else:
        told = f"These {number_word(len(names))} can't share a field two by two: {listed(names)}"
    i, j = min(
        ((a, b) for k, a in enumerate(company) for b in company[k + 1 :]),
        key=lambda ab: _lacking(blocks[ab[0]], blocks[ab[1]], size, turns),
    )
    need = " x ".join(show_length(v, units) for v in _smallest(blocks[i], blocks[j], size, turns))
    nearest = "together they need" if len(company) == 2 else f"even {blocks[i].told} and {blocks[j].told} need"
    anyhow = " however the hoop is turned" if turns.free else ""
    return f"{told}; {nearest} {need}{anyhow}, and the field is {field}."


def _tried(turns: Turns, size: tuple[float, float]) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.arange(0.0, 180.0, 0.5) if turns.free else np.array(turns.for_field(size).angles)


def _smallest(a: Block, b: Block, size: tuple[float, float], turns: Turns) -> tuple[float, float]:
    """Width and height that two blocks need together at the turn where they come nearest to fitting."""
    corners = hull_corners(np.concatenate([a.corners, b.corners]))
    need = extents(corners, _tried(turns, size))
    w, h = need[(need - np.array(size)).max(axis=1).argmin()].tolist()
    return w, h


def _lacking(a: Block, b: Block, size: tuple[float, float], turns: Turns) -> float:
    return float((np.array(_smallest(a, b, size, turns)) - np.array(size)).max())


def _counted(blocks: Sequence[Block], sets: Masks, bound: int) -> str | None:
    """A count of likes explains the bound where no field holds more than so many of one element's blocks."""
    for element in dict.fromkeys(b.element for b in blocks):
        own = np.array([b.element == element for b in blocks])
        most = int((sets & own).sum(axis=1).max())
        if most and -(-int(own.sum()) // most) >= bound:
            number = number_word(int(own.sum()))
            return (
                f"No field holds more than {number_word(most)} of the {number} blocks of {element}, "
                f"so {number} need at least {number_word(bound)}."
            )
    return None


def _compared(bound: int) -> str:
    if bound == 2:
        return "Every placing of the field was compared: no single one holds all the stitching."
    return f"Every placing of the field was compared: no {number_word(bound - 1)} of them hold all the stitching."


def order_reason(number: int, after: Sequence[int], over: Sequence[tuple[str, str]], wished: bool = False) -> str:
    """Why a hooping comes where it does. over: (part here, part beneath it sewn earlier); wished: she ordered it so."""
    if not after and wished:
        return "By your own order; nothing beneath it waits to be sewn."
    if not after:
        return "First: nothing lies beneath it." if number == 1 else "Nothing beneath it waits to be sewn."
    named = [str(a) for a in after]
    here, below = over[0]
    more = f" (and {number_word(len(over) - 1)} more)" if len(over) > 1 else ""
    return f"After {listed(named)}: {here} lies over {below}{more}."
