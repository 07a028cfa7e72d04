"""The whole proof: every question asked once, worst first, the same every time."""

from __future__ import annotations

import itertools
from dataclasses import replace
from pathlib import Path

import pytest

from festoon.hooping import Division, divide
from festoon.layout import Layout, lay_out
from festoon.piece import read_piece
from festoon.piece.start import new_piece
from festoon.proof import Proof, prove, worst_first
from festoon.work import Finding, Verdict

VERDICTS: tuple[Verdict, ...] = ("will not work", "look again", "sound")


def finding(verdict: Verdict, where: str = "here") -> Finding:
    return Finding(verdict, where, "It is so.")


@pytest.fixture(scope="module")
def starter(tmp_path_factory: pytest.TempPathFactory) -> tuple[Layout, Division]:
    folder = tmp_path_factory.mktemp("starter") / "p"
    new_piece(folder)
    layout = lay_out(read_piece(folder))
    return layout, divide(layout)


def with_machine(layout: Layout, **words: int) -> Layout:
    """The same piece on a machine that takes less."""
    piece = layout.piece
    machine = piece.bench.machine.model_copy(update=words)
    return replace(layout, piece=replace(piece, bench=piece.bench.model_copy(update={"machine": machine})))


def told(proof: Proof) -> list[Finding]:
    return list(proof.findings)


def test_the_starting_piece_is_sound(starter: tuple[Layout, Division]) -> None:
    proof = prove(*starter)
    assert proof.findings == ()
    assert proof.verdict == "sound"
    assert len(proof.meetings) >= 8  # eight stems, each from motif to motif
    assert [m.panel for m in proof.thickness] == ["front"]
    sewn = sum(h.stitching.stitch_count for h in starter[1].hoopings)
    assert int(proof.thickness[0].holes.sum()) == sewn


def test_it_says_how_to_mark_and_which_crosses_to_add(starter: tuple[Layout, Division]) -> None:
    layout, division = starter
    proof = prove(layout, division)
    (told,) = proof.carrying
    assert told.whole == max(m.across_sd for m in proof.meetings)
    assert told.steps > 1
    assert told.carried > told.whole
    fewer = replace(division, hoopings=tuple(replace(h, marks=h.marks[:2]) for h in division.hoopings))
    assert None in {a.mark for a in prove(layout, fewer).advice}


def test_what_techniques_found_is_in_it_and_the_worst_stands_first(starter: tuple[Layout, Division]) -> None:
    layout, division = starter
    own = finding("look again", "a join")
    odd = replace(layout.works[0], findings=(own,))
    proof = prove(with_machine(replace(layout, works=(odd, *layout.works[1:])), most_stitches=700), division)
    assert [f.verdict for f in proof.findings] == ["will not work"] * 7 + ["look again"]
    assert [f.hooping for f in proof.findings[:7]] == [2, 3, 4, 5, 6, 7, 8]
    assert proof.findings[7] == own
    assert proof.verdict == "will not work"


def test_the_same_piece_gives_the_same_proof(starter: tuple[Layout, Division]) -> None:
    layout, division = starter
    small = with_machine(layout, most_stitches=100, most_stops=3)
    assert told(prove(small, division)) == told(prove(small, division))
    assert len(told(prove(small, division))) == 2 * division.count


def test_worst_first_keeps_the_order_of_the_alike() -> None:
    for verdicts in itertools.product(VERDICTS, repeat=3):
        mixed = [finding(v, str(k)) for k, v in enumerate(verdicts)]
        ordered = worst_first(mixed)
        assert sorted(ordered, key=lambda f: f.where) == mixed
        assert [VERDICTS.index(f.verdict) for f in ordered] == sorted(VERDICTS.index(v) for v in verdicts)
        for verdict in VERDICTS:
            alike = [f.where for f in ordered if f.verdict == verdict]
            assert alike == sorted(alike)


@pytest.mark.parametrize(
    ("verdicts", "worst"),
    [
        ((), "sound"),
        (("sound",), "sound"),
        (("look again", "sound"), "look again"),
        (("look again", "will not work"), "will not work"),
    ],
)
def test_the_verdict_is_the_worst(verdicts: tuple[Verdict, ...], worst: Verdict) -> None:
    assert Proof(tuple(finding(v) for v in verdicts), (), ()).verdict == worst


@pytest.mark.parametrize("name", ["sea-holly-cushion", "tablecloth-hem"])
def test_nothing_is_found_in_the_examples(name: str) -> None:
    layout = lay_out(read_piece(Path(__file__).parents[2] / "examples" / name))
    assert prove(layout, divide(layout)).findings == ()
