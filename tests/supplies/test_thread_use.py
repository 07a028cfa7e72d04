"""Thread use against published ratios and worked examples, and the laws that it must keep."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.stitches.stitching import Act, Stitching, empty, from_points, joined
from festoon.stitches.thread import Thread
from festoon.supplies import ThreadUse, thread_use
from festoon.supplies.assumed import TAIL

INCH = 25.4
YARD = 914.4
RED, BLUE = Thread("#c8102e"), Thread("#00297a")


def lockstitch(stitches: int, length: float, thread: Thread = RED) -> Stitching:
    """A straight run along x."""
    return from_points(np.column_stack([np.arange(stitches + 1) * length, np.zeros(stitches + 1)]), thread)


def zigzag(stitches: int, width: float, advance: float) -> Stitching:
    """Stitches from side to side, `advance` mm along for each."""
    i = np.arange(stitches + 1)
    return from_points(np.column_stack([i * advance, (i % 2) * width]), RED)


def sewn(stitching: Stitching, thickness: float, top_share: float = 0.5, waste: float = 0.0) -> ThreadUse:
    """What a stitching of one thread takes, without tails."""
    (use,) = thread_use(stitching, thickness, top_share, waste, tail=0.0)
    return use


def ratio(stitching: Stitching, thickness: float) -> float:
    """Thread to seam, m/m."""
    use = sewn(stitching, thickness)
    seam = stitching.points[-1, 0] - stitching.points[0, 0]
    return float((use.needle_mm + use.bobbin_mm) / seam)


@pytest.mark.parametrize(
    ("pitch", "thickness", "expected"),
    [
        (2.54, 0.254, 2.20),  # T 0.01 in, 10 stitches/in; a calculation page's example
        (2.5, 0.6, 2.48),
        (2.5, 0.4, 2.32),
        (1.5, 0.3, 2.40),
    ],
)
def test_lockstitch_ratio(pitch: float, thickness: float, expected: float) -> None:
    """C301 = 2 + 2·T·S of textile calculation pages: their example (published, recomputed), the rest computed."""
    assert ratio(lockstitch(200, pitch), thickness) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(("per_cm", "thickness"), [(4, 0.62), (7, 0.36)])
def test_the_published_lockstitch_ratio(per_cm: float, thickness: float) -> None:
    """301 takes 1:2.5 (a thread maker's 'Standard stitch type classification guide'); holds for T·S 0.25."""
    assert ratio(lockstitch(200, 10 / per_cm), thickness) == pytest.approx(2.5, abs=0.01)


def test_a_seam_of_220_cm() -> None:
    """Teaching page: 220 cm at 1:2.5 is 550 cm, 275 needle and 275 bobbin."""
    use = sewn(lockstitch(880, 2.5), thickness=0.625)
    assert use.needle_mm == pytest.approx(2750)
    assert use.bobbin_mm == pytest.approx(2750)


@pytest.mark.parametrize(
    ("thickness", "expected"), [(0.055, 4.88), (0.060, 4.96), (0.065, 5.04), (0.070, 5.12), (0.075, 5.20)]
)
def test_chainstitch_table_less_its_two_extra_lengths(thickness: float, expected: float) -> None:
    """A machine maker's booklet for 401 at 8/in; C401 = 4 + 2TS is the lockstitch and two lengths more."""
    assert ratio(lockstitch(80, INCH / 8), thickness * INCH) + 2 == pytest.approx(expected, abs=1e-9)


def test_waste() -> None:
    """Apparel teaching page: 5.40 m and 15 % waste are 6.21 m."""
    run = lockstitch(400, 2.5)
    thickness = 5400 / (2 * 400) - 2.5
    plain, wasted = sewn(run, thickness), sewn(run, thickness, waste=0.15)
    assert plain.needle_mm + plain.bobbin_mm == pytest.approx(5400)
    assert wasted.needle_mm + wasted.bobbin_mm == pytest.approx(6210)


@pytest.mark.parametrize(("width", "advance", "expected"), [(2.5, 1.0, 5.985), (2.0, 0.7, 6.911)])
def test_zigzag_ratio(width: float, advance: float, expected: float) -> None:
    """Computed: C304 = (2·√(w² + p²) + 2T)/p with T 0.3."""
    assert ratio(zigzag(200, width, advance), 0.3) == pytest.approx(expected, abs=5e-4)


def test_published_zigzag_ratios_lie_round_the_geometry() -> None:
    """Makers print 5.5 (published) and 7.0 (from memory) for 304; ordinary zigzags lie about there."""
    assert 5.5 < ratio(zigzag(200, 2.5, 1.0), 0.3) < ratio(zigzag(200, 2.0, 0.7), 0.3) < 7.0


def test_five_metres_and_three_in_a_thousand_stitches() -> None:
    """A thread maker's glossary says 5 m and 3 m, which is L + T = 4.0 mm."""
    (use,) = thread_use(lockstitch(1000, 3.7), waste=0.0, tail=0.0)
    assert use.needle_mm == pytest.approx(5000)
    assert use.bobbin_mm == pytest.approx(3000)


@pytest.mark.parametrize(
    ("thread_mm", "stitches"),
    [
        (22 * YARD, 4_000),
        (250 * YARD, 44_000),
        (850 * YARD, 156_000),
        (YARD, 182),
        (5_000_000, 1_000_000),
    ],
)
def test_makers_agree_on_five_metres(thread_mm: float, stitches: int) -> None:
    """Four makers quoted on embroiderers' pages: 4.98 to 5.20 m for 1000 stitches."""
    (use,) = thread_use(lockstitch(1000, 3.7), waste=0.0, tail=0.0)
    assert use.needle_mm == pytest.approx(1000 * thread_mm / stitches, rel=0.04)


def test_a_design_of_12_000_stitches() -> None:
    """Computed: 60 m and 36 m; with 15 % waste 69 and 41.4."""
    run = lockstitch(12_000, 3.7)
    (plain,) = thread_use(run, waste=0.0, tail=0.0)
    (wasted,) = thread_use(run, tail=0.0)
    assert (plain.needle_metres, plain.bobbin_metres) == pytest.approx((60, 36))
    assert (wasted.needle_metres, wasted.bobbin_metres) == pytest.approx((69, 41.4))


def test_satin_column() -> None:
    """Computed: 100 × 4 mm, 0.4 mm on one side, T 0.3: 500 stitches, 4.305 m; strict thirds 3.637 + 0.667.

    With a third of the width drawn from each side the bobbin lies only in the middle third.
    """
    column = zigzag(500, 4.0, 0.2)
    line = math.hypot(4.0, 0.2)
    use = sewn(column, 0.3, top_share=1 - line / 3 / (2 * (line + 0.3)))
    assert use.needle_mm + use.bobbin_mm == pytest.approx(4305, abs=0.5)
    assert use.needle_mm == pytest.approx(3637, abs=1)
    assert use.bobbin_mm == pytest.approx(667, abs=1)


@pytest.mark.parametrize(("pitch", "metres", "stitches"), [(0.4, 6.25, 1563), (0.2, 12.5, 3125)])
def test_fill(pitch: float, metres: float, stitches: int) -> None:
    """Computed: 50 × 50 mm in 4 mm stitches; what is laid on top is the needle thread where T is nothing."""
    laid = 50 * round(50 / pitch)
    use = sewn(lockstitch(math.ceil(laid / 4), 4.0), thickness=0.0)
    assert use.needle_metres == pytest.approx(metres, rel=5e-4)
    assert use.stitches == stitches + 1


def test_split_by_draw() -> None:
    """Computed: drawing f of the width from each side, 1/8 is the default 5:3."""
    (use,) = thread_use(lockstitch(10, 4.0), thickness=0.0, waste=0.0, tail=0.0)
    assert use.needle_mm / use.bobbin_mm == pytest.approx((1 + 2 / 8) / (1 - 2 / 8))


def test_tails_where_a_thread_begins() -> None:
    """Begun three times: at the start, after the trim, after the change; the move without a trim draws thread along."""
    s, m, t = Act.STITCH, Act.MOVE, Act.TRIM
    points = [[0, 0], [4, 0], [4, 0], [9, 0], [13, 0], [20, 0], [24, 0], [30, 0], [34, 0]]
    stitching = Stitching(
        np.array(points, float),
        np.array([s, s, t, s, s, m, s, s, s], np.uint8),
        np.array([0, 0, 0, 0, 0, 0, 0, 1, 1], np.int32),
        (RED, BLUE),
    )
    red, blue = thread_use(stitching, thickness=0.0, top_share=0.5, waste=0.0, tail=50.0)
    assert (red.stitches, red.needle_mm, red.bobbin_mm) == (5, 4 + 4 + 11 + 100, 4 + 4 + 11 + 100)
    assert (blue.stitches, blue.needle_mm) == (2, 4 + 50)


def test_equal_threads_are_one() -> None:
    pieces = [lockstitch(3, 2.0, RED), lockstitch(4, 2.0, BLUE), lockstitch(5, 2.0, Thread(RED.colour, RED.tex))]
    uses = thread_use(joined(pieces, merge=False))
    assert [(u.thread, u.stitches) for u in uses] == [(RED, 10), (BLUE, 5)]


def test_nothing_takes_nothing() -> None:
    assert thread_use(empty()) == ()


COORDINATE = st.floats(-200, 200)
RUNS = st.lists(
    st.tuples(st.sampled_from([RED, BLUE]), st.lists(st.tuples(COORDINATE, COORDINATE), min_size=1, max_size=12)),
    min_size=1,
    max_size=6,
)


def apart(runs: list[tuple[Thread, list[tuple[float, float]]]]) -> list[Stitching]:
    """The runs as stitching, each beginning somewhere else than the last one ended."""
    return [from_points(np.add(points, [500.0 * (i % 2), 0.0]), thread) for i, (thread, points) in enumerate(runs)]


@given(RUNS)
def test_the_whole_takes_what_its_parts_take(runs: list[tuple[Thread, list[tuple[float, float]]]]) -> None:
    """Nothing is lost and nothing counted twice, thread by thread."""
    pieces = apart(runs)
    of_parts = [u for p in pieces for u in thread_use(p)]
    for use in thread_use(joined(pieces)):
        same = [u for u in of_parts if u.thread == use.thread]
        assert use.stitches == sum(u.stitches for u in same)
        assert use.needle_mm == pytest.approx(math.fsum(u.needle_mm for u in same))
        assert use.bobbin_mm == pytest.approx(math.fsum(u.bobbin_mm for u in same))
    assert {u.thread for u in thread_use(joined(pieces))} == {u.thread for u in of_parts}


@given(RUNS, st.floats(0, 3), st.floats(0, 3))
def test_thicker_cloth_takes_more(
    runs: list[tuple[Thread, list[tuple[float, float]]]], thickness: float, more: float
) -> None:
    whole = joined(apart(runs))
    thin, thick = thread_use(whole, thickness), thread_use(whole, thickness + more)
    through = 2 * more * 1.15
    for a, b in zip(thin, thick, strict=True):
        gain = b.needle_mm + b.bobbin_mm - a.needle_mm - a.bobbin_mm
        assert -1e-6 <= gain <= through * a.stitches + 1e-6
    laid = len(whole.laid())
    total = sum(b.needle_mm + b.bobbin_mm - a.needle_mm - a.bobbin_mm for a, b in zip(thin, thick, strict=True))
    assert total == pytest.approx(through * laid, abs=1e-6)


@given(RUNS, st.floats(0.4, 0.95))
def test_the_split_changes_no_sum(runs: list[tuple[Thread, list[tuple[float, float]]]], share: float) -> None:
    """Needle and bobbin thread together do not depend on the tension."""
    whole = joined(apart(runs))
    for even, split in zip(thread_use(whole, top_share=0.5), thread_use(whole, top_share=share), strict=True):
        assert even.needle_mm + even.bobbin_mm == pytest.approx(split.needle_mm + split.bobbin_mm)


def test_tail_is_named_for_the_worker() -> None:
    assert thread_use(from_points([[0, 0]], RED)) == (ThreadUse(RED, 1, TAIL.value, TAIL.value),)
