"""What the worker laid herself -> what every division must keep; and what cannot be kept, told in sentences."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from festoon.hooping.assignment import in_layer_order
from festoon.hooping.blocks import Size
from festoon.hooping.candidates import Candidates, Masks, candidates, maximal
from festoon.hooping.cover import Own, seeds
from festoon.hooping.fitting import Turns, extents, fits, hull_corners
from festoon.hooping.placing import nearest_place
from festoon.hooping.values import Block
from festoon.hooping.words import listed
from festoon.measure import Units, show_length
from festoon.piece.model import Laid
from festoon.piece.near import did_you_mean
from festoon.piece.panel import Panel
from festoon.plane.pose import Points, Pose
from festoon.work import Finding
from festoon.work.fields import quoted

PLAY = 0.005
"""mm by which stitching may pass the edge of a field that was laid where the record of the hoopings says it lies
(computed: places and turns to 0.001 move the edge of a field of 500 mm by no more)."""

SAME_TURN = 0.001
"""Degrees within which two turns are one: the record gives them so."""

Asked = tuple[int, Laid]
"""A hooping that the worker laid, and its place among all of them in the piece file."""


@dataclass(frozen=True, eq=False)
class Ground:
    """What is to be divided on one panel: see `divide`. beneath: index pairs as from `lying_over`; size: the usable
    field, mm; turns: those allowed."""

    panel: Panel
    blocks: Sequence[Block]
    beneath: Sequence[tuple[int, int]]
    found: Candidates
    size: Size
    turns: Turns
    units: Units


@dataclass(frozen=True, eq=False)
class Kept:
    """A hooping of the worker's own that can be kept.

    index: its place among all of them in the piece file, as which it is `laid`. pose: the field where she laid it;
    None where it is still to be placed, at one of `turns`.
    """

    index: int
    laid: Laid
    own: Own
    pose: Pose | None
    turns: Turns


def on_panels(laid: Sequence[Laid], parts: Mapping[str, str], panels: Sequence[str]) -> dict[str, list[Asked]]:
    """The laid hoopings by panel. parts: the name of each part and element -> its panel. A panel that is not there
    stands under its name all the same."""
    found: dict[str, list[Asked]] = {}
    for index, own in enumerate(laid):
        known = (parts[base] for name in own.holds if (base := name.partition("/")[0]) in parts)
        found.setdefault(own.panel or next(known, panels[0]), []).append((index, own))
    return found


def without_panel(laid: Mapping[str, Sequence[Asked]], panels: Sequence[str], units: Units) -> tuple[Finding, ...]:
    """A finding for every hooping laid on a panel that is not there."""
    return tuple(
        _cannot(own, units, f"There is no panel {quoted(panel)}.", did_you_mean(panel, panels, "Lay it on another."))
        for panel, asked in laid.items()
        if panel not in panels
        for _, own in asked
    )


def kept(asked: Sequence[Asked], ground: Ground) -> tuple[tuple[Kept, ...], tuple[Finding, ...]]:
    """(what can be kept of the hoopings laid on a panel, all of it at once; a finding for all that cannot).

    Of two that cannot be kept together the first in the piece file is kept; those that name nothing that they hold come
    after the others.
    """
    told: list[Finding] = []
    able: list[Kept] = []
    reach = _reach(len(ground.blocks), ground.beneath)
    waiting = sorted(asked, key=lambda one: not one[1].holds)
    emptied: list[Asked] = []
    for index, own in waiting:
        holds, lacking = _named(own, ground, able)
        told.extend(lacking)
        if not holds and own.holds and own.at is not None:
            emptied.append((index, own))
        elif holds or not own.holds:
            _keep(index, own, holds, ground, reach, able, told)
    for index, own in emptied:
        _keep(index, own, frozenset(), ground, reach, able, told)
    return tuple(sorted(able, key=lambda one: one.index)), tuple(told)


def _keep(
    index: int,
    own: Laid,
    holds: frozenset[int],
    ground: Ground,
    reach: NDArray[np.bool_],
    able: list[Kept],
    told: list[Finding],
) -> None:
    """Add it to those that can be kept, or why it cannot be to what is told."""
    one = _alone(index, own, holds, ground, reach)
    trouble = one if isinstance(one, Finding) else _beside(able, one, ground)
    if isinstance(one, Kept) and trouble is None:
        able.append(one)
    elif trouble is not None:
        told.append(trouble)


def blocks_called(name: str, blocks: Sequence[Block]) -> frozenset[int]:
    """Indices of the blocks that a name stands for: a block, all pieces of a part, or all of an element."""
    return frozenset(i for i, b in enumerate(blocks) if name in (b.name, b.part, b.element))


def _named(own: Laid, ground: Ground, able: Sequence[Kept]) -> tuple[frozenset[int], list[Finding]]:
    """(the blocks that it holds and none that is kept already, what is wrong with its names)."""
    told: list[Finding] = []
    holds: set[int] = set()
    for name in dict.fromkeys(own.holds):
        blocks = blocks_called(name, ground.blocks)
        if not blocks:
            told.append(_unknown(own, name, ground))
        told.extend(_held_twice(own, name, other.laid, ground) for other in able if other.own.holds & blocks)
        holds |= blocks.difference(*(other.own.holds for other in able))
    return frozenset(holds), told


def _alone(index: int, own: Laid, holds: frozenset[int], ground: Ground, reach: NDArray[np.bool_]) -> Kept | Finding:
    """The hooping as if it were the only one that was laid."""
    turns = _turns(own, ground)
    if isinstance(turns, Finding):
        return turns
    asked = _fitted(index, own, holds, turns, ground)
    forced = _between(holds, reach)
    if isinstance(asked, Finding) or forced == holds:
        return asked
    whole = _fitted(index, own, forced, turns, ground)
    if isinstance(whole, Kept):
        return whole
    more = listed([ground.blocks[i].told for i in sorted(forced - holds)])
    reason = f"With what it holds it must hold {more}, which lies over some of it and under the rest. {whole.reason}"
    return replace(whole, reason=reason, remedy="Let some of it go.")


def _turns(own: Laid, ground: Ground) -> Turns | Finding:
    allowed = ground.turns
    if own.turn is None:
        return allowed if own.at is None else Turns((ground.panel.grain if allowed.free else allowed.angles[0],))
    period = 90.0 if ground.size[0] == ground.size[1] else 180.0
    apart = {a: abs((own.turn - a + period / 2) % period - period / 2) for a in allowed.angles}
    nearest = min(apart, key=lambda a: apart[a])
    if allowed.free or apart[nearest] <= SAME_TURN:
        return Turns((own.turn,))
    return _cannot(
        own,
        ground.units,
        f"Its hoop is turned by {own.turn:g}°, and the turns allowed on {ground.panel.name} are "
        f"{listed([f'{a:g}°' for a in allowed.angles])}.",
        f"Turn it to {nearest:g}°, or allow more turns under [hooping].",
        panel=ground.panel.name,
    )


def _fitted(index: int, own: Laid, holds: frozenset[int], turns: Turns, ground: Ground) -> Kept | Finding:
    """The sets of blocks that it may sew, where what it holds fits."""
    if own.at is not None:
        return _where_laid(index, own, own.at, holds, turns, ground)
    sewn = sorted(holds)
    together = hull_corners(np.concatenate([ground.blocks[i].corners for i in sewn]))
    if not fits(together, ground.size, turns):
        return _too_large(own, sewn, together, turns, ground)
    found = ground.found if turns is ground.turns else candidates(_corners(ground), ground.size, turns)
    real = _with(found.real, sewn)
    bound = real if found.bound is found.real else _with(found.bound, sewn)
    return Kept(index, own, Own(holds, real, bound), None, turns)


def _where_laid(
    index: int, own: Laid, at: tuple[float, float], holds: frozenset[int], turns: Turns, ground: Ground
) -> Kept | Finding:
    pose = Pose(*at, turns.angles[0])
    half = np.array(ground.size) / 2 + PLAY
    to_hoop = pose.inverse()
    row = np.array([bool((np.abs(to_hoop.apply(b.corners)) <= half).all()) for b in ground.blocks])
    if row.any() and row[sorted(holds)].all():
        only = row[None]
        return Kept(index, own, Own(holds, only, only), pose, turns)
    sewn = sorted(holds)
    if holds:
        together = hull_corners(np.concatenate([ground.blocks[i].corners for i in sewn]))
        place = nearest_place(together, pose, ground.size, ground.units)
        if place is None:
            return _too_large(own, sewn, together, turns, ground)
        out = [ground.blocks[i] for i in sewn if not row[i]]
        reason = f"{listed([b.told for b in out])} {'does' if len(out) == 1 else 'do'} not lie wholly in its field."
    else:
        near = ((nearest_place(c, pose, ground.size, ground.units), k) for k, c in enumerate(_corners(ground)))
        able = [(float(np.hypot(*np.subtract(p, at))), k, p) for p, k in near if p is not None]
        if not able:
            return _cannot(own, ground.units, "Nothing fits its field as it is turned.", "Turn it.")
        _, k, place = min(able)
        out = [ground.blocks[k]]
        reason = f"Nothing lies wholly in its field; {out[0].told} comes nearest."
    return _cannot(
        own,
        ground.units,
        reason,
        f"Lay its middle at {_spot(place, ground.units)}.",
        panel=ground.panel.name,
        at=place,
        elements=tuple(b.part for b in out),
    )


def _beside(able: Sequence[Kept], one: Kept, ground: Ground) -> Finding | None:
    """Why it cannot be kept beside those that are kept already; None where it can."""
    both = [*able, one]
    if _waits(both, ground):
        rivals = [k for k in able if _waits([k, one], ground)] or able
        others = listed([_place(k.laid, ground.units) for k in rivals])
        return _cannot(
            one.laid,
            ground.units,
            f"What lies over what would make it wait for {others}, and that for it.",
            "Let one of them go, or hold in one what lies between the others.",
            panel=ground.panel.name,
        )
    lone = seeds([k.own.real for k in both], [k.own.holds for k in both])
    if any(b < 0 for b, k in zip(lone, both, strict=True) if not k.own.holds):
        reason = "All that lies in its field is held by other hoopings that you laid."
        return _cannot(one.laid, ground.units, reason, "Move it, or let it go.", panel=ground.panel.name)
    return None


def _waits(several: Sequence[Kept], ground: Ground) -> bool:
    """Whether layers make some of them wait for each other in a ring, however all else is sewn."""
    groups = [tuple(sorted(k.own.holds)) for k in several if k.own.holds]
    held = [b for group in groups for b in group]
    if len(set(held)) < len(held):
        return True
    alone = ((b,) for b in range(len(ground.blocks)) if b not in set(held))
    return in_layer_order([*groups, *alone], ground.beneath) is None


def _reach(n: int, beneath: Sequence[tuple[int, int]]) -> NDArray[np.bool_]:
    """(n, n): whether the second block lies over the first, straight or by way of others."""
    over = np.zeros((n, n), dtype=bool)
    for low, high in beneath:
        over[low, high] = True
    for k in range(n):
        over |= over[:, k, None] & over[None, k]
    return over


def _between(holds: frozenset[int], over: NDArray[np.bool_]) -> frozenset[int]:
    """The blocks, and all that lies over one of them and under another: no other hooping could sew that."""
    sewn = sorted(holds)
    return holds | frozenset(np.flatnonzero(over[sewn].any(axis=0) & over[:, sewn].any(axis=1)).tolist())


def _with(masks: Masks, blocks: Sequence[int]) -> Masks:
    """The sets that hold all of the blocks; where none does, these alone."""
    sets = masks[masks[:, blocks].all(axis=1)]
    if not len(sets):
        sets = np.zeros((1, masks.shape[1]), dtype=bool)
        sets[0, blocks] = True
    return maximal(sets)


def _corners(ground: Ground) -> list[Points]:
    return [b.corners for b in ground.blocks]


def _too_large(own: Laid, sewn: Sequence[int], together: Points, turns: Turns, ground: Ground) -> Finding:
    tried = np.arange(0.0, 180.0, 0.5) if turns.free else np.array(turns.for_field(ground.size).angles)
    need = extents(together, tried)
    need = need[(need - np.array(ground.size)).max(axis=1).argmin()]
    told, field = (" x ".join(show_length(v, ground.units) for v in size) for size in (need.tolist(), ground.size))
    names = [ground.blocks[i].told for i in sewn]
    one = len(names) == 1
    return _cannot(
        own,
        ground.units,
        f"{listed(names)} {'needs' if one else 'together need'} {told}, and the field is {field}.",
        "Let the hoop be turned otherwise." if one else "Hold fewer of them here.",
        panel=ground.panel.name,
        elements=tuple(dict.fromkeys(ground.blocks[i].part for i in sewn)),
    )


def _held_twice(own: Laid, name: str, other: Laid, ground: Ground) -> Finding:
    return _cannot(
        own,
        ground.units,
        f"It holds {name}, and so does {_place(other, ground.units)}, which comes first and keeps it.",
        "Let one of the two go.",
        panel=ground.panel.name,
        elements=(name,),
    )


def _unknown(own: Laid, name: str, ground: Ground) -> Finding:
    names = dict.fromkeys(n for b in ground.blocks for n in (b.name, b.part, b.element))
    return _cannot(
        own,
        ground.units,
        f"Nothing called {quoted(name)} is sewn on {ground.panel.name}.",
        did_you_mean(name, names, "Take the name out, or write the name that it has now."),
        panel=ground.panel.name,
    )


def _cannot(own: Laid, units: Units, reason: str, remedy: str, **words: Any) -> Finding:
    return Finding("look again", _place(own, units), reason, remedy, source="your own hoopings", **words)


def _place(own: Laid, units: Units) -> str:
    where = f"at {_spot(own.at, units)}" if own.at is not None else f"for {listed(own.holds, most=4)}"
    return f"the hooping that you laid {where}"


def _spot(at: tuple[float, float], units: Units) -> str:
    return f"{show_length(at[0], units)} from the left and {show_length(at[1], units)} from the top"
