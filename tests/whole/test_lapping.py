"""Laps lengthened just so far that hoopings meet: what grows, what is left, and whether placings then hold."""

from __future__ import annotations

import functools
import json
import math
import tomllib
from collections import Counter
from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import box

from festoon.hooping import divide
from festoon.hooping.expected import stitch_direction
from festoon.lapping import AT_CUTS, Lapping, Left, lapped, lengthened, told
from festoon.layout import lay_out
from festoon.make import Proved
from festoon.make import proved as proved_from_disk
from festoon.measure import parse_length
from festoon.piece import Hoop, Piece, read_piece
from festoon.piece.bench import Measured
from festoon.piece.start import new_piece
from festoon.plane import polyline
from festoon.proof import Meeting, prove
from festoon.proof.meeting import GAP_SELDOM, HIDDEN, lacking, running_on
from festoon.registration.covariance import SPREAD_OF_DRAW
from festoon.registration.model import placing_model
from festoon.stitches import Stitching, from_points
from festoon.stitches.lay import fill, satin, zigzag
from festoon.work import Finding
from tests.hooping.pieces import motif, piece
from tests.proof.toy import THREAD, patch
from tests.whole.command import flat, run

EXAMPLES = Path(__file__).parents[2] / "examples"
COARSE = Measured(marking=1.5, reading=1.0)
"""Crosses drawn and read so coarsely that parts drawn edge to edge gap once in four."""
STEM = {"kind": "join", "name": "stem", "from": "left", "to": "right", "width": 3}
LINE = polyline([(-75, 0), (75, 0)])
BANDS = {
    "satin": lambda: satin(LINE, 4.0, 0.4, thread=THREAD),
    "zigzag": lambda: zigzag(LINE, 4.0, 1.0, thread=THREAD),
    "fill": lambda: fill(box(-75, -10, 75, 10), angle=80, row=0.4, thread=THREAD),
}
"""Motifs 150 mm long: a field of 62 mm cuts them in three."""
LONG_STITCHES = from_points(np.column_stack([np.linspace(-80, 80, 5), np.zeros(5)]), THREAD)


@functools.cache
def drawn(file: str) -> Stitching:
    """A band, or '40x30': a filled rectangle."""
    if file in BANDS:
        return BANDS[file]()
    if file == "long stitches":
        return LONG_STITCHES
    w, h = (float(v) for v in file.split("x"))
    return patch(-w / 2, -h / 2, w / 2, h / 2)


def proved(one: Piece) -> Proved:
    layout = lay_out(one, drawn)
    division = divide(layout)
    return Proved(layout, division, prove(layout, division), None)


def spread_by(measured: Measured, one: Piece) -> Piece:
    return replace(one, bench=one.bench.model_copy(update={"measured": measured}))


def two_and_a_band(tuck=0.2, overlap=0.0, band="zigzag", measured=COARSE, units="mm", left="40x40", **stem) -> Piece:
    """Two patches with a stem between them, and a band that is cut twice."""
    file = piece(
        {**STEM, "tuck": tuck, **stem},
        motif("left", left, (100, 200)),
        motif("right", "40x40", (195, 200)),
        motif("band", band, (200, 300)),
        hoops=(Hoop(name="small", field=(62.0, 62.0)),),
        units=units,
        overlap=overlap,
    )
    return spread_by(measured, file)


def stem_alone(tuck=0.2, measured=COARSE, left="40x40", at=(100, 200), others=()) -> Piece:
    """A patch, a stem of 55 mm from it to the right, and a patch there."""
    far = (at[0] + drawn(left).bounds[2] + 55 + 20, at[1])
    elements = ({**STEM, "tuck": tuck}, motif("left", left, at), motif("right", "40x40", far), *others)
    return spread_by(measured, piece(*elements, hoops=(Hoop(name="small", field=(80.0, 80.0)),)))


