"""The steps of every hooping: their order, what they say, and that their minutes add up."""

from __future__ import annotations

from dataclasses import replace

import pytest

from festoon.hooping import Division, check_order
from festoon.piece import Bench, Hoop, Machine
from festoon.piece.bench import BenchThread, Stabiliser
from festoon.steps import Step, minutes_left, printed, steps_of
from festoon.supplies.cautions import CLOSING, DENSE, TRIMMING, cautions
from festoon.supplies.minutes import HoopingMinutes, minutes
from tests.sheets.toy import HOLLY, HOOP, SILVER, STEM, cushion

MAGNETIC = Hoop(name="magnet", field=(100.0, 100.0), magnetic=True)
_, DIVISION = cushion(4)


def taken(division: Division, bench: Bench) -> tuple[HoopingMinutes, ...]:
    return minutes([(h.number, h.stitching) for h in division.hoopings], bench.machine)


def steps(division: Division = DIVISION, bench: Bench | None = None, **more: object) -> dict[int, tuple[Step, ...]]:
    bench = bench or Bench(hoop=(HOOP,))
    files = {h.number: f"hooping-{h.number:02d}.dst" for h in division.hoopings}
    return steps_of(division, taken(division, bench), bench, more.pop("units", "mm"), files, **more)  # type: ignore[arg-type]


def step(of: tuple[Step, ...], name: str) -> Step:
    return next(s for s in of if s.name == name)


def test_in_the_order_of_work() -> None:
    names = [s.name for s in steps()[1]]
    assert names == ["care", "mark", "hoop", "thread", "check", "sew-1", "sew-2", "sew-3", "sew-4", "out"]


def test_the_minutes_of_the_steps_are_those_of_the_supplies() -> None:
    bench = Bench(hoop=(HOOP,), machine=Machine(speed=550, change_minutes=1.25, hooping_minutes=9))
    for own in taken(DIVISION, bench):
        of = steps(bench=bench)[own.number]
        assert minutes_left(of, ()) == pytest.approx(own.total)
        assert minutes_left(of, {"hoop"}) == pytest.approx(own.total - 9)
        assert minutes_left(of, {s.name for s in of}) == 0


def test_a_thread_left_on_the_needle_is_not_put_on_again() -> None:
    """Each of these hoopings begins and ends with the same thread."""
    first, second = (step(steps()[n], "thread") for n in (1, 2))
    assert first.do == f"Put in a new needle, 75/11 embroidery, and thread it with {STEM.name}"
    assert first.minutes == 1.5
    assert second.do == f"Leave {STEM.name} on the needle"
    assert second.minutes == 0


def test_threads_are_called_as_on_the_shelf() -> None:
    of = steps(bench=Bench(hoop=(HOOP,), thread=(BenchThread(name="my green", colour=STEM.colour),)))[2]
    assert [s.do for s in of if s.kind == "sew"] == [
        "Sew with my green",
        f"Change to {SILVER.name}, and sew",
        f"Change to {HOLLY.name}, and sew",
        "Change to my green, and sew",
    ]
    assert [s.thread for s in of if s.kind == "sew"] == [0, 1, 2, 3]


def test_the_needle_check_names_the_crosses_as_the_machine_goes_to_them() -> None:
    for h in DIVISION.hoopings:
        told = step(steps()[h.number], "check")
        turn = [m.name for m in check_order(h)]
        assert f"Load hooping-{h.number:02d}.dst. The needle goes to {', then '.join(turn)}," in told.told[0]
        assert told.printed == f"Needle check, in turn: {', '.join(turn)}"


def test_crosses_are_marked_once_and_kept_while_they_are_wanted() -> None:
    one, two, three, four = DIVISION.hoopings
    two = replace(two, marks=(two.marks[0], one.marks[1]))  # C and B
    three = replace(three, marks=one.marks)
    division = replace(DIVISION, hoopings=(one, two, three, four))
    of = steps(division)
    assert step(of[1], "mark").do == "Mark crosses A and B on front"
    assert step(of[2], "mark").do == "Mark cross C on front"
    assert "B is marked already." in step(of[2], "mark").told
    assert step(of[3], "mark").do == "See that crosses A and B can still be seen"
    assert step(of[3], "mark").printed == "Crosses are marked already"
    assert "Leave crosses A for hooping 3 and B for hoopings 2 and 3." in step(of[1], "out").told
    assert {"Leave cross B for hooping 3.", "Cross C will not be wanted again."} < {*step(of[2], "out").told}


def test_places_in_inches_have_millimetres_beside_them() -> None:
    one = DIVISION.hoopings[0]
    division = replace(DIVISION, hoopings=(replace(one, marks=(replace(one.marks[0], at=(41.3, 25.4)),)),))
    told = step(steps(division, units="inch")[1], "mark").told
    assert told[0] == "A: 1 5/8 in (41.3 mm) from the left edge, 1 in (25.4 mm) from the top edge."


def test_what_must_be_sewn_before_and_floating_are_told_at_the_hoop() -> None:
    bench = Bench(hoop=(HOOP,), stabiliser=Stabiliser(name="cut-away", layers=2))
    late = replace(DIVISION.hoopings[2], after=(1, 2), float_sides=("left", "top"))
    hoop = step(steps(replace(DIVISION, hoopings=(*DIVISION.hoopings[:2], late)), bench)[3], "hoop")
    assert hoop.do == "Hoop the stabiliser and float front on it, the crosses as in the picture"
    assert hoop.told[0] == "Hoopings 1 and 2 must be sewn before this one."
    assert hoop.told[1] == "Under it: 2 pieces of cut-away, 160 mm by 160 mm."  # 100 + 2 * 10 inside, and 2 * 20 more
    assert "The hoop reaches past front at the left and top." in hoop.told[3]


@pytest.mark.parametrize(
    ("name", "way"),
    [
        ("Tear-away", "Tear the stabiliser away gently"),
        ("light cut-away", "Cut the stabiliser back"),
        ("water-soluble film", "Rinse the stabiliser out"),
        ("silk paper", "Take the stabiliser (silk paper) off as its maker says"),
    ],
)
def test_the_stabiliser_comes_off_as_its_kind_wants(name: str, way: str) -> None:
    out = step(steps(bench=Bench(hoop=(HOOP,), stabiliser=Stabiliser(name=name)))[1], "out")
    assert out.told[0].startswith(way)


def test_everything_to_take_care_of_comes_first_then_what_the_hooping_asks_for() -> None:
    magnetic = replace(DIVISION, hoopings=tuple(replace(h, hoop=MAGNETIC) for h in DIVISION.hoopings))
    of = steps(magnetic, dense=(1, 3))
    assert step(of[1], "care").cautions == (*cautions([MAGNETIC]), DENSE, TRIMMING)
    assert step(of[2], "care").cautions == (CLOSING, TRIMMING)
    assert step(of[3], "care").cautions == (CLOSING, DENSE, TRIMMING)


def test_a_hooping_that_asks_for_no_care_has_no_such_step() -> None:
    plain = [replace(h, stitching=h.stitching.part(0, 40)) for h in DIVISION.hoopings]
    of = steps(replace(DIVISION, hoopings=tuple(plain)))
    assert [s.name for s in of[2]] == ["mark", "hoop", "thread", "check", "sew-1", "out"]
    assert of[1][0].name == "care"


def test_one_box_on_the_sheet_for_all_that_is_sewn() -> None:
    assert printed(steps()[1]) == [
        "Mark A and B on the cloth",
        "Hoop",
        step(steps()[1], "check").printed,
        "Sew",
        "Out of the hoop",
    ]
