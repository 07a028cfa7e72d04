"""What a lace band cannot do, with the nearest thing that it can. Not a technique itself."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from shapely import Polygon
from shapely.affinity import translate

from festoon.errors import FestoonError
from festoon.measure import fine, show_length
from festoon.plane import Path
from festoon.plane.segments import Point
from festoon.shaping.band import MOST_GATHER, Stretch, lies_over_itself, radius_limit
from festoon.shaping.set_out import Place, SetOut
from festoon.techniques.base import Setting
from festoon.techniques.closing import closing_finding
from festoon.techniques.course import Course
from festoon.techniques.fastening import needle_finding
from festoon.techniques.lace_shapes import Drawing, Strip, drawings, loop_width, strips, without_behind
from festoon.techniques.lace_words import REPEATED, LaceBand
from festoon.work.values import Amount, Finding, Mend

EASED = 0.02
"""Share by which a heading without a pull thread can still be eased in by pressing. Common practice."""

SLACK = 1e-6
"""By which figures that meet their limit exactly may pass it (computed: rounding)."""

OFF_CLOTH = 0.05
"""mm beyond the cloth's edge that rounding may cause, as for stitching."""

STEPS = 9
"""Halvings in the search for the nearest length that works: to a 500th of what is searched (ours)."""

BESIDE = 1e-6
"""mm before and behind a corner at which the directions of its legs are read (ours)."""

NARROWEST = 3.0
"""mm; no lace insertion is narrower. Common practice."""

LEAST = 0.1
"""mm to which a nearest length is told."""

SHAPED_BY = ("scallops", "pointed ovals", "vees", "diamonds", "loops")
"""Shapes that a smaller rise makes gentler."""


@dataclass(frozen=True, eq=False)
class Laid:
    """A band as it came out: its words, course, repeats and strips, one strip of every sort, and what surrounds it."""

    words: LaceBand
    course: Course
    out: SetOut | None
    strips: tuple[Strip, ...]
    sorts: tuple[Strip, ...]
    setting: Setting

    @property
    def where(self) -> str:
        """Its place in words."""
        return f'"{self.words.name}" on {self.setting.panel}'


def findings(laid: Laid) -> tuple[Finding, ...]:
    """Everything that will not work, or had better be looked at."""
    words, setting = laid.words, laid.setting
    closing = (
        closing_finding(words.name, words.repeat, words.stretch, words.centre, laid.out, setting) if laid.out else None
    )
    needles = (needle_finding(f, words.name, setting.panel, setting.units) for f in (words.sewn, words.butted))
    bent = _bent(laid)
    over = None if any(f.rule == "no room to mitre" for f in bent) else _over_itself(laid)
    told = [closing, _loops(laid), *bent, over, off_cloth(laid), *needles]
    return tuple({f.rule: f for f in told if f is not None}.values())


def drawn_most(strip: Strip) -> Stretch | None:
    """The stretch on which a heading is drawn up most; None where nothing bends."""
    bent = [s for s in strip.laid.stretches if s.most_drawn > SLACK]
    return max(bent, key=lambda s: s.most_drawn, default=None)


def _bent(laid: Laid) -> list[Finding]:
    """Curves too tight, corners too sharp, lace drawn up too far: the gravest only."""
    tight = [s for s in laid.sorts if s.laid.tightest and s.laid.tightest.radius <= 0]
    if tight:
        worst = min(tight, key=lambda s: s.laid.tightest.radius if s.laid.tightest else math.inf)
        return [_too_tight(laid, worst)]
    cramped = [s for s in laid.sorts if s.trouble]
    if cramped:
        return [_no_mitre(laid, cramped[0])]
    curves = [(s, d) for s in laid.sorts if (d := drawn_most(s))]
    if not curves:
        return []
    strip, worst_stretch = max(curves, key=lambda pair: pair[1].most_drawn)
    found = _drawn_up(laid, strip, worst_stretch)
    return [found] if found else []


