"""One panel: its parts as blocks, the hoopings that sew them in order, and their marks."""

from __future__ import annotations

import functools
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace

import numpy as np
from shapely import Geometry, box, union_all

from festoon.errors import HoopingError
from festoon.hooping.assignment import Groups, Task
from festoon.hooping.blocks import blocks_of, lying_over, touching
from festoon.hooping.candidates import candidates
from festoon.hooping.cover import Cover, divide_blocks
from festoon.hooping.expected import expected_error
from festoon.hooping.fitting import Turns
from festoon.hooping.laid import Ground, Kept
from festoon.hooping.marks import Framed, choose_marks
from festoon.hooping.order import direct_before, ranks, walk
from festoon.hooping.placing import float_sides, place_field
from festoon.hooping.sequence import assemble
from festoon.hooping.values import Block, ExpectedError, Hooping, Mark
from festoon.hooping.words import order_reason
from festoon.layout import Layout, off_cloth
from festoon.piece import Dividing, Hoop, Panel, Piece
from festoon.plane.pose import Pose
from festoon.registration.model import placing_model
from festoon.stitches import Stitching

Group = tuple[int, ...]
Field = tuple[Pose, tuple[str, ...]]
"""A field's pose on the panel, and the sides of the cloth that the hoop's outline passes."""


@dataclass(frozen=True, eq=False)
class Divided:
    """A panel's hoopings, and the cover whose groups they sew, in the order of the work."""

    hoopings: tuple[Hooping, ...]
    cover: Cover


