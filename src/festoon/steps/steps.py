"""Division -> the steps of every hooping, in the order of work."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from festoon.hooping import Division, Hooping, check_order
from festoon.hooping.words import listed
from festoon.measure import Units
from festoon.piece import Bench, thread_name
from festoon.steps import words
from festoon.steps.values import Step
from festoon.supplies import HoopingMinutes
from festoon.supplies.assumed import STABILISER_MARGIN, thickness, top_share
from festoon.supplies.cautions import CLOSING, cautions, cautions_at
from festoon.supplies.thread_use import thread_use
from festoon.work import Caution


def steps_of(
    division: Division,
    minutes: Sequence[HoopingMinutes],
    bench: Bench,
    units: Units,
    files: Mapping[int, str],
    dense: Collection[int] = (),
    wearing: tuple[Caution, ...] = (),
) -> dict[int, tuple[Step, ...]]:
    """Each hooping's steps by its number.

    First what to take care of, at the first hooping everything; then the crosses, the hoop, needle and thread, the
    needle check, one step for each thread that is sewn, and what comes after. minutes: of every hooping, as `minutes`
    of festoon.supplies has them, with which those of its steps add up. files: each hooping's machine file. dense:
    the hoopings in which stitching was found too thick. wearing: the cautions for who wears the piece, told at the
    first.
    """
    told = {m.number: m for m in minutes}
    return {
        h.number: tuple(
            _steps(_At(division, h, told[h.number], bench, units, files[h.number], h.number in dense, wearing))
        )
        for h in division.hoopings
    }


@dataclass(frozen=True, slots=True)
class _At:
    """One hooping with all that its steps speak of."""

    division: Division
    hooping: Hooping
    minutes: HoopingMinutes
    bench: Bench
    units: Units
    file: str
    dense: bool
    wearing: tuple[Caution, ...]

    @property
    def names(self) -> list[str]:
        """Its crosses, A, B, ... AA."""
        return sorted((m.name for m in self.hooping.marks), key=lambda name: (len(name), name))

    def others(self) -> Iterator[Hooping]:
        """The other hoopings of its panel."""
        return (h for h in self.division.hoopings if h.panel == self.hooping.panel and h.number != self.hooping.number)


def _steps(at: _At) -> Iterator[Step]:
    if told := _care(at):
        yield Step("care", "care", "Take care", cautions=told)
    yield _mark(at)
    yield _hoop(at)
    yield _threaded(at)
    yield _check(at)
    yield from _sewn(at)
    yield _out(at)


def _care(at: _At) -> tuple[Caution, ...]:
    here = cautions_at(at.hooping, dense=at.dense)
    if at.hooping.number != 1:
        return here
    always = cautions(h.hoop for h in at.division.hoopings)
    own = (c for c in here if c != CLOSING)  # all of them speak of magnets at greater length
    return (*always, *own, *at.wearing)


def _mark(at: _At) -> Step:
    earlier = {m.name for h in at.others() if h.number < at.hooping.number for m in h.marks}
    new = [name for name in at.names if name not in earlier]
    known = [name for name in at.names if name in earlier]
    marks = {m.name: m for m in at.hooping.marks}
    if not new:
        again = "They are marked already. Where one has faded, draw it again over its old place."
        places = tuple(words.place_of(marks[n], at.units) for n in at.names)
        return Step(
            "mark",
            "mark",
            f"See that {words.crosses(at.names)} can still be seen",
            (again, *places),
            "Crosses are marked already",
        )
    marked = (f"{listed(known)} {'is' if len(known) == 1 else 'are'} marked already.",) if known else ()
    told = (*(words.place_of(marks[n], at.units) for n in new), *marked, words.PEN)
    do = f"Mark {words.crosses(new)} on {at.hooping.panel}"
    return Step("mark", "mark", do, told, f"Mark {listed(new)} on the cloth")


def _hoop(at: _At) -> Step:
    hooping, under = at.hooping, at.bench.stabiliser
    w, h = (s + 2 * STABILISER_MARGIN.value for s in hooping.hoop.inner_size)
    floated = words.floated(hooping.float_sides, hooping.panel)
    told = (
        *([words.after(hooping.after)] if hooping.after else []),
        words.laid_under(under, (w, h), at.units),
        words.turned(hooping.field.turn, hooping.hoop.name),
        *([floated] if floated else []),
        words.SMOOTH,
    )
    do = f"Hoop the stabiliser and float {hooping.panel} on it" if floated else f"Hoop {hooping.panel}"
    return Step("hoop", "hoop", f"{do}, the crosses as in the picture", told, "Hoop", at.minutes.hooping)


def _threaded(at: _At) -> Step:
    first, needle = at.minutes.threads[0], words.needle(at.bench.needle)
    name = thread_name(first.thread, at.bench)
    uses = thread_use(at.hooping.stitching, thickness(at.bench), top_share(at.bench))
    bobbin = words.bobbin(sum(u.bobbin_metres for u in uses), at.bench.bobbin.metres)
    told = (bobbin,) if at.hooping.number == 1 else (f"Needle: {needle}.", bobbin)
    if at.hooping.number == 1:
        do = f"Put in a new needle, {needle}, and thread it with {name}"
    elif first.changed:
        do = f"Thread the needle with {name}"
    else:
        do = f"Leave {name} on the needle"
    return Step("thread", "thread", do, told, minutes=first.changing, thread=0)


def _check(at: _At) -> Step:
    turn = ", then ".join(m.name for m in check_order(at.hooping))
    told = (f"Load {at.file}. The needle goes to {turn}, and the machine waits at each.", words.LOWER)
    printed = f"Needle check, in turn: {turn.replace(', then', ',')}"
    return Step("check", "check", "Lower the needle at each cross. How far off is it?", told, printed)


def _sewn(at: _At) -> Iterator[Step]:
    before = None
    for n, thread in enumerate(at.minutes.threads):
        name = thread_name(thread.thread, at.bench)
        changing = thread.changing if n else 0.0
        if n == 0:
            do = f"Sew with {name}"
        elif thread.thread == before:
            do = f"Go on with {name}"
        else:
            do = f"Change to {name}, and sew"
        before, took = thread.thread, thread.sewing + changing
        yield Step(f"sew-{n + 1}", "sew", do, (words.sewn(thread.stitches, took),), "Sew", took, n)


def _out(at: _At) -> Step:
    later = [h for h in at.others() if h.number > at.hooping.number]
    wanted = [(name, [h.number for h in later if name in {m.name for m in h.marks}]) for name in at.names]
    still = [(name, of) for name, of in wanted if of]
    done = [name for name, of in wanted if not of]
    told = (
        words.taken_off(at.bench.stabiliser),
        *([words.kept(still)] if still else []),
        *([words.done_with(done)] if done and still else []),
    )
    return Step("out", "out", "Take the cloth out of the hoop", told, "Out of the hoop")
