"""Where crosses stand: the laws they keep, a toy checked by hand, and the best by trying all."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box

from festoon.errors import HoopingError
from festoon.hooping.marks import Framed, choose_marks, free_places
from festoon.hooping.values import Block, ExpectedError, Hooping, Mark
from festoon.piece import Hoop
from festoon.plane.pose import Pose
from festoon.stitches import Thread, from_points
from tests.registration.published import target_error

CLOTH = box(0, 0, 500, 500)


def framed(x, y, size=(100.0, 100.0), region=None, order=0, turn=0.0):
    """A hooping whose holes lie evenly over the bounds of its region."""
    region = box(x - 30, y - 30, x + 30, y + 30) if region is None else region
    left, top, right, bottom = region.bounds
    u, v = np.meshgrid(np.linspace(left, right, 7), np.linspace(top, bottom, 7))
    return Framed(Pose(x, y, turn), size, np.stack([u.ravel(), v.ravel()], axis=1), region, order)


def mean_square(points, holes):
    return float(np.mean(target_error(points, holes, 1.0) ** 2))


def test_toy_by_hand():
    """A field of 100 × 100 about (100, 100) reaches from 54 to 146 for whole crosses: on tens, from 60 to 140."""
    (marks,) = choose_marks([framed(100, 100)], CLOTH)
    assert marks == (Mark("A", (60, 60)), Mark("B", (140, 60)), Mark("C", (60, 140)), Mark("D", (140, 140)))


def test_two_crosses_stand_on_a_diagonal():
    (marks,) = choose_marks([framed(100, 100)], CLOTH, most=2)
    assert {m.at for m in marks} in ({(60, 60), (140, 140)}, {(140, 60), (60, 140)})


@pytest.mark.parametrize(("x", "side", "step"), [(103.0, 65.0, 10), (102.5, 34.0, 5), (103.5, 34.0, 1)])
def test_finer_places_only_where_the_field_is_tight(x, side, step):
    """Four crosses 25 apart fit a reach of 26 on fives from 89.5 to 115.5, but not from 90.5 to 116.5."""
    (marks,) = choose_marks([framed(x, x, (side, side), box(x - 2, x - 2, x + 2, x + 2))], CLOTH)
    places = np.array([m.at for m in marks])
    assert len(places) == 4
    assert (places % step == 0).all()
    assert step == 10 or (places % (10 if step == 5 else 5) != 0).any()


def test_cut_edge_and_earlier_stitching_are_kept_clear():
    """The left half of the field is off the cloth, its lower half sewn before: one corner is left.

    The tens at x 110 lie on the cloth, but 3 mm from its edge.
    """
    cloth = box(107, 0, 500, 500)
    sewn = framed(250, 250, (400.0, 400.0), box(100, 110, 400, 400), order=0)
    late = framed(100, 100, region=box(110, 60, 140, 100), order=1)
    marks = choose_marks([sewn, late], cloth)[1]
    for m in marks:
        assert 112 <= m.at[0] <= 146
        assert 54 <= m.at[1] <= 107


def test_cloth_that_stays_bare_is_preferred():
    corner = box(125, 125, 150, 150)
    later = framed(200, 200, (150.0, 150.0), corner, order=1)
    marks = choose_marks([framed(100, 100), later], CLOTH)[0]
    assert (140, 140) not in {m.at for m in marks}
    assert all(corner.distance(Point(m.at)) >= 3 for m in marks)


def test_under_later_stitching_where_nothing_stays_bare():
    everywhere = box(0, 0, 300, 300)
    marks = choose_marks([framed(100, 100), framed(150, 150, (320.0, 320.0), everywhere, order=1)], CLOTH)
    assert len(marks[0]) == 4
    assert all(everywhere.distance(Point(m.at)) >= 3 for m in marks[1])


def test_neighbours_share_the_crosses_between_them():
    """Fields of 100 × 100 at a pitch of 80: the two crosses on their common strip serve both."""
    marks = choose_marks([framed(100, 100), framed(180, 100, order=1)], CLOTH)
    shared = set(marks[0]) & set(marks[1])
    assert {m.at for m in shared} == {(140, 60), (140, 140)}
    assert len(set(marks[0]) | set(marks[1])) == 6


def test_a_cross_is_shared_where_another_would_be_hardly_better():
    """Fields reach to 146 and from 124, so the best tens are 140 and 130; one of them for both costs little."""
    left, right = choose_marks([framed(100, 100, order=0), framed(170, 100, order=1)], CLOTH)
    assert len(set(left) & set(right)) == 2


def test_a_cross_that_the_first_sews_over_is_not_shared():
    """The first hooping covers all the strip between the fields, so that the second has crosses of its own."""
    first = framed(100, 100, region=box(60, 40, 160, 160))
    marks = choose_marks([first, framed(180, 100, region=box(170, 70, 220, 130), order=1)], CLOTH)
    assert not set(marks[0]) & set(marks[1])


def test_a_cross_does_not_run_into_another():
    """Best for the small field would be (135, 135), 7 mm from the large one's (140, 140)."""
    small = framed(147.5, 147.5, (34.0, 34.0), box(146, 146, 149, 149), order=1)
    first, second = choose_marks([framed(100, 100), small], CLOTH)
    assert (140, 140) in {m.at for m in first}
    assert min(math.dist(m.at, n.at) for m in first for n in second if m != n) >= 10


