"""The work beside the machine, for the page: steps and ticks, readings judged, the corrected file."""

from __future__ import annotations

import json
import pickle
import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path

import numpy as np
import shapely

from festoon.desk import Stale
from festoon.errors import FestoonError, HoopingError, PieceError, ProofError
from festoon.files import replace_folder, write_whole
from festoon.hooping import Division, Hooping, check_order
from festoon.hooping.records import RECORD
from festoon.hooping.words import listed
from festoon.layout import Layout
from festoon.make import Proved, machine_names
from festoon.measure import Units
from festoon.piece import MADE, Piece, thread_name
from festoon.proof.told import reach
from festoon.sheets.found import is_dense
from festoon.steps import (
    PROGRESS,
    Step,
    minutes_left,
    progress_bytes,
    read_progress,
    revision_of,
    standing,
    steps_of,
    ticked,
)
from festoon.steps.words import needle
from festoon.stitches.portrait import blank, draw, finished, png
from festoon.stitches.thread import Thread
from festoon.supplies import wearing_cautions
from festoon.supplies.minutes import minutes
from festoon.truing import Truing, judged, true_made, trued_before
from festoon.truing.words import gist
from festoon.web.answers import Spot, ThreadTold
from festoon.web.answers_bench import (
    BenchHooping,
    BenchTold,
    CautionTold,
    CorrectedTold,
    CrossTold,
    HeldTold,
    Judged,
    ReadingsAsked,
    StepTold,
    TickAsked,
    TruedTold,
    VerdictTold,
)
from festoon.web.files import NotYet
from festoon.web.opened import Opened
from festoon.web.results import Results

FINENESS, MOST_PIXELS = 8.0, 1600
"""Pixels to a mm of a hoop's picture, and the most along a side: sharp on a telephone's screen."""

GRAVITY: Mapping[str, Judged] = {
    "sound": "sound",
    "stretched": "look again",
    "stretched or misread": "look again",
    "misread": "will not work",
    "hoop again": "will not work",
}
"""How grave each verdict on readings is."""

_alone = threading.Lock()
"""Held while files are made or corrected: two devices may ask at once."""


@dataclass(frozen=True, eq=False)
class _Bench:
    """A piece as it stands, with its division and the hoopings in which stitching lies too thick."""

    layout: Layout
    revision: str
    division: Division
    dense: frozenset[int]
    found: Results

    @property
    def piece(self) -> Piece:
        return self.layout.piece

    @property
    def names(self) -> dict[int, str]:
        return machine_names(self.division, self.piece.bench.machine.format)

    @property
    def units(self) -> Units:
        return self.piece.file.piece.units

    @property
    def steps(self) -> dict[int, tuple[Step, ...]]:
        bench = self.piece.bench
        each = minutes([(h.number, h.stitching) for h in self.division.hoopings], bench.machine)
        wearing = wearing_cautions(self.layout)
        return steps_of(self.division, each, bench, self.units, self.names, self.dense, wearing)

    def hooping(self, number: int) -> Hooping:
        for hooping in self.division.hoopings:
            if hooping.number == number:
                return hooping
        raise HoopingError(f"there is no hooping {number}.", remedy=f"They are 1 to {self.division.count}.")


def packed(found: Proved) -> bytes:
    """What this stage works with, to be carried from the process that proved the piece."""
    dense = frozenset(f.hooping for f in found.proof.findings if is_dense(f) and f.hooping)
    return pickle.dumps((found.division, dense), pickle.HIGHEST_PROTOCOL)


def told(here: Opened) -> BenchTold:
    """All hoopings with their steps, what of them is done, and where the work is. Raises FestoonError."""
    return _told(_bench(here))


def tick(here: Opened, asked: TickAsked) -> BenchTold:
    """Tick steps, or take ticks back, and save that. Raises Stale where others were ticked meanwhile."""
    bench = _bench(here, asked.revision)
    path, steps = bench.piece.folder / PROGRESS, bench.steps
    number = bench.hooping(asked.hooping).number
    if unknown := {*asked.steps} - {s.name for s in steps[number]}:
        raise FestoonError(f"hooping {number} has no step “{min(unknown)}”.", remedy="Load the page again.")
    with here.desk.alone():
        progress = read_progress(path)
        if revision_of(progress) != asked.ticks:
            raise Stale("steps were ticked on another device meanwhile.", remedy="Look at them as they are now.")
        now = datetime.now(UTC).isoformat(timespec="seconds")
        write_whole(path, progress_bytes(ticked(progress, bench.division, steps, number, asked.steps, asked.done, now)))
    return _told(bench)


