"""The proof sheet: what it tells, and its map and ellipses measured with a ruler."""

import itertools
import re
from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box

from festoon.piece.bench import Measured
from festoon.proof.cloth import LAYERS
from festoon.proof.meeting import meetings
from festoon.proof.picture import LEVELS
from festoon.proof.thickness import thickness
from festoon.proof.told import advice_told, marking_told
from festoon.proof.values import Carrying, Learned, MarkAdvice, Meeting, Proof
from festoon.registration.model import PlacingModel, placing_model
from festoon.sheets import proof_sheet
from festoon.sheets.ground import Ground
from festoon.sheets.labels import beside
from festoon.sheets.proof_figures import bar, ellipse, factor, thickness_figure
from festoon.sheets.proof_sheet import MOST_MEETINGS, MOST_NAMED, numbered_places, worst_meetings
from festoon.sheets.style import INK, lightness
from festoon.supplies import count
from festoon.supplies.assumed import part_told
from festoon.work import Finding, Step, Work
from tests.sheets import toy
from tests.sheets.pdf_pages import MM, pages

TOO_THICK = Finding(
    "will not work",
    "sprig-1 on front",
    "It goes stiff.",
    "Leave some of it out.",
    "6.4 layers",
    "6",
    LAYERS.source,
    "front",
    (200.0, 82.0),
    ("sprig-1",),
    1,
)
NEVER_MET = Finding(
    "look again",
    "stem-2",
    "It ends short.",
    "Make it longer.",
    "a chance of 9 %",
    "5 %",
    "computed",
    "front",
    (275.0, 110.0),
    ("stem-2",),
    2,
)


def proved(layout, division, *findings):
    maps = tuple(thickness([h.stitching for h in division.hoopings], p.name) for p in layout.panels)
    return Proof(findings, meetings(division, PlacingModel(), layout), maps)


def made(layout, division, proof, paper="A4", units="mm"):
    return proof_sheet(layout, division, proof, count(division, layout.piece.bench, units), paper=paper, units=units)


def words(sheets):
    return " ".join(" ".join(p.text.split()) for p in sheets)


def meeting(covariance, at=(100.0, 100.0), gap=0.0, pile=0.0, across_sd=1.0):
    return Meeting(
        "front", 1, 2, ("a", "b"), at, (1.0, 0.0), np.array(covariance), across_sd, 0.5, 1.0, gap, pile, 0.5
    )  # fmt: skip


@pytest.fixture(scope="module", params=["A4", "Letter"])
def cushion(request):
    layout, division = toy.cushion()
    proof = proved(layout, division, NEVER_MET, TOO_THICK)
    data = made(layout, division, proof, request.param)
    return layout, division, proof, data, pages(data)


def test_the_verdict_stands_first_then_every_finding(cushion):
    _, _, _, _, sheets = cushion
    text = words(sheets)
    verdict = "One thing will not work, and one thing should be looked at again."
    places = [text.index(verdict)]
    for n, f, word in ((1, TOO_THICK, "Will not work"), (2, NEVER_MET, "Look again")):
        told = f"{n} {word}: {f.where}: {f.reason} Found {f.figure}; the limit is {f.limit}. {f.remedy} ({f.source})"
        assert told in text
        places.append(text.index(told))
    assert places == sorted(places)
    assert "the needle may be turned aside" in text


def test_dense_stitching_alone_brings_the_caution():
    layout, division = toy.cushion(2)
    text = words(pages(made(layout, division, proved(layout, division, NEVER_MET))))
    assert "One thing should be looked at again" not in text
    assert "Nothing keeps it from working; one thing should be looked at again." in text
    assert "the needle may be turned aside" not in text


def test_sound_is_told_too():
    layout, division = toy.cushion(2)
    text = words(pages(made(layout, division, proved(layout, division))))
    assert "Sound: nothing was found that keeps it from working." in text
    assert "What was found" not in text


