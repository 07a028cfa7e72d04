"""Do separately hooped parts meet: chances against closed forms, findings where they are due and nowhere else."""

import dataclasses
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from festoon.hooping import divide
from festoon.hooping.expected import stitch_direction
from festoon.hooping.values import Division
from festoon.layout import lay_out
from festoon.measure import parse_length
from festoon.piece import Hoop, read_piece
from festoon.proof.meeting import (
    NOTHING_READ,
    gap_chance,
    lap_wanted,
    meeting_findings,
    meetings,
    pile_chance,
    running_on,
)
from festoon.proof.told import LIKELY, meeting_told, reach
from festoon.registration.covariance import round_covariance, target_covariance
from festoon.registration.model import PlacingModel
from tests.hooping.pieces import motif, piece
from tests.proof.toy import LEFT, ONLY_CROSSES, RIGHT, block, boxed, divided, hooping, layout, patch

EXAMPLES = Path(__file__).parents[2] / "examples"
COARSE = PlacingModel(marking=4, reading=3, shift=2, turn=1)


def side_by_side(lap, shared=True, model=ONLY_CROSSES, trued=NOTHING_READ):
    """Two patches that meet at (150, 100), midway between the hoopings, and overlap by `lap`."""
    first, second = boxed("a", 110, 80, 150 + lap / 2, 120), boxed("b", 150 - lap / 2, 80, 190, 120)
    return meetings(divided(first, second, shared), model, layout(), trued)


def test_a_toy_pair_in_closed_form():
    """Crosses that err by 0.5 and 0.3 mm rms, two of them shared: 0.232 mm across, 0.255 along (computed)."""
    (met,) = side_by_side(0.1)
    assert (met.panel, met.first, met.second, met.parts, met.kind) == ("front", 1, 2, ("a", "b"), "side")
    assert met.at == pytest.approx((150, 100))
    assert met.across == pytest.approx((1, 0))
    assert (met.across_sd, met.along_sd) == pytest.approx((0.232, 0.255), abs=5e-4)
    assert met.lap == pytest.approx(0.1, abs=2e-3)
    assert met.gap_chance == pytest.approx(norm.sf(0.4, scale=0.23184), abs=2e-3)
    assert met.pile_chance == pytest.approx(norm.cdf(-2.0, scale=0.23184))
    assert met.lap_wanted == pytest.approx(1.644854 * 0.23184 - 0.3, abs=1e-4)


def test_shared_crosses_lower_the_misfit():
    shared, own = side_by_side(1)[0], side_by_side(1, shared=False)[0]
    assert math.sqrt(np.trace(own.covariance)) == pytest.approx(0.4610, abs=6e-5)  # computed
    assert math.sqrt(np.trace(shared.covariance)) == pytest.approx(0.3446, abs=6e-5)  # computed
    assert shared.lap_wanted <= own.lap_wanted


def test_every_part_of_the_error_counts():
    plain = side_by_side(1)[0]
    for name, value in (("shift", 0.3), ("turn", 0.5), ("seating", 0.2), ("drawn_along", 0.02)):
        more = side_by_side(1, model=dataclasses.replace(ONLY_CROSSES, **{name: value}))[0]
        assert np.trace(more.covariance) > np.trace(plain.covariance), name


def test_a_hooping_that_was_trued_has_neither_shift_nor_seat_of_its_own():
    """Half of what both had goes: 0.3 mm of shift, and 0.4 mm of seat at four crosses 50 mm from the middle."""
    moving = dataclasses.replace(ONLY_CROSSES, shift=0.3)
    at = {1: LEFT, 2: RIGHT}
    names = {n: [m.name for m in hooping(n, at[n], boxed("a", 0, 0, 1, 1)).marks] for n in at}
    plain = side_by_side(1)[0].covariance
    for trued in ({1: names[1]}, {2: names[2]}, names):
        (met,) = side_by_side(1, model=moving, trued=trued)
        assert met.covariance == pytest.approx(plain + (2 - len(trued)) * 0.045 * np.eye(2))
        assert met.learned
    seated = dataclasses.replace(ONLY_CROSSES, seating=0.4)
    seat = side_by_side(1, model=seated)[0].covariance - plain
    (half,) = side_by_side(1, model=seated, trued={1: names[1]})
    assert half.covariance == pytest.approx(plain + seat / 2)
    assert not side_by_side(1, model=moving)[0].learned


def test_a_hooping_that_was_trued_lies_by_the_crosses_that_were_read():
    """By two of its four crosses, none shared, its error is that of a hooping placed by those two."""
    crosses = hooping(1, LEFT, boxed("a", 0, 0, 1, 1), shared=False).marks
    error = round_covariance(math.hypot(0.5, 0.3))
    four, two = (target_covariance([m.at for m in crosses[:n]], [(150, 100)], error)[0] for n in (4, 2))
    names = [m.name for m in crosses]
    by_four = side_by_side(1, shared=False, trued={1: names})[0]
    by_two = side_by_side(1, shared=False, trued={1: names[:2]})[0]
    assert by_two.covariance - by_four.covariance == pytest.approx(two - four)