def judge(here: Opened, asked: ReadingsAsked) -> VerdictTold:
    """What the readings come to; nothing is written. Raises FestoonError."""
    bench = _bench(here, asked.revision)
    truing = judged(bench.piece, bench.hooping(asked.hooping), asked.readings, bench.units)
    return VerdictTold.model_validate(_verdict(truing, truing.sentences, bench.units))


def true(here: Opened, asked: ReadingsAsked) -> CorrectedTold:
    """Write the corrected file as `festoon true` does, the piece made first where it was not. Raises FestoonError."""
    bench = _bench(here, asked.revision)
    hooping = bench.hooping(asked.hooping)
    with _alone:
        made = _made(bench)
        file = bench.piece.folder / MADE / bench.names[hooping.number]
        done = true_made(bench.layout, bench.division, hooping, file, asked.readings)
    name = None if done.file is None else done.file.name
    return CorrectedTold.model_validate(
        {**_verdict(done.truing, done.sentences, bench.units), "file": name, "made": made}
    )


def corrected(here: Opened, number: int) -> tuple[str, bytes]:
    """The corrected file of a hooping, its name and its bytes. Raises NotYet where there is none."""
    bench = _bench(here)
    trued = _trued(bench, bench.hooping(number))
    if trued is None:
        raise NotYet(f"there is no corrected file for hooping {number}.", remedy="Read its crosses first.")
    try:
        return trued.file, (bench.piece.folder / MADE / trued.file).read_bytes()
    except OSError as error:
        raise PieceError("it cannot be read.", where=trued.file, remedy="Read the crosses again.") from error


def picture(here: Opened, number: int, *, earlier: bool) -> bytes:
    """What a hooping sews, or what earlier ones have sewn there, as it lies in the hoop: PNG of the hoop's inside."""
    bench = _bench(here)
    hooping = bench.hooping(number)
    back, (w, h) = hooping.field.inverse(), hooping.hoop.inner_size
    scale = min(FINENESS, MOST_PIXELS / max(w, h))
    canvas = blank(w, h, scale)
    before = [o for o in bench.division.hoopings if o.panel == hooping.panel and o.number < number]
    for one in before if earlier else [hooping]:
        draw(canvas, one.stitching.placed(back), scale, (-w / 2, -h / 2))
    return png(finished(canvas))


def _bench(here: Opened, revision: str | None = None) -> _Bench:
    seen = here.seen() if revision is None else here.at(revision)
    found = here.workshop.results(seen.revision)
    if found is None or found.files is None:
        raise NotYet("the hoopings have not been made ready for the machine.", remedy="Begin that work first.")
    division, dense = _unpacked(found.bench)
    return _Bench(seen.layout, seen.revision, division, dense, found)


@lru_cache(maxsize=2)
def _unpacked(data: bytes) -> tuple[Division, frozenset[int]]:
    division, dense = pickle.loads(data)
    return division, dense


def _told(bench: _Bench) -> BenchTold:
    steps = bench.steps
    progress = read_progress(bench.piece.folder / PROGRESS)
    stands = standing(progress, bench.division, steps)
    hoopings = [
        _hooping(bench, h, steps[h.number], stands.done[h.number], stands.told.get(h.number, ""))
        for h in bench.division.hoopings
    ]
    return BenchTold(
        revision=bench.revision,
        ticks=revision_of(progress),
        hooping=stands.hooping,
        hoopings=hoopings,
        minutes_left=round(sum(h.minutes_left for h in hoopings), 2),
        lost=list(stands.lost),
        refused=list(bench.found.refused),
    )


