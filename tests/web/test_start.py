"""The start: new pieces, examples, earlier pieces; nothing is written over, and nothing leads out of its place."""

from __future__ import annotations

import os
import shutil
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.desk.motif import DEVICES
from festoon.layout import lay_out
from festoon.piece import read_piece
from festoon.piece.read import shared_bench
from festoon.piece.start import new_piece
from festoon.web import begin
from festoon.web.app import create_app
from festoon.web.begin import LONGEST, folder_name
from festoon.web.examples import OWN_MOTIFS, UNPACKED, example_files
from festoon.web.guard import TOKEN_HEADER
from festoon.web.table import Table, key_of

from .conftest import DOOR, HOST, Client, worked

ANSWERS: dict[str, Any] = {
    "name": "Kitchen runner",
    "size": [600, 300.5],
    "cloth": "blue linen",
    "field": [120, 120],
    "format": "pes",
}

SHARED = """
[machine]
format = "jef"
[[hoop]]
name = "the usual"
field = [140, 200]
[[hoop]]
name = "small"
field = [100, 100]
magnetic = true
"""


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A newcomer's home."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    return tmp_path


@pytest.fixture
def start(home: Path) -> Iterator[Client]:
    table = Table()
    app = create_app(table, DOOR, home / "none")
    with Client(app, base_url=HOST, headers={TOKEN_HEADER: DOOR.token}) as client:
        yield client


def begun(start: Client, **answers: Any) -> dict[str, Any]:
    """A new piece; gives what is told of it."""
    answer = start.post("/api/start/new", json={**ANSWERS, **answers})
    assert answer.status_code == 200, answer.text
    told: dict[str, Any] = start.get(f"/api/pieces/{answer.json()['key']}/piece").json()
    return told


def share_bench() -> None:
    shared_bench().parent.mkdir(parents=True)
    shared_bench().write_text(SHARED, "utf-8")


def test_the_table_is_empty_at_first(start: Client, home: Path) -> None:
    told = start.get("/api/start").json()
    assert told["first"] is None
    assert told["recent"] == []
    assert told["home"] == str(home / "Festoon")
    assert {e["key"] for e in told["examples"]} == {p.parent.name for p in UNPACKED.glob("*/piece.toml")}
    assert all(e["told"] and e["size"][0] > 0 for e in told["examples"])
    assert not (home / "Festoon").exists()
    begun(start, **told["answers"] | {"name": "as asked"})


def test_a_new_piece_holds_the_answers(start: Client, home: Path) -> None:
    told = begun(start, magnetic=True, units="inch", motifs=["sea-holly", "rose-sprig", "sea-holly"])
    assert told["panels"][0]["size"] == [600, 300.5]
    assert (told["panels"][0]["cloth"], told["units"], told["paper"]) == ("blue linen", "inch", "Letter")
    assert [(h["field"], h["magnetic"]) for h in told["hoops"]] == [([120, 120], True)]
    assert [(e["name"], e["words"]["at"]) for e in told["elements"]] == [
        ("sea-holly", [150, 150.25]),
        ("rose sprig", [450, 150.25]),
    ]
    piece = read_piece(home / "Festoon" / "kitchen-runner")
    assert piece.bench.machine.format == "pes"
    assert piece.bench.thread  # the shelf of a new bench comes with it
    assert start.get("/api/start").json()["recent"][0]["name"] == "Kitchen runner"


def test_nothing_is_ever_written_over(start: Client, home: Path) -> None:
    begun(start)
    first = home / "Festoon" / "kitchen-runner"
    before = (first / "piece.toml").read_bytes()
    (home / "Festoon" / "kitchen-runner-2").write_text("a file of hers", "utf-8")
    (home / "Festoon" / "kitchen-runner-3").symlink_to(home / "nowhere")
    begun(start, size=[200, 200])
    assert (first / "piece.toml").read_bytes() == before
    assert (home / "Festoon" / "kitchen-runner-2").read_text("utf-8") == "a file of hers"
    assert (home / "Festoon" / "kitchen-runner-4" / "piece.toml").is_file()
    assert not (home / "nowhere").exists()


