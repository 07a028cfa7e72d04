"""What was ticked, held against the division as it is now: ticks follow the stitching, not the number."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from festoon.hooping import Division, Hooping
from festoon.steps import words
from festoon.steps.record import HoopingTicks, Progress, Tick
from festoon.steps.values import Step

STEP = 0.01
"""mm, and degrees, to which stitching and places are compared: a tenth of a machine file's step (own choice)."""

NAME_DIGITS = 16
"""Hexadecimal digits of the name of a stitching or a place."""

HOOPED = frozenset({"mark", "hoop", "check", "out"})
"""The kinds of steps that hold for one place of the hoop and its crosses alone."""

Steps = Mapping[int, Sequence[Step]]


@dataclass(frozen=True, slots=True)
class Standing:
    """How far the work is.

    hooping: the one that it is at. done: by each hooping's number the steps that count as done, and when they were
    ticked. told: by number what is to be said of ticks that do not count, or of a new number. lost: the same of
    hoopings that are there no more.
    """

    hooping: int
    done: Mapping[int, Mapping[str, str]]
    told: Mapping[int, str]
    lost: tuple[str, ...]


def standing(progress: Progress, division: Division, steps: Steps) -> Standing:
    """How far the work on this division is by what was ticked.

    Ticks belong to the stitching that they were made for, whatever number it has now. Where that stitching is no
    longer sewn by any hooping they do not count. Where its crosses or its hoop's place are others now, and not all of
    it is sewn, it must be hooped anew, and the ticks of all that hooping is about do not count.
    """
    by_stitches = {t.stitches: t for t in progress.hoopings}
    done: dict[int, Mapping[str, str]] = {}
    told: dict[int, str] = {}
    here: set[str] = set()
    for hooping in division.hoopings:
        name = stitches_name(hooping)
        here.add(name)
        own = by_stitches.get(name)
        done[hooping.number], said = _counted(hooping, own, steps[hooping.number]) if own else ({}, "")
        if said:
            told[hooping.number] = said
    lost = []
    for entry in progress.hoopings:
        if entry.stitches in here or not entry.done:
            continue
        sentence = words.sews_otherwise(entry.number, entry.done[-1].do)
        if entry.number not in done:
            lost.append(sentence)
        elif not done[entry.number]:
            told.setdefault(entry.number, sentence)
    return Standing(_nearest(progress.hooping, steps), done, told, tuple(lost))


def ticked(
    progress: Progress, division: Division, steps: Steps, number: int, names: Collection[str], done: bool, at: str
) -> Progress:
    """The steps `names` of a hooping ticked at the time `at`, or no longer ticked.

    The work is then at that hooping, or where all of it is done at the next that is not.
    """
    hooping = next(h for h in division.hoopings if h.number == number)
    stands = standing(progress, division, steps)
    before = {t.step: t for e in progress.hoopings if e.stitches == stitches_name(hooping) for t in e.done}
    kept = {name: before[name] for name in stands.done[number] if done or name not in names}
    own = []
    for step in steps[number]:
        if step.name in kept:
            own.append(kept[step.name])
        elif done and step.name in names:
            own.append(Tick(step=step.name, do=step.do, at=at))
    entry = HoopingTicks(number=number, stitches=stitches_name(hooping), place=place_name(hooping), done=tuple(own))
    others = [e for e in progress.hoopings if e.stitches != entry.stitches]
    entries = sorted((*others, entry), key=lambda e: (e.number, e.stitches))
    finished = {n: {*stands.done[n]} for n in steps} | {number: {t.step for t in own}}
    return Progress(hooping=_next(number, steps, finished), hoopings=tuple(entries))


def stitches_name(hooping: Hooping) -> str:
    """A name of what a hooping sews on the panel: the same stitches in the same threads, the same name."""
    s = hooping.stitching
    colours = "".join(t.colour for t in s.threads)
    return _name_of([hooping.panel.encode(), _grid(s.points), s.acts.tobytes(), s.thread.tobytes(), colours.encode()])


def place_name(hooping: Hooping) -> str:
    """A name of where its hoop lies, and of its crosses."""
    field = hooping.field
    marks = sorted(hooping.marks, key=lambda m: m.name)
    numbers = [field.x, field.y, field.turn % 360.0, *hooping.hoop.field, *(v for m in marks for v in m.at)]
    return _name_of([_grid(numbers), " ".join(m.name for m in marks).encode()])


def _counted(hooping: Hooping, ticks: HoopingTicks, steps: Sequence[Step]) -> tuple[Mapping[str, str], str]:
    """The ticks that count, and what is to be said of them."""
    kinds = {s.name: s.kind for s in steps}
    known = {t.step: t.at for t in ticks.done if t.step in kinds}
    sewn = all(s.name in known for s in steps if s.kind == "sew")
    if ticks.place != place_name(hooping) and not sewn and any(kinds[n] in HOOPED for n in known):
        return {n: at for n, at in known.items() if kinds[n] not in HOOPED}, words.lies_elsewhere(hooping.number)
    if known and ticks.number != hooping.number:
        return known, words.numbered_anew(hooping.number, ticks.number)
    return known, ""


def _nearest(number: int, steps: Steps) -> int:
    """The hooping of that number, or the last where there are fewer now; 1 where there are none."""
    return min(number, max(steps, default=1))


def _next(number: int, steps: Steps, finished: Mapping[int, Collection[str]]) -> int:
    def open_(n: int) -> bool:
        return any(s.name not in finished[n] for s in steps[n])

    if open_(number):
        return number
    order = [n for n in steps if n > number] + [n for n in steps if n < number]
    return next((n for n in order if open_(n)), number)


def _grid(numbers: Iterable[float] | np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> bytes:
    return np.rint(np.asarray(numbers, np.float64) / STEP).astype("<i8").tobytes()


def _name_of(parts: Iterable[bytes]) -> str:
    digests = (hashlib.sha256(part).digest() for part in parts)
    return hashlib.sha256(b"".join(digests)).hexdigest()[:NAME_DIGITS]