def tuck_of(found: Proved) -> float:
    return found.layout.piece.file.element[0].tuck


def overlap_of(found: Proved) -> float:
    return found.layout.piece.file.hooping.overlap


def gaps(found: Proved) -> list[Finding]:
    return [f for f in found.proof.findings if "cloth may show" in f.reason]


def by_rule(found: Proved) -> Counter[tuple[str, str, str]]:
    """Findings on parts that are no gaps, counted."""
    told_of_parts = (f for f in found.proof.findings if f.elements or f.verdict == "will not work")
    return Counter((f.verdict, f.limit, f.source) for f in told_of_parts if f not in gaps(found))


@pytest.fixture(scope="module")
def short() -> Proved:
    """Tuck 0.2 mm, no overlap."""
    return proved(two_and_a_band())


@pytest.fixture(scope="module")
def long(short: Proved) -> tuple[Proved, Lapping]:
    return lapped(short, proved)


def test_what_is_too_short_grows_until_nothing_is_found(short, long):
    after, lapping = long
    assert len(gaps(short)) == 4
    assert gaps(after) == []
    assert {m.kind for m in after.proof.meetings} == {"end", "cut"}
    assert max(m.gap_chance for m in after.proof.meetings) <= GAP_SELDOM
    assert [(c.element, c.before) for c in lapping.changes] == [("stem", 0.2), (AT_CUTS, 0.0)]
    assert [c.after for c in lapping.changes] == [tuck_of(after), overlap_of(after)]
    assert lapping.left == ()


def test_nothing_else_changes(short, long):
    after, _ = long
    assert after.division.count == short.division.count
    assert by_rule(after) == by_rule(short)
    elements = [e.model_copy(update={"tuck": 0.2}) if e.kind == "join" else e for e in after.layout.piece.file.element]
    assert tuple(elements) == short.layout.piece.file.element
    assert after.layout.piece.bench is short.layout.piece.bench
    assert [h.elements for h in after.division.hoopings] == [h.elements for h in short.division.hoopings]


def test_it_grows_no_farther_than_needed(long):
    after, _ = long
    short_by_a_step = proved(two_and_a_band(tuck=round(tuck_of(after) - 0.1, 1), overlap=overlap_of(after)))
    assert len(gaps(short_by_a_step)) == 1


def test_lapping_once_more_changes_nothing(long):
    after, _ = long
    again, lapping = lapped(after, never)
    assert again is after
    assert lapping == Lapping((), ())


def never(_: Piece) -> Proved:
    raise AssertionError("nothing was to be tried")


def test_the_chances_told_are_those_of_the_proof(short, long):
    after, lapping = long
    for change, kind in zip(lapping.changes, ("end", "cut"), strict=True):
        before = max((m for m in short.proof.meetings if m.kind == kind), key=lambda m: m.lap_wanted - m.lap)
        same = [m for m in after.proof.meetings if m.parts == before.parts and (m.first, m.second) == change.hoopings]
        assert (change.parts, change.gap_before) == (before.parts, before.gap_chance)
        assert [m.gap_chance for m in same] == [change.gap_after]


def test_what_is_told(long):
    _, lapping = long
    stem, cuts, keep = told(lapping, "mm")
    assert stem == 'Join "stem": tuck 0.2 mm to 1.2 mm, so that hoopings 1 and 3 meet: chance of a gap 25 % to 4.5 %.'
    assert cuts.startswith("Overlap at cuts: 0 mm to 1.1 mm, so that hoopings 4 and 5 meet: chance of a gap 29 % to ")
    assert keep == (
        'piece.toml stays as it was. To have this in it, write tuck = 1.2 in "stem" and overlap = 1.1 under [hooping].'
    )


def test_what_the_record_says(long):
    assert lengthened(long[1]) == [
        {"element": "stem", "word": "tuck", "from": 0.2, "to": 1.2},
        {"element": None, "word": "overlap", "from": 0.0, "to": 1.1},
    ]


