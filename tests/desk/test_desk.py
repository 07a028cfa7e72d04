"""Undo without limit, two desks, and changes from outside."""

import re
import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from festoon.desk import Desk, RemoveElement, SetBench, SetWord, Stale
from festoon.errors import FestoonError, PieceError


def turned(by: float) -> SetWord:
    return SetWord(element="sprig", word="turn", value=by)


def texts(home: Path) -> tuple[bytes, ...]:
    return tuple((home / name).read_bytes() for name in ("piece.toml", "bench.toml"))


STEPS = st.lists(
    st.one_of(
        st.floats(-360, 360).map(turned),
        st.integers(1, 2000).map(lambda v: SetBench(path="machine.speed", value=v)),
        st.sampled_from(["undo", "redo", "outside", "reopen"]),
    ),
    min_size=1,
    max_size=10,
)


@settings(max_examples=15)
@given(steps=STEPS)
def test_any_sequence_is_a_list_of_states_walked_to_and_fro(starter: Path, steps: list[Any]) -> None:
    """An editor's changes before the first write are the beginning; later ones count as one until the desk looks."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(shutil.copytree(starter, Path(folder) / "piece"))
        desk = Desk(home)
        line, at, unseen = [texts(home)], 0, False
        for n, step in enumerate(steps):
            if step == "reopen":
                desk = Desk(home)
            elif step == "outside":
                path = home / "piece.toml"
                path.write_bytes(path.read_bytes() + f"# by hand {n}\n".encode())
                begun = (home / ".history" / "pointer").exists()
                kept = line[:at] if unseen else line[: at + 1]
                line = [*kept, texts(home)] if begun else [texts(home)]
                at, unseen = len(line) - 1, begun
            elif step in ("undo", "redo"):
                unseen = False
                to = at - 1 if step == "undo" else at + 1
                if 0 <= to < len(line):
                    getattr(desk, step)(desk.revision)
                    at = to
                else:
                    with pytest.raises(PieceError, match=f"nothing to {step}"):
                        getattr(desk, step)(desk.revision)
            else:
                desk.change([step], desk.revision)
                if texts(home) != line[at]:
                    line, at, unseen = [*line[: at + 1], texts(home)], at + 1, False
            assert texts(home) == line[at]
            assert (desk.undo_label is not None) == (at > 0)
            assert (desk.redo_label is not None) == (at < len(line) - 1)
        desk = Desk(home)
        for state in reversed(line[:at]):
            desk.undo(desk.revision)
            assert texts(home) == state
        for state in line[1:]:
            desk.redo(desk.revision)
            assert texts(home) == state


def test_labels_say_what_was_done(home: Path) -> None:
    desk = Desk(home)
    revision = desk.change([turned(5)], desk.revision)
    assert desk.undo_label == "turning sprig"
    revision = desk.undo(revision)
    assert (desk.undo_label, desk.redo_label) == (None, "turning sprig")
    desk.change([turned(7), RemoveElement(element="stem")], revision)
    assert (desk.undo_label, desk.redo_label) == ("turning sprig and 1 more", None)


def test_what_is_dropped_from_redo_is_still_in_the_history(home: Path) -> None:
    desk = Desk(home)
    desk.undo(desk.change([turned(5)], desk.revision))
    desk.change([turned(7)], desk.revision)
    assert len(list((home / ".history").glob("*.entry"))) == 3


def test_two_desks_cannot_overwrite_each_other(home: Path) -> None:
    one, other = Desk(home), Desk(home)
    old = other.revision
    new = one.change([turned(5)], one.revision)
    before = texts(home)
    for step in (lambda: other.change([turned(9)], old), lambda: other.undo(old), lambda: other.redo(old)):
        with pytest.raises(Stale, match="turning sprig"):
            step()
    assert texts(home) == before
    assert other.revision == new
    other.change([turned(9)], new)
    assert one.piece().file.element[1].turn == 9  # type: ignore[attr-defined]


def test_a_change_from_outside_is_an_entry_of_its_own(home: Path) -> None:
    desk = Desk(home)
    desk.change([turned(5)], desk.revision)
    by_hand = texts(home)[0].replace(b"turn = 5", b"turn = 50  # by hand")
    (home / "piece.toml").write_bytes(by_hand)
    assert desk.undo_label == "changed outside"
    desk.change([turned(7)], desk.revision)
    desk.undo(desk.revision)
    assert texts(home)[0] == by_hand
    desk.undo(desk.revision)
    assert b"turn = 5\n" in texts(home)[0]
    desk.redo(desk.revision)
    assert texts(home)[0] == by_hand


def test_a_text_spoilt_outside_is_told_and_undone(home: Path) -> None:
    desk = Desk(home)
    desk.change([turned(5)], desk.revision)
    good = texts(home)
    (home / "piece.toml").write_bytes(b"[[[ \xff")
    with pytest.raises(PieceError):
        desk.change([turned(6)], desk.revision)
    desk.undo(desk.revision)
    assert texts(home) == good


def test_a_shared_bench_is_copied_before_it_is_changed_and_undo_takes_the_copy_away(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shared = home.parent / "shared.toml"
    (home / "bench.toml").rename(shared)
    monkeypatch.setattr("festoon.piece.read.shared_bench", lambda: shared)
    monkeypatch.setattr("festoon.desk.desk.shared_bench", lambda: shared)
    before, desk = shared.read_bytes(), Desk(home)
    desk.change([SetBench(path="machine.speed", value=321)], desk.revision)
    assert desk.piece().bench.machine.speed == 321
    desk.undo(desk.revision)
    assert not (home / "bench.toml").exists()
    assert shared.read_bytes() == before


def test_a_lost_or_damaged_history_begins_anew(home: Path) -> None:
    desk = Desk(home)
    desk.change([turned(5)], desk.revision)
    kept = {p: p.read_bytes() for p in (home / ".history").glob("*.entry")}
    (home / ".history" / "pointer").write_bytes(b"{")
    desk = Desk(home)
    desk.change([turned(6)], desk.revision)
    desk.undo(desk.revision)
    assert b"turn = 5\n" in texts(home)[0]
    assert {p: p.read_bytes() for p in kept} == kept


def test_a_folder_without_a_piece_is_told(tmp_path: Path) -> None:
    for folder in (tmp_path, tmp_path / "none"):
        with pytest.raises(FestoonError):
            Desk(folder)
    assert list(tmp_path.iterdir()) == []


def test_a_pattern_file_belongs_to_what_the_desk_has_read(home: Path) -> None:
    """A pattern drawn anew is seen at once, and is a change from outside like any other."""
    drawing = '<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90">{}</svg>'
    pattern = home / "yoke.svg"
    pattern.write_text(drawing.format('<path id="outline" d="M 0 0 H 50 V 40 H 0 Z"/>'), "utf-8")
    text = (home / "piece.toml").read_text("utf-8")
    (home / "piece.toml").write_text(re.sub(r"(?m)^size = .*$", 'file = "yoke.svg"', text), "utf-8")
    desk = Desk(home)
    revision = desk.revision
    assert desk.piece().panels[-1].size == (160, 150)
    pattern.write_text(drawing.format('<path id="outline" d="M 0 0 H 70 V 40 H 0 Z"/>'), "utf-8")
    assert desk.piece().panels[-1].size == (180, 150)
    with pytest.raises(Stale):
        desk.change([turned(5)], revision)
