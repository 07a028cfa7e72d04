"""`festoon swatch` as a worker meets it."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from festoon.cli import app
from festoon.piece.start import new_piece
from festoon.stitches import FORMATS, read_stitches

SIZES = "a=60 b=60 c=29.6 d=29.9 e=59.8 f=5.9"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(app, [str(w) for w in words])


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.fixture(autouse=True)
def no_shared_bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("festoon.swatch.take.shared_bench", lambda: tmp_path / "nowhere" / "bench.toml")


@pytest.fixture
def piece(tmp_path: Path) -> Path:
    new_piece(tmp_path / "piece")
    return tmp_path / "piece"


def test_without_a_bench_it_is_a_dst_in_a_new_folder(tmp_path: Path) -> None:
    told = run("swatch", tmp_path / "a" / "b")
    assert told.exit_code == 0, told.output
    assert sorted(p.name for p in (tmp_path / "a" / "b").iterdir()) == ["swatch.dst", "swatch.pdf"]
    assert read_stitches(tmp_path / "a" / "b" / "swatch.dst").bounds == pytest.approx((-37, -37, 37, 37))


@pytest.mark.parametrize("suffix", FORMATS)
def test_every_format(tmp_path: Path, suffix: str) -> None:
    assert run("swatch", tmp_path, "--format", suffix, "--paper", "Letter").exit_code == 0
    assert read_stitches(tmp_path / f"swatch.{suffix}").stitch_count > 1000


def test_the_bench_gives_format_and_thread_and_nothing_else_is_touched(piece: Path) -> None:
    before = {p: p.read_bytes() for p in piece.rglob("*") if p.is_file()}
    assert run("swatch", piece).exit_code == 0
    assert read_stitches(piece / "swatch.vp3").threads[-1].colour == "#66845f"
    assert {p: p.read_bytes() for p in before} == before


def test_a_hoop_too_small_is_told(tmp_path: Path) -> None:
    bench = tmp_path / "small.toml"
    bench.write_text("[[hoop]]\nfield = [60, 90]\n")
    told = run("swatch", tmp_path / "out", "--bench", bench)
    assert told.exit_code == 1
    assert "needs a field of 80 × 80 mm, and this one has 60 × 90 mm" in flat(told.output)
    assert not (tmp_path / "out").exists()


def test_what_was_measured_goes_into_the_bench(piece: Path) -> None:
    bench = piece / "bench.toml"
    before = bench.read_bytes()
    told = run("swatch", piece, "--measured", SIZES, "--measured", "p=0.5 q=0.5", "--measured", "r=0.5",
               "--measured", "s=0.5", "--cloth", "natural linen", "--stabiliser", "tear-away")  # fmt: skip
    assert told.exit_code == 0, told.output
    # computed: (30·0.4 + 6·0.1)/936 = 0.0135; (30·0.1 + 60·0.2)/4500 = 0.0033; √(0.25·8/5 - 0.16 - 0.04) = 0.447
    assert "drawn in along the stitches: 1.4 % (1 % was assumed)" in flat(told.output)
    assert bench.read_bytes().startswith(before)
    assert tomllib.loads(bench.read_text("utf-8"))["measured"] == {
        "drawn_along": 0.0135,
        "drawn_across": 0.0033,
        "marking": 0.447,
        "cloth": "natural linen",
        "stabiliser": "tear-away",
    }
    again = run("swatch", piece, "--measured", SIZES.replace("29.6", "30"))
    assert "drawn in along the stitches: 0.1 % (1.4 % was measured before)" in flat(again.output)
    assert run("make", piece).exit_code == 0


def test_impossible_figures_leave_the_bench_as_it_was(piece: Path) -> None:
    before = (piece / "bench.toml").read_bytes()
    for words in (SIZES.replace("c=29.6", "c=-1"), SIZES.replace("c=29.6", "c=70"), SIZES + " z=3", "a=60"):
        told = run("swatch", piece, "--measured", words)
        assert told.exit_code == 1, words
        assert told.output.startswith("! measured")
    assert (piece / "bench.toml").read_bytes() == before


def test_cloth_without_figures_is_told(piece: Path) -> None:
    told = run("swatch", piece, "--cloth", "lawn")
    assert told.exit_code == 1
    assert "nothing was measured" in flat(told.output)
    assert not (piece / "swatch.pdf").exists()


def test_no_bench_or_a_wrong_one_is_told(tmp_path: Path) -> None:
    told = run("swatch", tmp_path, "--measured", SIZES)
    assert told.exit_code == 1
    assert "there is no bench.toml to write the figures into. Give its folder" in flat(told.output)
    (tmp_path / "bench.toml").write_text("[[hoop]]\nfeild = [100, 100]\n")
    wrong = run("swatch", tmp_path, "--measured", SIZES)
    assert wrong.exit_code == 1
    assert "bench.toml,line2,hoop1" in "".join(wrong.output.split())
