"""Join: a column or line of stitching from motif to motif, measured along the course it should take."""

import math
import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError
from shapely import LineString, Point

from festoon.errors import FestoonError
from festoon.plane import Path, Pose, polyline
from festoon.stitches.lay.lock import LOCK_STITCH
from festoon.techniques.join import ALIKE, TECHNIQUE, TOUCHING, Join, laid, needs, tapered, work
from festoon.work import Sentence

from .toy import BLUE, RED, patch, setting

A, B = patch("a", 60, 100), patch("b", 160, 100)
"""20 x 10 mm each; between the edges that face each other, x 70.2 to 149.8, the way is straight and level."""

EDGE = 0.16
"""mm within which a motif's traced outline lies (see festoon.stitches.outline)."""


def join(start="a", end="b", **words):
    ends = {} if start is None else {"from": start, "to": end}
    return Join(kind="join", name="stem", **ends, **words)


def only(one, *parts, **lines):
    (part,) = work(one, setting(*parts, **lines)).parts
    return part


def unlocked(stitching):
    """Holes without the three of the lock at either end."""
    p = stitching.holes
    return np.concatenate([p[:1], p[4:-4], p[-1:]])


def rows(one, *parts):
    """(positions along, signed offsets to the right of) its straight course, of the holes without their locks."""
    done = work(one, setting(*(parts or (A, B))))
    start, end = done.lines[0].points[[0, -1]]
    ahead = (end - start) / np.hypot(*(end - start))
    own = unlocked(done.parts[0].stitching) - start
    return own @ ahead, own @ np.array([-ahead[1], ahead[0]])


# Where it begins and ends


@pytest.mark.parametrize("stitch", ["satin", "zigzag", "running"])
@pytest.mark.parametrize("tuck", [0, 1.5, 3, 6])
def test_it_runs_on_into_each_motif_by_the_tuck(stitch, tuck):
    s = only(join(stitch=stitch, tuck=tuck), A, B).stitching
    assert s.holes[:, 0].min() == pytest.approx(70.2 - tuck, abs=EDGE)
    assert s.holes[:, 0].max() == pytest.approx(149.8 + tuck, abs=EDGE)
    assert A.region.distance(Point(s.holes[0])) == 0 or tuck == 0
    assert B.region.distance(Point(s.holes[-1])) == 0 or tuck == 0


@given(st.floats(-30, 30), st.floats(0, 8), st.floats(0, 360), st.floats(0, 360))
def test_the_tuck_is_measured_along_the_course(bow, tuck, turn, other):
    a, b = patch("a", 80, 120, turn), patch("b", 200, 160, other)
    line = work(join(bow=bow, tuck=tuck, stitch="running"), setting(a, b)).lines[0].points
    course = LineString(line)
    for part, s in ((a, tuck), (b, course.length - tuck)):
        assert part.region.boundary.distance(course.interpolate(s)) < 0.06


@given(st.floats(-40, 40).filter(lambda h: abs(h) > 0.1))
def test_the_bow_is_the_sagitta_to_the_right_of_the_straight_way(bow):
    done = work(join(bow=bow, tuck=0, leave=(0, 0), arrive=(0, 0), stitch="running"), setting(A, B))
    (handle,) = done.handles
    assert handle.at == pytest.approx((110, 100 + bow))
    assert handle.field == "bow"
    off = unlocked(done.parts[0].stitching)[:, 1] - 100
    assert np.abs(off).max() <= abs(bow) + 1e-9
    assert (off * math.copysign(1, bow) >= -1e-9).all()
    length = 2 * (r := (2500 + bow * bow) / (2 * abs(bow))) * math.asin(50 / r)
    length = length if abs(bow) <= 50 else 2 * math.pi * r - length
    assert LineString(done.lines[0].points).length == pytest.approx(length, abs=0.2)


