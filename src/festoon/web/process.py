"""Work in a process of its own, which can be stopped at any instant and cannot take the server with it."""

from __future__ import annotations

import math
import multiprocessing
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import Any, Literal

from festoon.errors import FestoonError

Way = Literal["progress", "done", "failed"]
Tell = Callable[[str], None]

PRELOADED = ["festoon.web.tasks"]
"""What such a process has read already when it begins, where the system can copy one."""

MEGABYTE = 1 << 20
LOST = "the work ended before it was done; it was too much for the memory, or took too long. Try it with less."


@dataclass(frozen=True, slots=True)
class Limits:
    """Seconds at the processor, and megabytes of memory beyond what the program itself takes."""

    seconds: float
    megabytes: int


class Running:
    """A task that runs: task(argument, tell) in a process of its own."""

    def __init__(self, task: Callable[[Any, Tell], Any], argument: Any, limits: Limits | None = None) -> None:
        context = _context()
        self._ours, theirs = context.Pipe()
        self._process = context.Process(target=_run, args=(theirs, task, argument, limits), daemon=True)
        self._process.start()
        theirs.close()

    def told(self, patience: float | None = None) -> Iterator[tuple[Way, Any]]:
        """('progress', sentence) as it comes, then ('done', result) or ('failed', sentence).

        patience: seconds to wait for a word; past it the process is stopped and has failed.
        """
        try:
            while True:
                if patience is not None and not self._ours.poll(patience):
                    raise EOFError
                way, what = self._ours.recv()
                yield way, what
                if way != "progress":
                    return
        except (EOFError, OSError):
            yield "failed", LOST
        finally:
            self.stop()
            self._ours.close()

    def stop(self) -> None:
        """End the process now; `told` then ends, too."""
        self._process.kill()
        self._process.join()


def ready() -> None:
    """Begin reading what processes need, so that the first of them begins at once."""
    if sys.platform != "win32":
        from multiprocessing import forkserver

        _context()
        forkserver.ensure_running()


def _context() -> Any:
    if sys.platform == "win32":
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(PRELOADED)
    return context


def _run(pipe: Connection, task: Callable[[Any, Tell], Any], argument: Any, limits: Limits | None) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the server's, which ends this process
    threading.Thread(target=_end_with_server, args=(pipe,), daemon=True).start()
    if limits is not None:
        _limit(limits)
    try:
        pipe.send(_outcome(task, argument, lambda sentence: pipe.send(("progress", sentence))))
    except (MemoryError, OSError):  # no room to say so, or nobody to say it to; the server sees that it ended
        os._exit(1)


def _outcome(task: Callable[[Any, Tell], Any], argument: Any, tell: Tell) -> tuple[Way, Any]:
    try:
        return "done", task(argument, tell)
    except MemoryError:
        raise
    except FestoonError as error:
        return "failed", str(error)
    except Exception as fault:
        return "failed", f"this is a fault in Festoon, not in your piece: {fault!r}."


def _end_with_server(pipe: Connection) -> None:
    try:
        pipe.recv()
    except (EOFError, OSError):
        os._exit(1)


def _limit(limits: Limits) -> None:
    if sys.platform == "win32":
        return
    import resource

    seconds = math.ceil(limits.seconds)
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    memory = _taken() + limits.megabytes * MEGABYTE
    if sys.platform == "linux":
        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))


def _taken() -> int:
    """Bytes of address space that this process takes already (Linux: proc(5), statm)."""
    try:
        with open("/proc/self/statm", encoding="ascii") as statm:
            return int(statm.read().split()[0]) * os.sysconf("SC_PAGE_SIZE")
    except OSError:
        return 4 << 30
