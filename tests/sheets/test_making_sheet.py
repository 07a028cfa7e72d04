"""The making sheet: all that is not done by the embroidery machine is on it, in the order of the work."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely

from festoon.hooping import Division
from festoon.sheets import is_by_hand, making_sheet
from festoon.sheets.drawing import AREAS, LINES, PIN
from festoon.sheets.figures import element_figure, element_window
from festoon.sheets.making_sheet import merged
from festoon.steps import in_order
from festoon.supplies import count
from festoon.work import Area, Caution, Figure, Finding, Line, Pin, Step, Supply, TakeUp, Work
from tests.sheets import toy
from tests.sheets.pdf_pages import pages

HEM = np.array([[40.0, 380.0], [360.0, 380.0]])
LACE = Work(
    "hem lace",
    "front",
    lines=(Line("trace", HEM), Line("trace", HEM - (0, 13))),
    areas=(Area("lace", shapely.box(40, 367, 360, 380)),),
    pins=tuple(Pin((x, 380.0), "outer heading") for x in (40.0, 200.0, 360.0)),
    figures=(Figure("hem lace: lace to cut", "371 mm"), Figure("tightest radius", "58 mm", "assumed")),
    supplies=(
        Supply("lace insertion, 13 mm", 370.8, "mm", "computed: both headings"),
        Supply("sewing thread", 61_234.0, "mm", "computed: stitch by stitch"),
    ),
    steps=(
        Step("trace hem lace", "Trace both headings.", "prepare"),
        Step("shape hem lace", "Pin it and press it.", "shape", ("trace hem lace",)),
        Step("lay hem lace", "Baste it to the cloth.", "set", ("shape hem lace",)),
    ),
    cautions=(Caution("Steam burns: keep fingers away.", "a care label"),),
    findings=(
        Finding("look again", '"hem lace" on front', "It is drawn up a good deal.", rule="gather", about=("hem lace",)),
    ),
)
TUCKS = Work(
    "front tucks",
    "front",
    lines=(Line("stitching", np.array([[60.0, 0.0], [60.0, 400.0]])),),
    taken=tuple(TakeUp("x", 60.0 + 10 * k, 4.0) for k in range(5)),
    supplies=(
        Supply("lace insertion, 13 mm", 100.0, "mm", "computed: both headings"),
        Supply("twin needle", 1.0, "pieces", "its label"),
    ),
    steps=(Step("stitch tucks", "Sew them.", "tuck"),),
)


def piece(works=(LACE, TUCKS), sprigs=3, **more):
    layout, division = toy.cushion(sprigs, **more)
    return replace(layout, works=(*layout.works, *works)), division


def sheet(layout, division, units="mm", findings=None):
    supplies = count(division, layout.piece.bench, units)
    found = layout.findings if findings is None else findings
    return making_sheet(layout, division, supplies, paper="A4", units=units, findings=found)


def words(read):
    return " ".join(" ".join(p.text for p in read).split())


@pytest.fixture(scope="module")
def made():
    layout, division = piece()
    return layout, division, pages(sheet(layout, division))


def test_it_is_wanted_where_an_element_asks_for_more_than_its_stitching():
    assert is_by_hand(piece()[0])
    assert not is_by_hand(toy.cushion(2)[0])
    drawn_only = Work("line", "front", lines=LACE.lines, areas=LACE.areas, pins=LACE.pins)
    assert not is_by_hand(piece(works=(drawn_only,))[0])


def test_every_step_figure_caution_and_finding_is_told(made):
    layout, _, read = made
    text = words(read)
    for work in layout.works:
        for told in (
            *(f"{s.name[0].upper()}{s.name[1:]}. {s.text}" for s in work.steps),
            *(f"{f.what.removeprefix('hem lace: ')} {f.value} {f.reckoned}" for f in work.figures),
            *(f"{c.text} ({c.source})" for c in work.cautions),
            *(f.reason for f in work.findings),
        ):
            assert told in text


def test_the_order_of_the_work_is_that_of_the_steps(made):
    layout, _, read = made
    text = words(read[:1])
    order = text[text.index("The order of the work") :]
    deeds = in_order(layout.works, ["front"], {"front": [1, 2, 3]})
    told = [d.name.capitalize() if d.element else d.text.removesuffix(".") for d in deeds]
    assert told[:3] == ["Stitch tucks", "Trace hem lace", "Sew hoopings 1 to 3 (work sheet)"]
    places = [order.index(f"{n} {t}") for n, t in enumerate(told, start=1)]
    assert places == sorted(places)
    assert read[0].text.count("hoopings 1 to 3") == 1


def test_a_step_bears_the_number_that_it_has_in_the_order(made):
    text = words(made[2])
    assert "2 Trace hem lace. Trace both headings." in text
    assert "5 Lay hem lace. Baste it to the cloth." in text


def test_what_to_buy_is_added_up(made):
    text = words(made[2][:1])
    assert "lace insertion, 13 mm 471 mm computed: both headings" in text  # 370.8 + 100 mm, rounded up
    assert "sewing thread 62 m computed: stitch by stitch" in text
    assert "twin needle 1 its label" in text


def test_supplies_of_another_unit_are_another_thing():
    twice = merged([Supply("pins", 2, "pieces", "a"), Supply("pins", 30, "mm", "b"), Supply("pins", 1, "pieces", "c")])
    assert twice == [Supply("pins", 3, "pieces", "a; c"), Supply("pins", 30, "mm", "b")]


def test_cloth_is_cut_as_wide_as_its_tucks_want(made):
    """Finished and taken up together are the cloth that is cut (conservation; computed)."""
    read = made[2]
    assert "front 420 mm by 400 mm computed natural linen; its tucks make it 400 mm by 400 mm" in words(read[:1])


def test_a_finding_on_the_element_from_elsewhere_is_told_with_it():
    layout, division = piece()
    other = Finding("look again", "front", "Two bands lie over each other.", rule="overlap", about=("hem lace", "x"))
    strange = Finding("look again", "back", "Nothing to do with it.", rule="overlap", about=("y",))
    accepted = replace(LACE.findings[0], accepted="It is meant so.")
    text = words(pages(sheet(layout, division, findings=(other, strange, accepted))))
    assert other.reason in text
    assert strange.reason not in text
    assert "It is meant so." in text


def test_the_picture_shows_lace_pins_and_lines_to_scale():
    layout, _ = piece()
    figure = element_figure(LACE, layout.panels[0], element_window(LACE), (174.0, 62.0))
    scale = 174.0 / (1.1 * 320)  # a twentieth of its length is left free at either end
    (lace,) = (r for r in figure.records if r["fill"] == AREAS["lace"][0])
    assert sides(lace) == pytest.approx((320 * scale, 13 * scale), abs=0.01)
    traced = [r for r in figure.records if r["stroke"] == LINES["trace"].stroke and not r["dash"]]
    assert {round(sides(r)[0], 2) for r in traced} >= {round(320 * scale, 2)}
    pins = [r for r in figure.records if r["stroke"] == PIN.stroke and len(r["runs"]) == 2]
    middles = sorted(float(np.reshape(r["runs"][0], (-1, 2))[:, 0].mean()) for r in pins)
    assert np.diff(middles) == pytest.approx([160 * scale] * 2, abs=0.05)


def sides(record):
    points = np.concatenate([np.reshape(run, (-1, 2)) for run in record["runs"]])
    return tuple(np.ptp(points, axis=0))


def test_an_element_that_draws_nothing_has_no_picture():
    told_only = Work("told only", "front", steps=LACE.steps)
    assert element_window(told_only) is None
    layout, division = piece(works=(told_only,))
    assert "Pin it and press it." in words(pages(sheet(layout, division)))


def test_in_inches_and_yards():
    layout, division = piece(units="inch")
    text = words(pages(sheet(layout, division, "inch")))
    assert "16 9/16 in by 15 3/4 in" in text  # 420 by 400 mm
    assert "18 5/8 in" in text  # 470.8 mm is 18.54 in, rounded up to an eighth
    assert "67 yd" in text  # 61.234 m is 66.97 yd


def test_without_a_hooping_nothing_is_said_of_one():
    layout, _ = piece(sprigs=0)
    none = Division((), 0, True, "Nothing to sew, so no hoopings.", (), ())
    text = words(pages(sheet(layout, none)))
    assert "4 steps by hand and at the sewing machine." in text
    assert "hooping" not in text.replace("hoops and fields", "")


def test_a_long_order_runs_on_over_pages_and_loses_nothing():
    steps = tuple(Step(f"step number {k:03d}", "Do it.", "seam") for k in range(120))
    layout, division = piece(works=(Work("many", "front", steps=steps),))
    text = words(pages(sheet(layout, division)))
    assert all(text.count(f"tep number {k:03d}") == 2 for k in range(120))


def test_all_its_words_are_those_that_were_read_over(made):
    """making_sheet.txt is the sheet's text as it was last read by eye, a page after the other."""
    read = Path(__file__).with_name("making_sheet.txt").read_text("utf-8")
    told = "\n".join(line.strip() for page in made[2] for line in page.text.splitlines())
    assert told.split() == read.split()


def test_the_same_twice():
    layout, division = piece()
    assert sheet(layout, division) == sheet(layout, division)