def test_of_two_at_the_same_instant_each_gets_a_name(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The other's folder comes to be between the look and the taking of the name."""
    looked, rename = [], Path.rename

    def meanwhile(self: Path, target: Path) -> Path:
        if not looked:
            looked.append(target)
            new_piece(target)
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", meanwhile)
    made = begin.begin(begin.Answers.model_validate(ANSWERS))
    assert (looked[0].name, made.name) == ("kitchen-runner", "kitchen-runner-2")
    assert read_piece(looked[0]).name == "Sprig wreath"


@pytest.mark.parametrize(
    "name", ["../../up", "/etc/passwd", "..", "a/b\\c", "~", "C:\\x", ".hidden", "con", "\u202e x"]
)
def test_no_name_leads_out_of_the_folder_of_pieces(start: Client, home: Path, name: str) -> None:
    before = {p for p in home.rglob("*") if "Festoon" not in p.parts}
    answer = start.post("/api/start/new", json={**ANSWERS, "name": name})
    if answer.status_code == 200:
        made = [p.parent.parent for p in home.rglob("piece.toml")]
        assert made == [home / "Festoon"]
    else:
        assert answer.json()["sentence"]
    assert {p for p in home.rglob("*") if not {"Festoon", "config"} & set(p.parts)} == before


@given(st.text(max_size=200))
def test_a_folders_name_is_plain_whatever_the_piece_is_called(name: str) -> None:
    made = folder_name(name)
    assert 0 < len(made) <= LONGEST + len("piece-")
    assert all(c.isalnum() or c == "-" for c in made)
    assert made not in DEVICES


@pytest.mark.parametrize(
    "wrong",
    [
        {"name": " "},
        {"size": [0, 300]},
        {"size": [1e300, 300]},
        {"field": [100, -1]},
        {"motifs": ["nothing"]},
        {"motifs": ["../../secret"]},
        {"size": [20, 20], "motifs": ["sea-holly"]},
        {"format": "doc"},
        {"name": "a\nb\0c"},
        {"more": 1},
    ],
)
def test_what_cannot_be_is_told_and_leaves_nothing(start: Client, home: Path, wrong: dict[str, Any]) -> None:
    answer = start.post("/api/start/new", json={**ANSWERS, **wrong})
    assert answer.status_code == 422
    assert answer.json()["sentence"]
    assert list((home / "Festoon").glob("*") if (home / "Festoon").exists() else ()) == []
    assert start.get("/api/start").json()["recent"] == []


def test_a_home_that_cannot_be_written_is_told(start: Client, home: Path) -> None:
    (home / "Festoon").write_text("a file", "utf-8")
    for path, asked in (("new", ANSWERS), ("example", {"example": "tablecloth-hem"})):
        answer = start.post(f"/api/start/{path}", json=asked)
        assert answer.status_code == 422
        assert "Festoon" in answer.json()["sentence"]
    assert (home / "Festoon").read_text("utf-8") == "a file"


def test_the_shared_bench_answers_and_serves(start: Client, home: Path) -> None:
    share_bench()
    asked = start.get("/api/start").json()["answers"]
    assert (asked["field"], asked["magnetic"], asked["format"]) == ([140, 200], False, "jef")
    piece = home / "Festoon" / "kitchen-runner"
    assert begun(start, **asked | {"name": "Kitchen runner"})["hoop"] == "the usual"
    assert not (piece / "bench.toml").exists()
    small = begun(start, field=[100, 100], magnetic=True, format="jef")
    assert (small["hoop"], len(small["hoops"])) == ("small", 2)
    other = begun(start, field=[100, 100], format="dst")
    assert [h["name"] for h in other["hoops"]] == ["the usual", "small", other["hoop"]]
    assert read_piece(piece.with_name("kitchen-runner-3")).bench.machine.format == "dst"
    assert shared_bench().read_text("utf-8") == SHARED


def test_a_spoilt_shared_bench_does_not_keep_anyone_from_beginning(start: Client) -> None:
    share_bench()
    shared_bench().write_text("[machine", "utf-8")
    assert start.get("/api/start").json()["answers"]["format"] == "dst"
    assert begun(start)["hoops"][0]["field"] == [120, 120]


def test_an_example_is_copied_and_stays_as_it_was(start: Client, home: Path) -> None:
    asked = {"example": "tablecloth-hem"}
    keys = [start.post("/api/start/example", json=asked).json()["key"] for _ in range(2)]
    assert keys == [key_of(home / "Festoon" / name) for name in ("flax-hem", "flax-hem-2")]
    source = UNPACKED / "tablecloth-hem"
    for place, data in example_files("tablecloth-hem").items():
        assert (home / "Festoon" / "flax-hem" / place).read_bytes() == data == (source / place).read_bytes()
    held = {p.name for p in (home / "Festoon" / "flax-hem").iterdir()}
    assert held - {".history"} == {"piece.toml", "bench.toml", "motifs"}
    assert start.post("/api/start/example", json={"example": "../secret"}).status_code == 422


def test_pictures_show_what_is_sewn(start: Client) -> None:
    told = start.get("/api/start").json()
    for kind in ("examples", "motifs"):
        for each in told[kind]:
            answer = start.get(f"/api/start/{kind}/{each['key']}.png")
            picture = cv2.imdecode(np.frombuffer(answer.content, np.uint8), cv2.IMREAD_UNCHANGED)
            assert picture is not None
            assert picture.shape[2] == 4
            assert 0.02 < (picture[..., 3] > 127).mean() < 0.9, each  # some cloth, some thread
        assert start.get(f"/api/start/{kind}/none.png").status_code == 422


def test_an_earlier_piece_is_opened_and_forgotten(start: Client, home: Path) -> None:
    begun(start)
    made = home / "Festoon" / "kitchen-runner"
    earlier = start.get("/api/start").json()["recent"][0]
    assert (earlier["folder"], earlier["missing"]) == (str(made), False)
    shutil.move(made, home / "elsewhere")
    assert start.get("/api/start").json()["recent"][0]["missing"] is True
    assert start.delete("/api/start/recent/000000000000").status_code == 404
    assert start.delete(f"/api/start/recent/{earlier['key']}").status_code == 204
    assert start.get("/api/start").json()["recent"] == []
    assert (home / "elsewhere" / "piece.toml").is_file()
    opened = start.post("/api/start/open", json={"folder": " ~/elsewhere "})
    assert opened.json()["key"] == key_of(home / "elsewhere")


@pytest.mark.parametrize("folder", ["", ".", "../..", "Festoon", "~nobody/x", "/nowhere", "/", "/a\0b", "x" * 5000])
def test_a_folder_that_holds_no_piece_is_told(start: Client, folder: str) -> None:
    answer = start.post("/api/start/open", json={"folder": folder})
    assert answer.status_code == 422
    assert answer.json()["sentence"]


def test_a_piece_that_cannot_be_read_is_told(start: Client, home: Path) -> None:
    begun(start)
    made = home / "Festoon" / "kitchen-runner"
    (made / "piece.toml").write_bytes(b"[piece\xff")
    key = start.get("/api/start").json()["recent"][0]["key"]
    for answer in (
        start.post("/api/start/open", json={"folder": str(made)}),
        start.get(f"/api/pieces/{key}/piece"),
    ):
        assert answer.status_code == 422
        assert "piece.toml" in answer.json()["sentence"]


def test_a_piece_with_nothing_on_it_is_sound(start: Client) -> None:
    told = begun(start)
    start.here = here = f"/api/pieces/{start.get('/api/start').json()['recent'][0]['key']}"
    assert (told["parts"], told["elements"], told["findings"]) == ([], [], [])
    assert len(start.get(f"{here}/stitches").content) == 12
    assert worked(start, "sheets")[-1] == ("done", "")
    assert start.get(f"{here}/hoopings").json()["headline"] == "Nothing to sew, so no hoopings."
    assert start.get(f"{here}/proof").json()["verdict"] == "sound"
    assert start.get(f"{here}/files").json()["files"]


def test_every_motif_of_our_own_can_be_laid(start: Client, home: Path) -> None:
    keys = [m.key for m in OWN_MOTIFS]
    told = begun(start, motifs=keys)
    assert len(told["parts"]) == len(keys)
    layout = lay_out(read_piece(home / "Festoon" / "kitchen-runner"))
    assert not layout.findings


def test_a_wheel_holds_every_example() -> None:
    folders = [p.parent for p in UNPACKED.glob("*/piece.toml")]
    there = {f"examples/{folder.name}/{name}" for folder in folders for name in os.listdir(folder)}
    packed = tomllib.loads((UNPACKED.parent / "pyproject.toml").read_text("utf-8"))["tool"]["hatch"]["build"]
    included = packed["targets"]["wheel"]["force-include"]
    belong = ("piece.toml", "bench.toml", "motifs")
    assert {place for place in there if place.endswith(belong)} == set(included)
    assert all(to == f"festoon/{place}" for place, to in included.items())
