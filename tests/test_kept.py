"""A piece laid out with what is kept of earlier layings is, to the last bit, the piece laid out anew."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from festoon import techniques
from festoon.errors import FestoonError
from festoon.kept import LAYINGS, MOST_FILES, Kept
from festoon.layout import Layout, lay_out
from festoon.piece import BenchThread
from festoon.plane import Pose
from festoon.stitches import Thread, encode, from_points

from .hooping.pieces import BLUE, RED, motif, patch, piece

JOIN = {"kind": "join", "name": "stem", "from": "a", "to": "b", "stitch": "running"}
FOUR = (JOIN, motif("a", "20x20", (100, 200)), motif("b", "20x20", (200, 200)), motif("c", "20x20", (300, 100)))


def told(layout: Layout) -> str:
    """All of a layout."""
    return repr(
        [
            (
                [
                    (p.name, p.element, p.panel, p.pose, p.region.wkb, [(k, area.wkb) for k, area in p.outlines])
                    for p in work.parts
                ],
                [
                    (s.points.tobytes(), s.acts.tobytes(), s.thread.tobytes(), s.threads)
                    for s in (p.stitching for p in work.parts)
                ],
                [(line.role, line.points.tobytes(), line.closed, line.label) for line in work.lines],
                (work.element, work.panel, work.handles, work.supplies, work.steps, work.cautions),
                (work.findings, work.sentences),
            )
            for work in layout.works
        ]
    )


def outcome(*arguments) -> str:
    """What laying out comes to, or the sentence with which it is refused."""
    try:
        return told(lay_out(*arguments))
    except FestoonError as error:
        return str(error)


class Worked:
    """Counts what is worked out, by element."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.names: list[str] = []
        for kind, technique in techniques.TECHNIQUES.items():
            monkeypatch.setitem(techniques.TECHNIQUES, kind, replace(technique, work=self._noting(technique.work)))

    def _noting(self, work):
        def noting(element, setting):
            self.names.append(element.name)
            return work(element, setting)

        return noting

    def since(self) -> list[str]:
        """Their names since this was last asked."""
        names, self.names = sorted(self.names), []
        return names


@pytest.fixture
def worked(monkeypatch: pytest.MonkeyPatch) -> Worked:
    return Worked(monkeypatch)


def test_only_what_changed_is_worked_out_again_and_what_leans_on_it(worked: Worked) -> None:
    kept = Kept()
    lay_out(piece(*FOUR), patch, kept)
    assert worked.since() == ["a", "b", "c", "stem"]
    lay_out(piece(*FOUR), patch, kept)
    assert worked.since() == []
    lay_out(piece(*FOUR[:3], motif("c", "20x20", (300, 101))), patch, kept)
    assert worked.since() == ["c"]
    lay_out(piece(*FOUR[:2], motif("b", "20x20", (201, 200)), FOUR[3]), patch, kept)
    assert worked.since() == ["b", "stem"]
    lay_out(piece(*FOUR[:3], motif("c", "20x20", (300, 101))), patch, kept)
    assert worked.since() == [], "what stood before the last change is there at once when it is undone"


def test_a_stitch_file_that_changed_is_read_again(worked: Worked) -> None:
    kept, moved = Kept(), patch("20x20").placed(Pose(1.0, 0.0))
    lay_out(piece(*FOUR), patch, kept)
    worked.since()
    again = lay_out(piece(*FOUR), lambda file: moved, kept)
    assert worked.since() == ["a", "b", "c", "stem"]
    assert told(again) == told(lay_out(piece(*FOUR), lambda file: moved))


def test_threads_and_lines_count_and_the_name_of_the_piece_does_not(worked: Worked) -> None:
    kept, before = Kept(), piece(*FOUR)
    lay_out(before, patch, kept)
    worked.since()
    named = before.file.model_copy(update={"piece": before.file.piece.model_copy(update={"name": "another"})})
    lay_out(replace(before, file=named), patch, kept)
    assert worked.since() == []
    heavy = before.bench.model_copy(update={"thread": (BenchThread(name="red", colour=RED.colour, weight="tex 30"),)})
    lay_out(replace(before, bench=heavy), patch, kept)
    assert worked.since() == ["a", "b", "c", "stem"]
    lay_out(piece(*FOUR, lines={"hem": "M 20 100 H 180"}), patch, kept)
    assert worked.since() == ["a", "b", "c", "stem"]


