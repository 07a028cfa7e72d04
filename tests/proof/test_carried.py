"""Crosses carried from hooping to hooping: worked by hand, against a simulation of the whole chain, and as told."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.hooping.expected import stitch_direction
from festoon.hooping.values import Division
from festoon.proof import Carrying
from festoon.proof.carried import carried_misfit, carrying, chain, neighbours, step
from festoon.proof.meeting import meetings
from festoon.proof.told import marking_told
from festoon.registration import PlacingModel
from festoon.registration.covariance import SPREAD_OF_DRAW
from tests.proof.toy import LEFT, ONLY_CROSSES, RIGHT, boxed, divided, hooping, layout

RING = ((100.0, 100.0), (200.0, 100.0), (200.0, 200.0), (100.0, 200.0))
TRIALS = 100_000


def bars(number, middle):
    """A bar across and a bar down, each 0.1 mm past the border to the next hooping; together a cross."""
    x, y = middle
    return boxed(f"across-{number}", x - 50.1, y - 20, x + 50.1, y + 20), boxed(
        f"down-{number}", x - 20, y - 50.1, x + 20, y + 50.1
    )


def ring():
    """Four hoopings about (150, 150), each meeting the one before and the one after; the last meets the first."""
    hoopings = tuple(hooping(k + 1, at, *bars(k + 1, at)) for k, at in enumerate(RING))
    return Division(hoopings, 4, True, "", ())


def patches(*middles):
    """Hoopings at these places in the order of sewing, each with a patch of 40 x 40 mm."""
    return [hooping(k + 1, (x, y), boxed(f"p{k}", x - 20, y - 20, x + 20, y + 20)) for k, (x, y) in enumerate(middles)]


def sd(covariance, way):
    return math.sqrt(np.array(way) @ covariance @ np.array(way))


@pytest.mark.parametrize(("steps", "worked"), [(1, 0.1768), (4, 0.3536), (9, 0.5303)])
def test_equal_steps_grow_by_the_root_of_their_number(steps, worked):
    """Four crosses that err by 0.5 mm rms place their middle within 0.5/√2/√4 = 0.1768 mm each way; m such steps
    within √m times that (computed)."""
    model = replace(ONLY_CROSSES, reading=0.0)
    patch = boxed("a", 80, 80, 120, 120)
    of = {n: hooping(n, LEFT, patch) for n in range(1, steps + 2)}
    (met,) = meetings(Division((of[1], of[steps + 1]), 2, True, "", ()), model, layout())
    assert met.at == pytest.approx(LEFT)
    found = carried_misfit(met, of, {n: n - 1 for n in range(2, steps + 2)}, model)
    assert sd(found, (1, 0)) == pytest.approx(worked, abs=6e-5)
    assert sd(found, met.across) == pytest.approx(math.sqrt(steps) * sd(step(of[1], met.at, model), met.across))


def test_of_two_hoopings_only_the_second_errs():
    """With crosses of their own both err alike where they meet, so that one whole template does worse by √2."""
    division = divided(boxed("a", 110, 80, 150.2, 120), boxed("b", 149.8, 80, 190, 120), shared=False)
    (found,) = carrying(division, meetings(division, ONLY_CROSSES, layout()), ONLY_CROSSES)
    assert (found.panel, found.whole_at, found.carried_at, found.steps) == ("front", (1, 2), (1, 2), 1)
    assert found.whole == pytest.approx(math.sqrt(2) * found.carried, rel=1e-6)


def test_the_draw_in_of_both_blocks_counts_either_way():
    """With perfect crosses nothing else is left, so that both ways do alike."""
    model = PlacingModel(marking=0, reading=0, seating=0, shift=0, turn=0)
    division = divided(boxed("a", 110, 80, 150.2, 120), boxed("b", 149.8, 80, 190, 120))
    (found,) = carrying(division, meetings(division, model, layout()), model)
    assert found.whole > 0.1
    assert found.carried == pytest.approx(found.whole)


def test_where_a_ring_closes_all_steps_have_added_up():
    division = ring()
    met = meetings(division, PlacingModel(), layout())
    assert {(m.first, m.second) for m in met} == {(1, 2), (2, 3), (3, 4), (1, 4)}
    (found,) = carrying(division, met, PlacingModel())
    assert (found.carried_at, found.steps) == ((1, 4), 3)
    assert found.carried > 1.2 * found.whole
    parents, of = neighbours(division.hoopings, met), {h.number: h for h in division.hoopings}
    for m in met:
        if (m.first, m.second) != (1, 4):
            assert sd(carried_misfit(m, of, parents, PlacingModel()), m.across) < m.across_sd


def simulated(division, model, seed=20240601):
    """For each meeting of the ring the misses (TRIALS, 2): every error drawn, fitted and handed on, outright.

    Errors are told from the cloth's own axes; each hooping starts from where the one before lies, the first from its
    template.
    """
    rng = np.random.default_rng(seed)
    frames = []
    for h in division.hoopings:
        marks = np.array([m.at for m in h.marks])
        seen = sum(
            rng.normal(0, s / math.sqrt(2), (TRIALS, len(marks), 2))
            for s in (model.marking, model.reading, model.seating)
        )
        moves = np.concatenate([np.array([[1, 0, -y], [0, 1, x]]) for x, y in marks])
        fitted = seen.reshape(TRIALS, -1) @ np.linalg.pinv(moves).T
        turned = rng.normal(0, math.radians(model.turn), TRIALS)
        shifted = rng.normal(0, model.shift / math.sqrt(2), (TRIALS, 2))
        x, y = h.field.shift
        own = np.column_stack([shifted[:, 0] + y * turned, shifted[:, 1] - x * turned, turned])
        frames.append(fitted + own + (frames[-1] if frames else 0.0))
    blocks = {b.part: b for h in division.hoopings for b in h.blocks}
    drawn = {name: rng.normal(size=(TRIALS, 2)) for name in blocks}

    def lies(number, part, at):
        tx, ty, turn = frames[number - 1].T
        block, (x, y) = blocks[part], at
        along = stitch_direction(block)
        far = np.array(at) - block.stitching.holes.mean(axis=0)
        ways = np.array([along, [-along[1], along[0]]])
        shares = SPREAD_OF_DRAW * np.array([model.drawn_along, model.drawn_across]) * (ways @ far)
        return np.column_stack([tx - y * turn, ty + x * turn]) + (drawn[part] * shares) @ ways

    def misses(m):
        return lies(m.second, m.parts[1], m.at) - lies(m.first, m.parts[0], m.at)

    return misses


def test_a_simulation_of_the_whole_chain_agrees():
    division, model = ring(), PlacingModel()
    met = meetings(division, model, layout())
    misses = simulated(division, model)
    of, parents = {h.number: h for h in division.hoopings}, neighbours(division.hoopings, met)
    assert parents == {2: 1, 3: 2, 4: 3}
    seen = {(m.first, m.second): float((misses(m) @ np.array(m.across)).std()) for m in met}
    for m in met:
        told = carried_misfit(m, of, parents, model)
        assert sd(told, m.across) == pytest.approx(seen[m.first, m.second], rel=0.02)
        assert np.cov(misses(m).T) == pytest.approx(told, abs=0.02 * np.trace(told))
    (found,) = carrying(division, met, model)
    assert found.carried == pytest.approx(max(seen.values()), rel=0.02)
    assert found.carried_at == max(seen, key=lambda pair: seen[pair])


def test_a_worker_lines_up_by_the_latest_neighbour():
    division = ring()
    met = meetings(division, PlacingModel(), layout())
    assert neighbours(division.hoopings, met)[4] == 3  # and not 1, which it touches too


def test_where_nothing_touches_the_nearest_is_taken():
    """Of two equally near the earlier."""
    hoopings = patches((100, 100), (300, 100), (200, 100), (310, 160))
    assert neighbours(hoopings, ()) == {2: 1, 3: 1, 4: 2}


@given(st.lists(st.integers(0, 20), min_size=2, max_size=9), st.data())
def test_a_chain_is_the_shortest_way_through_the_tree(ups, data):
    """As breadth-first search over the tree's edges finds it."""
    parents = {k + 2: 1 + up % (k + 1) for k, up in enumerate(ups)}
    a, b = (data.draw(st.integers(1, len(ups) + 1)) for _ in range(2))
    reached, front = {a: 0}, [a]
    while front:
        n = front.pop(0)
        for k in [parents.get(n), *(c for c, p in parents.items() if p == n)]:
            if k is not None and k not in reached:
                reached[k] = reached[n] + 1
                front.append(k)
    assert len(chain(parents, a, b)) == reached[b]
    assert set(chain(parents, a, b)) == set(chain(parents, b, a))