def _hooping(
    bench: _Bench, hooping: Hooping, steps: Sequence[Step], done: Mapping[str, str], note: str
) -> BenchHooping:
    hoop, own = hooping.hoop, bench.piece.bench
    back, order, stitching = hooping.field.inverse(), check_order(hooping), hooping.stitching
    threads = [_thread(stitching.threads[int(stitching.thread[a])], bench) for a, _ in stitching.thread_blocks()]
    places = back.apply([m.at for m in order]).reshape(-1, 2)
    confidence = f"{hooping.expected.confidence * 100:g} times in 100"
    return BenchHooping(
        number=hooping.number,
        panel=hooping.panel,
        holds=listed(hooping.sews, 6),
        reason=hooping.reason,
        file=bench.names[hooping.number],
        hoop=HeldTold(name=hoop.name, field=hoop.field, outer=hoop.outer_size, inner=hoop.inner_size),
        centre=_spots(hooping.field.shift[None])[0],
        turn=hooping.field.turn % 360.0,
        cloth=_cloth(bench, hooping),
        crosses=[CrossTold(name=m.name, in_hoop=at) for m, at in zip(order, _spots(places), strict=True)],
        needle=needle(own.needle),
        threads=threads,
        expected=f"Predicted: within {reach(hooping.expected.mm, bench.units)} of its place {confidence}.",
        steps=[_step(s, threads, done.get(s.name)) for s in steps],
        minutes_left=round(minutes_left(steps, done), 2),
        note=note,
        trued=_trued(bench, hooping),
    )


def _step(step: Step, threads: Sequence[ThreadTold], done: str | None) -> StepTold:
    return StepTold(
        name=step.name,
        kind=step.kind,
        do=step.do,
        told=list(step.told),
        minutes=round(step.minutes, 2),
        thread=None if step.thread is None else threads[step.thread],
        cautions=[CautionTold(text=c.text, source=c.source) for c in step.cautions],
        done=done,
    )


def _thread(thread: Thread, bench: _Bench) -> ThreadTold:
    return ThreadTold(colour=thread.colour, name=thread_name(thread, bench.piece.bench))


def _cloth(bench: _Bench, hooping: Hooping) -> list[Spot]:
    """The panel's outline in the hoop's axes, cut off at the inner ring."""
    panel = next(p for p in bench.piece.panels if p.name == hooping.panel)
    w, h = (s / 2 for s in hooping.hoop.inner_size)
    cloth = shapely.transform(shapely.box(0, 0, *panel.size), hooping.field.inverse().apply)
    return _spots(shapely.get_coordinates(cloth.intersection(shapely.box(-w, -h, w, h))))


def _spots(points: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> list[Spot]:
    return [(x, y) for x, y in (np.round(points, 3) + 0.0).tolist()]


def _trued(bench: _Bench, hooping: Hooping) -> TruedTold | None:
    """What was read of it before, where its corrected file lies ready."""
    record = trued_before(bench.piece, hooping)
    if record is None or Path(record.file).name != record.file or not _is_made(bench):
        return None
    if not (bench.piece.folder / MADE / record.file).is_file():
        return None
    return TruedTold(file=record.file, readings={m.name: m.off for m in record.marks})


def _verdict(truing: Truing, sentences: Sequence[str], units: Units) -> dict[str, object]:
    return {
        "verdict": truing.verdict,
        "judged": GRAVITY[truing.verdict],
        "usable": truing.usable,
        "short": gist(truing.pose, units) if truing.usable else truing.sentences[1],
        "told": list(sentences),
    }


def _made(bench: _Bench) -> str:
    """See to it that the folder of results holds the machine files of the piece as it stands, by the rules of
    `festoon make`; says what was done."""
    if _is_made(bench):
        return ""
    folder, files = bench.piece.folder / MADE, bench.found.files or {}
    older = (folder / RECORD).exists()
    if older and _lengthened(folder):
        raise PieceError(
            "it holds a piece that was made with its laps lengthened, and this page would write over it.",
            where=str(folder.name),
            remedy="Correct the hooping with `festoon true`, or move that folder away and ask again.",
        )
    if bench.found.refused:
        raise ProofError(
            " ".join(["this will not work, so nothing was made:", *bench.found.refused]),
            where="proof",
            remedy="Mend it first.",
        )
    replace_folder(folder, files)
    was = "older than the piece" if older else "not there yet"
    return f"The files in the piece's folder “{MADE}” were {was}, so all of them were made first."


def _is_made(bench: _Bench) -> bool:
    folder, files = bench.piece.folder / MADE, bench.found.files or {}
    return all(_read(folder / name) == files.get(name) for name in (RECORD, *bench.names.values()))


def _lengthened(folder: Path) -> bool:
    try:
        return bool(json.loads(_read(folder / RECORD) or b"{}").get("lengthened"))
    except (ValueError, AttributeError):
        return False


def _read(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except OSError:
        return None