class PanelWork:
    """One panel of a layout, to be divided once or several ways; what several ways have in common is worked out once.

    Raises HoopingError as `divide`.
    """

    def __init__(self, layout: Layout, panel: Panel, progress: Callable[[str], None]) -> None:
        piece = layout.piece
        self._piece, self._panel, self._wish, self._hoop = piece, panel, piece.file.hooping, piece.hoop
        wish, hoop = self._wish, self._hoop
        size, turns = _not_all_margin(usable(hoop, wish), hoop, wish), turns_of(wish, panel.grain)
        progress("seeing which parts fit the field")
        others = {h.name: usable(h, wish) for h in piece.bench.hoop if h.name != hoop.name}
        measured = piece.bench.measured if wish.compensate else None
        blocks = blocks_of(layout.parts(panel.name), size, turns, wish.overlap, others, measured)
        _refuse_off_cloth(blocks, piece, panel)
        beneath = lying_over(blocks)
        found = candidates([b.corners for b in blocks], size, turns) if blocks else None
        self._task = Task(len(blocks), beneath, touching(blocks), _threads(blocks))
        self._ground = Ground(panel, blocks, beneath, found, size, turns, piece.file.piece.units) if found else None
        self._sewn = functools.cache(self._assembled)
        self._region = functools.cache(self._covered)
        self._expected = functools.cache(self._error)

    @property
    def ground(self) -> Ground | None:
        """What is to be divided; None where nothing is sewn."""
        return self._ground

    def divided(
        self,
        before: int,
        progress: Callable[[str], None],
        own: Sequence[Kept] = (),
        order: Sequence[Collection[int]] = (),
        like: Groups = (),
    ) -> Divided:
        """The panel divided, its hoopings numbered from before + 1.

        It keeps the worker's `own` hoopings and, as far as layers allow, her order of blocks; all else equal, blocks
        that touch stay together as in the groups `like`.
        """
        ground = self._ground
        if ground is None:
            return Divided((), Cover((), 0, 0))
        progress("looking for the fewest hoopings")
        cover = self._in_order(divide_blocks(self._like(like), ground.found, [k.own for k in own]), order)
        progress("placing the hoop and its marks")
        laid = dict(zip(cover.own, own, strict=True))
        fields = [self._field(group, laid.get(g)) for g, group in enumerate(cover.groups)]
        return Divided(self._hoopings(cover.groups, fields, laid, order, before), cover)

    def _like(self, groups: Groups) -> Task:
        home = {i: k for k, group in enumerate(groups) for i in group}
        return replace(
            self._task, together=frozenset(p for p in self._task.touching if home and home[p[0]] == home[p[1]])
        )

    def _in_order(self, cover: Cover, order: Sequence[Collection[int]]) -> Cover:
        def middle(group: Group) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
            corners = np.concatenate([self._blocks[i].corners for i in group])
            return np.asarray((corners.min(axis=0) + corners.max(axis=0)) / 2)

        centres = np.array([middle(g) for g in cover.groups])
        way = walk(cover.groups, self._task.beneath, centres, order)
        groups, own = tuple(cover.groups[k] for k in way), tuple(way.index(g) for g in cover.own)
        return Cover(groups, cover.lower_bound, cover.fields_needed, own)

    @property
    def _blocks(self) -> Sequence[Block]:
        return self._ground.blocks if self._ground else ()

    def _field(self, group: Group, laid: Kept | None) -> Field:
        ground, outer, cloth = self._ground, self._hoop.outer_size, self._panel.size
        if laid is not None and laid.pose is not None:
            return laid.pose, float_sides(laid.pose, outer, cloth)
        holes = np.concatenate([self._blocks[i].corners for i in group])
        turns = laid.turns if laid is not None else ground.turns if ground else Turns()
        return place_field(holes, usable(self._hoop, self._wish), turns, outer, cloth)

    def _hoopings(
        self,
        groups: Groups,
        fields: Sequence[Field],
        laid: dict[int, Kept],
        order: Sequence[Collection[int]],
        before: int,
    ) -> tuple[Hooping, ...]:
        framed = [
            Framed(pose, self._hoop.field, self._sewn(g).holes, self._region(g), before + k)
            for k, (g, (pose, _)) in enumerate(zip(groups, fields, strict=True))
        ]
        marks = choose_marks(framed, box(0.0, 0.0, *self._panel.size), self._wish.marks)
        earlier = direct_before(groups, self._task.beneath)
        rank = ranks(groups, order)
        return tuple(
            Hooping(
                number=before + k + 1,
                panel=self._panel.name,
                hoop=self._hoop,
                field=fields[k][0],
                blocks=tuple(self._blocks[i] for i in g),
                stitching=self._sewn(g),
                marks=marks[k],
                expected=self._expected(g, marks[k], fields[k][0]),
                after=tuple(before + e + 1 for e in earlier[k]),
                float_sides=fields[k][1],
                reason=order_reason(
                    k + 1,
                    [before + e + 1 for e in earlier[k]],
                    self._over(groups, k, earlier[k]),
                    wished=rank[k] < len(order),
                ),
                laid=laid[k].index if k in laid else None,
            )
            for k, g in enumerate(groups)
        )

    def _assembled(self, group: Group) -> Stitching:
        pairs = [(group.index(i), group.index(j)) for i, j in self._task.beneath if i in group and j in group]
        return assemble([self._blocks[i] for i in group], pairs)

    def _covered(self, group: Group) -> Geometry:
        return union_all([self._blocks[i].region for i in group])

    def _error(self, group: Group, marks: tuple[Mark, ...], field: Pose) -> ExpectedError:
        model = placing_model(self._piece.bench.measured)
        return expected_error(marks, [self._blocks[i] for i in group], field, model)

    def _over(self, groups: Groups, k: int, earlier: Sequence[int]) -> list[tuple[str, str]]:
        """(part here, part beneath it) for what was sewn in the hoopings that must come before."""
        below = {i for e in earlier for i in groups[e]}
        blocks = self._blocks
        return [(blocks[j].told, blocks[i].told) for i, j in self._task.beneath if i in below and j in groups[k]]


def _refuse_off_cloth(blocks: Sequence[Block], piece: Piece, panel: Panel) -> None:
    """HoopingError for stitching that leaves the cloth only because it is widened; as drawn it lies on it."""
    for block in blocks:
        off = off_cloth(block.stitching, panel, piece.file.piece.units) if block.widened else None
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
