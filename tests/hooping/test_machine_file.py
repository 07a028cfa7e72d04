"""What the machine is told, entire for a toy hoop, and refusals."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import HoopingError
from festoon.hooping.machine_file import machine_stitching
from festoon.plane.pose import Pose
from festoon.stitches import FORMATS, Act, dump, encode, needle_check, read_bytes
from tests.hooping.toy import BLUE, RED, toy

PEN = needle_check(np.zeros((1, 2))).threads[0]


def test_entire():
    """Field of 10 by 15 steps: to mark B, to mark A, then both runs, a cut between them, and back to the middle."""
    told = [" ".join(line.split()) for line in dump(machine_stitching(toy())).splitlines()]
    assert told == [
        f"thread 0 {PEN.colour} {PEN.tex:.17g}",
        f"thread 1 {PEN.colour} {PEN.tex:.17g}",
        "thread 2 #ff0000 25",
        "thread 3 #0000ff 40",
        *("move -4 -3 0", "stop -4 -3 0"),
        *("move 4 3 1", "stop 4 3 1"),
        *("move 5 7 2", "stitch 5 7 2", "stitch 5 0 2", "trim 5 0 2"),
        *("move 0 0 3", "stitch 0 0 3", "stitch -5 -7 3", "trim -5 -7 3"),
        "move 0 0 3",
    ]


@pytest.mark.parametrize("format", FORMATS)
def test_every_format_holds_it(format):
    sewn = machine_stitching(toy())
    back = read_bytes(encode(sewn, format), format)
    assert back.holes == pytest.approx(sewn.holes)
    stitched = {back.thread[k] for k in np.flatnonzero(back.is_stitch)}
    assert len(stitched) == 2
    assert len(back.threads) == 4  # two waits before the sewing


def test_stitching_that_leaves_the_field_is_refused():
    with pytest.raises(HoopingError, match=r"hooping 3, leaf: it leaves the field of 1 × 1.5 mm by 0.06 mm"):
        machine_stitching(toy(second=((0.0, 0.0), (-0.56, -0.7))))


def test_a_mark_outside_the_field_is_refused():
    with pytest.raises(HoopingError, match=r"hooping 3, mark B: it leaves the field .* by 0.15 mm"):
        machine_stitching(toy(marks=((0.4, 0.3), (0.0, -0.9))))


def test_half_a_step_beyond_is_let_pass():
    assert machine_stitching(toy(first=((0.5, 0.79), (0.5, 0.0)))).stitch_count == 4


inside = st.tuples(st.floats(-0.5, 0.5), st.floats(-0.75, 0.75))


@given(
    st.lists(inside, min_size=1, max_size=6),
    st.lists(inside, min_size=2, max_size=2),
    st.builds(Pose, st.floats(-500, 500), st.floats(-500, 500), st.floats(-360, 360)),
)
def test_laws(run, marks, field):
    """Every penetration once and in its place, none before the last wait, a wait at every mark on a shortest way."""
    hooping = toy(first=run, marks=marks, field=field)
    sewn = machine_stitching(hooping)
    assert field.apply(sewn.holes) == pytest.approx(hooping.stitching.holes, abs=1e-9)
    stops = np.flatnonzero(sewn.acts == Act.STOP)
    assert stops.max() < np.flatnonzero(sewn.is_stitch).min()
    waited = field.apply(sewn.points[stops])
    ways = [[math.dist(p, m.at) for p, m in zip(order, hooping.marks, strict=True)] for order in (waited, waited[::-1])]
    assert min(max(way) for way in ways) < 1e-5
    a, b = sewn.points[stops]
    goal = sewn.holes[0]
    assert math.hypot(*a) + math.dist(b, goal) <= math.hypot(*b) + math.dist(a, goal) + 1e-5
    assert sewn.points[-1].tolist() == [0, 0]
    assert sewn.threads[2:] == (RED, BLUE)
