"""Layout -> Division: the whole way from parts on the cloth to hoopings in order, with their marks."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from festoon.hooping.laid import Ground, Kept, blocks_called, kept, on_panels, without_panel
from festoon.hooping.order import contrary
from festoon.hooping.panel import Divided, PanelWork
from festoon.hooping.values import Division, Hooping
from festoon.hooping.words import contradicted, headline, no_such_name, number_word, own_reason, why, widened
from festoon.layout import Layout
from festoon.work import Finding

Progress = Callable[[str], None]
"""Is told, in a few words, what is being done."""


def silent(_: str) -> None:
    """Tells nobody."""


@dataclass(frozen=True, eq=False)
class _Say:
    """What is the worker's own on one panel: hoopings, and the blocks that each name of her order stands for."""

    own: tuple[Kept, ...]
    order: tuple[frozenset[int], ...]

    def __bool__(self) -> bool:
        return bool(self.own) or any(self.order)


def divide(layout: Layout, progress: Progress = silent) -> Division:
    """Divide every panel of the piece into hoopings, and keep those that the worker laid herself, and her order.

    `progress` is told what is being done. What of her own say cannot be kept is a finding, and the piece is divided
    without it. Raises HoopingError for stitching that no hooping can reach, or a hooping without visible cloth for its
    marks.
    """
    works = {panel.name: PanelWork(layout, panel, progress) for panel in layout.panels}
    say, findings = _own_say(layout, {name: work.ground for name, work in works.items()})
    free = _freely(works, progress)
    if not any(say.values()):
        return replace(_division(layout, works, free, free), findings=findings)
    progress("keeping what you laid yourself")
    own = _keeping(works, say, free, progress)
    return replace(
        _division(layout, works, own, free),
        free=_division(layout, works, free, free),
        findings=(*findings, *_contradicted(layout, own, works, say)),
    )


def _own_say(layout: Layout, grounds: Mapping[str, Ground | None]) -> tuple[dict[str, _Say], tuple[Finding, ...]]:
    """(what is to be kept on each panel, what cannot be)."""
    wish, units = layout.piece.file.hooping, layout.piece.file.piece.units
    parts = {name: w.panel for w in layout.works for name in (w.element, *(p.name for p in w.parts))}
    laid = on_panels(wish.laid, parts, list(grounds))
    findings = list(without_panel(laid, list(grounds), units))
    say: dict[str, _Say] = {}
    for name, ground in grounds.items():
        own, told = kept(laid.get(name, ()), ground) if ground else ((), ())
        findings.extend(told)
        blocks = ground.blocks if ground else ()
        say[name] = _Say(own, tuple(blocks_called(n, blocks) for n in wish.order))
    ordered = [any(s.order[k] for s in say.values()) for k in range(len(wish.order))]
    names = [n for g in grounds.values() if g for b in g.blocks for n in (b.name, b.part, b.element)]
    findings.extend(no_such_name(n, names) for n, known in zip(wish.order, ordered, strict=True) if not known)
    return say, tuple(findings)


def _freely(works: Mapping[str, PanelWork], progress: Progress) -> dict[str, Divided]:
    """Every panel divided, with nothing of the worker's own; hoopings are numbered across them all."""
    found: dict[str, Divided] = {}
    for name, work in works.items():
        found[name] = work.divided(sum(len(p.hoopings) for p in found.values()), progress)
    return found


def _keeping(
    works: Mapping[str, PanelWork], say: Mapping[str, _Say], free: Mapping[str, Divided], progress: Progress
) -> dict[str, Divided]:
    """The same with what is hers, and otherwise as like as may be to that."""
    found: dict[str, Divided] = {}
    for name, work in works.items():
        before = sum(len(p.hoopings) for p in found.values())
        found[name] = work.divided(before, progress, say[name].own, say[name].order, free[name].cover.groups)
    return found


def _division(
    layout: Layout, works: Mapping[str, PanelWork], panels: Mapping[str, Divided], free: Mapping[str, Divided]
) -> Division:
    """The panels as one division. free: the same without the worker's own say."""
    hoopings = [h for panel in panels.values() for h in panel.hoopings]
    bound = sum(max(panel.cover.lower_bound, free[name].cover.lower_bound) for name, panel in panels.items())
    without = sum(len(p.hoopings) for p in free.values()), sum(p.cover.lower_bound for p in free.values())
    grounds = {name: ground for name in panels if (ground := works[name].ground) is not None}
    reasons = {name: _reason(ground, panels[name], free[name]) for name, ground in grounds.items()}
    wider = _wider(hoopings, layout)
    measured = layout.piece.bench.measured
    cut = any(b.piece for h in hoopings for b in h.blocks)
    return Division(
        hoopings=tuple(hoopings),
        lower_bound=bound,
        fewest_proven=len(hoopings) == bound,
        headline=headline(len(hoopings), bound, cut=cut, free=without),
        reasons=_reasons(reasons, named=len(panels) > 1),
        notes=(widened(wider, measured.drawn_along, measured.drawn_across),) if wider else (),
    )


def _reasons(reasons: Mapping[str, str], *, named: bool) -> tuple[str, ...]:
    """One for every panel on which something is sewn."""
    if not reasons:
        return ("There is nothing to sew.",)
    return tuple(f"{name}: {told}" if named else told for name, told in reasons.items())


def _reason(ground: Ground, panel: Divided, free: Divided) -> str:
    told = why(ground.blocks, ground.found.bound, free.cover, ground.size, ground.turns, ground.units)
    return told + own_reason(free.cover, panel.cover)


def _contradicted(
    layout: Layout, panels: Mapping[str, Divided], works: Mapping[str, PanelWork], say: Mapping[str, _Say]
) -> list[Finding]:
    """A finding for everything in the worker's order that what lies over what will not have so."""
    names = layout.piece.file.hooping.order
    return [
        contradicted(names[first], names[second], panel)
        for panel, work in works.items()
        if (ground := work.ground) is not None
        for first, second in contrary(panels[panel].cover.groups, ground.beneath, say[panel].order)
    ]


def _wider(hoopings: Sequence[Hooping], layout: Layout) -> list[str]:
    """What was widened, in the order of the layout: elements of which all was, else their parts."""
    widened_parts = {b.part for h in hoopings for b in h.blocks if b.widened}
    told: list[str] = []
    for work in layout.works:
        parts = [p.name for p in work.parts if p.name in widened_parts]
        whole = len(parts) > 1 and len(parts) == len(work.parts)
        told.extend([f"{work.element} (all {number_word(len(parts))})"] if whole else parts)
    return told
