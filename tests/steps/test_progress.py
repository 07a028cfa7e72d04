"""Ticks: kept, followed when hoopings are numbered anew, and not believed where the stitching is another."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import PieceError
from festoon.hooping import Division, Mark
from festoon.piece import Bench
from festoon.plane.pose import Pose
from festoon.steps import Progress, Step, progress_bytes, read_progress, revision_of, standing, steps_of, ticked
from festoon.steps.progress import place_name, stitches_name
from festoon.supplies.minutes import minutes
from tests.sheets.toy import HOOP, STEM, cushion

_, DIVISION = cushion(4)
NOW, LATER = "2026-11-25T16:00:00+00:00", "2026-11-25T16:05:00+00:00"
BEFORE_SEWING = ("care", "mark", "hoop", "thread", "check")


def steps(division: Division = DIVISION) -> dict[int, tuple[Step, ...]]:
    bench = Bench(hoop=(HOOP,))
    each = minutes([(h.number, h.stitching) for h in division.hoopings], bench.machine)
    return steps_of(division, each, bench, "mm", {h.number: "file" for h in division.hoopings})


def tick(
    progress: Progress, number: int, *names: str, done: bool = True, at: str = NOW, division: Division = DIVISION
) -> Progress:
    return ticked(progress, division, steps(division), number, names, done, at)


def stand(progress: Progress, division: Division = DIVISION):  # type: ignore[no-untyped-def]
    return standing(progress, division, steps(division))


def other_stitches(number: int, division: Division = DIVISION) -> Division:
    """The same, but that a hooping sews its stitching 3 mm further right."""
    moved = [
        replace(h, stitching=h.stitching.placed(Pose(3.0, 0.0))) if h.number == number else h for h in division.hoopings
    ]
    return replace(division, hoopings=tuple(moved))


def other_place(number: int) -> Division:
    hoopings = [replace(h, field=h.field.after(Pose(0, 0, 2))) if h.number == number else h for h in DIVISION.hoopings]
    return replace(DIVISION, hoopings=tuple(hoopings))


def everything(number: int) -> list[str]:
    return [s.name for s in steps()[number]]


def test_nothing_is_done_at_first() -> None:
    found = stand(Progress())
    assert found.hooping == 1
    assert found.done == {n: {} for n in (1, 2, 3, 4)}
    assert (found.told, found.lost) == ({}, ())


def test_a_tick_stays_with_its_time_and_may_be_taken_back() -> None:
    once = tick(Progress(), 2, "care", "mark")
    twice = tick(once, 2, "mark", "hoop", at=LATER)
    assert stand(twice).done[2] == {"care": NOW, "mark": NOW, "hoop": LATER}
    assert stand(tick(twice, 2, "hoop", "mark", done=False)).done[2] == {"care": NOW}


def test_the_work_is_where_the_last_tick_was_and_goes_on_when_all_is_done() -> None:
    progress = tick(Progress(), 2, *BEFORE_SEWING)
    assert progress.hooping == 2
    progress = tick(progress, 2, *everything(2))
    assert progress.hooping == 3
    progress = tick(tick(progress, 3, *everything(3)), 4, *everything(4))
    assert progress.hooping == 1  # the one that was left out
    assert tick(progress, 1, *everything(1)).hooping == 1  # nothing is left


def test_other_stitches_under_the_number_do_not_count_and_are_told() -> None:
    progress = tick(Progress(), 2, *BEFORE_SEWING, "sew-1")
    found = stand(progress, other_stitches(2))
    assert found.done[2] == {}
    assert found.told == {
        2: f"Steps of hooping 2 were ticked, last “Sew with {STEM.name}”, when it sewed other stitches: the piece was "
        "changed since. Those ticks do not count, and what is on the cloth already may not be what is drawn here."
    }
    assert stand(progress).done[2]  # undone, the change takes the sentence with it
    assert stand(progress).told == {}


def test_new_ticks_on_the_new_stitches_silence_it() -> None:
    changed = other_stitches(2)
    progress = tick(tick(Progress(), 2, "care"), 2, "mark", at=LATER, division=changed)
    assert stand(progress, changed).done[2] == {"mark": LATER}
    assert stand(progress, changed).told == {}
    assert stand(progress).done[2] == {"care": NOW}


def test_ticks_follow_the_stitches_to_a_new_number() -> None:
    progress = tick(Progress(), 2, "care", "mark")
    one, two, *rest = DIVISION.hoopings
    swapped = replace(DIVISION, hoopings=(replace(two, number=1, after=()), replace(one, number=2), *rest))
    found = stand(progress, swapped)
    assert found.done[1] == {"care": NOW, "mark": NOW}
    assert found.done[2] == {}
    assert found.told == {
        1: "This was hooping 2 when its steps were ticked; it sews the same stitches, and is now hooping 1."
    }


def test_a_hooping_that_is_there_no_more_is_told() -> None:
    progress = tick(Progress(), 4, "care")
    fewer = replace(DIVISION, hoopings=DIVISION.hoopings[:3])
    found = stand(progress, fewer)
    assert found.hooping == 3
    assert [s[:63] for s in found.lost] == ["Steps of hooping 4 were ticked, last “Take care”, when it sewed"]


def test_a_hoop_that_lies_elsewhere_must_be_hooped_anew_but_what_is_sewn_is_sewn() -> None:
    progress = tick(Progress(), 2, *BEFORE_SEWING, "sew-1")
    found = stand(progress, other_place(2))
    assert {*found.done[2]} == {"care", "thread", "sew-1"}
    assert found.told[2].startswith("Since steps of hooping 2 were ticked, its crosses or the place of its hoop")
    again = tick(progress, 2, "mark", at=LATER, division=other_place(2))
    assert {*stand(again, other_place(2)).done[2]} == {"care", "thread", "sew-1", "mark"}
    assert stand(again, other_place(2)).told == {}


def test_where_all_is_sewn_another_place_of_the_hoop_matters_no_more() -> None:
    sewn = [s for s in everything(2) if s != "out"]
    found = stand(tick(Progress(), 2, *sewn), other_place(2))
    assert {*found.done[2]} == {*sewn}
    assert found.told == {}


def test_names_tell_stitches_and_places_apart() -> None:
    h = DIVISION.hoopings[0]
    assert stitches_name(h) == stitches_name(replace(h, field=Pose(1, 2, 3), marks=(), number=7))
    assert stitches_name(h) != stitches_name(replace(h, panel="back"))
    assert stitches_name(h) != stitches_name(replace(h, stitching=h.stitching.part(0, len(h.stitching) - 1)))
    assert place_name(h) != place_name(replace(h, marks=(Mark("A", (1.0, 2.0)), *h.marks[1:])))
    assert place_name(h) == place_name(replace(h, marks=h.marks[::-1]))


@given(st.lists(st.tuples(st.integers(1, 4), st.sets(st.sampled_from(BEFORE_SEWING)), st.booleans()), max_size=6))
def test_what_is_written_is_read_again_and_only_what_is_ticked_has_a_share_in_its_name(
    tmp_path_factory: pytest.TempPathFactory, acts: list[tuple[int, set[str], bool]]
) -> None:
    progress, done = Progress(), {n: set() for n in (1, 2, 3, 4)}
    for number, names, way in acts:
        progress = tick(progress, number, *names, done=way)
        done[number] = done[number] | names if way else done[number] - names
    path = tmp_path_factory.mktemp("kept") / "progress.json"
    path.write_bytes(progress_bytes(progress))
    assert read_progress(path) == progress
    assert {n: {*names} for n, names in stand(progress).done.items()} == done
    assert revision_of(progress.model_copy(update={"hooping": 3})) == revision_of(progress)
    assert revision_of(tick(progress, 1, "out")) != revision_of(progress)


def test_where_there_is_no_file_nothing_is_ticked(tmp_path: Path) -> None:
    assert read_progress(tmp_path / "progress.json") == Progress()


@pytest.mark.parametrize("text", ["", "[]", '{"hooping": 0}', '{"hoopings": [{"number": 1}]}'])
def test_a_file_that_cannot_be_understood_is_told(tmp_path: Path, text: str) -> None:
    (tmp_path / "progress.json").write_text(text, "utf-8")
    with pytest.raises(PieceError, match="the ticks in it cannot be understood"):
        read_progress(tmp_path / "progress.json")


def test_the_words_of_the_file() -> None:
    held = json.loads(progress_bytes(tick(Progress(), 2, "care")))
    h = DIVISION.hoopings[1]
    tick_ = {"step": "care", "do": "Take care", "at": NOW}
    entry = {"number": 2, "stitches": stitches_name(h), "place": place_name(h), "done": [tick_]}
    assert held == {"hooping": 2, "hoopings": [entry]}