def test_in_inches_the_length_told_is_the_length_sewn():
    after, lapping = lapped(proved(two_and_a_band(units="inch")), proved)
    assert gaps(after) == []
    sentences = told(lapping, "inch")
    assert all(" mm" not in line for line in sentences)
    tuck, overlap = sentences[-1].split('"')[1], sentences[-1].split('"')[5]
    assert parse_length(tuck) == pytest.approx(tuck_of(after), abs=1e-9)
    assert parse_length(overlap) == pytest.approx(overlap_of(after), abs=1e-9)


def test_what_is_long_enough_is_left_as_drawn():
    found = proved(two_and_a_band(tuck=3.0, overlap=2.0))
    after, lapping = lapped(found, never)
    assert after is found
    assert told(lapping, "mm") == ("Nothing had to be lengthened.",)


@pytest.mark.parametrize("name", ["sea-holly-cushion", "tablecloth-hem"])
def test_the_examples_are_long_enough(name):
    drawn_so = proved_from_disk(read_piece(EXAMPLES / name))
    enough = proved_from_disk(read_piece(EXAMPLES / name), lap="enough")
    assert drawn_so.lapping is None
    assert enough.lapping == Lapping((), ())
    assert enough.proof.findings == drawn_so.proof.findings == ()


def test_parts_side_by_side_and_joins_on_a_path_are_left():
    at_an_edge = {**STEM, "path": "M 120 200 H 175"}
    del at_an_edge["from"], at_an_edge["to"]
    touching = motif("above", "60x30", (100, 164.9))
    others = (motif("left", "60x40", (100, 200)), motif("right", "40x40", (195, 200)), touching)
    found = proved(spread_by(COARSE, piece(at_an_edge, *others, hoops=(Hoop(name="small", field=(62.0, 62.0)),))))
    assert {m.kind for m in found.proof.meetings} == {"end", "side"}
    assert len(gaps(found)) >= 2
    assert lapped(found, never) == (found, Lapping((), ()))


def test_a_wreath_has_one_tuck_for_all_its_links():
    stem = {"kind": "join", "name": "stem", "through": "patch", "closed": True, "tuck": 0.0, "width": 2}
    ring = motif("patch", "26x26", (200, 200), ring={"count": 6, "radius": 75})
    found = proved(spread_by(COARSE, piece(stem, ring, hoops=(Hoop(name="small", field=(66.0, 66.0)),))))
    after, lapping = lapped(found, proved)
    assert len(gaps(found)) >= 4
    assert gaps(after) == []
    assert [c.element for c in lapping.changes] == ["stem"]
    assert max(m.gap_chance for m in after.proof.meetings) > 0.02  # the worst is only just enough


def refused(found: Proved, prove_again=proved, element="stem") -> Left:
    """What was left, where nothing was lengthened though parts may miss each other."""
    after, lapping = lapped(found, prove_again)
    assert after is found
    assert gaps(found)
    assert lapping.changes == ()
    (left,) = lapping.left
    assert (left.element, left.at) == (element, tuck_of(found) if element else overlap_of(found))
    assert left.to > left.at
    assert len(told(lapping, "mm")) == 1
    return left


def test_no_end_comes_out_on_the_far_side_of_its_motif():
    left = refused(proved(stem_alone(left="1.2x40", measured=Measured(marking=4, reading=4))))
    assert left.why == "would bring an end out on bare cloth"


def test_a_cut_that_cannot_overlap_is_left():
    """Stitches of 40 mm: a field of 62 mm holds one and no more, so two fields can share a hole only."""
    left = refused(proved(two_and_a_band(tuck=3.0, band="long stitches")), element=AT_CUTS)
    assert left.why == "brings it hardly any farther over what it meets"


