"""The command line as a user meets it: what it prints, its status, and what is in README.md."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from festoon.cli import app
from festoon.piece.sprig import sprig
from festoon.piece.start import new_piece
from festoon.stitches import FORMATS, Thread, from_points, write_stitches
from tests.whole.command import flat, run

ROOT = Path(__file__).parents[2]


def test_new_then_make(tmp_path: Path) -> None:
    folder = tmp_path / "wreath"
    begun = run("new", folder)
    assert begun.exit_code == 0
    assert "festoon make" in begun.output
    made = run("make", folder)
    assert made.exit_code == 0, made.output
    assert "Nine hoopings; fewer than nine is impossible." in flat(made.output)
    assert "can't share a field two by two" in flat(made.output)
    names = sorted(p.name for p in (folder / "made").iterdir())
    assert names == [
        ".contents",
        *(f"hooping-{k:02d}.vp3" for k in range(1, 10)),
        "hoopings.json",
        "proof.pdf",
        "templates.pdf",
        "work-sheet.pdf",
    ]


def test_the_next_command_can_be_copied_where_the_folder_has_a_space_in_its_name(tmp_path: Path) -> None:
    begun = run("new", tmp_path / "my piece")
    assert "".join(begun.output.split()).endswith("/mypiece'")


def test_one_stitch_is_not_several(tmp_path: Path) -> None:
    path = tmp_path / "dot.vp3"
    write_stitches(from_points([(0.0, 0.0)], Thread("#ff0000")), path)
    assert "scarlet, 1 stitch " in flat(run("motif", path).output) + " "


def test_new_refuses_a_folder_that_holds_a_piece(tmp_path: Path) -> None:
    new_piece(tmp_path / "p")
    again = run("new", tmp_path / "p")
    assert again.exit_code == 1
    assert "holds a piece already" in flat(again.output)


@pytest.mark.parametrize("suffix", FORMATS)
def test_motif_tells_size_stitches_and_threads(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"sprig.{suffix}"
    write_stitches(sprig(), path)
    told = run("motif", path)
    assert told.exit_code == 0
    assert "19.8 mm wide, 35 mm high" in told.output
    assert f"{sprig().stitch_count}" in told.output
    assert "longest" in told.output
    assert "#" in told.output  # the picture, in shades where there is no colour
    assert "inch" not in told.output
    assert "3/4 in wide, 1 3/8 in high" in run("motif", path, "--units", "inch").output


def test_motif_goes_on_after_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    good, bad = tmp_path / "sprig.dst", tmp_path / "cut.dst"
    write_stitches(sprig(), good)
    bad.write_bytes(good.read_bytes()[:700])
    told = run("motif", bad, good)
    assert told.exit_code == 1
    assert "cut.dst" in told.output
    assert "19.8 mm wide" in told.output
    assert "Traceback" not in told.output


def test_mistakes_end_in_a_sentence_and_a_status(tmp_path: Path) -> None:
    folder = tmp_path / "p"
    new_piece(folder)
    piece = folder / "piece.toml"
    piece.write_text(piece.read_text("utf-8").replace("width = 1.6", "widht = 1.6"), "utf-8")
    told = run("make", folder)
    assert told.exit_code == 1
    assert 'there is no word "widht" here. Did you mean "width"?' in flat(told.output)
    assert re.search(r"piece\.toml, line \d+", told.output)
    assert not (folder / "made").exists()


def test_an_output_folder_that_cannot_be_written(tmp_path: Path) -> None:
    new_piece(tmp_path / "p")
    (tmp_path / "file").write_text("in the way")
    told = run("make", tmp_path / "p", "-o", tmp_path / "file" / "out")
    assert told.exit_code == 1
    assert "Nothing was written." in flat(told.output)
    assert "Choose another folder with -o." in flat(told.output)


WAITING = """
import time
import festoon.cli, festoon.make

def divide(*_):
    print("dividing", flush=True)
    time.sleep(60)

festoon.make.divide = divide
festoon.cli.main()
"""
"""The command line with a division that goes on until it is stopped."""


def test_ctrl_c_stops_with_a_sentence_and_leaves_nothing(tmp_path: Path) -> None:
    folder = tmp_path / "p"
    new_piece(folder)
    with subprocess.Popen(
        [sys.executable, "-c", WAITING, "make", str(folder)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as child:
        assert child.stdout is not None
        assert child.stdout.readline() == "dividing\n"
        child.send_signal(signal.SIGINT)
        _, told = child.communicate(timeout=60)
    assert flat(told) == "Stopped. Nothing was left half-written."
    assert child.returncode == 130
    assert sorted(p.name for p in folder.iterdir()) == ["bench.toml", "motifs", "piece.toml"]


def toml_blocks() -> list[str]:
    return re.findall(r"```toml\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)


def test_the_first_piece_of_the_readme_can_be_made(tmp_path: Path) -> None:
    piece, bench = toml_blocks()
    assert len(piece.splitlines()) <= 10
    new_piece(tmp_path)
    (tmp_path / "piece.toml").write_text(piece, "utf-8")
    (tmp_path / "bench.toml").write_text(bench, "utf-8")
    made = run("make", tmp_path)
    assert made.exit_code == 0, made.output
    assert "hooping" in made.output


def test_the_readme_says_the_commands_that_there_are() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    commands = {c.name or c.callback.__name__ for c in app.registered_commands if c.callback}
    assert commands == {"make", "motif", "new", "open", "prove", "swatch", "true"}
    for command in commands:
        assert f"festoon {command}" in readme
    makefile = (ROOT / "Makefile").read_text("utf-8")
    for target in re.findall(r"`make (\w+)`", readme) + re.findall(r"^    make (\w+)", readme, re.MULTILINE):
        assert re.search(rf"^{target}:", makefile, re.MULTILINE), target


def test_every_link_of_the_documents_leads_somewhere() -> None:
    for document in (ROOT / "README.md", *(ROOT / "docs").glob("*.md")):
        for link in re.findall(r"\]\(([^)#]+)[^)]*\)", document.read_text("utf-8")):
            assert (document.parent / link).exists(), (document.name, link)


def test_a_fault_of_our_own_is_told_as_such(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    new_piece(tmp_path / "p")

    def broken(*_: object) -> None:
        raise ZeroDivisionError("out of cheese")

    monkeypatch.setattr("festoon.make.divide", broken)
    told = run("make", tmp_path / "p")
    assert told.exit_code == 70
    assert "This is a fault in Festoon, not in your piece" in flat(told.output)
    assert "Traceback" not in told.output
    assert not (tmp_path / "p" / "made").exists()
