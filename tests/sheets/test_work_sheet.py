"""The work sheet: everything a worker needs is on it, at the right hooping."""

import re
from dataclasses import replace

import numpy as np
import pytest

from festoon.hooping import check_order
from festoon.piece import BenchThread
from festoon.piece.bench import Needle
from festoon.proof import Carrying
from festoon.proof.cloth import LAYERS
from festoon.proof.told import marking_told
from festoon.sheets import work_sheet
from festoon.supplies import count
from festoon.supplies.cautions import DENSE, TRIMMING
from festoon.work import Finding
from tests.sheets import toy
from tests.sheets.pdf_pages import pages


def files(division):
    return {h.number: f"cushion-{h.number:02d}.dst" for h in division.hoopings}


def made(layout, division, paper="A4", units="mm"):
    supplies = count(division, layout.piece.bench, units)
    return work_sheet(layout, division, supplies, paper=paper, units=units, files=files(division))


def words(page):
    return " ".join(page.text.split())


@pytest.fixture(scope="module")
def cushion():
    layout, division = toy.cushion()
    return layout, division, pages(made(layout, division))


def test_the_first_page_sums_up(cushion):
    layout, division, sheets = cushion
    text = words(sheets[0])
    supplies = count(division, layout.piece.bench)
    for told in (division.headline, *division.reasons, *(c.text for c in supplies.cautions)):
        assert told in text
    for use in supplies.threads:
        assert use.thread.name in text
        assert use.thread.colour in {s.fill for s in sheets[0].strokes}
    assert "one bobbin" in text
    assert "tear-away" in text
    assert "75/11 embroidery" in text


def test_which_way_to_mark_stands_beside_the_picture_of_the_marks(cushion):
    layout, division, sheets = cushion
    assert "Marking the cloth." not in words(sheets[0])
    supplies = count(division, layout.piece.bench)
    told = Carrying("front", 0.7, 1.3, (1, 2), (1, 2), 2)
    sheet = work_sheet(layout, division, supplies, paper="A4", units="inch", files=files(division), carrying=(told,))
    assert f"Marking the cloth. {marking_told((told,), 'inch')} computed" in words(pages(sheet)[0])


def test_every_figure_says_what_it_rests_on(cushion):
    layout, division, sheets = cushion
    text = words(sheets[-1])
    for a in count(division, layout.piece.bench).assumptions:
        assert f"{a.basis} " in text
        assert a.source in text
        assert a.name in text
        assert a.value in text


def test_every_figure_on_the_first_pages_says_its_class(cushion):
    layout, division, sheets = cushion
    first, second = words(sheets[0]), words(sheets[1])
    assert "needle thread stitches computed length computed" in first
    assert "one bobbin computed" in first
    assert "75/11 embroidery assumed" in first  # the toy's bench says nothing of its needle
    assert "cut 400 mm by 400 mm (measured), natural linen" in first
    for word in ("Computed:", "Measured:", "Assumed:"):
        assert word in first
    assert "from left edge computed from top edge computed" in second
    assert "stitches computed" in second
    assert "with hooping and changes. computed" in second
    assert "95 times in 100. computed" in second
    bench = layout.piece.bench.model_copy(update={"needle": Needle(size="75/11")})
    mine = replace(layout, piece=replace(layout.piece, bench=bench))
    assert "75/11 embroidery measured" in words(pages(made(mine, division))[0])


def test_cautions_stand_at_the_hooping_that_they_concern(cushion):
    """Dense stitching where it was found, magnets where the hoop has them, scissors where thread is trimmed."""
    layout, division, sheets = cushion
    magnetic = replace(division.hoopings[1], hoop=toy.HOOP.model_copy(update={"magnetic": True}))
    alone = replace(division.hoopings[2], stitching=division.hoopings[2].stitching.part(0, 40))
    some = replace(division, hoopings=(division.hoopings[0], magnetic, alone))
    dense = Finding("look again", "sprig-1 on front", "Stiff.", source=LAYERS.source, panel="front", hooping=1)
    supplies = count(some, layout.piece.bench)
    data = work_sheet(layout, some, supplies, paper="A4", units="mm", files=files(some), findings=(dense,))
    text = " ".join(words(p) for p in pages(data))
    front, *blocks = re.split(r"Hooping \d of 3", text)
    assert [DENSE.text in b for b in (front, *blocks)] == [True, True, False, False]
    assert ["Magnetic hoop: fingers away" in b for b in blocks] == [False, True, False]
    assert [TRIMMING.text in b for b in blocks] == [True, True, False]
    assert DENSE.text not in " ".join(words(p) for p in sheets)


