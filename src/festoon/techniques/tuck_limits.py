"""What is found where tucks cannot be sewn as asked: figure, limit, and the nearest that works. Not a technique itself:
festoon.techniques.tucks is."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from pydantic import ValidationError

from festoon.errors import PieceError
from festoon.measure import fine, show_length
from festoon.shaping.tucks import graduated, taken_up
from festoon.techniques.base import Setting
from festoon.techniques.fastening import needle_finding
from festoon.techniques.tuck_plan import CUT, STRAIGHT, Plan, planned
from festoon.techniques.tuck_seam import MOST, caught
from festoon.techniques.tuck_words import USUAL, Tucks
from festoon.work.values import Amount, Finding, Mend, Verdict

LEAST_DEPTH = 1.0
"""mm; a shallower fold slips from the foot: a pin tuck is 1 to 3 mm deep. Source: a sewing glossary."""

TENTH = 0.1
"""mm to which a mend is told."""

Candidate = tuple[str, float]
"""A word and the value to try for it."""


def findings(tucks: Tucks, plan: Plan, setting: Setting) -> tuple[Finding, ...]:
    """All that is amiss with tucks at their places."""
    asked = _Asked(tucks, plan, setting)
    found = (_does_not_come_out, _shallow, _folds_over, _meets, _off_panel, _too_long, _too_much, _uneven, _seam)
    sewn = needle_finding(tucks.sewing, tucks.name, setting.panel, setting.units)
    return tuple(f for f in (*(check(asked) for check in found), sewn) if f is not None)


@dataclass(frozen=True, eq=False)
class _Asked:
    """Tucks, what they came to, and where."""

    tucks: Tucks
    plan: Plan
    setting: Setting

    def told(self, mm: float) -> str:
        return show_length(mm, self.setting.units)

    def fine(self, mm: float, places: int = 1) -> str:
        return fine(mm, self.setting.units, places)

    def mends(self, tried: Iterable[Candidate], good: Callable[[Plan], bool], told: str = "") -> tuple[Mend, ...]:
        """Those of the changes after which it is good, told as 'Make depth 4.5 mm'."""
        return tuple(self._mend(word, value, told) for word, value in tried if self.holds(word, value, good))

    def _mend(self, word: str, value: float, told: str) -> Mend:
        size = f"{value:g}" if word == "count" else self.fine(value, 2)
        return Mend(f"Make {word} {size}{told}", self.tucks.name, word, value)

    def holds(self, word: str, value: float, good: Callable[[Plan], bool]) -> bool:
        """Whether it is good with another value for a word."""
        try:
            changed = Tucks.model_validate({**self.tucks.model_dump(exclude_unset=True), word: value})
            return good(planned(changed, self.setting))
        except (ValidationError, PieceError):
            return False

    def finding(
        self,
        rule: str,
        verdict: Verdict,
        across: float,
        reason: str,
        figure: str,
        limit: str,
        amount: Amount,
        mends: tuple[Mend, ...],
        otherwise: str,
        source: str = "computed",
    ) -> Finding:
        """The finding at a place across the tucks; its remedy tells the mends, or what to do without one."""
        told = [m.told for m in mends]
        remedy = ", or ".join(t if not n else t[0].lower() + t[1:] for n, t in enumerate(told))
        plan = self.plan
        along = (plan.start + plan.stop) / 2
        x, y = (across, along) if self.tucks.run == "down" else (along, across)
        return Finding(
            verdict=verdict,
            where=f'tucks "{self.tucks.name}" on {self.setting.panel}',
            reason=reason,
            remedy=(f"{remedy}." if remedy else otherwise),
            figure=figure,
            limit=limit,
            source=source,
            panel=self.setting.panel,
            at=(round(x, 3), round(y, 3)),
            rule=rule,
            about=(self.tucks.name,),
            amount=amount,
            mends=mends,
        )


def _does_not_come_out(asked: _Asked) -> Finding | None:
    """A reduction that no whole number of tucks of that depth takes up."""
    tucks, plan = asked.tucks, asked.plan
    if tucks.reduce_by is None or abs(plan.taken - tucks.reduce_by) <= CUT:
        return None
    what = "row" if tucks.twin else "tuck"
    many = len(plan.first) * tucks.groups
    told = f"{many} {what}s take up" if many > 1 else f"One {what} takes up"
    each = tucks.reduce_by / tucks.groups
    mends: tuple[Mend, ...] = ()
    for count in sorted({max(1, n) for n in plan.counts}):
        if tucks.twin:
            wish = round(count * plan.first[0].by * tucks.groups, 2)
            tried: Candidate = ("reduce_by", wish)
        else:
            tried = ("depth", round(each / (2 * count) - tucks.step * (count - 1) / 2, 3))
        mends += asked.mends([tried], _comes_to(count), f", for {count}{' in each group' if tucks.mirrored else ''}")
    off = abs(plan.taken - tucks.reduce_by)
    return asked.finding(
        "tucks do not come out",
        "look again",
        plan.first[0].at,
        f"{told} {asked.told(plan.taken)}, not the {asked.told(tucks.reduce_by)} asked for, and no whole number of "
        "them does.",
        asked.told(plan.taken),
        asked.told(tucks.reduce_by),
        Amount(round(off, 1), "mm"),
        mends,
        "Give count instead of depth.",
        "computed: each tuck takes twice its depth (a dressmaking course)",
    )


def _comes_to(count: int) -> Callable[[Plan], bool]:
    return lambda plan: len(plan.first) == count


def _shallow(asked: _Asked) -> Finding | None:
    """Folds too shallow for the foot."""
    tucks, plan = asked.tucks, asked.plan
    least = min(plan.widths)
    if tucks.twin or least >= LEAST_DEPTH - 1e-9:
        return None
    wish = LEAST_DEPTH - min(0.0, tucks.step * (len(plan.widths) - 1))
    tried: list[Candidate] = []
    if tucks.reduce_by is not None and tucks.count is not None:
        fewer = _most_that(tucks.count, lambda n: _least_depth(tucks, n) >= LEAST_DEPTH)
        tried += [("count", fewer)] if fewer else []
    else:
        tried.append(("depth", wish))
    if tucks.over is not None and tucks.gap is not None and tucks.depth is None:
        tried.append(("gap", _down(tucks.gap - (LEAST_DEPTH - least))))
    if tucks.step < 0:
        tried.append(("grow", _up((LEAST_DEPTH - plan.widths[0]) / max(1, len(plan.widths) - 1))))
    return asked.finding(
        "tuck too shallow",
        "will not work",
        plan.first[plan.widths.index(least)].at,
        f"A tuck comes to be {asked.fine(least, 2)} deep, which no foot can follow.",
        asked.fine(least, 2),
        asked.fine(LEAST_DEPTH),
        Amount(round(least, 2), "mm", least=True),
        asked.mends(tried, lambda p: min(p.widths) >= LEAST_DEPTH - 1e-9),
        "Take fewer tucks.",
        "a sewing glossary: pin tucks are 1 to 3 mm deep",
    )


def _least_depth(tucks: Tucks, count: int) -> float:
    """The shallowest of so many that take up what is asked."""
    first = (tucks.reduce_by or 0.0) / tucks.groups / (2 * count) - tucks.step * (count - 1) / 2
    return min(first, first + tucks.step * (count - 1))


def _folds_over(asked: _Asked) -> Finding | None:
    """Tucks deeper than their spacing; twin-needle rows nearer than the needles."""
    tucks, plan = asked.tucks, asked.plan
    if not plan.gaps or min(plan.gaps) >= -1e-6:
        return None
    gap = min(plan.gaps)
    k = plan.gaps.index(gap)
    width = plan.widths[k] if tucks.ahead else plan.widths[k + 1]
    way = width + gap
    tried: list[Candidate] = []
    if tucks.apart is not None and tucks.over is None:
        tried.append(("apart", _up(max(plan.widths))))
    elif tucks.gap is not None:
        tried.append(("gap", 0.0))
    if not tucks.twin and tucks.reduce_by is None:
        tried.append(("depth", _down(plan.widths[0] + gap)))
    if tucks.over is not None or (tucks.reduce_by is not None and tucks.count is not None):
        tried += [("count", n) for n in _fewer_or_more(asked, lambda p: not p.gaps or min(p.gaps) >= -1e-6)]
    if tucks.over is not None:
        tried.append(("over", _up(tucks.over - gap * (len(plan.widths) - 1))))
    if tucks.twin:
        reason = f"Rows of the twin needle lie {asked.fine(-gap)} over each other: the second pulls the first flat."
    else:
        reason = (
            f"A tuck {asked.fine(width)} deep stands {asked.fine(way)} from the next, so its fold lies "
            f"{asked.fine(-gap)} over that one's stitching."
        )
    return asked.finding(
        "tucks deeper than their spacing",
        "look again",
        plan.first[k].at,
        reason,
        asked.fine(width),
        asked.fine(way),
        Amount(round(-gap, 1), "mm"),
        asked.mends(tried, lambda p: not p.gaps or min(p.gaps) >= -1e-6),
        "Make them shallower, or set them farther apart.",
    )


def _fewer_or_more(asked: _Asked, good: Callable[[Plan], bool]) -> Iterator[int]:
    """The nearest count that is good: fewer where the width is given, more where what they take up is."""
    tucks, now = asked.tucks, len(asked.plan.first)
    counts = range(now - 1, 0, -1) if tucks.over is not None else range(now + 1, 2 * now + 1)
    yield from itertools.islice((n for n in counts if asked.holds("count", n, good)), 1)


def _meets(asked: _Asked) -> Finding | None:
    """Mirrored groups that lie over the line between them."""
    tucks, plan = asked.tucks, asked.plan
    beyond = plan.about - min(t.span[0] for t in plan.first)
    if not tucks.mirrored or beyond <= 1e-6:
        return None
    word = "middle" if tucks.middle is not None else "first"
    own = tucks.middle if tucks.middle is not None else plan.first[0].at - plan.about
    return asked.finding(
        "mirrored tucks meet",
        "will not work",
        plan.about,
        f"The first of them reaches {asked.fine(beyond)} over the line between the groups, where the other group's "
        "lies.",
        asked.fine(beyond),
        asked.fine(0.0),
        Amount(round(beyond, 1), "mm"),
        asked.mends([(word, _up(own + beyond))], lambda p: min(t.span[0] for t in p.first) >= p.about - 1e-6),
        "Set the first farther from the line.",
    )


def _off_panel(asked: _Asked) -> Finding | None:
    """Tucks beyond the panel's edges."""
    tucks, plan = asked.tucks, asked.plan
    low, high = plan.span
    before, behind = -low, high - plan.breadth
    over = max(before, behind)
    if over <= STRAIGHT:
        return None
    placed = [(word, own) for word, own in (("first", tucks.first), ("middle", tucks.middle)) if own is not None]
    inward = tucks.mirrored or behind >= before
    tried = [(word, _down(own - over) if inward else _up(own + over)) for word, own in placed]
    if not asked.mends(tried, _on_panel):
        tried = list(_narrower(asked, over if tucks.mirrored or tucks.first is not None else 2 * over))
    edge = {"down": ("left", "right"), "across": ("upper", "lower")}[tucks.run][behind >= before]
    return asked.finding(
        "tucks off the panel",
        "will not work",
        low if before > behind else high,
        f"They reach {asked.told(over)} beyond the {edge} edge of the panel.",
        asked.told(high - low),
        asked.told(plan.breadth),
        Amount(round(over, 1), "mm"),
        asked.mends(tried, _on_panel),
        "Take fewer, or make the panel larger.",
    )


