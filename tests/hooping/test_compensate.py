"""Stretched by just what the cloth gives back."""

from __future__ import annotations

import io
import itertools
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.console import Console
from shapely import box

from festoon.errors import HoopingError
from festoon.hooping import Division, divide, machine_stitching, record
from festoon.hooping.blocks import blocks_of
from festoon.hooping.compensate import Widening, direction_tensor, widening
from festoon.hooping.fitting import FIT, Turns
from festoon.layout import Layout, lay_out
from festoon.make import WORK_SHEET, make, plan
from festoon.piece import Piece, read_piece
from festoon.piece.bench import Measured
from festoon.piece.start import new_piece
from festoon.plane import Pose, circle, polyline
from festoon.proof import prove
from festoon.report import told
from festoon.stitches import Stitching, Thread, empty, from_points, joined, stitched_region
from festoon.stitches.lay import fill, run, satin
from festoon.work import Part

from .pieces import SMALL, motif, piece

THREAD = Thread()
TURNS = st.floats(-180, 180)
SHARES = st.floats(0, 0.1)
FIELD = (100.0, 100.0)
SQUARE = Turns((0.0,))
OWN = Measured(drawn_along=0.012, drawn_across=0.004)


def rows(turn: float) -> Stitching:
    """A fill of 30 mm: level stitches, and short ones from row to row."""
    return fill(box(-15, -15, 15, 15), angle=0, thread=THREAD).placed(Pose(turn=turn))


def parallel(turn: float) -> Stitching:
    return from_points(np.array([[x, 0.0] for x in range(0, 33, 4)]), THREAD).placed(Pose(turn=turn))


def wide(block: Stitching, **measured: float) -> Stitching:
    found = widening(block, Measured(**measured))
    assert found is not None
    return found.sewn(block)


# One block


@given(TURNS, SHARES, SHARES)
def test_drawing_in_undoes_it_where_all_stitches_run_one_way(turn: float, along: float, across: float) -> None:
    block = parallel(turn)
    sewn = wide(block, drawn_along=along, drawn_across=across)
    back = Pose(turn=-turn).apply(sewn.points - block.centre)
    drawn = Pose(turn=turn).apply(back * [1 - along, 1 - across]) + block.centre
    assert drawn == pytest.approx(block.points, abs=1e-9)


@given(TURNS, SHARES, SHARES)
def test_what_was_done_can_be_undone(turn: float, along: float, across: float) -> None:
    block = rows(turn).placed(Pose(40.0, 70.0))
    found = widening(block, Measured(drawn_along=along, drawn_across=across))
    assert found is not None
    undone = Widening(found.about, np.linalg.inv(found.by))
    assert undone.of(found.sewn(block).points) == pytest.approx(block.points, abs=1e-9)


def test_a_fill_of_30_mm_grows_as_reckoned() -> None:
    # computed: 30/(1 - 0.02) = 30.612 along; the short steps between rows (1.5 % of the thread) blend in a little
    left, top, right, bottom = wide(rows(0), drawn_along=0.02, drawn_across=0.0).bounds
    assert right - left == pytest.approx(30 / 0.98, abs=0.015)
    assert bottom - top == pytest.approx(29.6, abs=0.015)


@given(TURNS, SHARES)
def test_it_turns_with_the_stitching(turn: float, along: float) -> None:
    there = wide(rows(0), drawn_along=along, drawn_across=0.003).points
    # the middle of the bounds does not turn with it, so shapes are compared from their centroids
    turned = wide(rows(turn), drawn_along=along, drawn_across=0.003).points
    shape = Pose(turn=turn).apply(there)
    assert turned - turned.mean(axis=0) == pytest.approx(shape - shape.mean(axis=0), abs=1e-9)


def test_stitches_all_ways_alike_stretch_alike() -> None:
    ring = run(circle((0, 0), 20), 1.0, thread=THREAD)
    assert direction_tensor(ring) == pytest.approx(np.eye(2) / 2, abs=1e-9)
    sewn = wide(ring, drawn_along=0.02, drawn_across=0.01)
    radii = np.hypot(*(sewn.points - sewn.centre).T)
    mean = (1 / 0.98 + 1 / 0.99) / 2
    assert radii == pytest.approx(np.hypot(*(ring.points - ring.centre).T) * mean, abs=1e-9)