def test_where_rows_are_wide_an_overlap_grows_by_one_before_it_helps():
    """Rows of 0.5 mm: an overlap of 0.05 mm shares one already, and so would what is lacking added to it (computed)."""
    found = proved(two_and_a_band(tuck=3.0, overlap=0.05, measured=Measured(marking=1.5, reading=1.05)))
    lack = max(lacking(m) for m in found.proof.meetings)
    assert gaps(proved(two_and_a_band(3.0, 0.05 + lack, measured=Measured(marking=1.5, reading=1.05))))
    after, lapping = lapped(found, proved)
    assert gaps(after) == []
    assert [c.element for c in lapping.changes] == [AT_CUTS]
    assert overlap_of(after) > 0.05 + lack


def test_an_end_does_not_leave_the_cloth():
    left = refused(proved(stem_alone(left="2x40", at=(1.2, 200), measured=Measured(marking=4, reading=4))))
    assert "would not do: it reaches" in left.why
    assert 'beyond the left edge of panel "front"' in left.why


PILED = Finding("look again", "somewhere", "It piles up.", elements=("stem",))


def with_more(found: Proved, finding: Finding) -> Proved:
    return replace(found, proof=replace(found.proof, findings=(*found.proof.findings, finding)))


@pytest.mark.parametrize("verdict", ["look again", "will not work"])
def test_a_lengthening_that_brings_another_finding_is_left(verdict):
    def piling(one: Piece) -> Proved:
        found = proved(one)
        return with_more(found, replace(PILED, verdict=verdict)) if tuck_of(found) > 0.2 else found

    assert refused(proved(stem_alone()), piling).why == "would bring another finding, somewhere: It piles up"


def test_a_finding_that_was_there_before_does_not_count():
    def always(one: Piece) -> Proved:
        return with_more(proved(one), PILED)

    after, lapping = lapped(always(stem_alone()), always)
    assert gaps(after) == []
    assert lapping.left == ()


def test_where_the_hoop_lies_speaks_against_nothing_that_can_still_be_sewn():
    def near_the_edge(one: Piece) -> Proved:
        found = proved(one)
        return with_more(found, replace(PILED, elements=())) if tuck_of(found) > 0.2 else found

    after, lapping = lapped(proved(stem_alone()), near_the_edge)
    assert gaps(after) == []
    assert lapping.left == ()


def test_a_lengthening_that_has_another_part_divided_is_left():
    """A field of 62 mm holds the stem while its tuck is short."""
    short_by_little = proved(two_and_a_band(tuck=1.0, overlap=9.0, measured=Measured(marking=4, reading=4)))
    assert refused(short_by_little).why == "would have stem divided"


def test_a_lengthening_that_takes_another_hooping_is_left():
    def one_more(one: Piece) -> Proved:
        found = proved(one)
        more = replace(found.division, hoopings=(*found.division.hoopings, found.division.hoopings[-1]))
        return replace(found, division=more) if tuck_of(found) > 0.2 else found

    assert refused(proved(stem_alone()), one_more).why == "would take four hoopings"


def test_what_does_harm_does_not_keep_the_rest_from_growing(short):
    def piling(one: Piece) -> Proved:
        found = proved(one)
        return with_more(found, PILED) if tuck_of(found) > 0.2 else found

    after, lapping = lapped(short, piling)
    assert [c.element for c in lapping.changes] == [AT_CUTS]
    assert [e.element for e in lapping.left] == ["stem"]
    assert (tuck_of(after), overlap_of(after)) == (0.2, 1.1)
    assert {m.kind for m in after.proof.meetings if m.gap_chance > GAP_SELDOM} == {"end"}
    lines = told(lapping, "mm")
    assert lines[1].startswith('Join "stem": tuck left at 0.2 mm; 1.2 mm would bring another finding, somewhere: ')
    assert lines[2].endswith("write overlap = 1.1 under [hooping].")


def lengthens(met: Meeting, found: Proved) -> str | None:
    """Which length is in question at a meeting."""
    join = running_on(met, found.layout)
    return AT_CUTS if met.kind == "cut" else join and join.name