def _narrower(asked: _Asked, by: float) -> Iterator[Candidate]:
    """What would make a group narrower by so much: a smaller gap, or fewer tucks."""
    tucks, count = asked.tucks, len(asked.plan.first)
    if tucks.over is None and count > 1 and tucks.sort != "blind":
        word, own = ("apart", tucks.apart) if tucks.apart is not None else ("gap", tucks.gap)
        wish = _down((USUAL[tucks.sort].gap if own is None else own) - by / (count - 1))
        if wish >= (max(asked.plan.widths) if word == "apart" else 0.0):
            yield word, wish
    if tucks.count is not None or (tucks.over is None and tucks.reduce_by is None):
        yield "count", _most_that(count - 1, lambda n: asked.holds("count", n, _on_panel))


def _on_panel(plan: Plan) -> bool:
    low, high = plan.span
    return low >= -STRAIGHT and high <= plan.breadth + STRAIGHT


def _too_long(asked: _Asked) -> Finding | None:
    """Stitching beyond the panel's end."""
    tucks, plan = asked.tucks, asked.plan
    end = tucks.begin + (tucks.sewn or 0.0)
    if end <= plan.length + STRAIGHT and tucks.begin < plan.length - STRAIGHT:
        return None
    tried: list[Candidate] = [("sewn", _down(plan.length - tucks.begin))] if tucks.sewn else []
    return asked.finding(
        "tucks longer than the panel",
        "will not work",
        plan.first[0].at,
        f"Their stitching would end {asked.told(end)} from the edge that it begins from, and the panel is "
        f"{asked.told(plan.length)} there.",
        asked.told(end),
        asked.told(plan.length),
        Amount(round(end - plan.length, 1), "mm"),
        asked.mends(tried, lambda p: p.stop > p.start),
        "Make begin smaller.",
    )


