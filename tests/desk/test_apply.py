"""Edits change what they name and leave every other byte."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter

from festoon.desk import Desk, Edit
from festoon.errors import FestoonError, PieceError

EDIT: TypeAdapter[Any] = TypeAdapter(Edit)


def change(home: Path, *edits: dict[str, Any]) -> str:
    desk = Desk(home)
    desk.change([EDIT.validate_python(e) for e in edits], desk.revision)
    return text(home)


def text(home: Path) -> str:
    return (home / "piece.toml").read_bytes().decode()


def elements(home: Path) -> list[dict[str, Any]]:
    return tomllib.loads(text(home))["element"]


def test_a_move_to_37_is_found_as_37_0_and_nothing_else_is_touched(home: Path) -> None:
    before = text(home)
    after = change(home, {"do": "set", "element": "sprig", "word": "at", "value": [37.0, 200]})
    assert after == before.replace("at = [200, 200] ", "at = [37.0, 200] ")
    assert "at = [37.0, 200]                   # the middle of the ring" in after


def test_a_word_with_its_unit_and_a_dotted_word(home: Path) -> None:
    after = change(
        home,
        {"do": "set", "element": "sprig", "word": "ring.radius", "value": "4 1/2 in"},
        {"do": "set", "element": "sprig", "word": "turn", "value": 15},
        {"do": "set", "element": "stem", "word": "bow", "value": None},
    )
    assert 'ring = { count = 8, radius = "4 1/2 in" }\nturn = 15\n' in after
    assert "bow" not in after
    assert 'closed = true                     # and from the last back to the first\nstitch = "satin"' in after


def test_a_dotted_word_begins_its_table_and_null_takes_the_table_out(home: Path) -> None:
    change(home, {"do": "set", "element": "sprig", "word": "ring", "value": None})
    assert "ring" not in elements(home)[1]
    change(home, {"do": "set", "element": "sprig", "word": "row", "value": {"count": 3, "spacing": 40}})
    change(home, {"do": "set", "element": "sprig", "word": "row.direction", "value": 90})
    change(home, {"do": "set", "element": "sprig", "word": "row.direction", "value": None})
    assert elements(home)[1]["row"] == {"count": 3, "spacing": 40}


def test_a_dotted_word_counts_the_places_of_a_list(home: Path) -> None:
    stem = {"do": "set", "element": "stem"}
    ends = [{**stem, "word": word, "value": value} for word, value in (("from", "sprig-1"), ("to", "sprig-2"))]
    gone = [{**stem, "word": word, "value": None} for word in ("through", "closed", "bow")]
    change(home, *ends, *gone, {**stem, "word": "via", "value": [[200, "8 cm"], [240, 90]]})
    change(home, {**stem, "word": "via.1", "value": [241.5, 90]})
    assert elements(home)[0]["via"] == [[200, "8 cm"], [241.5, 90]]
    with pytest.raises(FestoonError, match='there is no "2" in a list of 2'):
        change(home, {**stem, "word": "via.2", "value": [1, 2]})


def test_windows_line_ends_and_a_missing_last_line_end_stay(home: Path) -> None:
    whole = text(home).rstrip().replace("\n", "\r\n")
    (home / "piece.toml").write_bytes(("\ufeff" + whole).encode())
    after = change(home, {"do": "set", "element": "sprig", "word": "turn", "value": 5})
    assert after == "\ufeff" + whole + "\r\nturn = 5\r\n"


def test_renaming_changes_the_joins_that_name_the_element_or_its_repeats(home: Path) -> None:
    extra = '\n[[element]]\nkind = "join"\nname = "twig"\nfrom = "sprig-2"  # the right one\nto = "sprig-4"\n'
    (home / "piece.toml").write_text(text(home) + extra + 'thread = "leaf"\n')
    change(home, {"do": "set", "element": "sprig", "word": "name", "value": "leaf"})
    stem, leaf, twig = elements(home)
    assert (stem["through"], leaf["name"], twig["from"], twig["to"]) == ("leaf", "leaf", "leaf-2", "leaf-4")
    assert 'from = "leaf-2"  # the right one' in text(home)
    change(home, {"do": "set", "element": "leaf", "word": "name", "value": "frond"})
    assert [e.get("thread") for e in elements(home)] == ["leaf", None, "leaf"]


def test_renaming_changes_the_lines_and_places_that_others_have_of_it(home: Path) -> None:
    edge = {"kind": "scalloped edge", "name": "edge", "along": "M 40 330 H 360", "repeat": 80}
    row = {"kind": "motif", "name": "row", "file": "motifs/sprig.vp3", "along": {"line": "edge/lower", "spacing": 90}}
    each = {"kind": "motif", "name": "each", "file": "motifs/sprig.vp3", "on": "edge"}
    line = {"kind": "join", "name": "line", "path": "edge/lower", "stitch": "running"}
    change(home, *({"do": "add", "element": one} for one in (edge, row, each, line)))
    change(home, {"do": "set", "element": "edge", "word": "name", "value": "hem scallops"})
    *_, row, each, line = elements(home)
    assert row["along"] == {"line": "hem scallops/lower", "spacing": 90}
    assert (each["on"], line["path"]) == ("hem scallops", "hem scallops/lower")


def test_a_panel_renamed_takes_its_elements_along(home: Path) -> None:
    change(home, {"do": "set", "element": "sprig", "word": "panel", "value": "front"})
    change(home, {"do": "panel", "panel": "front", "word": "name", "value": "back"})
    assert elements(home)[1]["panel"] == "back"


def test_copy_lays_one_beside_it_under_a_free_name(home: Path) -> None:
    change(home, {"do": "copy", "element": "sprig", "by": [37.0, 0]}, {"do": "copy", "element": "sprig copy"})
    names = [e["name"] for e in elements(home)]
    assert names == ["stem", "sprig", "sprig copy", "sprig copy 2"]
    assert elements(home)[2]["at"] == [237.0, 200]


def test_a_copy_of_one_in_the_middle_starts_from_the_middle(home: Path) -> None:
    change(home, {"do": "set", "element": "sprig", "word": "at", "value": None})
    change(home, {"do": "copy", "element": "sprig", "name": "b", "by": [1.5, -2]})
    assert elements(home)[2]["at"] == [201.5, 198.0]


def test_add_order_and_remove(home: Path) -> None:
    new = {"kind": "motif", "name": "bud", "file": "motifs/sprig.vp3", "at": ["3 in", 50], "pair": {"apart": 40}}
    after = change(home, {"do": "add", "element": new}, {"do": "order", "element": "bud", "to": 0})
    assert [e["name"] for e in elements(home)] == ["bud", "stem", "sprig"]
    assert elements(home)[0] == new
    assert "# The wreath's stems come first" in after
    change(home, {"do": "add", "element": {**new, "name": "tip"}, "before": "sprig"})
    assert [e["name"] for e in elements(home)] == ["bud", "stem", "tip", "sprig"]
    change(home, {"do": "remove", "element": "bud"}, {"do": "order", "element": "stem", "to": 99})
    assert [e["name"] for e in elements(home)] == ["tip", "sprig", "stem"]


def test_piece_hooping_and_bench(home: Path) -> None:
    change(
        home,
        {"do": "piece", "table": "piece", "word": "units", "value": "inch"},
        {"do": "piece", "table": "hooping", "word": "overlap", "value": "3 mm"},
        {"do": "bench", "path": "machine.format", "value": "dst"},
        {"do": "bench", "path": "hoop.0.field", "value": [130, "18 cm"]},
        {"do": "bench", "path": "hoop.1", "value": {"name": "small", "field": [100, 100]}},
        {"do": "bench", "path": "measured.marking", "value": 0.4},
    )
    piece = Desk(home).piece()
    assert (piece.file.piece.units, piece.file.hooping.overlap, piece.bench.machine.format) == ("inch", 3.0, "dst")
    assert [h.field for h in piece.bench.hoop] == [(130, 180), (100, 100)]
    assert piece.bench.measured.marking == 0.4
    change(home, {"do": "bench", "path": "hoop.1", "value": None})
    assert len(Desk(home).piece().bench.hoop) == 1


@pytest.mark.parametrize(
    "edit",
    [
        {"do": "set", "element": "sprog", "word": "turn", "value": 1},
        {"do": "set", "element": "sprig", "word": "trun", "value": 1},
        {"do": "set", "element": "sprig", "word": "at", "value": "here"},
        {"do": "set", "element": "sprig", "word": "at", "value": [None, 1]},
        {"do": "set", "element": "sprig", "word": "at.x", "value": 1},
        {"do": "set", "element": "sprig", "word": "", "value": 1},
        {"do": "set", "element": "sprig", "word": "name", "value": "stem"},
        {"do": "set", "element": "sprig", "word": "kind", "value": None},
        {"do": "add", "element": {}},
        {"do": "add", "element": {"kind": "motif", "name": "b", "file": "../x.vp3"}},
        {"do": "copy", "element": "sprig", "name": "stem"},
        {"do": "remove", "element": ""},
        {"do": "panel", "panel": "front", "word": "size", "value": [0, 1]},
        {"do": "free", "element": "sprog"},
        {"do": "add panel", "panel": {}},
        {"do": "add panel", "panel": {"name": "front", "size": [10, 10]}},
        {"do": "remove panel", "panel": "front"},
        {"do": "remove panel", "panel": "back"},
        {"do": "piece", "table": "hooping", "word": "hoop", "value": "none"},
        {"do": "bench", "path": "hoop.7.field", "value": [1, 1]},
        {"do": "bench", "path": "hoop.0.field", "value": None},
        {"do": "bench", "path": "machine", "value": 3},
        {"do": "bench", "path": "...", "value": 3},
    ],
)
def test_what_cannot_be_is_refused_and_nothing_changes(home: Path, edit: dict[str, Any]) -> None:
    before = {p: p.read_bytes() for p in home.rglob("*.toml")}
    good = {"do": "set", "element": "sprig", "word": "turn", "value": 77}
    with pytest.raises(FestoonError, match=r"."):
        change(home, good, edit)
    assert {p: p.read_bytes() for p in home.rglob("*.toml")} == before
    assert Desk(home).undo_label is None


def test_elements_in_one_list_are_told_not_spoilt(home: Path) -> None:
    (home / "piece.toml").write_text(
        'element = [{ kind = "motif", name = "a", file = "motifs/sprig.vp3" }]\n[piece]\nname = "x"\n'
        '[[panel]]\nname = "front"\nsize = [400, 400]\n'
    )
    with pytest.raises(PieceError):
        change(home, {"do": "set", "element": "a", "word": "turn", "value": 1})


INLINE = """piece = { name = "Runner" }  # all in one line