def test_a_shared_cross_does_not_run_into_a_third_hoopings():
    """Three small fields over each other: what two of them would share lies 5 mm from a cross of the third."""
    spots = [(77, 124, 4), (64, 130, 7), (86, 136, 5)]
    hoopings = [framed(x, y, (46.0, 46.0), Point(x, y).buffer(r, quad_segs=4), k) for k, (x, y, r) in enumerate(spots)]
    crosses = {m.at for marks in choose_marks(hoopings, CLOTH) for m in marks}
    assert min(math.dist(p, q) for p, q in itertools.combinations(crosses, 2)) >= 10


def hoopings(*framed_ones):
    """The same as hoopings with the crosses chosen for them."""
    chosen = choose_marks(framed_ones, CLOTH)
    stitchings = [from_points(f.holes, Thread()) for f in framed_ones]
    return [
        Hooping(
            number=f.order + 1,
            panel="front",
            hoop=Hoop(name="toy", field=f.size),
            field=f.field,
            blocks=(Block("a", "a", "a", 0, sewn, f.region, f.holes),),
            stitching=sewn,
            marks=marks,
            expected=ExpectedError((0, 0), 1, 0.95, 0.5, 0.5),
        )
        for f, sewn, marks in zip(framed_ones, stitchings, chosen, strict=True)
    ]


def test_free_places_are_those_that_crosses_are_chosen_from():
    """Field and cloth let the tens from 60 to 140 be; the sewn 60 x 60 takes those from 70 to 130, the later its own.

    Every cross stands on one of them, whatever other crosses there are.
    """
    later = framed(200, 200, (150.0, 150.0), box(125, 125, 150, 150), order=1)
    both = hoopings(framed(100, 100), later)
    free = free_places(both, CLOTH, {1, 2})
    tens = {(float(x), float(y)) for x in range(60, 141, 10) for y in range(60, 141, 10)}
    sewn = {(x, y) for x, y in tens if 70 <= x <= 130 and 70 <= y <= 130} | {(130, 140), (140, 130), (140, 140)}
    assert {tuple(p) for p in free[1].tolist()} == tens - sewn
    for h in both:
        assert {m.at for m in h.marks} <= {tuple(p) for p in free[h.number].tolist()}
    assert set(free_places(both, CLOTH, {2})) == {2}


def test_free_places_are_as_fine_as_the_crosses():
    """In a field too tight for tens the crosses stand on fives; so do the places."""
    x, side = 102.5, 34.0
    (tight,) = hoopings(framed(x, x, (side, side), box(x - 2, x - 2, x + 2, x + 2)))
    free = free_places([tight], CLOTH, {1})[1]
    assert (free % 5 == 0).all()
    assert not (free % 10 == 0).all()
    (loose,) = hoopings(framed(100, 100))
    astray = replace(loose, marks=(Mark("A", (60.25, 60.0)), Mark("B", (140.0, 140.0))))
    assert (free_places([astray], CLOTH, {1})[1] % 10 == 0).all()  # no lattice holds it: the one liked best