def test_records_keep_their_number_order_acts_and_threads() -> None:
    block = joined([rows(30), from_points([[40, 0], [44, 0]], Thread("#ff0000"))])
    sewn = wide(block, drawn_along=0.05)
    assert np.array_equal(sewn.acts, block.acts)
    assert np.array_equal(sewn.thread, block.thread)
    assert sewn.threads == block.threads
    assert sewn.points.shape == block.points.shape


@pytest.mark.parametrize("block", [empty(), from_points([[3, 4]], THREAD), from_points([[3, 4], [3, 4]], THREAD)])
def test_what_lays_no_thread_is_left(block: Stitching) -> None:
    assert widening(block, Measured(drawn_along=0.1)) is None


# Blocks


def part(stitching: Stitching) -> Part:
    return Part("band", "band", "front", stitching, stitched_region(stitching))


def band(length: float, width: float = 30.0) -> Stitching:
    """A fill whose rows run down, so that it is divided by cuts across its length."""
    return fill(box(0, 0, length, width), angle=90, thread=THREAD)


def test_satin_and_fill_are_widened_and_running_stitch_is_not() -> None:
    column, line = (
        satin(polyline([[0, 0], [40, 0]]), 3.0, 0.4, thread=THREAD),
        run(circle((50, 50), 20), 2, thread=THREAD),
    )
    area = rows(0).placed(Pose(70, 70))
    blocks = blocks_of([part(b) for b in (column, line, area)], FIELD, SQUARE, 2.0, measured=OWN)
    assert [b.widened is not None for b in blocks] == [True, False, True]
    assert blocks[1].stitching is line
    found = widening(area, OWN)
    assert found is not None
    assert np.array_equal(blocks[2].stitching.points, found.sewn(area).points)


def test_a_block_that_is_widened_lies_in_the_end_as_it_was_drawn() -> None:
    """So parts that are drawn to overlap by 0.5 mm are proved to overlap by that, not by what draws in again."""
    drawn = part(rows(0))
    (block,) = blocks_of([drawn], FIELD, SQUARE, 2.0, measured=OWN)
    assert block.region is drawn.region
    low, high = block.corners.min(axis=0), block.corners.max(axis=0)
    assert [*low, *high] == pytest.approx(block.stitching.bounds)


def test_what_fits_only_as_drawn_is_divided() -> None:
    """Computed: 99.5 mm from the first row to the last grow by 0.41 % to 99.9 mm and stay; 99.8 mm grow to 100.2 mm."""
    for length, pieces in ((99.5, 1), (99.8, 2)):
        area = part(band(length + 0.4))  # rows lie half their distance inside the edge
        assert np.ptp(area.stitching.points[:, 0]) == pytest.approx(length, abs=0.02)
        assert len(blocks_of([area], FIELD, SQUARE, 2.0, measured=OWN)) == pieces
        assert len(blocks_of([area], FIELD, SQUARE, 2.0)) == 1


def test_a_row_too_long_only_when_widened_says_so() -> None:
    area = part(fill(box(0, 0, 99.5, 40), angle=0, thread=THREAD))
    assert len(blocks_of([area], FIELD, SQUARE, 2.0)) == 1
    with pytest.raises(HoopingError, match=r"its stitching, widened by what it draws in, runs 100\.7 x 39\.8 mm"):
        blocks_of([area], FIELD, SQUARE, 2.0, measured=OWN)