def test_a_finding_says_that_readings_have_a_share_in_it():
    (met,) = side_by_side(0.0, model=dataclasses.replace(COARSE, learned=frozenset({"marking"})))
    told = meeting_findings([met], layout())[0].source
    assert "from their crosses and the bench's spreads and readings after hooping;" in told


def test_one_hooping_or_far_apart_is_no_meeting():
    near, far = boxed("a", 110, 80, 150, 120), boxed("b", 152, 80, 190, 120)
    assert meetings(divided(near, far), ONLY_CROSSES, layout()) == ()
    both = Division((hooping(1, LEFT, near, boxed("c", 149, 80, 160, 120)),), 1, True, "", ())
    assert meetings(both, ONLY_CROSSES, layout()) == ()


def test_cloth_that_is_drawn_between_two_motifs_is_meant_to_show():
    assert side_by_side(-0.8) == ()
    assert len(side_by_side(-0.2)) == 1


def test_a_gap_is_found_and_said():
    (met,) = side_by_side(0.0, model=COARSE)
    found = meeting_findings([met], layout())
    gap = found[0]
    assert gap.verdict == "look again"
    assert gap.where == "where a meets b on front, hoopings 1 and 2, 150 mm from the left and 100 mm from the top"
    assert (gap.panel, gap.elements, gap.hooping) == ("front", ("a", "b"), 2)
    assert gap.at == pytest.approx((150, 100))
    assert gap.figure == f"a chance of {100 * met.gap_chance:.0f} %"
    assert gap.limit == "5 %"
    assert gap.remedy == f"Move them {math.ceil(10 * met.lap_wanted) / 10:g} mm closer together."
    assert "cloth may show" in gap.reason


def test_a_meeting_is_told_in_sentences():
    (met,) = side_by_side(0.0, model=COARSE)
    across, along = (reach(LIKELY * sd, "mm") for sd in (met.across_sd, met.along_sd))
    assert meeting_told(met, "mm") == (
        f"a meets b, hoopings 1 and 2: they overlap by 0 mm, {reach(met.lap_wanted, 'mm')} is wanted. They miss each "
        f"other by no more than ±{across} across and ±{along} along, 95 times in 100; the chance of a gap is "
        f"{math.ceil(100 * met.gap_chance)} %, of a ridge {math.ceil(100 * met.pile_chance)} %."
    )
    (wide,) = side_by_side(3.0, model=PlacingModel())
    assert "is enough" in meeting_told(wide, "mm")
    (sure,) = side_by_side(
        3.0, model=PlacingModel(marking=0.01, reading=0, seating=0, shift=0, turn=0, drawn_along=0, drawn_across=0)
    )
    assert "no overlap is needed" in meeting_told(sure, "mm")
    assert " mm" not in meeting_told(wide, "inch")


def test_enough_overlap_is_not_cried_over():
    (met,) = side_by_side(3.0, model=PlacingModel())
    assert met.gap_chance < 0.05
    assert meeting_findings([met], layout()) == ()


def test_a_ridge_is_found():
    (met,) = side_by_side(20.0, model=COARSE)
    (pile,) = meeting_findings([met], layout())
    assert met.pile_chance > 0.2
    assert (pile.verdict, pile.limit) == ("look again", "20 %")
    assert "ridge" in pile.reason


def test_a_cut_asks_for_a_longer_overlap():
    first, second = boxed("hem", 110, 80, 150, 120, 1), boxed("hem", 149.9, 80, 190, 120, 2)
    (met,) = meetings(divided(first, second), COARSE, layout())
    gap = meeting_findings([met], layout(overlap=2.0))[0]
    assert met.kind == "cut"
    assert gap.where.startswith("where hem is divided on front, hoopings 1 and 2, ")
    asked = float(gap.remedy.split()[3])
    assert gap.remedy == f"Set overlap = {asked:g} under [hooping]."
    (mend,) = gap.mends
    assert (mend.told + ".", mend.element, mend.word, mend.value) == (gap.remedy, "", "overlap", asked)
    assert 0 <= asked - (2.0 + met.lap_wanted - met.lap) < 0.1
    assert gap.elements == ("hem",)


def test_pieces_of_one_part_that_stop_short_will_not_meet():
    first, second = boxed("hem", 110, 80, 150, 120, 1), boxed("hem", 150.9, 80, 190, 120, 2)
    found = meeting_findings(meetings(divided(first, second), PlacingModel(), layout()), layout())
    assert [f.verdict for f in found] == ["will not work"]


def joined(tuck, units="mm"):
    """Two patches 60 mm apart and a satin join between them, sewn in three hoopings by a field of 60 mm."""
    file = piece(
        {"kind": "join", "name": "stem", "from": "left", "to": "right", "tuck": tuck, "width": 3},
        motif("left", "40x40", (100, 200)),
        motif("right", "40x40", (195, 200)),
        hoops=(Hoop(name="small", field=(62.0, 62.0)),),
        units=units,
    )
    return lay_out(file, lambda _: patch(-20, -20, 20, 20))