def _too_tight(laid: Laid, strip: Strip) -> Finding:
    tightest = strip.laid.tightest
    at, radius = (tightest.at, tightest.radius + strip.laid.width) if tightest else (None, 0.0)
    units = laid.setting.units
    mends = _nearest(laid, at)
    wide = radius_limit(strip.laid.width, laid.words.gather) + strip.laid.width
    return _finding(
        laid,
        "will not work",
        "lace wider than its curve",
        f"The lace is {fine(strip.laid.width, units)} wide and is to bend round a radius of {fine(radius, units)}: it "
        "cannot turn inside its own width without a mitre.",
        _remedy(
            mends, f"let the line bend no tighter than {fine(wide, units)}, or give it a corner and mitre the lace"
        ),
        fine(radius, units),
        fine(strip.laid.width, units),
        at,
        Amount(round(radius, 1), "mm", least=True),
        mends,
        "geometry: the inner heading's radius is the outer's less the width",
    )


def _no_mitre(laid: Laid, strip: Strip) -> Finding:
    at = strip.trouble[0]
    sharpest = turn_at(strip.laid.course, at)
    units = laid.setting.units
    mends = _nearest(laid, at)
    return _finding(
        laid,
        "will not work",
        "no room to mitre",
        f"At a corner of {sharpest:.0f}° the mitre takes more lace than there is beside it.",
        _remedy(mends, "make the corners blunter or farther apart"),
        f"{sharpest:.0f}°",
        "a mitre shorter than its legs",
        at,
        Amount(round(sharpest, 1), "degrees"),
        mends,
        f"geometry: a mitre at a turn φ takes 2w·tan(φ/2) of lace {fine(strip.laid.width, units)} wide",
    )


def turn_at(path: Path, at: Point) -> float:
    """Degrees by which a path turns at the corner nearest to a place; 0 where it has none."""
    corners = np.array(path.corners())
    if not len(corners):
        return 0.0
    s = float(corners[np.hypot(*(path.points(corners) - at).T).argmin()])
    before, after = path.turns([s - BESIDE, s + BESIDE]).tolist()
    return float(abs((after - before + 180.0) % 360.0 - 180.0))


def _drawn_up(laid: Laid, strip: Strip, stretch: Stretch) -> Finding | None:
    words = laid.words
    share = stretch.most_drawn
    ratio = 1 / (1 - share) if share < 1 else math.inf
    heading = "traced" if stretch.longer == "over" else "other"
    if not words.pull_thread:
        if share <= EASED + SLACK:
            return None
        return _finding(
            laid,
            "will not work",
            "no pull thread on a curve",
            f"Its {heading} heading must be drawn up by {share:.0%} there, and this lace has no thread to draw it by.",
            "Take lace with cotton headings, which have a pull thread, or lay this lace straight and mitre it.",
            f"{share:.0%}",
            f"{EASED:.0%}",
            stretch.at,
            Amount(round(share, 3), "share"),
            (),
            "a lace shop's page: most polyester lace has no pull thread and tears; the limit common practice",
        )
    if ratio <= words.gather + SLACK:
        return None
    mends = _nearest(laid, stretch.at)
    most = max(words.gather, MOST_GATHER)
    return _finding(
        laid,
        "will not work" if ratio > most + SLACK else "look again",
        "lace drawn up too far",
        f"Its {heading} heading is drawn up {ratio:.2f} to 1 there: the lace's pattern will not lie flat and open.",
        _remedy(mends, f"let it bend no tighter inside than {_limit(laid, strip)}"),
        f"{ratio:.2f} : 1",
        f"{words.gather:g} : 1",
        stretch.at,
        Amount(round(share, 3), "share"),
        mends,
        "geometry: ring ratio (R + w)/R; the limit common practice",
    )


def _limit(laid: Laid, strip: Strip) -> str:
    return fine(radius_limit(strip.laid.width, laid.words.gather), laid.setting.units)