def test_a_hooping_that_was_trued_makes_a_smaller_step():
    h = hooping(2, RIGHT, boxed("b", 149.8, 80, 190, 120))
    read = {2: [m.name for m in h.marks]}
    plain, trued = (np.trace(step(h, (150, 100), PlacingModel(), known)) for known in ({}, read))
    assert trued == pytest.approx(np.trace(step(h, (150, 100), PlacingModel().trued)))
    assert trued < plain


def test_no_meetings_no_choice():
    assert carrying(ring(), (), PlacingModel()) == ()
    assert marking_told((), "mm") == ""


WORSE = Carrying("front", 0.714, 1.326, (1, 9), (1, 9), 8)


def test_the_whole_template_is_told():
    assert marking_told((WORSE,), "mm") == (
        "Draw every cross from the whole template before you begin: the least sure meeting (hoopings 1 and 9) is then "
        "predicted within ±1.4 mm, 95 times in 100; crosses carried from hooping to hooping would make it ±2.6 mm, "
        "since errors add up over 8 hoopings."
    )
    elsewhere = marking_told((replace(WORSE, carried_at=(3, 8), steps=5),), "inch")
    assert "±0.06 in" in elsewhere
    assert elsewhere.endswith("would make hoopings 3 and 8 meet within ±0.11 in, since errors add up over 5 hoopings.")


def test_carrying_is_told_where_it_is_better():
    told = marking_told((Carrying("front", 0.61, 0.41, (2, 3), (1, 2), 1),), "mm")
    assert told.startswith("Carry the crosses: draw those of each hooping from what the one it joins has sewn.")
    assert "(hoopings 1 and 2) is then predicted within ±0.9 mm, 95 times in 100" in told
    assert "would make it ±1.2 mm (hoopings 2 and 3)." in told


def test_no_difference_is_told_as_none():
    told = marking_told((Carrying("front", 0.41, 0.42, (1, 2), (1, 2), 1),), "mm")
    assert "no better" in told
    assert told.count("±0.9 mm") == 1


def test_several_panels_are_named():
    told = marking_told((WORSE, replace(WORSE, panel="back")), "mm")
    assert told.startswith("On front: Draw")
    assert " On back: Draw" in told
