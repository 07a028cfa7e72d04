"""An arranged element set free: the same layout to a thousandth of a millimetre, and nothing else touched."""

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pydantic import TypeAdapter

from festoon.desk import Desk, Edit
from festoon.errors import PieceError
from festoon.layout import Layout, lay_out
from festoon.piece import read_piece

EDIT: TypeAdapter[Any] = TypeAdapter(Edit)
RING = "ring = { count = 8, radius = 110 }"


def change(home: Path, *edits: dict[str, Any]) -> Layout:
    desk = Desk(home)
    desk.change([EDIT.validate_python(e) for e in edits], desk.revision)
    return lay_out(read_piece(home))


def swap(home: Path, *pairs: tuple[str, str]) -> None:
    text = (home / "piece.toml").read_text("utf-8")
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    (home / "piece.toml").write_text(text, "utf-8")


def told(home: Path) -> dict[str, Any]:
    return tomllib.loads((home / "piece.toml").read_text("utf-8"))


def assert_same(before: Layout, after: Layout) -> None:
    one, other = ([p for w in layout.works for p in w.parts] for layout in (before, after))
    assert [p.name for p in one] == [p.name for p in other]
    for a, b in zip(one, other, strict=True):
        assert (a.panel, a.stitching.threads) == (b.panel, b.stitching.threads)
        assert np.array_equal(a.stitching.acts, b.stitching.acts)
        assert np.abs(a.stitching.points - b.stitching.points).max() <= 0.001


@pytest.mark.parametrize(
    "arrangement",
    [
        "ring = { count = 5, radius = 90, start = 12.3 }\nturn = 7",
        "ring = { count = 4, radius = 90, follow = false }\nmirror = true",
        "row = { count = 3, spacing = 61.7, direction = 33 }\nturn = 200",
        "pair = { apart = 77, axis = 21 }\nturn = 15",
    ],
)
def test_the_layout_is_the_same_before_and_after(home: Path, arrangement: str) -> None:
    swap(home, (RING, arrangement))
    before = lay_out(read_piece(home))
    after = change(home, {"do": "free", "element": "sprig"})
    assert_same(before, after)
    assert not {"ring", "row", "pair"} & {word for e in told(home)["element"] for word in e}


def test_along_a_line_in_the_middle_left_out(home: Path) -> None:
    swap(home, ("seam = 15", 'lines = { hem = "M 60 80 C 160 20 240 200 340 120" }\nseam = 15'))
    swap(home, (RING, 'along = { line = "hem", spacing = 70, aside = 5 }'), ("at = [200, 200] ", "# "))
    before = lay_out(read_piece(home))
    assert_same(before, change(home, {"do": "free", "element": "sprig"}))


EDGE = """
[[element]]
kind = "scalloped edge"
name = "edge"
along = "M 40 330 H 360"
repeat = 80
rise = 18
"""


@pytest.mark.parametrize(
    "words", ['on = "edge"\nby = [0, 20]', 'along = { line = "edge/lower", spacing = 70, aside = -40 }']
)
def test_in_the_places_or_along_the_line_of_another_element(home: Path, words: str) -> None:
    swap(home, (RING, words), ("at = [200, 200] ", "# "))
    (home / "piece.toml").write_text((home / "piece.toml").read_text("utf-8") + EDGE, "utf-8")
    before = lay_out(read_piece(home))
    assert_same(before, change(home, {"do": "free", "element": "sprig"}))
    assert [e["name"] for e in told(home)["element"]][-2:] == [f"sprig-{len(before.works[1].parts)}", "edge"]
    assert not {"on", "along"} & {word for e in told(home)["element"][:-1] for word in e}


def test_joins_follow_and_names_hold_on(home: Path) -> None:
    text = (home / "piece.toml").read_text("utf-8")
    link = '\n[[element]]\nkind = "join"\nname = "link"\nfrom = "sprig-1"\nto = "sprig-5"\n'
    (home / "piece.toml").write_text(text + link, "utf-8")
    before = lay_out(read_piece(home))
    assert_same(before, change(home, {"do": "free", "element": "sprig"}))
    elements = told(home)["element"]
    assert [e["name"] for e in elements] == [f"{n}-{i}" for n in ("stem", "sprig") for i in range(1, 9)] + ["link"]
    assert (elements[7]["from"], elements[7]["to"]) == ("sprig-8", "sprig-1")
    assert "through" not in elements[0]
    assert (elements[-1]["from"], elements[-1]["to"]) == ("sprig-1", "sprig-5")
    after = (home / "piece.toml").read_text("utf-8")
    assert after.count("# The wreath's stems come first") == 1


def test_one_that_stands_alone_is_refused(home: Path) -> None:
    swap(
        home, (RING, ""), ('through = "sprig" ', 'path = "M 10 10 H 90" #'), ("closed = true ", "#"), ("bow = -4 ", "#")
    )
    with pytest.raises(PieceError, match="stands alone already"):
        change(home, {"do": "free", "element": "sprig"})
    with pytest.raises(PieceError, match="no element"):
        change(home, {"do": "free", "element": "sprog"})


def test_hoopings_of_her_own_keep_what_they_hold(home: Path) -> None:
    own = '\n[[hooping.laid]]\nholds = ["sprig", "stem-2"]\n\n[[hooping.laid]]\nat = [200, 200]\n'
    swap(home, ('turn = "quarter" ', 'order = ["sprig", "stem-1"]\nturn = "quarter" '))
    text = (home / "piece.toml").read_text("utf-8")
    head, mark, rest = text.partition("# What is sewn")
    (home / "piece.toml").write_text(head + own + "\n" + mark + rest, "utf-8")
    change(home, {"do": "set", "element": "sprig", "word": "name", "value": "bud"})
    assert told(home)["hooping"]["order"] == ["bud", "stem-1"]
    assert told(home)["hooping"]["laid"] == [{"holds": ["bud", "stem-2"]}, {"at": [200, 200]}]
    change(home, {"do": "free", "element": "bud"})
    buds = [f"bud-{n}" for n in range(1, 9)]
    assert told(home)["hooping"]["order"] == [*buds, "stem-1"]
    assert told(home)["hooping"]["laid"][0]["holds"] == [*buds, "stem-2"]


def test_a_second_panel_and_away_again(home: Path) -> None:
    change(home, {"do": "add panel", "panel": {"name": "back", "size": [300, "12 in"], "cloth": "linen"}})
    assert [p["name"] for p in told(home)["panel"]] == ["front", "back"]
    assert [e["panel"] for e in told(home)["element"]] == ["front", "front"]
    with pytest.raises(PieceError, match='stands on panel "front"'):
        change(home, {"do": "remove panel", "panel": "front"})
    change(home, {"do": "remove panel", "panel": "back"})
    assert [p["name"] for p in told(home)["panel"]] == ["front"]
