"""Works kept from one laying out to the next: what came from the same things as before is not worked out again."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Hashable
from dataclasses import dataclass

from festoon.memory import Memory
from festoon.stitches import Stitching, read_bytes
from festoon.work import Work

Read = Callable[[str], Stitching]
"""Reads a stitch file by its name in the piece. Raises FestoonError."""

LAYINGS = 3
"""Works kept for each element of a piece: as it stands, as it stood before, and as it was tried (own choice)."""

MOST_FILES = 16
"""Stitch files kept as they were read (own choice: a piece has few motifs)."""


@dataclass(frozen=True, eq=False, slots=True)
class _Held:
    """A work, the works that it leans on (held, so that no other object takes over their identity), and every stitch
    file that was read for it, in order, with what it held."""

    work: Work
    needed: tuple[Work, ...]
    read: tuple[tuple[str, Stitching], ...]


class Kept:
    """The works of one piece, and its stitch files as they were read. Nothing is found here that is not, to the last
    bit, what would be worked out anew."""

    def __init__(self) -> None:
        self._works: Memory[_Held] = Memory(LAYINGS)
        self._files: Memory[Stitching] = Memory(MOST_FILES)

    def room(self, elements: int) -> None:
        """Make room for a piece of so many elements."""
        self._works.hold(LAYINGS * max(1, elements))

    def decoded(self, data: bytes, suffix: str) -> Stitching:
        """`read_bytes`, once for the same bytes."""
        return self._files.worked((suffix, hashlib.sha256(data).digest()), lambda: read_bytes(data, suffix))

    def work(self, origin: Hashable, needed: tuple[Work, ...], read: Read, make: Callable[[Read], Work]) -> Work:
        """`make(read)`, or what it came to before.

        origin: all that it comes from but the works that it needs and the files that it reads. Raises FestoonError as
        `make` and `read` do.
        """
        key = origin, tuple(map(id, needed))
        held = self._works.found(key)
        if held is not None and all(_same(read(file), before) for file, before in held.read):
            return held.work
        files: list[tuple[str, Stitching]] = []

        def noted(file: str) -> Stitching:
            stitching = read(file)
            files.append((file, stitching))
            return stitching

        work = make(noted)
        self._works.keep(key, _Held(work, needed, tuple(files)))
        return work


def _same(one: Stitching, other: Stitching) -> bool:
    """Whether two stitchings are equal to the last bit."""
    return one is other or (
        one.threads == other.threads
        and one.points.tobytes() == other.points.tobytes()
        and one.acts.tobytes() == other.acts.tobytes()
        and one.thread.tobytes() == other.thread.tobytes()
    )