@settings(deadline=None, max_examples=25)
@given(st.floats(101, 260), st.floats(20, 60), TURNS, SHARES, SHARES, st.booleans())
def test_every_widened_piece_fits_and_holds_what_was_drawn(
    length: float, width: float, turn: float, along: float, across: float, free: bool
) -> None:
    whole = band(length, width).placed(Pose(300, 300, turn))
    turns = Turns((turn,), free)
    measured = Measured(drawn_along=along, drawn_across=across)
    blocks = blocks_of([part(whole)], FIELD, turns, 2.0, measured=measured)
    for b in blocks:
        if not free:
            own = Pose(turn=turn).inverse().apply(b.corners)
            assert np.ptp(own, axis=0).max() <= 100 + FIT
    drawn = [
        b.stitching.points
        if b.widened is None
        else Widening(b.widened.about, np.linalg.inv(b.widened.by)).of(b.stitching.points)
        for b in blocks
    ]
    found = {tuple(p) for p in np.round(np.concatenate(drawn), 6).tolist()}
    assert found >= {tuple(p) for p in np.round(whole.points, 6).tolist()}


def draws_in(points: Any, stitching: Stitching, by: np.ndarray) -> np.ndarray:
    """Where the cloth takes points of a block: towards the middle of what was sewn there."""
    middle = np.array(stitching.centre)
    return np.asarray(middle + (points - middle) @ np.linalg.inv(by))


def test_cuts_stay_closed_when_every_piece_draws_in_about_its_own_middle() -> None:
    """The overlap at each cut comes back as drawn; stretched about the whole, over 1 mm of it would be lost."""
    whole, hard = part(band(280)), Measured(drawn_across=0.02)
    plain = blocks_of([whole], (98.0, 98.0), SQUARE, 2.0)
    blocks = blocks_of([whole], (100.1, 100.1), SQUARE, 2.0, measured=hard)
    laid = [draws_in(b.stitching.points, b.stitching, b.widened.by) for b in blocks if b.widened is not None]
    assert len(laid) == len(blocks) == len(plain) > 2
    for drawn, came in zip(plain, laid, strict=True):
        assert came == pytest.approx(drawn.stitching.points, abs=0.02)
    by = blocks[0].widened.by  # type: ignore[union-attr]
    about_the_whole = Widening(whole.stitching.centre, by)
    pushed = [about_the_whole.sewn(p.stitching) for p in plain]
    apart = [draws_in(p.points, p, by) for p in pushed]
    assert min(laps(laid)) > 1.9
    assert max(laps(apart)) < 1.0


def laps(pieces: list[np.ndarray]) -> list[float]:
    """By how much neighbours from left to right overlap."""
    spans = sorted((float(p[:, 0].min()), float(p[:, 0].max())) for p in pieces)
    return [a[1] - b[0] for a, b in itertools.pairwise(spans)]


# The whole piece


def dense(file: str) -> Stitching:
    """'40x20': a fill of that size with rows 1 mm apart, its middle at (0, 0)."""
    w, h = (float(v) for v in file.split("x"))
    return fill(box(-w / 2, -h / 2, w / 2, h / 2), angle=0, row=1.0, thread=THREAD)


GARLAND = (
    motif("leaf", "60x30", ring={"count": 5, "radius": 90}),
    {"kind": "join", "name": "stem", "through": "leaf", "closed": True, "stitch": "running"},
    motif("ground", "90x220", at=(200, 200)),
)


def with_bench(some: Piece, measured: Measured) -> Piece:
    return replace(some, bench=some.bench.model_copy(update={"measured": measured}))


def laid_out(*elements: Any, measured: Measured, **words: Any) -> Layout:
    return lay_out(with_bench(piece(*elements, **words), measured), dense)


def divided(*elements: Any, measured: Measured = OWN, **words: Any) -> Division:
    return divide(laid_out(*elements, measured=measured, **words))


def test_a_piece_says_what_it_widened() -> None:
    assert divided(*GARLAND).notes == (
        "Widened by 1.2 % along and 0.4 % across their stitches, as measured: leaf (all five) and ground.",
    )
    assert divided(GARLAND[2], measured=Measured(drawn_across=0.02)).notes == (
        "Widened by 2 % across its stitches, as measured: ground.",
    )


def test_the_record_tells_how_to_undo_it() -> None:
    division = divided(*GARLAND)
    entries = record(division, {h.number: "" for h in division.hoopings})["hoopings"]
    for h, entry in zip(division.hoopings, entries, strict=True):
        wider = [b for b in h.blocks if b.widened]
        assert [(e["part"], e["piece"]) for e in entry["widened"]] == [(b.part, b.piece) for b in wider]
        for b, e in zip(wider, entry["widened"], strict=True):
            undone = Widening(tuple(e["about"]), np.linalg.inv(e["by"])).of(b.stitching.points)
            assert b.widened is not None
            assert undone == pytest.approx(
                Widening(b.widened.about, np.linalg.inv(b.widened.by)).of(b.stitching.points), abs=0.001
            )