def test_what_is_refused_is_refused_again_in_the_same_words() -> None:
    kept, wrong = Kept(), (*FOUR[:3], motif("c", "20x20", (399, 100)))
    refused = [outcome(piece(*wrong), patch, kept) for _ in range(2)]
    assert "beyond the right edge" in refused[0]
    assert refused[0] == refused[1]


def test_no_more_is_kept_than_a_few_layings() -> None:
    kept = Kept()
    for x in range(40):
        lay_out(piece(*FOUR[:3], motif("c", "20x20", (200 + x, 100))), patch, kept)
    assert len(kept._works) == LAYINGS * len(FOUR)
    lay_out(piece(FOUR[1]), patch, kept)
    assert len(kept._works) == LAYINGS


def test_stitch_files_are_decoded_once_and_few_are_kept() -> None:
    kept = Kept()
    files = [encode(from_points([[0, 0], [k + 1.0, 2.0]], Thread()), "dst") for k in range(MOST_FILES + 4)]
    first = kept.decoded(files[0], ".dst")
    assert kept.decoded(bytes(files[0]), ".dst") is first
    for data in files[1:]:
        kept.decoded(data, ".dst")
    assert kept.decoded(files[0], ".dst") is not first
    assert len(kept._files) == MOST_FILES


SHAPES = {name: patch(size) for name, size in (("one", "20x20"), ("two", "20x14"), ("three", "20x20-blue"))}

changes = st.lists(
    st.one_of(
        st.tuples(st.just("move"), st.sampled_from("abc"), st.floats(20, 380), st.floats(20, 380)),
        st.tuples(st.just("mirror"), st.sampled_from("abc")),
        st.tuples(st.just("file"), st.sampled_from("abc"), st.sampled_from(sorted(SHAPES))),
        st.tuples(st.just("disk"), st.sampled_from(sorted(SHAPES)), st.sampled_from(sorted(SHAPES))),
        st.tuples(st.just("bow"), st.floats(-30, 30)),
        st.tuples(st.just("thread"), st.sampled_from(["red", "blue", "green"])),
        st.tuples(st.just("weight"), st.sampled_from(["tex 20", "tex 27", "tex 40"])),
        st.tuples(st.just("leave"), st.sampled_from("abc")),
        st.tuples(st.just("turn round")),
        st.tuples(st.just("panel"), st.floats(300, 500)),
    ),
    max_size=8,
)


class Table:
    """A piece that is changed, and the stitch files beside it."""

    def __init__(self) -> None:
        self.elements = {e["name"]: {**e, "file": "one"} if e["kind"] == "motif" else dict(e) for e in FOUR}
        self.disk = dict(SHAPES)
        self.weight, self.size = "tex 27", 400.0

    def change(self, what, *how) -> None:
        if what == "move" and how[0] in self.elements:
            self.elements[how[0]]["at"] = how[1:]
        elif what == "mirror" and how[0] in self.elements:
            self.elements[how[0]]["mirror"] = not self.elements[how[0]].get("mirror", False)
        elif what == "file" and how[0] in self.elements:
            self.elements[how[0]]["file"] = how[1]
        elif what == "disk":
            self.disk[how[0]] = SHAPES[how[1]]
        elif what in ("bow", "thread"):
            self.elements["stem"][what] = how[0]
        elif what == "weight":
            self.weight = how[0]
        elif what == "leave":
            self.elements.pop(how[0], None)
        elif what == "turn round":
            self.elements = dict(reversed(self.elements.items()))
        elif what == "panel":
            self.size = how[0]

    def piece(self):
        made = piece(*self.elements.values(), panels=((self.size, 400.0),))
        threads = tuple(
            BenchThread(name=n, colour=t.colour, weight=self.weight) for n, t in (("red", RED), ("blue", BLUE))
        )
        return replace(made, bench=made.bench.model_copy(update={"thread": threads}))


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(changes)
def test_whatever_is_changed_the_outcome_is_that_of_laying_it_out_anew(course) -> None:
    table, kept = Table(), Kept()
    for change in [None, *course]:
        if change:
            table.change(*change)
        assert outcome(table.piece(), table.disk.__getitem__, kept) == outcome(table.piece(), table.disk.__getitem__)
