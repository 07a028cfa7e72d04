"""Tucks on a panel: lines, areas, take-up, templates of the flat cloth, and what lies across them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import PieceError
from festoon.kept import Kept
from festoon.layout import lay_out
from festoon.piece import read_piece
from festoon.shaping.tucks import flat_size, to_finished, to_flat
from festoon.techniques.tuck_words import Tucks
from festoon.techniques.tucks import BEGINNINGS, STRIP, TECHNIQUE, needs, work

from .toy import setting

HERE = setting(size=(400.0, 300.0))


def tucks(**words) -> Tucks:
    return Tucks(kind="tucks", name="front", **words)


def made(place=HERE, **words):
    return work(tucks(**words), place)


def at(done, role, axis=0):
    """Where the lines of a role lie, across tucks that run down (0) or across (1)."""
    return sorted(float(line.points[0, axis]) for line in done.lines if line.role == role and len(line.points) == 2)


def marks(template, axis=0):
    """(place, role) of every line of a template that runs as the tucks do."""
    lines = [line for line in template.lines if len(line.points) == 2 and np.ptp(line.points[:, axis]) == 0]
    return sorted((round(float(line.points[0, axis]), 6), line.role) for line in lines)


def ends(path):
    return [path.start.tolist(), path.end.tolist()]


SORTS = st.sampled_from(["pin", "spaced", "wide", "blind", "graduated", "twin needle"])
RUNS = st.sampled_from(["down", "across"])


def test_five_tucks_on_the_panel_and_on_the_flat_cloth() -> None:
    # computed: stitch a + i(3t + g), fold + t, stitch + 2t, with t 6, g 9, a 40; finished pitch 15
    done = made(count=5, depth=6, gap=9, first=40)
    assert at(done, "stitching") == [40, 55, 70, 85, 100]
    assert at(done, "fold") == [46, 61, 76, 91, 106]
    assert [(t.across, t.at, t.by) for t in done.taken] == [("x", a, 12) for a in (40, 55, 70, 85, 100)]
    assert flat_size((400, 300), done.taken) == (460, 300)
    (template,) = done.templates
    flat = [40, 46, 52, 67, 73, 79, 94, 100, 106, 121, 127, 133, 148, 154, 160]
    assert marks(template) == [(f - 40, r) for f, r in zip(flat, ["stitching", "fold", "stitching"] * 5, strict=True)]
    assert "Set the first line 40 mm from the left edge." in template.told[1]
    assert "120 mm from the first line to the last" in template.told[0]


@given(SORTS, RUNS, st.integers(1, 12), st.booleans(), st.floats(15, 60))
def test_finished_and_taken_up_is_the_cloth_and_lines_lie_where_it_goes(sort, run, count, mirrored, first) -> None:
    # published: a dressmaking course: cut = finished + taken up
    done = made(sort=sort, run=run, count=count, mirrored=mirrored, first=first)
    axis = 0 if run == "down" else 1
    finished = 400.0, 300.0
    flat = flat_size(finished, done.taken)
    assert flat[axis] == pytest.approx(finished[axis] + sum(t.by for t in done.taken))
    assert flat[1 - axis] == finished[1 - axis]
    if sort != "twin needle":
        covered = sum(area.region.area for area in done.areas) / finished[1 - axis]
        assert sum(t.by for t in done.taken) == pytest.approx(2 * covered)
    seams = sorted(at(done, "stitching", axis))
    points = np.zeros((len(seams), 2))
    points[:, axis] = seams
    assert to_finished(to_flat(points, done.taken), done.taken) == pytest.approx(points, abs=1e-9)
    for template in done.templates:
        role = "placement" if sort == "twin needle" else "stitching"
        inside = np.array([place for place, drawn in marks(template, axis) if drawn == role])
        begin = float(template.told[1].split(" mm")[0].rsplit(" ", 1)[1])
        line = np.zeros((len(inside), 2))
        line[:, axis] = inside + begin + sum(t.by for t in done.taken if t.at < begin - 1)
        back = to_finished(line, done.taken)[:, axis]
        assert abs(back[:, None] - seams).min(axis=1).max() < 0.06, "the place is told in tenths"
        assert back[0] == pytest.approx(begin - (0.7 if sort == "twin needle" else 0.0), abs=0.06)


@given(SORTS, RUNS, st.integers(1, 10), st.floats(15, 60))
def test_mirrored_groups_are_symmetric(sort, run, count, first) -> None:
    done = made(sort=sort, run=run, count=count, mirrored=True, first=first)
    axis, middle = (0, 200) if run == "down" else (1, 150)
    for role in ("stitching", "fold"):
        lines = np.array(at(done, role, axis))
        assert np.sort(2 * middle - lines) == pytest.approx(lines)
    whole = shapely.union_all([a.region for a in done.areas])
    image = shapely.transform(whole, lambda p: np.where(np.arange(2) == axis, 2 * middle - p, p))
    assert whole.symmetric_difference(image).area == pytest.approx(0, abs=1e-6)
    assert len(done.templates) == 2
    first_marks, second_marks = (np.array([m for m, _ in marks(t, axis)]) for t in done.templates)
    assert np.sort(second_marks[-1] - second_marks) == pytest.approx(first_marks, abs=1e-5)


def test_mirrored_groups_are_pressed_away_from_each_other() -> None:
    done = made(count=3, mirrored=True, about="M 150 0 V 300", first=20)
    arrows = [line.points for line in done.lines if len(line.points) == 5]
    ways = {float(np.sign(p[1, 0] - p[0, 0])): float(np.mean(p[:2, 0])) for p in arrows}
    assert ways[1.0] > 150 > ways[-1.0]
    left, right = done.templates
    assert (left.title, right.title) == ("Marking front, left group", "Marking front, right group")
    for template, way in ((left, -1), (right, 1)):
        (arrow,) = (line for line in template.lines if line.label == "press")
        assert np.sign(arrow.points[1, 0] - arrow.points[0, 0]) == way


def test_released_tucks_have_their_ends_marked() -> None:
    done = made(count=3, first=50, begin=30, sewn=100)
    seams = [line.points for line in done.lines if line.role == "stitching"]
    assert all(p[:, 1].tolist() == [30, 130] for p in seams)
    ticks = [line.points for line in done.lines if line.role == "placement" and len(line.points) == 2]
    assert sorted({float(p[0, 1]) for p in ticks}) == [30, 130]
    assert len(ticks) == 6
    (template,) = done.templates
    sewn = [line.points for line in template.lines if line.role in ("stitching", "fold")]
    assert all(p[:, 1].tolist() == [0, 100] for p in sewn)
    ends = [p.points for p in template.lines if len(p.points) == 2 and np.ptp(p.points[:, 1]) == 0]
    assert {float(p[0, 1]) for p in ends} == {100.0}
    assert template.told[2] == (
        "Draw the lines on with a ruler for 100 mm from 30 mm inside the edge, where the tucks are released."
    )
    assert all(area.region.bounds[1::2] == (30, 130) for area in done.areas)


def test_tucks_across_make_the_panel_shorter() -> None:
    done = made(run="across", count=2, depth=10, gap=5, first=100)
    assert at(done, "stitching", 1) == [100, 115]
    assert at(done, "fold", 1) == [110, 125]
    assert {t.across for t in done.taken} == {"y"}
    assert flat_size((400, 300), done.taken) == (400, 340)
    (template,) = done.templates
    assert marks(template, 1) == [
        (0, "stitching"), (10, "fold"), (20, "stitching"), (35, "stitching"), (45, "fold"), (55, "stitching")
    ]  # fmt: skip
    assert max(float(np.ptp(line.points[:, 0])) for line in template.lines) == STRIP


def test_twin_needle_rows_lie_needles_and_gap_apart_on_the_flat_cloth() -> None:
    # computed: 20 x 0.7 x 2.0 = 28 mm
    done = made(sort="twin needle", count=20, gap=4, middle=200)
    assert sum(t.by for t in done.taken) == pytest.approx(28)
    (template,) = done.templates
    assert [role for _, role in marks(template)] == ["placement"] * 20
    assert np.diff([place for place, _ in marks(template)]) == pytest.approx([6.0] * 19)
    assert np.mean(at(done, "stitching")) == pytest.approx(200)
    none_left = made(sort="twin needle", count=3, take_up=1)
    assert none_left.areas == ()
    assert none_left.lines


def test_lines_for_others_to_follow() -> None:
    done = made(count=3, first=50, gap=9)
    assert set(done.named) == {"first", "last"}
    assert ends(done.named["first"]) == [[50, 0], [50, 300]]
    assert ends(done.named["last"]) == [[80, 0], [80, 300]]
    both = made(count=3, mirrored=True, first=20, run="across")
    assert set(both.named) == {"first", "last", "mirrored first", "mirrored last"}
    assert ends(both.named["mirrored first"]) == [[0, 130], [400, 130]]


def test_handles_are_the_words_that_are_there() -> None:
    done = made(first=50, depth=5, sewn=80, press="left")
    assert {h.field: h.along for h in done.handles} == {"first": (1, 0), "depth": (-1, 0), "sewn": (0, 1)}
    across = made(middle=50, run="across")
    assert {h.field: h.along for h in across.handles} == {"middle": (0, 1)}
    assert made().handles == ()


@given(st.sampled_from(["first", "middle", "depth", "sewn"]), st.floats(-5, 5), RUNS, st.booleans())
def test_a_handle_follows_the_hand(word, by, run, mirrored) -> None:
    place = "middle" if word == "middle" else "first"
    words = {"count": 3, "depth": 8.0, "sewn": 90.0, "run": run, "mirrored": mirrored, place: 70.0, "gap": 9}
    before, after = made(**words), made(**{**words, word: words[word] + by})
    one, other = (next(h for h in done.handles if h.field == word) for done in (before, after))
    assert np.dot(np.subtract(other.at, one.at), one.along) == pytest.approx(by, abs=0.002)


def test_it_needs_the_element_whose_line_it_is_mirrored_in() -> None:
    assert needs(tucks(mirrored=True, about="band/upper")) == ("band",)
    assert needs(tucks(mirrored=True, about="centre front")) == ()
    assert needs(tucks()) == ()


def test_a_line_that_leans_cannot_mirror_them() -> None:
    with pytest.raises(PieceError, match="does not run straight down"):
        made(mirrored=True, about="M 150 0 L 155 300")


def test_stitching_beyond_the_panel_is_drawn_as_far_as_it_goes() -> None:
    done = made(count=2, begin=400)
    assert done.areas == ()
    assert done.named == {}
    assert [f.rule for f in done.findings] == ["tucks longer than the panel"]


@pytest.mark.parametrize("begins", BEGINNINGS, ids=lambda b: b.told)
def test_every_beginning_is_sound_on_a_common_panel_and_in_the_drawer(begins) -> None:
    sample = setting(size=(80.0, 40.0))
    one = TECHNIQUE.model.model_validate({"kind": "tucks", "name": "it", **begins.example})
    assert work(one, sample).findings == ()
    other = TECHNIQUE.model.model_validate({"kind": "tucks", "name": "it", **begins.words})
    assert work(other, HERE).findings == ()
    assert other.model_dump(exclude_unset=True).items() >= dict(begins.words).items()


PIECE = """
[piece]
name = "Yoke"
[[panel]]
name = "yoke"
size = [200, 150]
[[element]]
kind = "tucks"
name = "ridges"
sort = "twin needle"
count = 10
"""
BENCH = "[[hoop]]\nfield = [100, 100]\n"


def test_what_was_measured_on_the_swatch_comes_to_the_tucks(tmp_path) -> None:
    (tmp_path / "piece.toml").write_text(PIECE)
    (tmp_path / "bench.toml").write_text(BENCH)
    kept = Kept()
    (before,) = lay_out(read_piece(tmp_path), kept=kept).works
    assert sum(t.by for t in before.taken) == pytest.approx(14)
    (tmp_path / "bench.toml").write_text(f"{BENCH}[measured]\ntwin_take_up = 0.55\n")
    (after,) = lay_out(read_piece(tmp_path), kept=kept).works
    assert sum(t.by for t in after.taken) == pytest.approx(11)
    assert "measured" in {f.reckoned for f in after.figures}


def test_the_block_is_what_is_tucked() -> None:
    wide = replace(HERE, block=(500.0, 320.0))
    done = made(wide, count=1)
    assert at(done, "stitching") == [250]
    assert done.areas[0].region.bounds == (250, 0, 256, 320)
