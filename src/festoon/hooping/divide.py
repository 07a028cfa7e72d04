"""Layout -> Division: the whole way from parts on the cloth to hoopings in order, with their marks."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import box, union_all

from festoon.errors import HoopingError
from festoon.hooping.assignment import Groups, Task
from festoon.hooping.blocks import blocks_of, lying_over, touching
from festoon.hooping.candidates import candidates
from festoon.hooping.cover import Cover, divide_blocks
from festoon.hooping.expected import expected_error
from festoon.hooping.fitting import Turns
from festoon.hooping.marks import Framed, choose_marks
from festoon.hooping.order import direct_before, walk
from festoon.hooping.placing import place_field
from festoon.hooping.sequence import assemble
from festoon.hooping.values import Block, Division, Hooping
from festoon.hooping.words import headline, number_word, order_reason, why, widened
from festoon.layout import Layout, off_cloth
from festoon.piece import Bench, Dividing, Hoop, Panel, Piece
from festoon.plane.pose import Pose
from festoon.registration.model import placing_model

Progress = Callable[[str], None]
"""Is told, in a few words, what is being done."""


def silent(_: str) -> None:
    """Tells nobody."""


def divide(layout: Layout, progress: Progress = silent) -> Division:
    """Divide every panel of the piece into hoopings.

    `progress` is told what is being done. Raises HoopingError for stitching that no hooping can reach, or a hooping
    without visible cloth for its marks.
    """
    hoopings: list[Hooping] = []
    reasons: list[str] = []
    bound = 0
    for panel in layout.panels:
        divided = _panel(layout, panel, len(hoopings), progress)
        hoopings.extend(divided.hoopings)
        reasons.append(divided.reason if len(layout.panels) == 1 else f"{panel.name}: {divided.reason}")
        bound += divided.bound
    wider = _wider(hoopings, layout)
    measured = layout.piece.bench.measured
    return Division(
        hoopings=tuple(hoopings),
        lower_bound=bound,
        fewest_proven=len(hoopings) == bound,
        headline=headline(len(hoopings), bound, cut=any(b.piece for h in hoopings for b in h.blocks)),
        reasons=tuple(reasons),
        notes=(widened(wider, measured.drawn_along, measured.drawn_across),) if wider else (),
    )


@dataclass(frozen=True, eq=False)
class _Panel:
    hoopings: tuple[Hooping, ...]
    bound: int
    reason: str


def _panel(layout: Layout, panel: Panel, before: int, progress: Progress) -> _Panel:
    """The hoopings of one panel, numbered from before + 1."""
    wish, hoop = layout.piece.file.hooping, layout.piece.hoop
    size, turns = _not_all_margin(usable(hoop, wish), hoop, wish), turns_of(wish, panel.grain)
    units = layout.piece.file.piece.units
    progress("seeing which parts fit the field")
    others = {h.name: usable(h, wish) for h in layout.piece.bench.hoop if h.name != hoop.name}
    measured = layout.piece.bench.measured if wish.compensate else None
    blocks = blocks_of(layout.parts(panel.name), size, turns, wish.overlap, others, measured)
    _refuse_off_cloth(blocks, layout.piece, panel)
    if not blocks:
        return _Panel((), 0, "There is nothing to sew.")
    found = candidates([b.corners for b in blocks], size, turns)
    beneath = lying_over(blocks)
    task = Task(len(blocks), beneath, touching(blocks), _threads(blocks))
    progress("looking for the fewest hoopings")
    cover = divide_blocks(task, found)
    groups = _walked(cover, blocks, beneath)
    progress("placing the hoop and its marks")
    fields = [
        place_field(np.concatenate([blocks[i].corners for i in g]), size, turns, hoop.outer_size, panel.size)
        for g in groups
    ]
    hoopings = _marked(blocks, groups, beneath, fields, panel, hoop, layout.piece.bench, wish, before)
    return _Panel(hoopings, cover.lower_bound, why(blocks, found.bound, cover, size, turns, units))


def _refuse_off_cloth(blocks: Sequence[Block], piece: Piece, panel: Panel) -> None:
    """HoopingError for stitching that leaves the cloth only because it is widened; as drawn it lies on it."""
    for block in blocks:
        off = off_cloth(block.stitching, panel) if block.widened else None
        if off is not None:
            line = piece.lines.get(block.element)
            raise HoopingError(
                f"sewn wider by what it draws in, it {off.reaches}",
                where=f'piece.toml, line {line}, "{block.told}"' if line else f'"{block.told}"',
                remedy=f"{off.back}, make the panel larger, or set compensate = false under [hooping].",
            )


def usable(hoop: Hoop, wish: Dividing) -> tuple[float, float]:
    """The field without the margin that is kept free, mm."""
    return hoop.field[0] - 2 * wish.margin, hoop.field[1] - 2 * wish.margin


def _not_all_margin(size: tuple[float, float], hoop: Hoop, wish: Dividing) -> tuple[float, float]:
    if min(size) <= 0:
        raise HoopingError(
            f"a margin of {wish.margin:g} mm leaves nothing of its field of {hoop.field[0]:g} x {hoop.field[1]:g} mm.",
            where=f'hoop "{hoop.name}"',
            remedy="Make margin smaller under [hooping], or choose a larger hoop.",
        )
    return size


def turns_of(wish: Dividing, grain: float) -> Turns:
    """The turns that the piece allows on a panel whose straight grain is turned by `grain` degrees."""
    if wish.turn == "free":
        return Turns(free=True)
    to_grain = {"square": (0.0,), "quarter": (0.0, 90.0)}.get(wish.turn) if isinstance(wish.turn, str) else wish.turn
    return Turns(tuple(grain + angle for angle in to_grain or ()))


def _threads(blocks: Sequence[Block]) -> tuple[frozenset[int], ...]:
    shelf = {t: k for k, t in enumerate(dict.fromkeys(t for b in blocks for t in b.stitching.threads))}
    return tuple(frozenset(shelf[t] for t in b.stitching.threads) for b in blocks)


def _walked(cover: Cover, blocks: Sequence[Block], beneath: Sequence[tuple[int, int]]) -> Groups:
    def middle(group: tuple[int, ...]) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        corners = np.concatenate([blocks[i].corners for i in group])
        return np.asarray((corners.min(axis=0) + corners.max(axis=0)) / 2)

    centres = np.array([middle(g) for g in cover.groups])
    return tuple(cover.groups[k] for k in walk(cover.groups, beneath, centres))


def _marked(
    blocks: Sequence[Block],
    groups: Groups,
    beneath: Sequence[tuple[int, int]],
    fields: Sequence[tuple[Pose, tuple[str, ...]]],
    panel: Panel,
    hoop: Hoop,
    bench: Bench,
    wish: Dividing,
    before: int,
) -> tuple[Hooping, ...]:
    sewn = [
        assemble(
            [blocks[i] for i in g],
            [(g.index(i), g.index(j)) for i, j in beneath if i in g and j in g],
        )
        for g in groups
    ]
    framed = [
        Framed(pose, hoop.field, s.holes, union_all([blocks[i].region for i in g]), before + k)
        for k, (g, s, (pose, _)) in enumerate(zip(groups, sewn, fields, strict=True))
    ]
    marks = choose_marks(framed, box(0.0, 0.0, *panel.size), wish.marks)
    model = placing_model(bench.measured)
    earlier = direct_before(groups, beneath)
    return tuple(
        Hooping(
            number=before + k + 1,
            panel=panel.name,
            hoop=hoop,
            field=fields[k][0],
            blocks=tuple(blocks[i] for i in g),
            stitching=sewn[k],
            marks=marks[k],
            expected=expected_error(marks[k], [blocks[i] for i in g], fields[k][0], model),
            after=tuple(before + e + 1 for e in earlier[k]),
            float_sides=fields[k][1],
            reason=order_reason(
                k + 1, [before + e + 1 for e in earlier[k]], _over(blocks, groups, beneath, k, earlier[k])
            ),
        )
        for k, g in enumerate(groups)
    )


def _over(
    blocks: Sequence[Block], groups: Groups, beneath: Sequence[tuple[int, int]], k: int, earlier: Sequence[int]
) -> list[tuple[str, str]]:
    """(part here, part beneath it) for what was sewn in the hoopings that must come before."""
    below = {i for e in earlier for i in groups[e]}
    return [(blocks[j].told, blocks[i].told) for i, j in beneath if i in below and j in groups[k]]


def _wider(hoopings: Sequence[Hooping], layout: Layout) -> list[str]:
    """What was widened, in the order of the layout: elements of which all was, else their parts."""
    widened_parts = {b.part for h in hoopings for b in h.blocks if b.widened}
    told: list[str] = []
    for work in layout.works:
        parts = [p.name for p in work.parts if p.name in widened_parts]
        whole = len(parts) > 1 and len(parts) == len(work.parts)
        told.extend([f"{work.element} (all {number_word(len(parts))})"] if whole else parts)
    return told