@given(st.floats(-20, 20), st.floats(0, 8), st.tuples(st.floats(-15, 15), st.floats(-15, 15)))
def test_a_bow_dragged_by_its_handle_comes_to_lie_where_it_was_dropped(bow, tuck, drag):
    """Along the handle's own way; the curve stays square to the chord at its middle (computed)."""
    ends = {"leave": (4, 3), "arrive": (-8, 2), "tuck": tuck, "stitch": "running"}
    a, b = patch("a", 80, 100, 25), patch("b", 200, 150, 30)
    (handle,) = work(join(bow=bow, **ends), setting(a, b)).handles
    way = np.array(handle.along)
    assert np.hypot(*way) == pytest.approx(1)
    moved = float(np.array(drag) @ way)
    (after,) = work(join(bow=bow + moved, **ends), setting(a, b)).handles
    assert after.at == pytest.approx(np.array(handle.at) + moved * way)


@given(st.floats(-180, 180), st.booleans(), st.tuples(st.floats(-9, 9), st.floats(-4, 4)))
def test_leave_and_arrive_go_with_the_motifs_turn_and_mirroring(turn, mirrored, spot):
    a, b = patch("a", 80, 100, turn, mirrored), patch("b", 200, 150, 30)
    line = work(join(leave=spot, arrive=(-8, 2), tuck=0, stitch="running"), setting(a, b)).lines[0].points
    x, y = (-spot[0] if mirrored else spot[0]), spot[1]
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    assert line[0] == pytest.approx([80 + c * x - s * y, 100 + s * x + c * y])
    assert line[-1] == pytest.approx(Pose(200, 150, 30).apply([-8, 2]))


def test_via_passes_its_points_smoothly():
    via = ((90, 130), (120, 80))
    done = work(join(via=via, stitch="running", tuck=2), setting(A, B))
    course = LineString(done.lines[0].points)
    assert [course.distance(Point(p)) < 0.06 for p in via] == [True, True]
    assert [(h.at, h.field) for h in done.handles] == [((90, 130), "via.0"), ((120, 80), "via.1")], "no bow to drag"
    steps = np.diff(done.lines[0].points, axis=0)
    bends = np.degrees(np.abs(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0])))))
    assert bends.max() < 20


def test_the_nearest_edges_are_those_that_face_the_first_and_last_point():
    done = work(join(via=((60, 60), (160, 140)), tuck=0, stitch="running"), setting(A, B))
    assert done.lines[0].points[0] == pytest.approx([60, 95], abs=0.3)
    assert done.lines[0].points[-1] == pytest.approx([160, 105], abs=0.3)


def test_between_edges_that_face_each_other_it_goes_from_middle_to_middle():
    """From nearest point to nearest point it could as well run from corner to corner."""
    for shift, levels in ((0, (100, 100)), (4, (100, 104)), (-6, (100, 94))):
        b = patch("b", 160, 100 + shift)
        line = work(join(tuck=0, stitch="running"), setting(A, b)).lines[0].points
        assert line[:, 1] == pytest.approx(levels, abs=0.6)
        assert math.dist(line[0], line[-1]) <= A.region.distance(b.region) + 2 * ALIKE


# The column


@pytest.mark.parametrize(("stitch", "spacing"), [("satin", 0.4), ("zigzag", 1.0)])
def test_left_out_the_spacing_is_the_trades_usual_one(stitch, spacing):
    """0.4 mm hole to hole on one side for satin (trade magazine, Dec 2016, pp 30-31), 1.0 mm for zigzag (common
    practice)."""
    x, off = rows(join(stitch=stitch))
    for side in (off > 0, off < 0):
        assert np.diff(x[side]) == pytest.approx(np.full(side.sum() - 1, spacing), rel=0.02)


