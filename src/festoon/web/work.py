"""Long work asked for by the page: begun, followed, stopped; its results kept by revision."""

from __future__ import annotations

import asyncio
import contextlib
import secrets
import threading
from collections import OrderedDict
from collections.abc import AsyncIterator, Callable
from typing import Literal

from festoon.errors import FestoonError
from festoon.layout import Layout
from festoon.web.process import Hands, Running
from festoon.web.results import Results, What

Event = tuple[Literal["progress", "done", "failed", "stopped"], str]

Asked = tuple[What, Layout, str]
"""What is wanted, of which piece, and its revision."""

KEPT = 4
"""Revisions of which results are kept, so that undo shows them at once."""

REMEMBERED = 32
"""Pieces of work whose course may still be asked for when they have ended."""


def _done(asked: Asked, tell: Callable[[str], None]) -> Results:
    """The work itself, in a process of its own."""
    from festoon.web.tasks import TASKS  # only there: the server needs none of the libraries that divide and prove

    what, layout, revision = asked
    return TASKS[what]((layout, revision), tell)


class Job:
    """One piece of work and its course so far. It ends with 'done', 'failed' or 'stopped'."""

    def __init__(self, what: What, revision: str) -> None:
        self.id = secrets.token_urlsafe(9)
        self.what, self.revision = what, revision
        self.running: Running | None = None
        self._events: list[Event] = []
        self._ears: set[Callable[[], None]] = set()
        self._lock = threading.Lock()

    @property
    def ended(self) -> bool:
        """Whether nothing more will come."""
        return bool(self._events) and self._events[-1][0] != "progress"

    def tell(self, event: Event) -> bool:
        """Add to its course, unless it has ended; gives whether it was added."""
        with self._lock:
            if self.ended:
                return False
            self._events.append(event)
            ears = list(self._ears)
        for ear in ears:
            ear()
        return True

    async def course(self) -> AsyncIterator[Event]:
        """Everything told so far, then everything as it comes, to its end."""
        loop, news = asyncio.get_running_loop(), asyncio.Event()

        def ear() -> None:
            with contextlib.suppress(RuntimeError):  # the loop may close meanwhile
                loop.call_soon_threadsafe(news.set)

        with self._lock:
            self._ears.add(ear)
        try:
            sent = 0
            while True:
                news.clear()
                events = self._events[sent:]
                for event in events:
                    yield event
                sent += len(events)
                if events and events[-1][0] != "progress":
                    return
                await news.wait()
        finally:
            self._ears.discard(ear)


class Workshop:
    """All work on one piece. Work of one kind runs once: what was begun for another revision is stopped."""

    def __init__(self) -> None:
        self._lock = threading.RLock()
        self._jobs: OrderedDict[str, Job] = OrderedDict()
        self._results: OrderedDict[str, Results] = OrderedDict()
        self._hands = Hands()

    def begin(self, what: What, layout: Layout, revision: str) -> Job:
        """Begin it, or join what runs already, or end at once with what is known."""
        with self._lock:
            for other in [j for j in self._jobs.values() if j.what == what and not j.ended]:
                if other.revision == revision:
                    return other
                self.stop(other.id)
            job = Job(what, revision)
            self._remember(job)
            if self._known(what, revision):
                job.tell(("done", ""))
                return job
            job.running = self._hands.take()
            asked = what, layout, revision
            threading.Thread(target=self._follow, args=(job, job.running, asked), daemon=True).start()
            return job

    def job(self, id: str) -> Job:
        """The work of that name. Raises FestoonError."""
        with self._lock:
            if id not in self._jobs:
                raise FestoonError("there is no such work.", remedy="Begin it again.")
            return self._jobs[id]

    def stop(self, id: str) -> None:
        """End it; nothing happens where it has ended. Raises FestoonError."""
        job = self.job(id)
        if job.tell(("stopped", "")) and job.running is not None:
            job.running.stop()

    def results(self, revision: str) -> Results | None:
        """What is known for a revision."""
        with self._lock:
            return self._results.get(revision)

    def keep(self, revision: str, found: Results) -> None:
        """Take in what is known for a revision from elsewhere."""
        with self._lock:
            self._put(revision, found)

    def close(self) -> None:
        """End all work."""
        with self._lock:
            for id in list(self._jobs):
                self.stop(id)
            self._hands.close()

    def _follow(self, job: Job, running: Running, asked: Asked) -> None:
        for way, what in running.told(_done, asked):
            if way == "done":
                with self._lock:
                    self._keep(job, what)
            if job.tell((way, "" if way == "done" else what)) and way != "progress":
                self._hands.give_back(running)  # only now: what was stopped meanwhile is ended by who stopped it

    def _keep(self, job: Job, found: Results) -> None:
        if not self._known(job.what, job.revision):
            self._put(job.revision, found)

    def _put(self, revision: str, found: Results) -> None:
        self._results[revision] = found
        self._results.move_to_end(revision)
        while len(self._results) > KEPT:
            self._results.popitem(last=False)

    def _known(self, what: What, revision: str) -> bool:
        found = self._results.get(revision)
        if found is None:
            return False
        return what == "hoopings" or (found.files is not None if what == "sheets" else found.proof is not None)

    def _remember(self, job: Job) -> None:
        self._jobs[job.id] = job
        for id in [id for id, j in self._jobs.items() if j.ended][: max(0, len(self._jobs) - REMEMBERED)]:
            del self._jobs[id]
