"""What a scalloped edge can bear: sharp and filled points, tight rounds, wide satin, the thread's spacing.

Not a technique itself; it is asked by festoon.techniques.scalloped_edge.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from festoon.measure import fine, tex_to
from festoon.plane import Path, Points
from festoon.shaping.mitred import Edges, arcs_along, point_rung
from festoon.shaping.scallop import arc_radius
from festoon.shaping.set_out import SetOut
from festoon.stitches import Thread
from festoon.stitches.lay import satin_spacing
from festoon.stitches.lay.limits import LONGEST_SATIN, MAX_STITCH, SHORTEST_STITCH
from festoon.techniques.base import Setting
from festoon.work.values import Amount, Finding, Mend, Verdict

DEEPEST = 0.5
"""Rise to width of a half circle: a deeper scallop runs into its neighbours (computed)."""

SPACING_PLAY = 0.2
"""Share by which a spacing may differ from the thread's own: designs are scaled by 10 to 20 % without another spacing
(a hoop shop's teaching article)."""

ALIKE = 1e-6
"""mm; lengths that differ by less are the same."""

TENTH = 0.1
"""mm, the step in which a better length is offered."""

SATIN_SOURCE = (
    "a trade magazine, Feb 2016, p. 61: 1 to 9 mm; 7 mm on smaller machines and worn goods, a home embroiderers' list"
)


@dataclass(frozen=True, eq=False)
class Scalloped:
    """The measures of a scalloped edge, mm: side is 1 where its rounds lie to the right of travel, else -1.

    at_points: None where its satin is as wide there as in the rounds.
    """

    name: str
    rise: float
    width: float
    at_points: float | None
    side: float
    line: Path
    out: SetOut

    def rung(self, mark: int, rise: float) -> float:
        """How long the rung at one mark would be with another rise, mm."""
        left, right = self._rung(mark, rise)
        return float(np.hypot(*(right - left)))

    def depth(self, mark: int, rise: float) -> float:
        """How deep the notch of the outer edge at one mark would be with another rise, mm."""
        return self.depth_of(*self._rung(mark, rise), mark, rise)

    def depth_of(self, left: Points, right: Points, mark: int, rise: float) -> float:
        """The same where the rung at that mark goes from left to right, (2,) each on the panel."""
        inner = right if self.side > 0 else left
        place = self.out.places[min(mark, self.out.count - 1)]
        return rise + self.width / 2 - self.side * float(place.pose.inverse().apply(inner)[1])

    def _rung(self, mark: int, rise: float) -> tuple[Points, Points]:
        """The ends of the rung at a mark: 0 is the line's beginning, `count` its end."""
        first = max(0, mark - 1)
        arcs = arcs_along(self.out.places[first : mark + 1], self.side * rise)
        points = self.width if self.at_points is None else self.at_points
        return point_rung(arcs, self.line, self.width, points, mark - first)


def findings(
    edge: Scalloped, columns: Sequence[Edges], spacing: float | None, thread: Thread, setting: Setting
) -> tuple[Finding, ...]:
    """What does not come out well, each with what would. spacing: mm, where one was given for a machine file."""
    found = (
        _overlapping(edge, setting),
        _tight(edge, setting),
        _sharp(edge, columns, setting),
        _filled(edge, columns, setting),
        _wide(edge, setting),
        None if spacing is None else _spaced(edge, spacing, thread, setting),
    )
    return tuple(f for f in found if f is not None)


def _overlapping(edge: Scalloped, setting: Setting) -> Finding | None:
    """Scallops deeper than a half circle."""
    chord = min(p.chord for p in edge.out.places)
    most = DEEPEST * chord
    if edge.rise <= most + ALIKE:
        return None
    to = _down(most)
    told = _Told(
        rule="scallops overlap",
        verdict="will not work",
        reason="It rises higher than a half circle, so each scallop runs into its neighbours.",
        figure=fine(edge.rise, setting.units),
        limit=fine(to, setting.units),
        source="computed: a half circle rises half its width",
        amount=Amount(round(edge.rise, 1), "mm"),
    )
    return _finding(edge, setting, told, 0, _mended(edge, "rise", to, setting), "Or make repeat larger.")


def _tight(edge: Scalloped, setting: Setting) -> Finding | None:
    """Rounds that turn tighter than half the satin's width."""
    radius = min(arc_radius(p.chord, edge.rise) for p in edge.out.places)
    if radius > edge.width / 2:
        return None
    told = _Told(
        rule="tight rounds",
        verdict="will not work",
        reason="Its scallops are so small that in the rounds the satin turns tighter than half its own width: all "
        "inner stitches meet in one hole.",
        figure=fine(radius, setting.units),
        limit=fine(edge.width / 2, setting.units),
        source="computed: radius of an arc, (c²/4 + h²)/2h",
        amount=Amount(round(radius, 1), "mm", least=True),
    )
    return _finding(
        edge, setting, told, 0, _mended(edge, "width", _down(2 * radius - TENTH), setting), "Or make repeat larger."
    )


def _sharp(edge: Scalloped, columns: Sequence[Edges], setting: Setting) -> Finding | None:
    """Points so sharp that the stitch across them is longer than satin may be."""
    rungs = [float(columns[0].rungs[0]), *(float(c.rungs[-1]) for c in columns)]
    mark = int(np.argmax(rungs))
    if rungs[mark] <= MAX_STITCH or edge.width > MAX_STITCH:
        return None
    stop = rungs[mark] > LONGEST_SATIN
    to = _most(edge.rise, lambda rise: edge.rung(mark, rise) <= MAX_STITCH)
    told = _Told(
        rule="sharp points",
        verdict="will not work" if stop else "look again",
        reason="Its scallops rise so steeply that the satin runs into the points side by side, and a stitch across a "
        "point is too long.",
        figure=fine(rungs[mark], setting.units),
        limit=fine(LONGEST_SATIN if stop else MAX_STITCH, setting.units),
        source=f"computed; {SATIN_SOURCE}",
        amount=Amount(round(rungs[mark], 1), "mm"),
    )
    return _finding(
        edge,
        setting,
        told,
        mark,
        _mended(edge, "rise", to, setting),
        "Or make the satin narrower at the points: at_points.",
    )


def _filled(edge: Scalloped, columns: Sequence[Edges], setting: Setting) -> Finding | None:
    """Points that the satin fills, so that the edge looks like a wave or a band."""
    rungs = [(columns[0].left[0], columns[0].right[0]), *((c.left[-1], c.right[-1]) for c in columns)]
    depths = [edge.depth_of(*rung, mark, edge.rise) for mark, rung in enumerate(rungs)]
    mark = int(np.argmin(depths))
    if depths[mark] >= edge.width - ALIKE:
        return None
    chord = edge.out.places[0].chord
    to = _least(edge.rise, DEEPEST * chord, lambda rise: edge.depth(mark, rise) >= edge.width)
    told = _Told(
        rule="filled points",
        verdict="look again",
        reason="The satin fills the points between its scallops: the notch that is left is less deep than the satin is "
        "wide.",
        figure=fine(max(0.0, depths[mark]), setting.units),
        limit=fine(edge.width, setting.units),
        source="common practice: a corner at least one width deep",
        amount=Amount(round(max(0.0, depths[mark]), 1), "mm", least=True),
    )
    return _finding(edge, setting, told, mark, _mended(edge, "rise", to, setting), "Or make the satin narrower.")


def _wide(edge: Scalloped, setting: Setting) -> Finding | None:
    if edge.width <= MAX_STITCH:
        return None
    stop = edge.width > LONGEST_SATIN
    told = _Told(
        rule="wide satin",
        verdict="will not work" if stop else "look again",
        reason="Its satin is so wide that loose threads snag; a machine file has its stitches split.",
        figure=fine(edge.width, setting.units),
        limit=fine(LONGEST_SATIN if stop else MAX_STITCH, setting.units),
        source=SATIN_SOURCE,
        amount=Amount(round(edge.width, 1), "mm"),
    )
    return _finding(edge, setting, told, 0, _mended(edge, "width", MAX_STITCH, setting))


def _spaced(edge: Scalloped, spacing: float, thread: Thread, setting: Setting) -> Finding | None:
    """A spacing that does not belong to the thread."""
    own = satin_spacing(thread.tex)
    if abs(spacing / own - 1) <= SPACING_PLAY:
        return None
    wide = spacing > own
    told = _Told(
        rule="spacing for the thread",
        verdict="look again",
        reason=f"Its holes are {'wider apart' if wide else 'nearer together'} than closes with thread of "
        f"{tex_to(thread.tex, 'wt'):.0f} wt: {'cloth shows' if wide else 'thread heaps up and cuts the cloth'}.",
        figure=fine(spacing, setting.units, 2),
        limit=fine(own * (1 + SPACING_PLAY if wide else 1 - SPACING_PLAY), setting.units, 2),
        source="a trade magazine, Dec 2016, pp 30-31: 0.4 mm for 40 wt; computed for other threads, by their diameter",
        amount=Amount(round(spacing, 2), "mm", least=not wide),
    )
    return _finding(
        edge,
        setting,
        told,
        0,
        (Mend(f"Set spacing to {fine(own, setting.units, 2)}", edge.name, "spacing", round(own, 2)),),
        "Or leave spacing out.",
    )


def _most(high: float, good: Callable[[float], bool]) -> float | None:
    """The greatest length under `high` that is good, in tenths of a mm; None where none is. Longer is never better."""
    low, top = 0, math.ceil(high / TENTH - 1e-9)
    while top - low > 1:
        middle = (low + top) // 2
        low, top = (middle, top) if good(middle * TENTH) else (low, middle)
    return round(low * TENTH, 1) if low else None


def _least(low: float, high: float, good: Callable[[float], bool]) -> float | None:
    """The least length from `low` to `high` that is good, in tenths of a mm; None where none is. Longer is better."""
    bottom, top = math.floor(low / TENTH + 1e-9), math.floor(high / TENTH + 1e-9)
    if top <= bottom or not good(top * TENTH):
        return None
    while top - bottom > 1:
        middle = (bottom + top) // 2
        bottom, top = (bottom, middle) if good(middle * TENTH) else (middle, top)
    return round(top * TENTH, 1)


def _down(mm: float) -> float:
    return math.floor(mm / TENTH + 1e-6) * TENTH


def _mended(edge: Scalloped, word: str, to: float | None, setting: Setting) -> tuple[Mend, ...]:
    """The one change that helps, where there is such a length, and the satin at the points is no wider than it."""
    if to is None or to <= 0 or (word == "width" and to < (edge.at_points or SHORTEST_STITCH)):
        return ()
    return (Mend(f"Make {word} {fine(to, setting.units)}", edge.name, word, round(to, 1)),)


@dataclass(frozen=True, slots=True)
class _Told:
    """What a finding tells: its rule, figure against limit, and the reason."""

    rule: str
    verdict: Verdict
    reason: str
    figure: str
    limit: str
    source: str
    amount: Amount


def _finding(
    edge: Scalloped, setting: Setting, told: _Told, mark: int, mends: tuple[Mend, ...], remedy: str = ""
) -> Finding:
    """The finding at one mark of the line; what mends it stands first, then what else would."""
    place = edge.out.places[min(mark, edge.out.count - 1)]
    end = place.chord / 2 if mark == edge.out.count else -place.chord / 2
    x, y = place.pose.apply([end, 0.0]).round(3).tolist()
    return Finding(
        verdict=told.verdict,
        where=f'scalloped edge "{edge.name}" on {setting.panel}',
        reason=told.reason,
        remedy=" ".join(filter(None, (*(f"{mend.told}." for mend in mends), remedy))),
        figure=told.figure,
        limit=told.limit,
        source=told.source,
        panel=setting.panel,
        at=(x, y),
        rule=told.rule,
        about=(edge.name,),
        amount=told.amount,
        mends=mends,
    )