def _too_much(asked: _Asked) -> Finding | None:
    """More take-up than cloth."""
    tucks, plan = asked.tucks, asked.plan
    width = tucks.cloth_width
    if width is None or plan.flat <= width + 1e-6:
        return None
    left = width - plan.breadth
    tried: list[Candidate] = []
    if left > 0:
        each = left / tucks.groups
        if tucks.reduce_by is not None:
            tried.append(("reduce_by", _down(left)))
        else:
            n = len(plan.first)
            fewer = _most_that(n - 1, lambda k: taken_up(graduated(k, plan.first[0].by / 2, tucks.step)) <= each)
            tried += [("count", fewer)] if fewer else []
            tried.append(("depth", math.floor((each / (2 * n) - tucks.step * (n - 1) / 2) * 100) / 100))
    return asked.finding(
        "more take-up than cloth",
        "will not work",
        plan.first[0].at,
        f"They take up {asked.told(plan.taken)}, so the panel wants {asked.told(plan.flat)} of flat cloth across them.",
        asked.told(plan.flat),
        asked.told(width),
        Amount(round(plan.flat - width, 1), "mm"),
        asked.mends(tried, lambda p: p.flat <= width + 1e-6 and (tucks.twin or min(p.widths) >= LEAST_DEPTH)),
        f"The finished panel may be {asked.told(max(0.0, width - plan.taken))} across them at most.",
        "computed: finished + taken up = cloth (a dressmaking course)",
    )