def outline(page, size):
    """The panel's edge: the largest square path in ink."""
    boxes = [s.points for s in page.drawn(INK) if len(s.points) in (4, 5)]
    spans = [(np.ptp(b[:, 0]), b.min(axis=0)) for b in boxes if np.ptp(b[:, 0]) > 40]
    wide, corner = max(spans, key=lambda s: s[0])
    return wide / size, corner


def test_the_map_lies_over_the_panel_in_true_proportion(cushion):
    layout, _, proof, _, sheets = cushion
    (page,) = [p for p in sheets if p.images]
    (image,) = page.images
    scale, corner = outline(page, layout.panels[0].size[0])
    thick = proof.thickness[0]
    rows, columns = thick.layers.shape
    x, y = thick.origin
    expected = np.array([x, y, x + columns * thick.cell, y + rows * thick.cell]) * scale + np.tile(corner, 2)
    assert image == pytest.approx(expected, abs=0.05)
    assert f"drawn at 1 : {1 / scale:.3g}" in words([page])


def test_the_scale_bar_measures_what_it_says(cushion):
    layout, _, _, _, sheets = cushion
    (page,) = [p for p in sheets if p.images]
    scale, corner = outline(page, layout.panels[0].size[0])
    fifths = [s.points for s in page.strokes if s.points[:, 1].min() > corner[1] + 400 * scale and s.stroke == INK]
    fifths = [p for p in fifths if np.ptp(p[:, 1]) == pytest.approx(1.8, abs=0.02)]
    assert len(fifths) == 5
    whole = np.ptp(np.concatenate(fifths)[:, 0])
    assert whole == pytest.approx(100 * scale, abs=0.05)
    assert " 100 mm" in words([page])


def test_few_pages_of_the_paper_asked_for(cushion):
    layout, division, proof, data, sheets = cushion
    assert 2 <= len(sheets) <= 5
    assert {tuple(round(v, 1) for v in p.size) for p in sheets} <= {(210.0, 297.0), (215.9, 279.4)}
    assert made(layout, division, proof, "A4" if sheets[0].size[1] > 290 else "Letter") == data


def test_every_level_is_darker_than_the_last_in_grey_and_on_paper(cushion):
    """In steps of at least 20 in 255 as the printed legend shows them, so that a black printer keeps them apart."""
    *_, data, sheets = cushion
    light = [lightness(colour) for _, colour in LEVELS]
    assert all(a > 1.3 * b for a, b in itertools.pairwise(light))
    number = next(i for i, p in enumerate(sheets) if p.images)
    document = pypdfium2.PdfDocument(data)
    page = document[number]
    grey = page.render(scale=4 * MM, grayscale=True).to_numpy()
    page.close()
    document.close()
    shades = []
    for _, colour in LEVELS:
        (swatch,) = [s.points for s in sheets[number].strokes if s.fill == colour and np.ptp(s.points[:, 0]) < 10]
        x, y = (4 * swatch.mean(axis=0)).astype(int)
        shades.append(int(grey[y, x].mean()))
    assert (np.diff(shades) <= -20).all()


def test_every_meeting_has_its_row_and_what_the_figures_are(cushion):
    _, _, proof, _, sheets = cushion
    text = words(sheets)
    ranked = worst_meetings(proof.meetings)
    assert ranked
    for letter, m in zip("abcdefghijklmnopqrst", ranked, strict=False):
        assert f"{letter} {' and '.join(m.parts)} " in text
        assert f" {m.first}, {m.second} ± " in text
    assert f"{len(proof.meetings)} places where hoopings meet; the least sure" in text
    for p in PlacingModel().parts:
        assert f"{p.name} {part_told(p, 'mm')} {p.basis} {p.source}" in text


