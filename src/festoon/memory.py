"""What was worked out last, found again by what it was worked out from."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

Value = TypeVar("Value")


class Memory(Generic[Value]):
    """The `most` values that were used last. Safe to use from several threads.

    A key must hold everything that its value came from, so that a value found is the one that would be worked out.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._lock = threading.Lock()
        self._values: OrderedDict[Hashable, Value] = OrderedDict()

    def __len__(self) -> int:
        return len(self._values)

    def found(self, key: Hashable) -> Value | None:
        """What was kept under this key; None where it is not there any more."""
        with self._lock:
            if key not in self._values:
                return None
            self._values.move_to_end(key)
            return self._values[key]

    def keep(self, key: Hashable, value: Value) -> Value:
        """Keep it, in the place of what was not used for longest; gives the value."""
        with self._lock:
            self._values[key] = value
            self._values.move_to_end(key)
            self._drop()
        return value

    def worked(self, key: Hashable, make: Callable[[], Value]) -> Value:
        """What was kept under this key, or else what `make` comes to."""
        found = self.found(key)
        return self.keep(key, make()) if found is None else found

    def hold(self, most: int) -> None:
        """Keep so many from now on."""
        with self._lock:
            self._most = most
            self._drop()

    def _drop(self) -> None:
        while len(self._values) > self._most:
            self._values.popitem(last=False)