@pytest.mark.parametrize("stitch", ["satin", "zigzag"])
@pytest.mark.parametrize("spacing", [0.35, 0.6, 2.0])
def test_spacing_is_hole_to_hole_on_one_side(stitch, spacing):
    x, off = rows(join(stitch=stitch, spacing=spacing))
    gap = np.diff(x[off > 0])
    assert gap == pytest.approx(np.full(len(gap), gap[0])), "even"
    assert spacing * 0.96 < gap[0] <= spacing + 1e-9


@pytest.mark.parametrize("width", [1.2, 2.4, 5.0])
def test_without_taper_the_width_is_the_same_everywhere(width):
    _, off = rows(join(width=width))
    assert np.abs(off) == pytest.approx(np.full(len(off), width / 2))
    assert np.array_equal(np.sign(off), np.where(np.arange(len(off)) % 2, 1, -1))


def test_a_tapered_column_grows_from_tip_to_width_and_back():
    x, off = rows(join(width=3, tip=0.8, taper=20, tuck=4))
    right, left = off > 0, off < 0
    begin, end = x.min(), x.max()
    half = np.abs(off)
    assert half[[0, -1]] * 2 == pytest.approx([0.8, 0.8], abs=0.01)
    middle = (x > begin + 20) & (x < end - 20)
    assert half[middle] * 2 == pytest.approx(np.full(middle.sum(), 3.0))
    for side in (right, left):
        growing, shrinking = side & (x < begin + 20), side & (x > end - 20)
        assert (np.diff(half[growing]) > 0).all()
        assert (np.diff(half[shrinking]) < 0).all()


@given(st.floats(0.6, 8), st.floats(0.1, 0.6), st.floats(0.1, 200), st.floats(1, 300))
def test_the_taper_is_even_handed_and_never_leaves_tip_and_width(width, tip, taper, length):
    f = np.linspace(0, 1, 201)
    w = tapered(width, tip, taper, length)(f)
    assert w[[0, -1]] == pytest.approx([tip, tip])
    assert w[100] == pytest.approx(width) or 2 * taper > length or length / 2 < taper
    assert tapered(width, tip, taper, length)(np.array([0.5])) == pytest.approx([width])
    assert (np.diff(w[:101]) >= -1e-12).all()
    assert w == pytest.approx(w[::-1])


def test_running_stitches_are_no_longer_than_asked():
    s = only(join(stitch="running", length=2.0), A, B).stitching
    steps = np.hypot(*np.diff(unlocked(s), axis=0).T)
    assert steps.max() <= 2.0 + 1e-9
    assert steps == pytest.approx(np.full(len(steps), steps[0]))


@pytest.mark.parametrize("stitch", ["satin", "zigzag", "running"])
def test_it_is_locked_at_both_ends_and_nowhere_else(stitch):
    p = only(join(stitch=stitch), A, B).stitching.holes
    assert np.array_equal(p[0:2], p[2:4])
    assert np.array_equal(p[-2:], p[-4:-2])
    assert math.dist(p[0], p[1]) == pytest.approx(LOCK_STITCH)
    steps = np.hypot(*np.diff(p[4:-4], axis=0).T)
    assert (steps > LOCK_STITCH + 0.1).all()


def test_the_thread_is_the_one_asked_for_or_the_first():
    assert only(join(thread="blue"), A, B).stitching.threads == (BLUE,)
    assert only(join(), A, B).stitching.threads == (RED,)
    with pytest.raises(FestoonError, match='there is no thread called "bleu"'):
        work(join(thread="bleu"), setting(A, B))


# Several links


def wreath(count=4):
    turns = [360 * k / count for k in range(count)]
    at = [Pose(150, 150, t).apply([0, -70]) for t in turns]
    return [patch(f"sprig-{k + 1}", *p, t, element="sprig") for k, (p, t) in enumerate(zip(at, turns, strict=True))]