def test_drawn_ellipses_reach_as_far_as_told(cushion):
    """Half axes on paper: 1.96 standard deviations, times the scale, times the factor that the caption gives."""
    layout, _, proof, _, sheets = cushion
    (page,) = [p for p in sheets if "times enlarged" in words([p])]
    enlarged = int(re.search(r"(\d+) times enlarged", words([page]))[1])
    scale, corner = outline(page, layout.panels[0].size[0])
    drawn = [s.points for s in page.drawn(INK) if len(s.points) >= 72]
    assert len(drawn) == len(proof.meetings)
    for m in proof.meetings:
        middle = np.array(m.at) * scale + corner
        mine = min(drawn, key=lambda p: np.hypot(*(p.mean(axis=0) - middle)))
        out = np.hypot(*(mine - middle).T)
        expected = 1.96 * np.sqrt(np.linalg.eigvalsh(m.covariance)) * scale * enlarged
        assert (out.min(), out.max()) == pytest.approx(tuple(expected), abs=0.03)


def test_an_ellipse_by_hand():
    """Computed: spreads of 0.5 and 0.2 mm turned by 30 degrees; 1.96 x 0.5 x 10 = 9.8 and 1.96 x 0.2 x 10 = 3.92."""
    c, s = np.cos(np.pi / 6), np.sin(np.pi / 6)
    turn = np.array([[c, -s], [s, c]])
    one = meeting(turn @ np.diag([0.25, 0.04]) @ turn.T)
    points = np.array(ellipse(one, 10).exterior.coords) - one.at
    along, across = points @ [c, s], points @ [-s, c]
    assert np.abs(along).max() == pytest.approx(9.8)
    assert np.abs(across).max() == pytest.approx(3.92)


@given(st.floats(0.01, 30.0), st.floats(0.02, 3.0))
def test_the_factor_leaves_room(sd, scale):
    chosen = factor([meeting(np.diag([sd**2, sd**2 / 2]))], scale)
    assert chosen == 1 or 1.96 * sd * scale * chosen <= 3.6 + 1e-9


def test_many_meetings_are_counted_and_the_worst_stand_first():
    layout, division = toy.cushion(2)
    several = [
        meeting(np.eye(2) * 0.1, (20.0 + 13 * k, 200.0), gap=k / 100, across_sd=0.3) for k in range(MOST_MEETINGS + 5)
    ]
    proof = replace(proved(layout, division), meetings=tuple(several))
    text = words(pages(made(layout, division, proof)))
    assert "And 5 more" in text
    assert f"a a and b {20 + 13 * 24} mm from the left and 200 mm" in text
    assert f"t a and b {20 + 13 * 5} mm from the left and 200 mm" in text
    assert "24 % under 0.5 %" in text


def test_how_to_mark_it_and_what_was_learned():
    layout, division = toy.cushion(2)
    carrying = (Carrying("front", 0.4, 0.7, (1, 2), (1, 2), 2),)
    advice = (
        MarkAdvice("front", 2, "C", (120.0, 35.5), 0.5, 0.3),
        MarkAdvice("front", 1, None, (20.0, 30.0), 0.5, 0.4),
    )
    learned = Learned(PlacingModel(marking=0.37, measured=frozenset({"marking"})), {}, "Two hoopings were read.")
    proof = replace(proved(layout, division), carrying=carrying, advice=advice, learned=learned)
    text = words(pages(made(layout, division, proof)))
    assert f"How to mark it computed {marking_told(carrying, 'mm')} {advice_told(advice[0], 'mm')}" in text
    assert advice_told(advice[1], "mm") in text
    assert "Two hoopings were read." in text
    assert "drawing a cross, root mean square 0.37 mm measured" in text
    assert "How to mark it" not in words(pages(made(layout, division, proved(layout, division))))


def test_hoopings_apart_have_nothing_to_miss():
    layout, division = toy.cushion(2)
    proof = replace(proved(layout, division), meetings=())
    assert "so nothing can miss" in words(pages(made(layout, division, proof)))


def test_nothing_to_sew_makes_a_sheet_too():
    layout, division = toy.cushion(0)
    (page,) = pages(made(layout, division, proved(layout, division)))
    assert "Nothing to sew, so nothing to prove." in words([page])
    assert page.images == []
    assert "What the placing rests on" not in page.text