@settings(deadline=None, max_examples=12)
@given(
    tuck=st.floats(0, 2).map(lambda mm: round(mm, 2)),
    overlap=st.floats(0, 2).map(lambda mm: round(mm, 2)),
    band=st.sampled_from(sorted(BANDS)),
    marking=st.floats(0.2, 3),
    units=st.sampled_from(["mm", "inch"]),
)
@example(tuck=0.2, overlap=0.35, band="fill", marking=1.0, units="mm")
def test_nothing_is_shortened_and_all_that_can_be_lengthened_meets(tuck, overlap, band, marking, units):
    measured = Measured(marking=marking, reading=0.7 * marking)
    found = proved(two_and_a_band(tuck, overlap, band, measured, units))
    after, lapping = lapped(found, proved)
    assert tuck_of(after) >= tuck
    assert overlap_of(after) >= overlap
    left = {each.element for each in lapping.left}
    for met in after.proof.meetings:
        assert met.gap_chance <= GAP_SELDOM or lengthens(met, after) in left
    assert after.division.count <= found.division.count
    assert not by_rule(after) - by_rule(found)
    assert {c.element for c in lapping.changes} == {
        name for name, grown in (("stem", tuck_of(after) > tuck), (AT_CUTS, overlap_of(after) > overlap)) if grown
    }


PLACINGS = 20_000


def gapping(met: Meeting, found: Proved, rng: np.random.Generator) -> float:
    """The share of simulated placings in which more than HIDDEN of cloth shows at a meeting.

    Every cross is drawn once, wherever it is used; every hooping reads and seats each of its crosses anew, is brought
    to them by least squares (exactly, by complex numbers), shifts and turns once more, and draws in.
    """
    model = placing_model(found.layout.piece.bench.measured)
    at = complex(*met.at)
    hoopings = [found.division.hoopings[number - 1] for number in (met.first, met.second)]
    crosses = {mark.at: noise(rng, model.marking) for h in hoopings for mark in h.marks}
    landed = []
    for hooping, part in zip(hoopings, met.parts, strict=True):
        block = min((b for b in hooping.blocks if b.part == part), key=lambda b: b.region.distance(point(met.at)))
        marks = np.array([complex(*m.at) for m in hooping.marks])
        lined_up = [crosses[m.at] + noise(rng, math.hypot(model.reading, model.seating)) for m in hooping.marks]
        seen = marks[:, None] + np.array(lined_up)
        arms = (marks - marks.mean()).conj()[:, None] * (seen - seen.mean(axis=0))
        turn = arms.sum(axis=0) / np.abs(arms.sum(axis=0))
        place = seen.mean(axis=0) + turn * (at - marks.mean())
        lean = np.exp(1j * np.radians(rng.normal(0, model.turn, PLACINGS)))
        middle = complex(hooping.field.x, hooping.field.y)
        place += noise(rng, model.shift) + (lean - 1) * (at - middle)
        along = complex(*stitch_direction(block))
        reach = at - complex(*block.stitching.holes.mean(axis=0))
        for way, share in ((along, model.drawn_along), (1j * along, model.drawn_across)):
            far = (reach * way.conjugate()).real
            place += rng.normal(0, SPREAD_OF_DRAW * share * abs(far), PLACINGS) * way
        landed.append(place)
    apart = ((landed[1] - landed[0]) * complex(*met.across).conjugate()).real
    return float((apart - met.lap > HIDDEN).mean())


def noise(rng: np.random.Generator, rms: float) -> np.ndarray:
    return (rng.normal(size=(PLACINGS, 2)) * rms / math.sqrt(2)) @ [1, 1j]


def point(at):
    return box(*at, *at)