@pytest.mark.parametrize("closed", [False, True])
def test_through_links_the_parts_in_order(closed):
    parts = wreath(4)
    done = work(join(None, through="sprig", closed=closed, bow=-5), setting(*parts))
    assert [p.name for p in done.parts] == [f"stem-{k}" for k in range(1, 5 if closed else 4)]
    for k, part in enumerate(done.parts):
        assert parts[k].region.contains(Point(part.stitching.holes[0]))
        assert parts[(k + 1) % 4].region.contains(Point(part.stitching.holes[-1]))
    assert [h.name for h in done.handles] == [p.name for p in done.parts] == [line.label for line in done.lines]


def test_a_single_link_keeps_the_joins_own_name():
    assert only(join(None, through="sprig"), *wreath(2)).name == "stem"


def test_through_a_single_part_there_is_nothing_to_link():
    with pytest.raises(FestoonError, match='"a" is a single part, so there is nothing to join'):
        work(join(None, through="a"), setting(A, B))


# Along a path


@pytest.mark.parametrize(
    ("path", "length"), [("M 20 50 H 120", 100), ("hem", 260), ("M 50 50 A 30 30 0 0 1 110 50", 30 * math.pi)]
)
def test_a_path_is_followed_from_end_to_end(path, length):
    done = work(join(None, path=path, stitch="running"), setting())
    s = done.parts[0].stitching
    assert np.hypot(*np.diff(unlocked(s), axis=0).T).sum() == pytest.approx(length, rel=0.002)
    assert done.handles == ()
    assert done.findings == ()
    assert s.holes[0] == pytest.approx(setting().line(path).start)
    assert s.holes[-1] == pytest.approx(setting().line(path).end)


def test_a_closed_path_ends_where_it_began():
    s = only(join(None, path="round", width=3)).stitching
    mid = (unlocked(s)[:-1] + unlocked(s)[1:]) / 2
    assert np.hypot(*(mid - [150, 150]).T) == pytest.approx(np.full(len(mid), 100), abs=0.05)
    assert math.dist(s.holes[0], s.holes[-1]) < 0.01


# What cannot be done


@pytest.mark.parametrize(
    ("one", "sentence"),
    [
        (join("a", "bb"), 'nothing on panel "front" is called "bb". Did you mean "b"?'),
        (join("sprig-9", "a"), 'nothing on panel "front" is called "sprig-9". Did you mean "sprig-'),
        (join("zzz", "a"), "Name a motif that stands on the same panel."),
        (join("sprig", "a"), '"sprig" stands 3 times on the panel. Say which one: "sprig-1", for example.'),
        (join(None, through="sprigg"), 'Did you mean "sprig"?'),
        (join(None, path="hemm"), 'has no line called "hemm"'),
    ],
)
def test_what_is_not_there_is_told_with_the_nearest_name(one, sentence):
    with pytest.raises(FestoonError) as told:
        work(one, setting(A, B, *wreath(3)))
    assert sentence in str(told.value)


def test_motifs_that_touch_need_no_join():
    with pytest.raises(FestoonError, match=r'"a" and "near" touch already.*Move them apart'):
        work(join("a", "near"), setting(A, patch("near", 79, 100)))
    apart = work(join("a", "near", leave=(-5, 0), arrive=(5, 0)), setting(A, patch("near", 79, 100)))
    assert len(apart.parts) == 1


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ({}, "in one way"),
        ({"from": "a"}, 'Add "to"'),
        ({"to": "a"}, 'Add "from"'),
        ({"from": "a", "to": "a"}, "to itself"),
        ({"from": "a", "to": "b", "path": "M 0 0 H 5"}, "in one way"),
        ({"from": "a", "to": "b", "tip": 3, "taper": 5}, "tip is wider"),
        ({"through": "a", "via": [(1, 1)]}, '"via" bends one way only'),
        ({"from": "a", "to": "b", "bow": 3, "via": [(1, 1)]}, "Keep one of them"),
        ({"from": "a", "to": "b", "closed": True}, '"closed" belongs to "through"'),
        ({"path": "M 0 0 H 5", "bow": 3}, 'Take out "bow"'),
        ({"path": "M 0 0 H 5", "leave": (0, 0)}, 'Take out "leave"'),
    ],
)
def test_words_that_contradict_each_other_are_refused(words, sentence):
    with pytest.raises(ValidationError, match=sentence):
        Join(kind="join", name="stem", **words)