def test_the_proof_says_which_of_its_numbers_are_the_workers() -> None:
    layout = laid_out(*GARLAND, measured=Measured(marking=3.0, drawn_along=0.012))
    found = [f for f in prove(layout, divide(layout)).findings if "misfit" in f.source]
    assert found
    own = "; measured by you: drawing a cross and stitching draws the cloth in along its stitches;"
    assert all(own in f.source for f in found)


def test_machine_files_hold_the_widened_stitching_within_the_field() -> None:
    division = divided(*GARLAND)
    for h in division.hoopings:
        sewing = machine_stitching(h)
        assert np.abs(sewing.holes).max() <= max(SMALL.field) / 2 + 0.05
        assert sewing.stitch_count == sum(b.stitching.stitch_count for b in h.blocks)
    assert any(b.widened for h in division.hoopings for b in h.blocks)


@pytest.mark.parametrize(
    ("measured", "words"),
    [(Measured(), {}), (Measured(drawn_along=0.0, drawn_across=0.0), {}), (OWN, {"compensate": False})],
    ids=["not measured", "measured as nought", "not wanted"],
)
def test_else_all_is_sewn_as_drawn(measured: Measured, words: dict[str, bool]) -> None:
    plain, same = divided(*GARLAND, measured=Measured()), divided(*GARLAND, measured=measured, **words)
    assert same.notes == ()
    assert not any(b.widened for h in same.hoopings for b in h.blocks)
    for a, b in zip(plain.hoopings, same.hoopings, strict=True):
        assert np.array_equal(machine_stitching(a).points, machine_stitching(b).points)


def test_what_passes_the_clothes_edge_only_when_widened_says_what_to_do() -> None:
    """Computed: 60 mm along the stitches grow by 0.73 mm, 0.36 mm at either end."""
    edge = motif("leaf", "60x30", at=(30.1, 100))
    assert divided(edge, measured=Measured()).count == 1
    with pytest.raises(HoopingError) as error:
        divided(edge)
    assert str(error.value) == (
        'piece.toml, line 10, "leaf": sewn wider by what it draws in, it reaches 0.3 mm beyond the left edge of panel '
        '"front". Move it 0.3 mm to the right, make the panel larger, or set compensate = false under [hooping].'
    )
    assert divided(edge, compensate=False).count == 1


# From its folder


def started(folder: Path, *, measured: str = "", dividing: str = "") -> Path:
    new_piece(folder)
    for name, more in (("bench.toml", measured), ("piece.toml", dividing)):
        file = folder / name
        table = more.split("\n")[0]
        before = file.read_text("utf-8")
        text = before.replace(f"{table}\n", f"{more}\n", 1) if f"\n{table}\n" in before else f"{before}\n{more}\n"
        file.write_text(text, "utf-8")
    return folder


def test_where_nothing_is_measured_every_file_is_the_same(tmp_path: Path) -> None:
    as_usual, as_drawn = (
        plan(read_piece(started(tmp_path / str(n), dividing=f"[hooping]\ncompensate = {n}"))) for n in ("true", "false")
    )
    assert as_usual.files == as_drawn.files


def test_it_is_told_in_the_terminal_and_on_the_work_sheet(tmp_path: Path) -> None:
    folder = started(tmp_path / "piece", measured="[measured]\ndrawn_along = 0.012")
    done, out = make(folder)
    (note,) = done.division.notes
    assert note.startswith("Widened by 1.2 % along their stitches, as measured: ")
    console = Console(width=400, record=True, file=io.StringIO())
    console.print(told(done, out))
    assert note in console.export_text()
    with pypdfium2.PdfDocument(out / WORK_SHEET) as sheet:
        assert "Widened by 1.2 % along" in " ".join(sheet[0].get_textpage().get_text_range().split())