def _over_itself(laid: Laid) -> Finding | None:
    """Lace that lies over itself; of loops, more often than once each."""
    once = laid.out.count if laid.out and laid.words.shape == "loops" else 0
    found = [o for strip in laid.sorts for o in lies_over_itself(strip.laid)[once:]]
    if not found:
        return None
    worst = max(found, key=lambda o: o.area)
    mends = _nearest(laid, worst.at)
    return _finding(
        laid,
        "look again",
        "lace over itself",
        "The lace lies over itself there" + _where_over(laid, bool(once)),
        _remedy(mends, "make the rise smaller or the repeat longer" if laid.out else "let the line bend less there"),
        f"{worst.area:.0f} mm²",
        "no overlap" if not once else "one crossing to a loop",
        worst.at,
        Amount(round(worst.area, 1), "mm²"),
        mends,
        "computed",
    )


def _where_over(laid: Laid, crosses: bool) -> str:
    if crosses:
        return " and where its loops cross, so that three layers meet."
    return ": neighbouring repeats overlap." if laid.out else "."


def _loops(laid: Laid) -> Finding | None:
    words, units = laid.words, laid.setting.units
    if words.shape != "loops" or words.across <= loop_width(words) + SLACK:
        return None
    wide = math.floor(loop_width(words) / LEAST) * LEAST
    return _finding(
        laid,
        "will not work",
        "loop wider than it is high",
        f"A loop {fine(words.across, units)} wide cannot stand in a rise of {fine(words.rise, units)}.",
        f"Make across {fine(wide, units)} at most, or the rise larger. It is drawn so.",
        fine(words.across, units),
        fine(wide, units),
        None,
        Amount(round(words.across, 1), "mm"),
        (Mend(f"Make across {fine(wide, units)}", words.name, "across", round(wide, 1)),),
        "computed",
    )


def off_cloth(laid: Laid) -> Finding | None:
    """Lace that reaches beyond the cloth, how far, and whether moving it up or down brings it back."""
    cloth, units = laid.setting.outline, laid.setting.units
    lace = shapely.union_all([s.region for s in laid.strips])
    beyond = shapely.difference(lace, cloth.buffer(OFF_CLOTH))
    if beyond.is_empty:
        return None
    corners = shapely.get_coordinates(beyond)
    far = shapely.distance(shapely.points(corners), cloth)
    k = int(far.argmax())
    by, at = float(far[k]), (round(float(corners[k, 0]), 3), round(float(corners[k, 1]), 3))
    mends = _moved(laid, lace, cloth, by)
    return _finding(
        laid,
        "will not work",
        "lace off the cloth",
        f"The lace reaches {fine(by, units)} beyond the cloth.",
        _remedy(mends, "move it, leave more free at its ends, or make the panel larger"),
        fine(by, units),
        fine(0.0, units),
        at,
        Amount(round(by, 1), "mm"),
        mends,
        "computed",
    )


def _moved(laid: Laid, lace: Any, cloth: Polygon, by: float) -> tuple[Mend, ...]:
    """Moving the whole to the left or right of its line, where that alone brings it onto the cloth."""
    path = laid.course.path
    ahead = path.end - path.start
    size = float(np.hypot(*ahead))
    if path.closed or size < LEAST:
        return ()
    left = np.array([ahead[1], -ahead[0]]) / size
    step = math.ceil(by / LEAST - SLACK) * LEAST
    for sign in (1.0, -1.0):
        dx, dy = (sign * step * left).tolist()
        if cloth.buffer(OFF_CLOTH).contains(translate(lace, dx, dy)):
            up = round(laid.words.up + sign * step, 1)
            return (Mend(f"Make up {show_length(up, laid.setting.units)}", laid.words.name, "up", up),)
    return ()


