"""What was used last is kept, so many and no more."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import given
from hypothesis import strategies as st

from festoon.memory import Memory


@given(st.lists(st.integers(0, 8), max_size=40), st.integers(1, 5))
def test_it_keeps_those_that_were_used_last(keys: list[int], most: int) -> None:
    memory: Memory[int] = Memory(most)
    for n, key in enumerate(keys):
        assert memory.worked(key, lambda key=key: 10 * key) == 10 * key
        last = list(dict.fromkeys(reversed(keys[: n + 1])))[:most]
        assert len(memory) == len(last)
    for key in set(keys) - set(last if keys else []):
        assert memory.found(key) is None
    for key in last if keys else []:
        assert memory.found(key) == 10 * key


def test_nothing_is_worked_out_twice_while_it_is_kept() -> None:
    made: list[str] = []

    def of(key: str) -> Callable[[], str]:
        return lambda: made.append(key) or key

    memory: Memory[str] = Memory(2)
    for key in ("a", "b", "a", "c", "a", "b", ""):
        assert memory.worked(key, of(key)) == key
    assert made == ["a", "b", "c", "b", ""]
    memory.hold(1)
    assert (memory.found("b"), memory.found(""), len(memory)) == (None, "", 1)