@pytest.mark.parametrize("band", sorted(BANDS))
def test_simulated_placings_seldom_gap(band):
    """Five in a hundred, and four standard deviations of so many tries: 0.6 in a hundred."""
    found = proved(two_and_a_band(band=band))
    after, _ = lapped(found, proved)
    rng = np.random.default_rng(26)
    chance = GAP_SELDOM + 4 * math.sqrt(GAP_SELDOM * (1 - GAP_SELDOM) / PLACINGS)
    assert len(after.proof.meetings) == 4
    for met in after.proof.meetings:
        share = gapping(met, after, rng)
        assert share <= chance
        assert share == pytest.approx(met.gap_chance, abs=0.005)
    assert min(gapping(met, found, rng) for met in found.proof.meetings) > 0.2


@pytest.fixture
def coarse(tmp_path: Path) -> Path:
    """The starting piece with hardly any tuck, by one who draws and reads crosses coarsely."""
    folder = tmp_path / "wreath"
    new_piece(folder)
    bench, one = folder / "bench.toml", folder / "piece.toml"
    shelf = bench.read_text("utf-8")
    assert "[measured]\n" in shelf
    bench.write_text(shelf.replace("[measured]\n", "[measured]\nmarking = 1.6\nreading = 1.2\n"), "utf-8")
    text = one.read_text("utf-8")
    assert 'stitch = "satin"\n' in text
    one.write_text(text.replace('stitch = "satin"\n', 'stitch = "satin"\ntuck = 0\n'), "utf-8")
    return folder


def test_make_with_enough_lap_tells_it_everywhere_and_leaves_the_piece_file(coarse):
    before = (coarse / "piece.toml").read_bytes()
    assert "cloth may show" in flat(run("prove", coarse).stdout)
    made = run("make", coarse, "--lap", "enough")
    assert made.exit_code == 0, made.output
    text = flat(made.stdout)
    assert "cloth may show" not in text
    change = text[text.index('Lengthened Join "stem": tuck 0 mm to ') + len("Lengthened ") :]
    change = change[: change.index(" piece.toml stays as it was.")]
    record = json.loads((coarse / "made" / "hoopings.json").read_text("utf-8"))
    (one,) = record["lengthened"]
    assert (one["element"], one["word"], one["from"]) == ("stem", "tuck", 0.0)
    assert f"tuck 0 mm to {one['to']:g} mm, so that hoopings " in change
    assert (coarse / "piece.toml").read_bytes() == before
    with pypdfium2.PdfDocument(coarse / "made" / "work-sheet.pdf") as sheet:
        first = flat(sheet[0].get_textpage().get_text_range())
    assert "Lengthened" in first
    assert change in first


def test_written_by_hand_the_lengths_come_to_the_same(coarse, tmp_path):
    assert run("make", coarse, "--lap", "enough", "-o", tmp_path / "one").exit_code == 0
    (change,) = json.loads((tmp_path / "one" / "hoopings.json").read_text("utf-8"))["lengthened"]
    one = coarse / "piece.toml"
    one.write_text(one.read_text("utf-8").replace("tuck = 0\n", f"tuck = {change['to']:g}\n"), "utf-8")
    assert tomllib.loads(one.read_text("utf-8"))
    assert run("make", coarse, "-o", tmp_path / "two").exit_code == 0
    for file in (tmp_path / "one").glob("hooping-*"):
        assert file.read_bytes() == (tmp_path / "two" / file.name).read_bytes()


def test_prove_says_what_was_lengthened_and_what_had_not_to_be(coarse):
    told_so = run("prove", coarse, "--lap", "enough")
    assert told_so.exit_code == 0
    assert 'Lengthened Join "stem": tuck 0 mm to ' in flat(told_so.stdout)
    left = json.loads(run("prove", coarse, "--lap", "enough", "--json").stdout)
    assert not any("cloth may show" in one["reason"] for one in left)
    assert "Lengthened" not in run("prove", coarse).stdout


def test_lap_is_one_of_two_words(coarse):
    assert run("prove", coarse, "--lap", "plenty").exit_code == 2