def test_names_go_on_after_z():
    hoopings = [framed(60 + 120 * (k % 4), 60 + 120 * (k // 4), order=k) for k in range(8)]
    names = [m.name for marks in choose_marks(hoopings, box(0, 0, 600, 600)) for m in marks]
    assert (names[0], names[25], names[26], names[27], names[31]) == ("A", "Z", "AA", "AB", "AF")


def test_the_order_of_the_list_is_kept_and_names_follow_the_sewing():
    late, early = framed(100, 100, order=1), framed(300, 100, order=0)
    marks = choose_marks([late, early], CLOTH)
    assert [m.name for m in marks[1]] == list("ABCD")
    assert min(m.at[0] for m in marks[1]) > 200


def test_no_room_is_told_in_a_sentence():
    first = framed(100, 100, (200.0, 200.0), box(20, 20, 180, 180))
    with pytest.raises(HoopingError, match=r"hooping 2: no two crosses find room .* field of 60 × 60 mm") as told:
        choose_marks([first, framed(100, 100, (60.0, 60.0), box(90, 90, 110, 110), order=1)], CLOTH)
    assert told.value.remedy


def test_a_field_smaller_than_a_cross_has_no_room():
    with pytest.raises(HoopingError, match="6 × 90"):
        choose_marks([framed(100, 100, (6.0, 90.0), box(99, 90, 101, 110))], CLOTH)


@pytest.mark.parametrize("most", [1, 5])
def test_the_number_of_marks_is_checked(most):
    with pytest.raises(ValueError, match="2 to 4"):
        choose_marks([framed(100, 100)], CLOTH, most)


def best_of_all(places, holes, count):
    """Least mean TRE² for FLE 1 over all sets of places at least 25 apart; None where there is no such set."""
    sets = np.array(list(itertools.combinations(places, count)), dtype=float).reshape(-1, count, 2)
    gaps = [np.hypot(*(sets[:, a] - sets[:, b]).T) for a, b in itertools.combinations(range(count), 2)]
    sets = sets[np.min(gaps, axis=0) >= 25]
    if not len(sets):
        return None
    middle = sets.mean(axis=1)
    f2 = ((sets - middle[:, None]) ** 2).sum(axis=2).mean(axis=1)
    d2 = ((holes - middle[:, None]) ** 2).sum(axis=2)
    return float(((1 + d2.mean(axis=1) / (2 * f2)) / count).min())


@pytest.mark.parametrize("most", [2, 3, 4])
@given(
    st.tuples(st.integers(75, 95), st.integers(75, 95)),
    st.tuples(st.integers(0, 40), st.integers(5, 30), st.integers(0, 40), st.integers(5, 30)),
)
@settings(max_examples=15, deadline=None)
def test_best_of_all_sets(most, middle, spot):
    """Against every set of crosses on tens of millimetres: the rms error is the least, to 1 %."""
    x, y = middle
    left, width, top, height = spot
    region = box(x - 35 + left, y - 35 + top, x - 35 + left + width, y - 35 + top + height)
    one = framed(x, y, (68.0, 68.0), region)
    span = range(0, 200, 10)
    field = [(u, v) for v in span for u in span if abs(u - x) <= 30 and abs(v - y) <= 30]
    best = best_of_all([p for p in field if region.distance(Point(p)) >= 3.3], one.holes, most)
    (marks,) = choose_marks([one], box(0, 0, 200, 200), most)
    if best is not None:
        assert mean_square([m.at for m in marks], one.holes) <= best * 1.01**2


@st.composite
def panels(draw):
    """A few hoopings of one size at random places and turns, each with a blob of stitching; some small and crowded."""
    size, reach, widest = draw(
        st.sampled_from([((100.0, 100.0), 460, 48), ((130.0, 180.0), 460, 60), ((40.0, 50.0), 90, 12)])
    )
    hoopings = []
    for order in range(draw(st.integers(1, 5))):
        x, y = draw(st.tuples(st.floats(40, reach), st.floats(40, reach)))
        turn = draw(st.sampled_from([0.0, 90.0, 33.0, -170.0]))
        blob = Point(x, y).buffer(draw(st.floats(3, widest)), quad_segs=4)
        hoopings.append(framed(x, y, size, blob, order, turn))
    return draw(st.permutations(hoopings))


@given(panels(), st.integers(2, 4))
@settings(max_examples=60, deadline=None)
def test_laws(hoopings, most):
    try:
        marks = choose_marks(hoopings, CLOTH, most)
    except HoopingError:
        return
    assert [len(m) for m in marks] == [len(m) for m in choose_marks(hoopings, CLOTH, most)]
    every = {m.name: m.at for ms in marks for m in ms}
    assert len(every) == len(set(every.values()))
    assert min((math.dist(p, q) for p, q in itertools.combinations(every.values(), 2)), default=99) >= 10
    for one, ms in zip(hoopings, marks, strict=True):
        assert 2 <= len(set(ms)) == len(ms) <= most
        field = Polygon(one.field.apply(np.array(one.size) / 2 * [[-1, -1], [1, -1], [1, 1], [-1, 1]]))
        for m in ms:
            assert every[m.name] == m.at
            spot = Point(m.at)
            assert all(c == round(c) for c in m.at)
            arms = [Point(m.at[0] + dx, m.at[1] + dy) for dx, dy in ((4, 0), (-4, 0), (0, 4), (0, -4))]
            assert all(field.buffer(1e-6).covers(arm) for arm in arms)
            assert field.exterior.distance(spot) >= 2
            assert CLOTH.covers(spot)
            assert CLOTH.exterior.distance(spot) >= 5
            assert all(e.region.distance(spot) >= 3 for e in hoopings if e.order < one.order)


@given(panels(), st.integers(2, 4))
@settings(max_examples=30, deadline=None)
def test_sharing_costs_little(hoopings, most):
    """With every hooping alone on the cloth as the measure, where no earlier stitching or cross is in its way."""
    try:
        marks = choose_marks(hoopings, CLOTH, most)
    except HoopingError:
        return
    for one, ms in zip(hoopings, marks, strict=True):
        others = [h for h in hoopings if h is not one]
        if any(Point(one.field.x, one.field.y).distance(h.region) < 170 for h in others):
            continue
        (alone,) = choose_marks([one], CLOTH, most)
        now, best = (mean_square([m.at for m in s], one.holes) for s in (ms, alone))
        assert now <= best * 1.05**2 * 1.0001 or len(ms) < len(alone)
