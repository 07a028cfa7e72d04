"""All supplies of a division."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.hooping import Division, ExpectedError, Hooping
from festoon.piece import Bench, Hoop
from festoon.plane.pose import Pose
from festoon.stitches.stitching import Stitching, from_points, joined
from festoon.stitches.thread import Thread
from festoon.supplies import count, thread_use
from festoon.supplies.cautions import DENSE, cautions_at

RED, BLUE = Thread("#c8102e"), Thread("#00297a")
HOOP = Hoop(field=(130, 180))


def lockstitch(stitches: int, thread: Thread = RED) -> Stitching:
    """A straight run of stitches of 3.7 mm."""
    return from_points(np.column_stack([np.arange(stitches + 1) * 3.7, np.zeros(stitches + 1)]), thread)


def division(*stitchings: Stitching, hoop: Hoop = HOOP) -> Division:
    """A division with these sewn one after another."""
    error = ExpectedError((0.0, 0.0), 1.0, 0.95, 0.5, 0.5)
    hoopings = tuple(
        Hooping(n, "front", hoop, Pose(), (), stitching, (), error) for n, stitching in enumerate(stitchings, 1)
    )
    return Division(hoopings, len(hoopings), True, "", ())


def bench(**tables: Any) -> Bench:
    """A bench with one hoop and these tables."""
    return Bench.model_validate({"hoop": [{"field": [130, 180]}], **tables})


def test_threads_of_all_hoopings_are_added_up() -> None:
    first, second = joined([lockstitch(100), lockstitch(50, BLUE)]), lockstitch(200)
    supplies = count(division(first, second), bench())
    assert [(t.thread, t.stitches) for t in supplies.threads] == [(RED, 302), (BLUE, 51)]
    parts = [*thread_use(first), *thread_use(second)]
    assert supplies.threads[0].needle_mm == pytest.approx(sum(u.needle_mm for u in parts if u.thread == RED))
    assert supplies.bobbin_metres == pytest.approx(sum(u.bobbin_metres for u in parts))
    assert supplies.stitches == 353


def test_a_design_of_12_000_stitches() -> None:
    """Computed: 69 m and 41.4 m with waste, and the tails of one beginning; 20 minutes of sewing."""
    supplies = count(division(lockstitch(12_000)), bench())
    (use,) = supplies.threads
    assert (use.needle_metres, use.bobbin_metres) == pytest.approx((69.05, 41.45))
    assert supplies.bobbins == 1
    assert supplies.total_minutes == pytest.approx(12_001 / 600 + 1.5 + 8)


def test_what_was_measured_replaces_the_rule() -> None:
    design = division(lockstitch(1000))
    ruled, measured = count(design, bench()), count(design, bench(measured={"cloth_thickness": 0.8, "top_share": 0.8}))
    (use,) = measured.threads
    assert use.needle_mm == pytest.approx(1000 * 2 * (3.7 + 0.8) * 1.15 * 0.8 + 50)
    basis = {a.name: (a.value, a.basis) for a in measured.assumptions}
    assert basis["thickness of cloth and stabiliser"] == ("0.8 mm", "measured")
    assert basis["needle thread's share of all thread sewn"] == ("80 %", "measured")
    assert {a.basis for a in ruled.assumptions} == {"assumed", "computed"}


def test_the_benchs_own_figures_are_told_as_measured() -> None:
    own = bench(
        machine={"speed": 500, "hooping_minutes": 6},
        bobbin={"metres": 60},
        stabiliser={"name": "mesh", "roll_width": "15 in", "layers": 2},
    )
    supplies = count(division(lockstitch(500)), own)
    told = {a.name: a for a in supplies.assumptions}
    assert told["speed of the machine"].value == "500 stitches a minute"
    measured = {a.name for a in supplies.assumptions if a.basis == "measured"}
    assert measured == {
        "speed of the machine",
        "hooping and lining up once",
        "thread on one bobbin",
        "width of the stabiliser's roll",
        "layers of stabiliser",
    }
    assert supplies.minutes[0].sewing == pytest.approx(501 / 500)
    assert supplies.stabiliser.pieces[0].count == 2


PLACING = {
    "drawing a cross, root mean square": "0.5 mm",
    "setting the needle over a cross, root mean square": "0.4 mm",
    "the hoop's seat in its carrier, root mean square": "0.2 mm",
    "shift of the whole hooping after lining up, root mean square": "0.3 mm",
    "turn of the whole hooping after lining up, root mean square": "0.15°",
    "stitching draws the cloth in along its stitches": "1.2 %",
    "stitching draws the cloth in across its stitches": "0.3 %",
}


def test_the_placing_errors_are_those_of_the_model() -> None:
    """Each hooping lands by all of them, though there be one alone."""
    told = {a.name: a for a in count(division(lockstitch(10)), bench(measured={"drawn_along": 0.012})).assumptions}
    assert {n: a.value for n, a in told.items()}.items() >= PLACING.items()
    assert {n for n, a in told.items() if a.basis == "measured"} == {"stitching draws the cloth in along its stitches"}


def test_every_assumption_has_a_source() -> None:
    supplies = count(division(lockstitch(10), lockstitch(10)), bench())
    assert all(a.name and a.value and a.source for a in supplies.assumptions)
    assert len({a.name for a in supplies.assumptions}) == len(supplies.assumptions)


def test_stabiliser_under_every_hooping() -> None:
    """Computed: field 130 × 180, inner hoop 150 × 200: 190 mm of a 305 mm roll each."""
    supplies = count(division(lockstitch(10), lockstitch(10)), bench())
    assert supplies.stabiliser.metres == pytest.approx(2 * 0.190)


def test_cautions() -> None:
    """Magnets only where a hoop has them."""
    plain = count(division(lockstitch(10)), bench()).cautions
    magnetic = count(division(lockstitch(10), hoop=Hoop(field=(130, 180), magnetic=True)), bench()).cautions
    assert [c.text.split(":")[0] for c in plain] == ["Needle", "Pins", "Scissors", "Iron"]
    assert magnetic[:-1] == plain
    assert "15 cm from pacemakers" in magnetic[-1].text
    assert "manual" in plain[0].text
    assert "manuals" in magnetic[-1].text


@pytest.mark.parametrize("magnetic", [False, True])
@pytest.mark.parametrize("dense", [False, True])
@pytest.mark.parametrize("trims", [False, True])
def test_cautions_of_one_hooping(magnetic: bool, dense: bool, trims: bool) -> None:
    """Each where it matters, and each leaves the last word to the manual."""
    sewn = joined([lockstitch(5), lockstitch(5, BLUE)]) if trims else lockstitch(5)
    (hooping,) = division(sewn, hoop=Hoop(field=(130, 180), magnetic=magnetic)).hoopings
    told = cautions_at(hooping, dense=dense)
    names = (("Magnetic hoop", magnetic), ("Dense stitching", dense), ("Trimming", trims))
    assert [c.text.split(":")[0] for c in told] == [name for name, matters in names if matters]
    assert all("manual" in c.text and c.source for c in told)
    assert all("pacemakers" in c.text for c in told[:magnetic])
    assert "glasses" in DENSE.text


def test_a_wide_hoop_is_told_of() -> None:
    supplies = count(division(lockstitch(10), hoop=Hoop(field=(360, 400))), bench())
    assert "wider than the roll of 305 mm" in supplies.findings[0].reason


def test_in_inches_throughout() -> None:
    supplies = count(division(*[lockstitch(10)] * 2, hoop=Hoop(field=(360, 400))), bench(), "inch")
    told = [*(a.value for a in supplies.assumptions), *(f"{f.reason} {f.remedy} {f.figure}" for f in supplies.findings)]
    assert supplies.findings
    assert not [t for t in told if " mm" in t]
    assert "wider than the roll of 12 in" in supplies.findings[0].reason
    assert {a.name: a.value for a in supplies.assumptions}[
        "the hoop's seat in its carrier, root mean square"
    ] == "0.0079 in"


@given(st.lists(st.integers(1, 400), min_size=1, max_size=5), st.floats(0.5, 20))
def test_bobbins_are_just_enough(lengths: list[int], metres: float) -> None:
    supplies = count(division(*(lockstitch(n) for n in lengths)), bench(bobbin={"metres": metres}))
    assert supplies.bobbins == math.ceil(supplies.bobbin_metres / metres)
    assert (supplies.bobbins - 1) * metres < supplies.bobbin_metres <= supplies.bobbins * metres + 1e-9


def test_no_hoopings_use_up_nothing() -> None:
    supplies = count(division(), bench())
    assert (supplies.threads, supplies.bobbins, supplies.stitches, supplies.total_minutes) == ((), 0, 0, 0)
    assert supplies.stabiliser.metres == 0