# Ends that hold nothing


@given(st.floats(0, 15), st.floats(0, 6))
def test_a_loose_end_is_found_exactly_where_the_tuck_does_not_reach(off, tuck):
    """Leaving `off` mm to the right of the motif's edge, towards the other: the tuck must bridge that."""
    edge = A.region.intersection(LineString([(60, 100), (90, 100)])).bounds[2]
    one = join(leave=(edge - 60 + off, 0), arrive=(0, 0), tuck=tuck)
    found = work(one, setting(A, B)).findings
    gap = off - tuck
    if abs(gap - TOUCHING) > EDGE:
        assert [f.verdict for f in found] == (["look again"] if gap > TOUCHING else [])
    if found:
        told = re.fullmatch(r"Its end stops ([0-9.]+) mm short of the stitching of a\.", found[0].reason)
        assert float(told.group(1)) == pytest.approx(gap, abs=EDGE)
        assert found[0].where == 'join "stem" at "a"'


def test_an_end_that_passes_right_over_its_motif_is_not_loose():
    thin = patch("thin", 60, 100, size=(1.5, 20))
    assert work(join("thin", "b", tuck=12), setting(thin, B)).findings == ()


def test_at_the_other_end_too():
    found = work(join(arrive=(-20, 0), tuck=2), setting(A, B)).findings
    assert [f.where for f in found] == ['join "stem" at "b"']


# What it leans on and says


def test_it_needs_what_it_names():
    assert needs(join()) == ("a", "b")
    assert needs(join(None, through="sprig")) == ("sprig",)
    assert needs(join(None, path="hem")) == ()


def test_the_ledger_tells_only_what_counts():
    def told(one):
        return " ".join(s.text for s in work(one, setting(A, B, *wreath(3))).sentences)

    way, column = (
        "It goes from {from} to {to}, bowed {bow}.",
        "Its {stitch} is {width} wide, with holes {spacing} apart",
    )
    ends = "Its ends taper over {taper} to {tip}. Its thread: {thread}."
    points = "It leaves {leave} of the one motif's own point, and arrives {arrive} of the other's."
    assert told(join(bow=3)) == f"{way} {points} {column}, tucked {{tuck}} at each end. {ends}"
    assert "bow" not in told(join(via=[(90, 90)]))
    assert told(join(None, path="hem")) == f"It follows {{path}}. {column}. {ends}"
    assert "Its {stitch} stitch is {length} long, tucked {tuck} at each end." in told(join(stitch="running"))
    assert told(join(None, through="sprig")).startswith(
        "It links {through} one to the next, the last with the first as well: {closed}, bowed {bow}."
    )
    assert isinstance(work(join(), setting(A, B)).sentences[0], Sentence)


def test_laid_takes_any_course():
    course: Path = polyline([[0, 0], [30, 0], [30, 30]])
    s = laid(join(width=2, taper=5), course, RED)
    assert LineString(course.flatten()).buffer(1.5).contains(LineString(s.holes))


def test_its_ends_run_on_by_the_tuck_but_not_on_a_path():
    assert TECHNIQUE.run_on(join()) == "tuck"
    assert TECHNIQUE.run_on(Join(kind="join", name="edge", path="hem")) is None


def test_it_leans_on_the_element_whose_line_it_follows():
    assert TECHNIQUE.needs(Join(kind="join", name="it", path="hem lace/lower")) == ("hem lace",)
    assert TECHNIQUE.needs(Join(kind="join", name="it", path="M 0 0 H 10")) == ()