def _uneven(asked: _Asked) -> Finding | None:
    """Graduated tucks about the panel's middle, of which one side takes up more than the other."""
    tucks, plan = asked.tucks, asked.plan
    middle = plan.breadth / 2
    left = sum(t.by for t in plan.tucks if t.at < middle - STRAIGHT)
    right = sum(t.by for t in plan.tucks if t.at > middle + STRAIGHT)
    if tucks.sort != "graduated" or tucks.mirrored or not (left and right) or abs(left - right) <= CUT:
        return None
    sides = ("left", "right") if tucks.run == "down" else ("upper", "lower")
    more = sides[right > left]
    return asked.finding(
        "uneven take-up",
        "look again",
        middle,
        f"The {more} half takes up {asked.told(abs(left - right))} more than the other, so the tucked panel's middle "
        f"lies {asked.told(abs(left - right) / 2)} beside the cloth's.",
        asked.told(max(left, right)),
        asked.told(min(left, right)),
        Amount(round(abs(left - right), 1), "mm"),
        (),
        "Mirror them in the middle (mirrored = true), or mark the middle after tucking, not before.",
    )


def _seam(asked: _Asked) -> Finding | None:
    """A seam or cut edge that runs along inside a fold."""
    tucks, plan = asked.tucks, asked.plan
    if not _on_panel(plan):
        return None
    found = caught(plan, tucks.run, asked.setting)
    if found is None:
        return None
    step = max(plan.widths)
    tried = [
        (word, round(value + way * step, 1))
        for word, value in (("first", tucks.first), ("middle", tucks.middle))
        if value is not None
        for way in (-1, 1)
    ]
    return asked.finding(
        "seam in a tuck",
        "look again",
        found.at,
        f"The {found.name} runs inside a tuck's fold for {asked.told(found.along)}: the fold is caught in it.",
        asked.told(found.along),
        asked.told(MOST),
        Amount(round(found.along, 1), "mm"),
        asked.mends(tried, lambda p: caught(p, tucks.run, asked.setting) is None and _on_panel(p)),
        "Move the tucks beside the seam, or let it cross them squarely.",
        "common practice",
    )


def _most_that(most: int, good: Callable[[int], bool]) -> int:
    """The largest count up to `most` that is good; 0 where none is. Fewer is never worse."""
    low, high = 0, most + 1
    while high - low > 1:
        half = (low + high) // 2
        low, high = (half, high) if good(half) else (low, half)
    return low


def _up(mm: float) -> float:
    return round(math.ceil(mm / TENTH - 1e-6) * TENTH, 1)


def _down(mm: float) -> float:
    return round(math.floor(mm / TENTH + 1e-6) * TENTH, 1)