[[panel]]
name = "cloth"
size = ["60 cm", "30 cm"]
"""


def test_a_table_in_one_line_is_changed_in_its_line(home: Path) -> None:
    (home / "piece.toml").write_text(INLINE, "utf-8")
    after = change(home, {"do": "piece", "table": "piece", "word": "units", "value": "inch"})
    assert tomllib.loads(after)["piece"] == {"name": "Runner", "units": "inch"}
    assert after.partition("}")[2] == INLINE.partition("}")[2]
    back = change(home, {"do": "piece", "table": "piece", "word": "units", "value": None})
    assert tomllib.loads(back) == tomllib.loads(INLINE)


def test_hoopings_of_her_own_go_into_a_table_in_one_line(home: Path) -> None:
    (home / "piece.toml").write_text("hooping = { overlap = 3 }\n" + INLINE, "utf-8")
    laid = [{"at": [100, 100]}, {"at": [300, 100], "turn": 90}]
    after = change(home, {"do": "piece", "table": "hooping", "word": "laid", "value": laid})
    assert tomllib.loads(after)["hooping"] == {"overlap": 3, "laid": laid}
    change(home, {"do": "piece", "table": "hooping", "word": "laid", "value": laid[:1]})
    assert tomllib.loads(text(home))["hooping"]["laid"] == laid[:1]
