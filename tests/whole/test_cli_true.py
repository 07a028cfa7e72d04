"""`festoon true`: the corrected file beside the made one, what is said, and every slip in a sentence."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import numpy as np
import pyembroidery
import pypdfium2
import pytest
from numpy.typing import NDArray

from festoon.make import make
from festoon.plane.pose import Pose
from tests.truing.folder import new_row
from tests.whole.command import flat, run

ROOT = Path(__file__).parents[2]
POSE = Pose(1.4, -0.6, 0.8)
"""How the cloth lies in every hooping here."""


def marks(made: Path, number: int) -> dict[str, tuple[float, float]]:
    """The marks of a hooping in the hoop, by the record."""
    hooping = json.loads((made / "hoopings.json").read_text("utf-8"))["hoopings"][number - 1]
    return {m["name"]: tuple(m["in_hoop"]) for m in hooping["marks"]}


def read(made: Path, number: int, pose: Pose = POSE, **off: tuple[float, float]) -> list[str]:
    """`--read` for every mark on cloth that lies so."""
    words = []
    for name, at in marks(made, number).items():
        x, y = (pose.apply(at) - at + off.get(name, (0.0, 0.0))).tolist()
        words += ["--read", f"{name}={x:.3f},{y:.3f}"]
    return words


def holes(path: Path) -> NDArray[np.float64]:
    stitches = pyembroidery.read(str(path)).stitches
    return np.array([[x, y] for x, y, c in stitches if c & pyembroidery.COMMAND_MASK == pyembroidery.STITCH]) / 10


def waits(path: Path) -> NDArray[np.float64]:
    """Where the frame stands, mm, when the machine waits."""
    found, at = [], (0.0, 0.0)
    for x, y, c in pyembroidery.read(str(path)).stitches:
        if c & pyembroidery.COMMAND_MASK in (pyembroidery.COLOR_CHANGE, pyembroidery.STOP):
            found.append(at)
        at = (x / 10, y / 10)
    return np.array(found)


@pytest.fixture(scope="module")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = new_row(tmp_path_factory.mktemp("row") / "row")
    make(folder)
    return folder


@pytest.fixture
def row(made_once: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made_once, tmp_path / "row"))


def snapshot(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def test_a_sound_truing(row: Path) -> None:
    before = snapshot(row)
    done = run("true", row, "1", *read(row / "made", 1))
    told = flat(done.output)
    assert done.exit_code == 0, told
    assert (
        "The readings agree: at the middle of the field the cloth lies 1.4 mm right, 0.6 mm up and turned 0.8°" in told
    )
    assert "Sew hooping-01-trued.dst in place of hooping-01.dst" in told
    assert "Still to come, hoopings 2 and 3: the worst stitch is now predicted within" in told
    made, trued = holes(row / "made/hooping-01.dst"), holes(row / "made/hooping-01-trued.dst")
    assert made.shape == trued.shape
    assert np.abs(trued - POSE.apply(made)).max() <= 0.05 + 0.05 * 1.02 + 2e-3  # both rounded, readings to 0.001
    after = snapshot(row)
    assert set(after) - set(before) == {"made/hooping-01-trued.dst", "truing.json"}
    assert {n for n in before if before[n] != after[n]} == {"made/.contents"}


def test_the_same_by_places_and_by_words(row: Path, tmp_path: Path) -> None:
    other = Path(shutil.copytree(row, tmp_path / "other"))
    spots = marks(row / "made", 1)
    places, words = [], []
    for name, at in spots.items():
        x, y = np.round(POSE.apply(at), 1).tolist()
        dx, dy = x - at[0], y - at[1]
        places += ["--place", f"{name}={x},{y}"]
        words += [
            "--read",
            f"{name}={abs(dx):.3f} {'right' if dx > 0 else 'left'} {abs(dy):.3f} {'down' if dy > 0 else 'up'}",
        ]
    assert run("true", row, "1", *places).exit_code == 0
    assert run("true", other, "1", *words).exit_code == 0
    for name in ("made/hooping-01-trued.dst", "truing.json"):
        assert (row / name).read_bytes() == (other / name).read_bytes()


def test_what_was_learned_counts_in_the_proof(row: Path) -> None:
    assert "after hooping" not in run("prove", row).output
    for number in (1, 2):
        assert run("true", row, str(number), *read(row / "made", number)).exit_code == 0
    told = flat(run("prove", row).output)
    assert "By 8 readings after hooping (of hoopings 1 and 2) a cross, drawn and read, is reckoned to err by" in told
    assert "Hoopings 1 and 2 count as lying where their crosses were read." in told
    record = json.loads((row / "truing.json").read_text("utf-8"))
    assert [h["number"] for h in record["hoopings"]] == [1, 2]
    (ahead,) = record["outlook"]
    assert ahead["number"] == 3
    assert ahead["expected"]["now"] < ahead["expected"]["before"]
    assert ahead["across"]["now"] < ahead["across"]["before"]
    run("true", row, "1", *read(row / "made", 1))
    assert [h["number"] for h in json.loads((row / "truing.json").read_text("utf-8"))["hoopings"]] == [1, 2]


def test_the_needle_check_keeps_the_order_of_the_work_sheet(row: Path) -> None:
    """It goes to where the crosses lie now, though another order would be a shorter way there."""
    pose = Pose(-3.9, 3.0, 0.0)
    assert run("true", row, "2", *read(row / "made", 2, pose)).exit_code == 0
    planned = np.array(list(marks(row / "made", 2).values()))
    now = waits(row / "made/hooping-02-trued.dst")[: len(planned)]
    assert np.abs(waits(row / "made/hooping-02.dst")[: len(planned)] - planned).max() <= 0.05 + 1e-6
    assert np.abs(now - pose.apply(planned)).max() <= 0.05 + 2e-3


def test_the_same_readings_again_give_the_same(row: Path) -> None:
    """Judged by what the other hoopings taught, never by itself."""
    first = run("true", row, "1", *read(row / "made", 1))
    written = snapshot(row)
    again = run("true", row, "1", *read(row / "made", 1))
    assert again.output == first.output
    assert snapshot(row) == written


def test_what_was_learned_stands_on_the_proof_sheet(row: Path) -> None:
    assert run("true", row, "1", *read(row / "made", 1)).exit_code == 0
    make(row)
    told = flat(
        " ".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(row / "made/proof.pdf"))
    )
    assert "Hooping 1 counts as lying where its crosses were read." in told
    assert told.count("common practice, and readings after hooping") == 2


def test_what_must_not_be_sewn_is_not_written(row: Path) -> None:
    before = snapshot(row)
    far = run("true", row, "2", *read(row / "made", 2, Pose(8.0, 0.0, 0.0)))
    assert far.exit_code == 1
    assert "Too far off: hoop again, moving the cloth 8 mm left." in flat(far.output)
    name = next(iter(marks(row / "made", 2)))
    misread = run("true", row, "2", *read(row / "made", 2, **{name: (5.0, 5.0)}))
    assert misread.exit_code == 1
    assert f"Mark {name} was probably misread" in flat(misread.output)
    assert misread.output.endswith("Nothing was written.\n")
    assert snapshot(row) == before


def test_a_corrected_file_of_an_earlier_reading_is_not_to_be_sewn(row: Path) -> None:
    run("true", row, "2", *read(row / "made", 2))
    told = run("true", row, "2", *read(row / "made", 2, Pose(8.0, 0.0, 0.0))).output
    assert "Do not sew hooping-02-trued.dst: it is of an earlier reading." in flat(told)


def test_made_elsewhere(row: Path, tmp_path: Path) -> None:
    there = tmp_path / "there"
    shutil.move(row / "made", there)
    done = run("true", row, "3", "-o", there, *read(there, 3))
    assert done.exit_code == 0, done.output
    assert (there / "hooping-03-trued.dst").exists()
    assert "Still to come" not in done.output
    assert (row / "truing.json").exists()


def test_a_corrected_file_goes_when_all_is_made_anew(row: Path) -> None:
    run("true", row, "1", *read(row / "made", 1))
    make(row)
    assert not (row / "made/hooping-01-trued.dst").exists()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["9", "--read", "A=0,0"], "there is no hooping 9. They are 1 to 3."),
        (["1", "--read", "A=0,0"], "hooping 1: one reading cannot tell a turn from a shift. Read two marks at least"),
        (["1"], "hooping 1: nothing was read."),
        (["1", "--read", "A=0,0", "--read", "QQ=0,0"], 'hooping 1: it has no mark called "QQ".'),
        (["1", "--read", "A=0,0", "--read", "A=0,0"], "mark A: it is given twice."),
        (["1", "--read", "A=0,0", "--place", "A=0,0"], "mark A: it is given twice."),
        (["1", "--read", "A=half,0"], 'mark A: "half" is not a length.'),
        (["1", "--read", "A"], '"A" is no reading of a mark.'),
    ],
)
def test_slips_are_told(made_once: Path, words: list[str], told: str) -> None:
    before = snapshot(made_once)
    done = run("true", made_once, *words)
    assert done.exit_code == 1
    assert told in flat(done.output)
    assert snapshot(made_once) == before


def test_never_made(tmp_path: Path) -> None:
    done = run("true", new_row(tmp_path / "row"), "1", "--read", "A=0,0", "--read", "B=0,0")
    assert done.exit_code == 1
    assert "there is no record of hoopings here that can be read. Make the piece first" in flat(done.output)


def test_changed_since(row: Path) -> None:
    piece = row / "piece.toml"
    piece.write_text(piece.read_text("utf-8").replace("at = [70, 80]", "at = [70, 81]"), "utf-8")
    done = run("true", row, "1", "--read", "A=0,0", "--read", "B=0,0")
    assert done.exit_code == 1
    assert "the piece no longer gives this file for hooping 1: something has changed since it was made." in flat(
        done.output
    )


def test_a_machine_file_that_is_gone(row: Path) -> None:
    (row / "made/hooping-01.dst").unlink()
    done = run("true", row, "1", "--read", "A=0,0", "--read", "B=0,0")
    assert done.exit_code == 1
    assert "it cannot be read. Make the piece again." in flat(done.output)


def test_a_broken_record_of_readings(row: Path) -> None:
    (row / "truing.json").write_text("{", "utf-8")
    for words in (["true", row, "1", *read(row / "made", 1)], ["prove", row], ["make", row]):
        done = run(*words)
        assert done.exit_code == 1
        said = done.output.replace("\n", "")  # a long path breaks in the middle of a word
        assert "truing.json: the readings in it cannot be understood." in said


def test_a_file_of_the_workers_own_is_not_written_over(row: Path) -> None:
    own = row / "made/hooping-01-trued.dst"
    own.write_bytes(b"mine")
    done = run("true", row, "1", *read(row / "made", 1))
    assert done.exit_code == 1
    assert "this file would be written over, and Festoon did not make it." in flat(done.output)
    assert own.read_bytes() == b"mine"
    assert not (row / "truing.json").exists()


def test_inches(tmp_path: Path) -> None:
    folder = new_row(tmp_path / "row", units="inch")
    make(folder)
    told = flat(run("true", folder, "1", *read(folder / "made", 1)).output)
    assert "the cloth lies 0.055 in right" in told
    assert " mm" not in told


def test_a_real_piece_lengthened_when_it_was_made(tmp_path: Path) -> None:
    """Short tucks and a coarse hand, made with `--lap enough`: what was lengthened is known from the record."""
    folder = Path(shutil.copytree(ROOT / "examples/sea-holly-cushion", tmp_path / "cushion"))
    piece = folder / "piece.toml"
    piece.write_text(piece.read_text("utf-8").replace('kind = "join"', 'kind = "join"\ntuck = 0.2'), "utf-8")
    with (folder / "bench.toml").open("a", encoding="utf-8") as bench:
        bench.write("\n[measured]\nmarking = 1.5\n")
    make(folder, lap="enough")
    assert json.loads((folder / "made/hoopings.json").read_text("utf-8"))["lengthened"]
    done = run("true", folder, "1", *read(folder / "made", 1))
    assert done.exit_code == 0, done.output
    made, trued = holes(folder / "made/hooping-01.dst"), holes(folder / "made/hooping-01-trued.dst")
    assert np.abs(trued - POSE.apply(made)).max() <= 0.05 + 0.05 * 1.02 + 2e-3
    assert "the least sure meeting within ±" in flat(done.output)


def test_the_help_says_which_way_is_which() -> None:
    told = flat(run("true", "--help").output.replace("│", " "))
    assert "right or left, up or down, as you face the machine" in told
    assert "With the needle where mark A should be, the cross lies so far from it" in told
