"""Scalloped edge: scallops that close, satin that meets at the points, and what is cut, wound and laid beneath."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError
from shapely import LineString, Polygon, points

from festoon.errors import PieceError
from festoon.hooping import divide
from festoon.lapping import lapped
from festoon.layout import lay_out
from festoon.make import Proved
from festoon.piece.bench import Measured
from festoon.proof import prove
from festoon.shaping.scallop import arc_length, arc_radius
from festoon.stitches import Thread, stitched_region
from festoon.techniques import TECHNIQUES
from festoon.techniques.scalloped_edge import ScallopedEdge, work
from tests.hooping.pieces import piece

from .toy import setting

HEM = "M 20 150 H 260"


def edge(**words):
    return ScallopedEdge(kind="scalloped edge", name="edge", **{"along": HEM, "repeat": 40, "rise": 10, **words})


# How many, and where


def test_a_hem_of_1120_mm_takes_14_scallops_of_80():
    """Hem 112 cm, about 8 cm: 14 scallops of 8.0 cm (a pattern course's page)."""
    done = work(edge(along="M 20 150 h 1120", repeat=80.4, rise=20), setting(size=(1200, 300)))
    assert [p.name for p in done.parts] == [f"edge-{n}" for n in range(1, 15)]
    assert {f.what: f.value for f in done.figures}["width of a scallop, along the line"] == "80 mm"


def test_its_middle_is_as_long_as_the_arcs_of_a_handbook():
    """s = 2R·asin(c/2R): c 80, h 20 gives 92.730 mm; fourteen of them 1298.2 (computed)."""
    done = work(edge(along="M 20 150 h 1120", repeat=80, rise=20), setting(size=(1200, 300)))
    assert LineString(done.lines[0].points).length == pytest.approx(14 * 92.730, abs=0.3)
    assert {f.what: f.value for f in done.figures}["satin, along its middle"] == "1298.2 mm"
    assert {f.what: f.value for f in done.figures}["line of one scallop, point to point"] == "92.7 mm"


@given(st.floats(60, 500), st.floats(15, 80), st.floats(0.05, 0.35), st.floats(1.5, 6), st.sampled_from([None, 1.0]))
def test_the_outer_edge_against_the_arc_formula(length, repeat, share, width, thin):
    """n·2(R + w/2)·asin(c/(2(R + w/2))): the edge below is an arc of radius R + w/2 between upright mitres. With satin
    thinner at the points it is shorter, and never shorter than the scallops' own middle without its ends."""
    done = work(
        edge(along=f"M 20 150 h {length}", repeat=repeat, rise=share * repeat, width=width, at_points=thin), setting()
    )
    n = max(1, math.floor(length / repeat + 0.5))
    chord, rise = length / n, share * repeat
    outer = arc_radius(chord, rise) + width / 2
    whole = n * 2 * outer * math.asin(min(1.0, chord / 2 / outer))
    lower = done.named["lower"]
    if rise < 0.4 * chord and thin is None:
        assert lower.length == pytest.approx(whole, rel=2e-3)
    assert lower.length <= n * arc_length(chord, rise + width / 2) * 1.001
    assert (lower.start[0], lower.end[0]) == pytest.approx((20, 20 + length), abs=1e-6)


@settings(max_examples=12)
@given(
    st.floats(30, 90),
    st.floats(12, 60),
    st.sampled_from(["any", "point", "round"]),
    st.sampled_from(["below", "above"]),
)
def test_scallops_always_close_round_a_circle(radius, repeat, centre, rounds):
    """Any circumference, any nominal width, any count asked for."""
    circle = (
        f"M 150 {150 - radius} a {radius} {radius} 0 0 1 0 {2 * radius} a {radius} {radius} 0 0 1 0 {-2 * radius} z"
    )
    one = edge(
        along=circle,
        repeat=min(repeat, radius),
        rise=0.2 * min(repeat, radius),
        width=2,
        centre=centre,
        rounds=rounds,
        lap=0,
    )
    done = work(one, setting())
    (outer,) = done.named.values()
    assert outer.closed
    assert centre == "any" or len(done.parts) % 2 == (centre == "round")
    assert all(line.closed for line in done.lines)
    for before, after in itertools.pairwise([*done.parts, done.parts[0]]):
        assert before.region.intersects(after.region)


def test_a_point_or_a_round_stands_in_the_middle():
    middle = 140.0
    odd, even = (work(edge(centre=c, repeat=44), setting()) for c in ("round", "point"))
    assert (len(odd.parts), len(even.parts)) == (5, 6)
    assert np.abs(np.array([p.x for p in odd.places]) - middle).min() < 1e-9
    assert np.abs(np.array([p.x for p in even.places]) - middle).min() == pytest.approx(20)


def test_places_lie_in_the_middle_of_each_scallop():
    done = work(edge(), setting())
    assert np.allclose([(p.x, p.y) for p in done.places], [(40 + 40 * k, 155) for k in range(6)])
    above = work(edge(rounds="above"), setting())
    assert above.places[0].y == pytest.approx(145)


# Satin


def test_every_hole_lies_in_its_column_and_holes_reach_both_edges():
    done = work(edge(lap=0, underlay="none", width=4, at_points=2), setting())
    for part in done.parts:
        assert (part.element, part.panel) == ("edge", "front")
        inside = part.region.buffer(0.01)
        assert inside.contains(points(part.stitching.holes)).all()
        assert part.region.symmetric_difference(stitched_region(part.stitching)).area < 0.06 * part.region.area
    lower, holes = LineString(done.named["lower"].flatten()), np.concatenate([p.stitching.holes for p in done.parts])
    on_edge = np.array([lower.distance(p) for p in points(holes)]) < 0.05
    assert 0.3 < on_edge.mean() < 0.6, "every other hole of a column lies on its outer edge"


def test_the_spacing_is_the_threads_own_unless_said():
    """0.40·√(40/wt), 0.462 mm for 30 wt (computed)."""
    thirty = Thread("#ffffff", 1000 / 30)
    around = setting()
    held = type(around)(around.panel, around.outline, {}, {}, around.motif, lambda name: thirty)
    own, said = work(edge(), held), work(edge(spacing=0.6), held)
    assert {f.what: f.value for f in own.figures}["from hole to hole on one side"] == "0.46 mm"
    assert {f.what: f.value for f in said.figures}["from hole to hole on one side"] == "0.6 mm"
    assert sum(p.stitching.stitch_count for p in own.parts) > sum(p.stitching.stitch_count for p in said.parts)


def test_a_heavier_thread_is_advised_where_it_is_finer():
    told = " ".join(s.text for s in work(edge(), setting()).sentences)
    assert "30 wt covers closer" in told
    around = setting()
    heavy = type(around)(around.panel, around.outline, {}, {}, around.motif, lambda name: Thread("#ffffff", 1000 / 30))
    assert "covers closer" not in " ".join(s.text for s in work(edge(), heavy).sentences)


def test_each_runs_on_over_the_next_but_the_last_of_an_open_line():
    bare, lapped_over = work(edge(lap=0), setting()), work(edge(lap=2), setting())
    shared = [a.region.intersection(b.region).area for a, b in itertools.pairwise(lapped_over.parts)]
    apart = [a.region.intersection(b.region).area for a, b in itertools.pairwise(bare.parts)]
    assert min(shared) > 2 * 2.0 + max(apart)
    assert lapped_over.parts[-1].region.equals_exact(bare.parts[-1].region)
    assert TECHNIQUES["scalloped edge"].run_on(edge()) == "lap"
    assert TECHNIQUES["scalloped edge"].run_on(edge(sewn="sewing machine")) is None


def test_round_a_loop_the_last_runs_on_over_the_first():
    square = "M 150 40 A 100 100 0 0 1 150 240 A 100 100 0 0 1 150 40 Z"
    first, *_, last = work(edge(along=square, lap=2), setting()).parts
    bare_first, *_, bare_last = work(edge(along=square, lap=0), setting()).parts
    assert last.region.intersection(first.region).area > bare_last.region.intersection(bare_first.region).area + 2


def test_satin_may_be_thinner_at_the_points_never_wider():
    with pytest.raises(ValidationError, match="wider at the points"):
        edge(width=3, at_points=3.5)
    thin, full = (work(edge(at_points=w, lap=0), setting()).parts[1].region.area for w in (1.0, None))
    assert thin < 0.9 * full
    with pytest.raises(ValidationError, match="too small for satin so wide"):
        edge(repeat=4, width=9)


# What is cut, wound and laid beneath


@pytest.mark.parametrize("rounds", ["below", "above"])
def test_the_line_to_cut_along_lies_just_outside_the_satin(rounds):
    done = work(edge(rounds=rounds, cut_away=0.8, lap=0), setting())
    assert [line.role for line in done.lines] == ["placement", "trim"]
    cut, (outer,) = LineString(done.lines[1].points), done.named.values()
    edge_line = LineString(outer.flatten())
    far = [edge_line.distance(p) for p in points(np.array(cut.coords)[5:-5])]
    assert min(far) == pytest.approx(0.8, abs=0.05) or min(far) > 0.3
    assert np.median(far) == pytest.approx(0.8, abs=0.01)
    for part in done.parts:
        assert not cut.intersects(Polygon(part.region.exterior).buffer(-0.25))
    below = np.array(cut.coords)[:, 1].max() > 160
    assert below == (rounds == "below")


def test_an_edging_may_hang_from_its_lower_edge():
    assert set(work(edge(), setting()).named) == {"lower"}
    assert set(work(edge(rounds="above"), setting()).named) == {"upper"}


def test_for_the_sewing_machine_it_is_traced_and_has_no_part():
    done = work(edge(sewn="sewing machine"), setting())
    assert done.parts == ()
    assert [line.role for line in done.lines] == ["trace", "trim"]
    thread, strip = done.supplies
    assert thread.what == "thread madder red, for needle and bobbin"
    assert (strip.what, strip.quantity, strip.unit) == ("tear-away, 54 mm wide", pytest.approx(240), "mm")
    assert [s.name for s in done.steps] == ["trace", "tear-away", "bobbin", "satin", "tear off", "cut away"]


def test_the_thread_of_satin_sewn_by_the_sewing_machine():
    """100 mm of satin 4 mm wide, holes 0.4 mm apart on one side, cloth 0.3 mm: 500 stitches of √(4² + 0.2²) mm take
    4.305 m of both threads (computed); 15 % waste. Scallops so flat are as good as straight."""
    straight = edge(along="M 20 150 h 100", rise=0.1, width=4, spacing=0.4, sewn="sewing machine")
    thread, _ = work(straight, setting()).supplies
    assert thread.quantity == pytest.approx(4305 * 1.15, rel=2e-3)


def test_a_machine_file_needs_its_thread_in_the_bobbin_too():
    done = work(edge(thread="blue"), setting())
    (bobbin,) = done.supplies
    lengths = [np.hypot(*np.diff(p.stitching.holes, axis=0).T) for p in done.parts]
    assert bobbin.what == "thread blue, wound on the bobbin"
    assert bobbin.quantity == pytest.approx(sum(float((ls + 0.3).sum()) for ls in lengths) * 1.15)


def test_the_steps_come_in_the_order_of_the_work():
    steps = work(edge(thread="blue"), setting()).steps
    assert [(s.name, s.stage) for s in steps] == [
        ("tear-away", "prepare"),
        ("bobbin", "prepare"),
        ("satin", "embroider"),
        ("tear off", "trim"),
        ("cut away", "edge"),
    ]
    assert "Wind the bobbin with the needle's thread, blue" in steps[1].text
    assert "close to the stitching" in steps[-1].text


def test_lengths_are_told_in_the_pieces_units():
    around = setting()
    inches = type(around)(around.panel, around.outline, {}, {}, around.motif, around.thread, units="inch")
    done = work(edge(), inches)
    told = [*(f.value for f in done.figures), *(s.text for s in done.steps), *(s.text for s in done.sentences)]
    assert not any(" mm" in text for text in told)


def test_the_rise_is_dragged_by_its_handle():
    (handle,) = work(edge(), setting()).handles
    assert (handle.field, handle.along) == ("rise", pytest.approx((0, 1)))
    assert handle.at == pytest.approx((160, 160))
    (above,) = work(edge(rounds="above"), setting()).handles
    assert above.along == pytest.approx((0, -1))


def test_a_line_that_is_not_there_is_told():
    with pytest.raises(PieceError, match='no line called "hemm"'):
        work(edge(along="hemm"), setting())


def test_it_leans_on_the_element_whose_line_it_follows():
    assert TECHNIQUES["scalloped edge"].needs(edge(along="lace/lower")) == ("lace",)


# Divided


def twelve(**words):
    return piece(
        {"kind": "scalloped edge", "name": "edge", "along": "M 20 250 H 380", "repeat": 30, "rise": 7, **words},
    )


@pytest.mark.parametrize("lap", [0, 0.5])
def test_the_machine_files_of_twelve_scallops_sew_every_stitch_once(lap):
    layout = lay_out(twelve(lap=lap))
    division = divide(layout)
    assert division.count > 1
    drawn = [p for w in layout.works for p in w.parts]
    assert len(drawn) == 12
    sewn = [b for h in division.hoopings for b in h.blocks]
    assert sorted(b.part for b in sewn) == sorted(p.name for p in drawn), "each in one hooping, none divided"
    holes = sum(len(h.stitching.holes) for h in division.hoopings)
    assert holes == sum(len(p.stitching.holes) for p in drawn)
    every = np.concatenate([h.stitching.holes for h in division.hoopings])
    wanted = np.concatenate([p.stitching.holes for p in drawn])
    assert np.allclose(every[np.lexsort(every.T)], wanted[np.lexsort(wanted.T)])


def proved(one):
    layout = lay_out(one)
    division = divide(layout)
    return Proved(layout, division, prove(layout, division), None)


def test_where_hoopings_part_the_lap_is_lengthened_until_they_meet():
    """A worker who sets crosses and needle 0.8 mm off (root mean square) needs more lap than the usual."""
    one = twelve(lap=0, at_points=1.5)
    unsure = one.bench.model_copy(update={"measured": Measured(marking=0.8, reading=0.8)})
    bare = proved(replace(one, bench=unsure))
    gaps = [f for f in bare.proof.findings if f.rule == "gap"]
    assert {m.word for f in gaps for m in f.mends} == {"lap"}
    after, lapping = lapped(bare, proved)
    assert [c.word for c in lapping.changes] == ["lap"]
    assert not [f for f in after.proof.findings if f.rule == "gap"]