def _nearest(laid: Laid, at: Point | None) -> tuple[Mend, ...]:
    """The nearest words that work where it is worst: the greatest rise, for loops the nearest width of a loop, and the
    widest lace, each alone. Found by halving, to LEAST."""
    words, works = laid.words, _probe(laid, at)
    mends = []
    if words.shape in SHAPED_BY:
        rise = _greatest(lambda mm: works({"rise": mm}), _least_rise(words), words.rise)
        mends.append(("rise", rise))
    if words.shape == "loops":
        wider = _greatest(lambda mm: works({"across": -mm}), -loop_width(words, math.inf), -words.across)
        least = 2 * (radius_limit(words.width, words.gather) + words.total)
        across = _greatest(lambda mm: works({"across": mm}), least, words.across) if wider is None else -wider
        mends.append(("across", across))
    mends.append(("width", _greatest(lambda mm: works({"width": mm}), NARROWEST, words.width)))
    units = laid.setting.units
    return tuple(
        Mend(f"Make {word} {show_length(mm, units)}", words.name, word, round(mm, 2))
        for word, mm in mends
        if mm is not None
    )


def _least_rise(words: LaceBand) -> float:
    return words.across * (1 + EASED) if words.shape == "loops" else LEAST


def _greatest(works: Callable[[float], bool], low: float, high: float) -> float | None:
    """The greatest length below `high` that works, told downwards to LEAST; None where even `low` does not."""
    if low >= high or not works(low):
        return None
    for _ in range(STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if works(middle) else (low, middle)
    told = math.floor(low / LEAST + SLACK) * LEAST
    return told if works(told) else low


def _probe(laid: Laid, at: Point | None) -> Callable[[dict[str, float]], bool]:
    """Whether other words would do, tried on the repeat where it is worst and its neighbours, or on the whole line."""
    near = _near(laid.out, at, laid.course.path.closed)
    once = len(near) if laid.words.shape == "loops" else 0

    def works(changed: dict[str, float]) -> bool:
        words = laid.words.model_copy(update=changed)
        try:
            made = strips(words, _drawn(words, laid.course, near))
        except FestoonError:
            return False
        return _sound(made, words, once)

    return works


def _near(out: SetOut | None, at: Point | None, around: bool) -> tuple[Place, ...]:
    """The two repeats whose shared point is nearest to a place; on a line that closes, the last and the first too."""
    if out is None or out.count < 2:
        return out.places if out else ()
    pairs = list(itertools.pairwise(out.places))
    if around:
        pairs.append((out.places[-1], out.places[0]))
    if at is None:
        return pairs[0]
    points = [first.pose.apply([first.chord / 2, 0.0]) for first, _ in pairs]
    far = [math.dist(p, at) for p in points]
    return pairs[far.index(min(far))]


def _drawn(words: LaceBand, course: Course, near: tuple[Place, ...]) -> tuple[Drawing, ...]:
    """Enough to judge by: a band of two that mirror each other, a piece of many that are alike."""
    return without_behind(words, near)[:1] if words.shape in REPEATED else drawings(words, course)


def _sound(made: Iterable[Strip], words: LaceBand, crossings: int) -> bool:
    most = 1 - 1 / words.gather if words.pull_thread else EASED
    for strip in made:
        if strip.trouble or not strip.laid.possible:
            return False
        drawn = drawn_most(strip)
        if drawn and drawn.most_drawn > most + SLACK:
            return False
        if len(lies_over_itself(strip.laid)) > crossings:
            return False
    return True


def _remedy(mends: tuple[Mend, ...], else_: str) -> str:
    told = [m.told[0].lower() + m.told[1:] for m in mends]
    text = "; or ".join([*told, else_])
    return f"{text[0].upper()}{text[1:]}."


def _finding(
    laid: Laid,
    verdict: Any,
    rule: str,
    reason: str,
    remedy: str,
    figure: str,
    limit: str,
    at: Point | None,
    amount: Amount,
    mends: tuple[Mend, ...],
    source: str,
) -> Finding:
    return Finding(
        verdict=verdict,
        where=laid.where,
        reason=reason,
        remedy=remedy,
        figure=figure,
        limit=limit,
        source=source,
        panel=laid.setting.panel,
        at=at if at is None else (round(at[0], 3), round(at[1], 3)),
        rule=rule,
        about=(laid.words.name,),
        amount=amount,
        mends=mends,
    )