def test_every_hooping_has_its_block_on_one_page(cushion):
    _, division, sheets = cushion
    for h in division.hoopings:
        (page,) = [words(p) for p in sheets if f"Hooping {h.number} of 9" in words(p)]
        assert f"file cushion-{h.number:02d}.dst" in page
        assert h.reason in page
        for mark in h.marks:
            x, y = (f"{v:.1f}".removesuffix(".0") for v in mark.at)
            assert f"{mark.name} {x} mm {y} mm" in page
        names = " and ".join(m.name for m in h.marks)
        check = ", ".join(m.name for m in check_order(h))
        for step in (f"Mark {names} on the cloth", "Hoop", f"Needle check, in turn: {check}", "Sew", "Out of the hoop"):
            assert step in page
        assert f"{h.stitching.stitch_count:,} stitches" in page
        assert "Predicted: the stitching falls within 0.9 mm of its place 95 times in 100." in page  # 0.83, rounded up


def test_order_and_floating_are_told(cushion):
    _, _, sheets = cushion
    text = " ".join(words(p) for p in sheets)
    assert [text.count(f"after hooping {number}") for number in range(1, 10)] == [1] * 8 + [0]
    assert text.count("float the cloth on it") == 1
    assert "The hoop reaches past front at the left." in text


def test_a_cross_is_marked_once(cushion):
    layout, division, _ = cushion
    first, second, third = division.hoopings[:3]
    second = replace(second, marks=(second.marks[0], first.marks[1]))
    third = replace(third, marks=first.marks)
    text = " ".join(words(p) for p in pages(made(layout, replace(division, hoopings=(first, second, third)))))
    assert "Mark A and B on the cloth" in text
    assert "Mark C on the cloth" in text
    assert "Needle check, in turn: B, C" in text or "Needle check, in turn: C, B" in text
    assert text.count("Crosses are marked already") == 1


def test_several_before(cushion):
    layout, division, _ = cushion
    last = replace(division.hoopings[2], after=(1, 2), float_sides=("left", "top"))
    few = replace(division, hoopings=(*division.hoopings[:2], last))
    text = " ".join(words(p) for p in pages(made(layout, few)))
    assert "after hoopings 1 and 2" in text
    assert "at the left and top." in text


def test_a_thread_goes_by_the_name_on_the_shelf(cushion):
    layout, division, _ = cushion
    bench = layout.piece.bench.model_copy(update={"thread": (BenchThread(name="old stem", colour="#66845f"),)})
    text = words(pages(made(replace(layout, piece=replace(layout.piece, bench=bench)), division))[0])
    assert "old stem" in text


def test_inches_on_letter_and_the_same_twice():
    layout, division = toy.cushion(2)
    first = made(layout, division, "Letter", "inch")
    assert made(layout, division, "Letter", "inch") == first
    sheets = pages(first)
    assert sheets[0].size == pytest.approx((215.9, 279.4), abs=0.01)
    mark = division.hoopings[0].marks[0]
    thirty_seconds = round(mark.at[0] / 25.4 * 32)
    text = " ".join(words(p) for p in sheets)
    assert f"{mark.name} {thirty_seconds // 32} " in text
    assert f"({mark.at[0]:.1f} mm)" in text
    assert "cut 15 3/4 in by 15 3/4 in" in text
    assert "within 0.04 in of its place" in text  # 0.83 mm, rounded up
    assert "thickness of cloth and stabiliser 0.012 in assumed" in text
    assert "drawing a cross, root mean square 0.02 in assumed" in text


def test_hoop_and_crosses_are_drawn_to_one_scale(cushion):
    """The crosses in a hoop's picture stand as far apart, against the ring, as on the cloth."""
    _, division, sheets = cushion
    page = sheets[1]
    rings = [s for s in page.strokes if s.fill == "#c89f6b"]
    first = division.hoopings[0]
    scale = np.ptp(rings[0].points[:, 0]) / first.hoop.outer_size[0]
    left, top = rings[0].points.min(axis=0)
    pen = [s.points for s in page.drawn("#1a5798") if s.points[:, 1].max() < top + 72]
    middles = np.unique(np.round([p.mean(axis=0) for p in pen], 1), axis=0)
    a, b = (np.array(m.at) for m in first.marks)
    assert len(middles) == 2
    assert np.hypot(*(middles[0] - middles[1])) == pytest.approx(np.hypot(*(a - b)) * scale, abs=0.3)
    in_hoop = first.field.inverse().apply([m.at for m in first.marks])
    expected = (in_hoop + np.array(first.hoop.outer_size) / 2) * scale + (left, top)
    assert np.abs(middles - expected[np.lexsort((expected[:, 1], expected[:, 0]))]).max() < 0.2


def test_nothing_to_sew_makes_a_sheet_too():
    layout, division = toy.cushion(0)
    assert "Sea-holly cushion" in words(pages(made(layout, division))[0])


def test_the_first_page_says_what_to_do_when_a_cross_is_off(cushion):
    told = words(cushion[2][0])
    assert "If a cross is off at the needle check" in told
    assert "festoon true" in told
