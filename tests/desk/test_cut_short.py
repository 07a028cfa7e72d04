"""The process ends at any instant: the folder opens with the state before or after the last change."""

import io
import itertools
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from festoon.desk import Desk, SetBench, SetWord
from festoon.errors import FestoonError

BOTH = [SetWord(element="sprig", word="turn", value=5), SetBench(path="machine.speed", value=321)]
WRITING = ("open", "mkdir", "replace", "rename", "unlink", "fsync", "chmod")
"""Closing is left out: whatever ends a process closes its files."""


def texts(home: Path) -> tuple[bytes, ...]:
    return tuple((home / name).read_bytes() for name in ("piece.toml", "bench.toml"))


class Ended(BaseException):
    """The process is gone: nothing more is done."""


def ending(patch: pytest.MonkeyPatch, at: int, failure: Callable[[], BaseException], lasting: bool) -> list[int]:
    """From the step of this number on (or at it alone) every step of writing fails; gives the steps taken."""
    taken: list[int] = []

    def wrapped(real: Callable[..., Any]) -> Callable[..., Any]:
        def step(*args: Any, **kwargs: Any) -> Any:
            number = len(taken)
            taken.append(number)
            if number == at or (lasting and number > at):
                raise failure()
            return real(*args, **kwargs)

        return step

    for name in WRITING:
        patch.setattr(os, name, wrapped(getattr(os, name)))
    patch.setattr(io, "open", wrapped(io.open))
    return taken


@pytest.mark.parametrize("lasting", [True, False])
@pytest.mark.parametrize("way", ["change", "undo", "redo"])
def test_at_every_step_of_writing(home: Path, monkeypatch: pytest.MonkeyPatch, way: str, lasting: bool) -> None:
    desk = Desk(home)
    start = texts(home)
    desk.change(BOTH, desk.revision)
    end = texts(home)
    if way != "undo":
        desk.undo(desk.revision)
    before, after = (end, start) if way == "undo" else (start, end)
    for at in itertools.count():
        with monkeypatch.context() as patch:
            desk, failed = Desk(home), False
            revision = desk.revision
            taken = ending(patch, at, Ended if lasting else lambda: OSError(28, "no space"), lasting)
            try:
                desk.change(BOTH, revision) if way == "change" else getattr(desk, way)(revision)
            except (Ended, FestoonError):
                failed = True
        desk = Desk(home)
        assert texts(home) in ((before, after) if lasting else (before,) if failed else (after,))
        if texts(home) == after:
            (desk.redo if way == "undo" else desk.undo)(desk.revision)
        assert texts(home) == before
        if way != "undo":
            assert desk.undo_label is None
        if at >= len(taken):
            break
    assert at > 20


WORKER = """
import sys
from pathlib import Path
from festoon.desk import Desk, SetBench, SetWord
desk = Desk(Path(sys.argv[1]))
print("ready", flush=True)
n = int(sys.argv[2])
while True:
    n += 1
    both = [SetWord(element="sprig", word="turn", value=n), SetBench(path="machine.speed", value=n)]
    desk.change(both, desk.revision)
    print(n, flush=True)
"""


def test_what_was_half_written_is_swept_away(home: Path) -> None:
    desk = Desk(home)
    desk.change(BOTH, desk.revision)
    own = home / ".notes-of-my-own"
    half = [home / ".piece.toml-abcd1234", home / ".bench.toml-abcd1234", home / ".history" / ".pointer-abcd1234"]
    for path in (own, *half):
        path.write_text("half of i", "utf-8")
    assert Desk(home).undo_label == desk.undo_label
    assert [path.exists() for path in (own, *half)] == [True, False, False, False]


@pytest.mark.skipif(sys.platform == "win32", reason="SIGKILL is not of that system")
def test_a_process_killed_in_full_flight(home: Path) -> None:
    reached = 0
    for lines in (2, 4, 7):
        command = [sys.executable, "-c", WORKER, str(home), str(reached)]
        worker = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        assert worker.stdout is not None
        told = [worker.stdout.readline() for _ in range(lines)]
        os.kill(worker.pid, signal.SIGKILL)
        told += worker.stdout.readlines()
        worker.stdout.close()
        worker.wait()
        said = int(told[-1])
        piece = Desk(home).piece()
        reached = int(piece.bench.machine.speed)
        assert piece.file.element[1].turn == reached  # type: ignore[attr-defined]
        assert reached in (said, said + 1)
    desk = Desk(home)
    assert not [p.name for p in home.rglob(".*-*")]
    for _ in range(reached):
        desk.undo(desk.revision)
    assert desk.undo_label is None
