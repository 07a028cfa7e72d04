"""Motif: every stitch lands where a separately written homogeneous matrix says, and its area goes with it."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from festoon.errors import FestoonError
from festoon.plane import Pose
from festoon.stitches import stitched_region
from festoon.techniques import TECHNIQUES
from festoon.techniques.motif import Motif, work

from .toy import BLUE, LETTER_F, RED, patch, setting

MIDDLE = (7.0, 10.0)
angle = st.floats(-360, 360)
place = st.tuples(st.floats(50, 250), st.floats(50, 250))


def motif(**words):
    return Motif(kind="motif", name="f", file="motifs/f.vp3", **words)


def matrix(at, turn, mirror, reference):
    """Move the reference to (0, 0), mirror left and right, turn clockwise (y down), move to the place."""
    t = math.radians(turn)
    home = np.array([[1, 0, -reference[0]], [0, 1, -reference[1]], [0, 0, 1]])
    flip = np.diag([-1 if mirror else 1, 1, 1])
    rotate = np.array([[math.cos(t), -math.sin(t), 0], [math.sin(t), math.cos(t), 0], [0, 0, 1]])
    away = np.array([[1, 0, at[0]], [0, 1, at[1]], [0, 0, 1]])
    return away @ rotate @ flip @ home


def carried(m, points):
    return (m @ np.column_stack([points, np.ones(len(points))]).T).T[:, :2]


@given(
    place,
    angle,
    st.booleans(),
    st.sampled_from([("centre", MIDDLE), ("start", (0.0, 0.0)), ((3.0, -2.0), (10.0, 8.0)), ((-7, -10), (0.0, 0.0))]),
)
def test_every_stitch_lands_where_the_matrix_says(at, turn, mirror, by):
    (part,) = work(motif(at=at, turn=turn, mirror=mirror, by=by[0]), setting()).parts
    expected = carried(matrix(at, turn, mirror, by[1]), LETTER_F.points)
    assert part.stitching.points == pytest.approx(expected, abs=1e-9)
    assert np.array_equal(part.stitching.acts, LETTER_F.acts)
    assert part.stitching.threads == (RED, BLUE)


def test_the_letter_worked_out_by_hand():
    """Turned a quarter clockwise, the upright (x 2, y 18 to 2) lies level, its top to the right."""
    (part,) = work(motif(at=(100, 100), turn=90), setting()).parts
    assert part.stitching.points[[0, 2, 4]] == pytest.approx(np.array([[92, 95], [108, 95], [108, 105]]))
    (part,) = work(motif(at=(100, 100), mirror=True), setting()).parts
    assert part.stitching.points[[0, 2, 4]] == pytest.approx(np.array([[105, 108], [105, 92], [95, 92]]))


@given(place, angle, st.booleans())
def test_the_area_carried_along_is_the_area_traced_afresh(at, turn, mirror):
    """Both outlines lie within 0.15 mm of the threads (festoon.stitches.outline)."""
    (part,) = work(motif(at=at, turn=turn, mirror=mirror), setting()).parts
    assert part.region.hausdorff_distance(stitched_region(part.stitching)) < 0.3
    (part,) = work(motif(at=at, turn=turn, mirror=mirror), setting(motif=patch("leaf", 0, 0).stitching)).parts
    assert part.region.area == pytest.approx(stitched_region(part.stitching).area, rel=0.02)


def test_outlines_go_with_the_motif_thread_by_thread():
    (part,) = work(motif(at=(100, 100), turn=180), setting()).parts
    assert [k for k, _ in part.outlines] == [0, 1]
    left, top, right, bottom = part.outlines[1][1].bounds
    assert (left, top, right, bottom) == pytest.approx((98.8, 99.8, 105.2, 100.2), abs=0.15)


def test_left_out_its_place_is_the_middle_of_the_panel():
    (part,) = work(motif(), setting(size=(300, 200))).parts
    assert part.stitching.centre == pytest.approx((150, 100))
    assert work(motif(), setting(size=(300, 200))).handles[0].at == (150, 100)


def test_names_count_from_one_and_a_single_one_keeps_its_own():
    assert [p.name for p in work(motif(), setting()).parts] == ["f"]
    assert [p.name for p in work(motif(row={"count": 1, "spacing": 5}), setting()).parts] == ["f"]
    ring = work(motif(ring={"count": 3, "radius": 50}), setting()).parts
    assert [p.name for p in ring] == ["f-1", "f-2", "f-3"]
    assert {(p.element, p.panel) for p in ring} == {("f", "front")}


ARRANGEMENTS = {
    "row": ({"count": 3, "spacing": "2 cm"}, 3),
    "ring": ({"count": 5, "radius": 60}, 5),
    "pair": ({"apart": 40}, 2),
    "along": ({"line": "hem", "spacing": 52}, 5),
}


@pytest.mark.parametrize("word", ARRANGEMENTS)
def test_every_repeat_is_the_motif_at_its_pose(word):
    words, count = ARRANGEMENTS[word]
    done = work(motif(turn=20, mirror=True, **{word: words}), setting())
    assert len(done.parts) == count
    for part in done.parts:
        own = LETTER_F.points - MIDDLE
        expected = carried(matrix((part.pose.x, part.pose.y), part.pose.turn, part.pose.mirrored, (0, 0)), own)
        assert part.stitching.points == pytest.approx(expected, abs=1e-9)
        assert part.region.hausdorff_distance(stitched_region(part.stitching)) < 0.3


def test_along_a_line_the_motif_has_no_place_to_drag():
    assert work(motif(along={"line": "hem", "spacing": 50}), setting()).handles == ()
    handle, _ = work(motif(at=(90, 80), pair={"apart": 40}), setting()).handles
    assert (handle.at, handle.field) == ((90, 80), "at")


@pytest.mark.parametrize(
    ("word", "words", "length", "at"),
    [
        ("row", {"count": 4, "spacing": 20, "direction": 90}, "spacing", (150, 190)),
        ("ring", {"count": 4, "radius": 50, "start": 45}, "radius", (200, 150)),
        ("pair", {"apart": 60, "axis": 90}, "apart", (150, 180)),
    ],
)
def test_a_row_ring_or_pair_is_widened_by_its_handle(word, words, length, at):
    """Computed: what the handle is moved by along itself, the length grows by so that the handle follows."""
    one, place = motif(at=(150, 150), **{word: words}), setting()
    handle = work(one, place).handles[1]
    assert (handle.field, handle.at) == (f"{word}.{length}", pytest.approx(at))
    out = np.array(handle.along) / np.hypot(*handle.along)
    longer = words[length] + float(out * 7 @ handle.along)
    after = work(motif(at=(150, 150), **{word: {**words, length: longer}}), place).handles[1]
    assert after.at == pytest.approx(np.array(handle.at) + out * 7)


PLACES = (Pose(80, 60, 30), Pose(160, 90, -20, True), Pose(240, 60))


def room(**places):
    around = setting(patch("leaf", 30, 250))
    return replace(around, places=places, others=("bare lace", *places))


def test_one_stands_in_each_place_of_another_element():
    """Turned and mirrored as the place is, on top of its own turn."""
    done = work(motif(on="lace", turn=15, mirror=True), room(lace=PLACES))
    assert [p.name for p in done.parts] == ["f-1", "f-2", "f-3"]
    for part, place in zip(done.parts, PLACES, strict=True):
        own = carried(matrix((0, 0), 15, True, MIDDLE), LETTER_F.points)
        assert part.stitching.points == pytest.approx(place.apply(own), abs=1e-9)
    assert done.handles == ()
    assert dict(done.sentences[0].gaps) == {w: w for w in ("on", "by", "turn", "mirror")}


def test_what_is_wrong_with_the_places_is_told():
    with pytest.raises(FestoonError, match=r'nothing on panel "front" is called "lase".*Did you mean "lace"'):
        work(motif(on="lase"), room(lace=PLACES))
    for name in ("bare lace", "leaf"):
        with pytest.raises(FestoonError, match=f'"{name}" has no places for anything to stand in'):
            work(motif(on=name), room(lace=PLACES))


def test_it_leans_on_what_it_stands_in_or_follows():
    needs = TECHNIQUES["motif"].needs
    assert needs(motif(on="lace")) == ("lace",)
    assert needs(motif(along={"line": "hem lace/lower", "spacing": 50})) == ("hem lace",)
    assert needs(motif(along={"line": "hem", "spacing": 50})) == ()
    assert needs(motif(ring={"count": 3, "radius": 50})) == ()


def test_set_free_each_stands_where_it_stood():
    one, around = motif(on="lace", turn=15, mirror=True), room(lace=PLACES)
    together = work(one, around).parts
    for words, part in zip(TECHNIQUES["motif"].singly(one, around), together, strict=True):
        alone = {w: v for w, v in words.items() if v is not None}
        (single,) = work(motif(**alone), around).parts
        assert single.stitching.points == pytest.approx(part.stitching.points, abs=1e-3)


def test_one_arrangement_only():
    with pytest.raises(ValidationError, match='"row" and "ring" both say how it is set out'):
        motif(row={"count": 2, "spacing": 5}, ring={"count": 2, "radius": 5})
    with pytest.raises(ValidationError, match='"along" and "on" both say how it is set out'):
        motif(on="lace", along={"line": "hem", "spacing": 5})
    with pytest.raises(ValidationError, match='"on" already says where it stands'):
        motif(at=(5, 5), on="lace")
    with pytest.raises(ValidationError, match='"along" already says where it stands'):
        motif(at=(5, 5), along={"line": "hem", "spacing": 5})


def test_a_line_that_is_not_there_is_named_with_those_that_are():
    with pytest.raises(FestoonError, match=r'panel "front" has no line called "hemm".*"hem", "wave"'):
        work(motif(along={"line": "hemm", "spacing": 50}), setting())


def test_threads_of_the_bench_take_the_place_of_the_files_own():
    (part,) = work(motif(threads=("blue", "red")), setting()).parts
    assert part.stitching.threads == (BLUE, RED)
    with pytest.raises(FestoonError, match=r"threads names 1, but motifs/f.vp3 has 2"):
        work(motif(threads=("blue",)), setting())
    with pytest.raises(FestoonError, match='no thread called "bleu"'):
        work(motif(threads=("bleu", "red")), setting())


def test_each_arrangement_is_told_in_its_own_words():
    told = {w: work(motif(**{w: v}), setting()).sentences for w, (v, _) in ARRANGEMENTS.items()}
    assert [len(told[w]) for w in ("row", "ring", "pair", "along")] == [2, 2, 2, 2]
    assert told["row"][1].text.startswith("{count} in a row")
    assert dict(told["ring"][1].gaps) == {w: f"ring.{w}" for w in ("count", "radius", "start", "follow")}
    assert "{line}" in told["along"][0].text
