"""Machine minutes."""

import numpy as np
import pytest

from festoon.piece import Machine
from festoon.stitches.stitching import Stitching, from_points, joined
from festoon.stitches.thread import Thread
from festoon.supplies.minutes import minutes


def run(stitches: int, thread: Thread) -> Stitching:
    """A run of so many needle holes."""
    return from_points(np.column_stack([np.arange(stitches) * 2.0, np.zeros(stitches)]), thread)


COLOURS = [Thread(f"#0000{i}0") for i in range(6)]


def test_a_design_of_12_000_stitches() -> None:
    """Arithmetic: 12 000 at 600/min and six changes of 1½ min are 20 + 9 = 29 min, and 5 to 10 to hoop."""
    design = joined([run(2000, thread) for thread in COLOURS])
    (told,) = minutes([(1, design)], Machine(speed=600, change_minutes=1.5, hooping_minutes=7))
    assert (told.stitches, told.changes) == (12_000, 6)
    assert (told.sewing, told.changing, told.hooping) == (20, 9, 7)
    assert told.total == 36
    assert 29 + 5 <= told.total <= 29 + 10


def test_the_thread_already_on_the_needle_is_no_change() -> None:
    red, blue = COLOURS[:2]
    first = joined([run(10, red), run(10, blue)])
    second = joined([run(10, blue), run(10, Thread(blue.colour)), run(10, red)], merge=False)
    told = minutes([(1, first), (2, second)], Machine())
    assert [m.changes for m in told] == [2, 1]
    assert [m.number for m in told] == [1, 2]


def test_every_hooping_is_hooped() -> None:
    told = minutes(
        [(n, run(60, COLOURS[0])) for n in (1, 2, 3)], Machine(speed=60, change_minutes=2, hooping_minutes=8)
    )
    assert [m.total for m in told] == pytest.approx([1 + 2 + 8, 1 + 8, 1 + 8])
