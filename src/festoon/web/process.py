"""Work in a process of its own, which can be stopped at any instant and cannot take the server with it."""

from __future__ import annotations

import math
import multiprocessing
import os
import queue
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

PRELOADED = ["festoon.web.tasks", "festoon.cli"]
"""What such a process has read already when it begins, where the system can copy one; the command line as well, since a
process reads anew what its server was started with (`multiprocessing`, safe importing of the main module)."""

WAIT = 60.0
"""Seconds for which a process waits for another task, as while one thing after another is moved (own choice)."""

MEGABYTE = 1 << 20
LOST = "the work ended before it was done; it was too much for the memory, or took too long. Try it with less."


@dataclass(frozen=True, slots=True)
class Limits:
    """Seconds at the processor, and megabytes of memory beyond what the program itself takes."""

    seconds: float
    megabytes: int


class Running:
    """A process of its own, which does one task after another: task(argument, tell)."""

    def __init__(self, limits: Limits | None = None) -> None:
        context = _context()
        self._ours, theirs = context.Pipe()
        self._process = context.Process(target=_run, args=(theirs, limits), daemon=True)
        self._process.start()
        theirs.close()

    @property
    def lives(self) -> bool:
        """Whether it may be given another task."""
        return not self._ours.closed and bool(self._process.is_alive())

    def told(
        self, task: Callable[[Any, Tell], Any], argument: Any, patience: float | None = None
    ) -> Iterator[tuple[Way, Any]]:
        """The task's course: ('progress', sentence) as it comes, then ('done', result) or ('failed', sentence).

        patience: seconds to wait for a word; past it the process is stopped and has failed. One task at a time.
        """
        try:
            self._ours.send((task, argument))
            while True:
                if patience is not None and not self._ours.poll(patience):
                    raise EOFError
                way, what = self._ours.recv()
                yield way, what
                if way != "progress":
                    return
        except (EOFError, OSError):
            self.stop()
            self._ours.close()
            yield "failed", LOST

    def stop(self) -> None:
        """End the process now; `told` then ends, too."""
        self._process.kill()
        self._process.join()


class Hands:
    """Processes for tasks; one that has done its own waits a while for the next, which then finds everything warm."""

    def __init__(self, wait: float = WAIT) -> None:
        """wait: seconds."""
        self._wait = wait
        self._lock = threading.Lock()
        self._waiting: Running | None = None
        self._gone: threading.Timer | None = None

    def take(self) -> Running:
        """The one that waits, or another."""
        with self._lock:
            running = self._no_longer_waiting()
        return running if running is not None and running.lives else Running()

    def give_back(self, running: Running) -> None:
        """Done with it: it waits, or ends where another waits already."""
        with self._lock:
            if self._waiting is None and running.lives:
                self._waiting = running
                self._gone = threading.Timer(self._wait, self.close)
                self._gone.daemon = True
                self._gone.start()
                return
        running.stop()

    def close(self) -> None:
        """End the one that waits."""
        with self._lock:
            running = self._no_longer_waiting()
        if running is not None:
            running.stop()

    def _no_longer_waiting(self) -> Running | None:
        running, self._waiting = self._waiting, None
        if self._gone is not None:
            self._gone.cancel()
            self._gone = None
        return running


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


def _run(pipe: Connection, limits: Limits | None) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the server's, which ends this process
    tasks: queue.SimpleQueue[tuple[Callable[[Any, Tell], Any], Any]] = queue.SimpleQueue()
    threading.Thread(target=_hear, args=(pipe, tasks), daemon=True).start()
    if limits is not None:
        _limit(limits)
    while True:
        task, argument = tasks.get()
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


def _hear(pipe: Connection, tasks: queue.SimpleQueue[Any]) -> None:
    """Take in tasks as they come; this process ends with the server, whatever it is doing."""
    try:
        while True:
            tasks.put(pipe.recv())
    except BaseException:  # nothing more can be heard
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