def test_work_by_hand_alone_is_judged_too():
    layout, division = toy.cushion(0)
    by_hand = replace(layout, works=(Work("lace", "front", steps=(Step("lay it", "Lay it.", "set"),)),))
    (page,) = pages(made(by_hand, division, proved(by_hand, division)))
    assert "Sound: nothing was found that keeps it from working." in words([page])


def test_inches_throughout():
    layout, division = toy.cushion(units="inch")
    bench = layout.piece.bench.model_copy(update={"measured": Measured(marking=0.8)})
    layout = replace(layout, piece=replace(layout.piece, bench=bench))
    text = words(pages(made(layout, division, proved(layout, division), "Letter", "inch")))
    assert not re.search(r"\d mm", text)
    assert " 2 in" in text  # the scale bar
    assert "drawing a cross, root mean square 0.031 in measured the bench file" in text
    assert [p.basis for p in placing_model(bench.measured).parts].count("measured") == 1


@pytest.mark.parametrize(("scale", "units", "length"), [(0.4, "mm", 100), (1.0, "mm", 20), (0.4, "inch", 2)])
def test_a_scale_bar_is_round(scale, units, length):
    told, on_paper = bar(scale, units)
    assert told == length
    assert on_paper == pytest.approx(length * scale * (1 if units == "mm" else 25.4))


def test_places_near_a_like_one_and_the_last_of_many_have_no_number():
    near = tuple(replace(TOO_THICK, at=(200.0 + d, 82.0)) for d in (0, 3, 30))
    elsewhere = (replace(NEVER_MET, panel="back"), replace(NEVER_MET, at=None))
    assert numbered_places([("1", near), ("2", elsewhere)], "front", 10.0) == [
        ("1", (200.0, 82.0)),
        ("", (203.0, 82.0)),
        ("1", (230.0, 82.0)),
    ]
    many = tuple(replace(TOO_THICK, at=(20.0 * k, 82.0)) for k in range(MOST_NAMED + 4))
    assert [n for n, _ in numbered_places([("1", many)], "front", 10.0)] == ["1"] * MOST_NAMED + [""] * 4


def test_every_place_has_a_dot_and_named_ones_a_ring():
    layout, division = toy.cushion(3)
    thick = proved(layout, division).thickness[0]
    figure = thickness_figure(layout.panels[0], thick, "x.png", (), [("1", (200.0, 82.0)), ("", (90.0, 90.0))], 0.4)
    discs = [r for r in figure.records if r["kind"] == "disc"]
    assert sorted(r["r"] for r in discs) == pytest.approx([0.55, 0.55, 2.2])
    assert [r["text"] for r in figure.records if r["kind"] == "text"] == ["1"]
    at = [r["at"] for r in discs if r["r"] < 1]
    assert at[0] == pytest.approx([200 * 0.4 + 1, 82 * 0.4 + 1])


def test_a_label_stays_on_the_cloth_and_off_stitching():
    (corner,) = beside([("1", (199.0, 1.0))], Ground((200, 200), 1.0, []), (), 4.0, 6.0)
    assert corner.lies_in((0, 0, 200, 200))
    (stitched,) = beside([("1", (100.0, 100.0))], Ground((200, 200), 1.0, [(1.0, [box(0, 0, 200, 97)])]), (), 4.0, 6.0)
    assert stitched.box[1] >= 97


@given(st.lists(st.tuples(st.floats(20, 180), st.floats(20, 180)), min_size=1, max_size=6))
def test_labels_beside_places_do_not_lie_on_one_another(places):
    labels = beside([(str(k), at) for k, at in enumerate(places)], Ground((200, 200), 1.0, []), (), 4.0, 6.0)
    assert [x.text for x in labels] == [str(k) for k in range(len(places))]
    for k, one in enumerate(labels):
        assert 6.0 - 1e-9 <= np.hypot(*(np.array(one.at) - places[k])) <= 24.0 + 1e-9
        for other in labels[:k]:
            apart = np.abs(np.array(one.at) - other.at)
            assert apart.max() >= 4.0 - 1e-6