def ends(tuck, model, units="mm"):
    laid = joined(tuck, units)
    found = meetings(divide(laid), model, laid)
    assert {m.kind for m in found} == {"end"}
    return found, meeting_findings(found, laid)


def test_a_tuck_too_short_is_lengthened_until_it_holds():
    model = PlacingModel(marking=1.5, reading=1.0)
    found, said = ends(0.2, model)
    assert said
    assert {f.verdict for f in said} == {"look again"}
    words = [f.remedy for f in said]
    assert all(w.startswith("Lengthen tuck to ") for w in words)
    asked = max(float(w.split()[3]) for w in words)
    assert abs(asked - (0.2 + max(m.lap_wanted - m.lap for m in found))) <= 0.1
    again, silent = ends(asked, model)
    assert max(m.gap_chance for m in again) <= 0.05
    assert silent == ()


def test_a_join_misses_along_its_own_direction():
    found, _ = ends(3.0, PlacingModel())
    for m in found:
        assert abs(m.across[0]) == pytest.approx(1.0, abs=0.02)
        assert m.lap == pytest.approx(3.0, abs=0.5)


@pytest.mark.parametrize("order", [("stem", "twig"), ("twig", "stem")])
def test_where_joins_meet_it_is_the_linking_one_that_is_tucked(order):
    """The twig runs from the stem, so its tuck is what counts there, whichever is drawn first."""
    words = {
        "stem": {"from": "left", "to": "right"},
        "twig": {"from": "stem", "to": "top", "leave": (147, 200), "arrive": (0, 20)},
    }
    joins = ({"kind": "join", "name": name, "tuck": 1, "width": 3, **words[name]} for name in order)
    motifs = (
        motif("left", "40x40", (100, 200)),
        motif("right", "40x40", (195, 200)),
        motif("top", "40x40", (147, 120)),
    )
    laid = lay_out(
        piece(*joins, *motifs, hoops=(Hoop(name="small", field=(62.0, 62.0)),)), lambda _: patch(-20, -20, 20, 20)
    )
    (met,) = (m for m in meetings(divide(laid), PlacingModel(), laid) if set(m.parts) == {"stem", "twig"})
    assert met.kind == "end"
    assert running_on(met, laid).name == "twig"


def test_inches_are_told_in_inches():
    _, said = ends(0.2, PlacingModel(marking=1.5, reading=1.0), "inch")
    assert said
    assert all(" in" in f.remedy for f in said)
    for f in said:
        assert " mm" not in f"{f.where}{f.reason}{f.remedy}{f.figure}{f.limit}{f.source}"


def test_a_cut_is_told_in_inches_that_the_piece_file_reads():
    first, second = boxed("hem", 110, 80, 150, 120, 1), boxed("hem", 149.9, 80, 190, 120, 2)
    laid = layout(units="inch", overlap=2.0)
    gap = meeting_findings(meetings(divided(first, second), COARSE, laid), laid)[0]
    asked = gap.remedy.split('"')[1]
    assert gap.remedy == f'Set overlap = "{asked}" under [hooping].'
    assert parse_length(asked) > 2.0


def test_the_one_that_lacks_most_stands_first():
    near, far = side_by_side(0.5, model=COARSE)[0], side_by_side(0.0, model=COARSE)[0]
    gaps = [f for f in meeting_findings([near, far], layout()) if f.limit == "5 %"]
    assert [float(f.figure.split()[3]) for f in gaps] == [round(100 * m.gap_chance) for m in (far, near)]


def test_the_direction_of_stitches():
    """Rows of a fill at angle 0 lie along x."""
    assert abs(stitch_direction(block("a", patch(0, 0, 20, 10)))[0]) > 0.95


@pytest.mark.parametrize("name", ["sea-holly-cushion", "tablecloth-hem"])
def test_the_examples_meet(name):
    laid = lay_out(read_piece(EXAMPLES / name))
    found = meetings(divide(laid), PlacingModel(), laid)
    assert meeting_findings(found, laid) == ()
    assert len(found) == {"sea-holly-cushion": 9, "tablecloth-hem": 0}[name]


def test_no_error_no_chance():
    assert (gap_chance(0.0, 0.0), gap_chance(0.0, -0.5), pile_chance(0.0), lap_wanted(0.0)) == (0.0, 1.0, 0.0, 0.0)


@given(st.floats(0.001, 20))
def test_the_overlap_wanted_is_enough_and_no_more_than_enough(sd):
    wanted = lap_wanted(sd)
    assert gap_chance(sd, wanted) <= 0.05 + 1e-9
    if wanted > 0:
        assert gap_chance(sd, wanted - 0.01 * sd) > 0.05


@given(st.floats(0.001, 20), st.floats(-1, 20), st.floats(0.001, 5))
def test_more_overlap_gaps_less(sd, lap, more):
    assert gap_chance(sd, lap + more) <= gap_chance(sd, lap)
    assert pile_chance(sd + more) >= pile_chance(sd)
