"""Templates of techniques' own, and what techniques lay and pin on a panel, measured with a ruler."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from festoon.hooping import Division
from festoon.sheets import templates
from festoon.sheets.cards import times_told
from festoon.sheets.drawing import AREAS, LINES, PIN_RADIUS
from festoon.sheets.own_templates import EDGE, own_templates
from festoon.sheets.style import INK, INK_SOFT
from festoon.sheets.tiles import MARGIN, paper_named
from festoon.work import Area, Line, Pin, Template, Work
from tests.sheets import toy
from tests.sheets.pdf_pages import pages

TRACE = LINES["trace"]
NONE = Division((), 0, True, "Nothing to sew.", (), ())


def arc(radius, middle=(0.0, 0.0), turns=(180.0, 360.0)):
    t = np.radians(np.linspace(*turns, 181))
    return np.column_stack([np.cos(t), np.sin(t)]) * radius + middle


def scallop(radius=60.0, width=13.0, times=9):
    """One scallop of lace between two arcs of a circle."""
    outer, inner = arc(radius), arc(radius - width)
    lace = shapely.Polygon([*outer, *inner[::-1]])
    marks = [Line("placement", np.array([[x, -5.0], [x, 8.0]]), label="match line") for x in (-radius, radius)]
    pins = (Pin(tuple(outer[90]), "outer heading"), Pin(tuple(inner[90]), "inner heading"))
    return Template(
        "Repeat of hem lace",
        ("Trace both headings on the stabiliser.", "Pin the outer heading first."),
        (Line("trace", outer), Line("trace", inner), *marks),
        pins,
        (Area("lace", lace),),
        times,
    )


def marking(size=(450.0, 330.0)):
    """Tucks to mark on a piece of cloth larger than a sheet."""
    w, h = size
    edge = Line("cut", np.array([[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]]), closed=True)
    folds = [Line("fold", np.array([[40.0 * k, 0.0], [40.0 * k, h]]), label=str(k)) for k in range(1, 6)]
    return Template("Marking the tucks", ("Mark every fold.",), (edge, *folds))


def laid(*owned, paper="A4", units="mm"):
    """(templates over sheets, the PDF's pages that show them)."""
    layout, _ = toy.cushion(0)
    layout = replace(layout, works=(Work("hem lace", "front", templates=owned),))
    owns = own_templates(layout, paper_named(paper))
    read = pages(templates(layout, NONE, paper=paper, units=units))
    return owns, read[-sum(len(o.tiles.tiles) for o in owns) :], read


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_traced_line_is_true_to_a_tenth_of_a_millimetre(paper):
    (own,), (sheet,), _ = laid(scallop(), paper=paper)
    assert sheet.size == pytest.approx((own.tiles.paper.width, own.tiles.paper.height), abs=0.01)
    traced = [s for s in sheet.drawn(INK) if len(s.points) > 100]
    assert [np.ptp(s.points[:, 0]) for s in traced] == pytest.approx([120.0, 94.0], abs=0.02)
    middle = (traced[0].points[0] + traced[0].points[-1]) / 2
    for stroke, radius in zip(traced, (60.0, 47.0), strict=True):
        assert np.abs(np.hypot(*(stroke.points - middle).T) - radius).max() < 0.1
    assert [length(s) for s in sheet.drawn(INK) if level(s)].count(pytest.approx(100.0, abs=0.05)) == 1


def level(stroke):
    return len(stroke.points) == 2 and abs(np.diff(stroke.points[:, 1])[0]) < 0.01


def length(stroke):
    return float(np.hypot(*np.diff(stroke.points, axis=0).T).sum())


def test_its_sheet_tells_all_and_nothing_lies_over_its_lines():
    (own,), (sheet,), _ = laid(scallop())
    text = " ".join(sheet.text.split())
    for told in (
        "Repeat of hem lace",
        "hem lace, Sea-holly cushion",
        *own.template.told,
        "Use it nine times, each repeat beginning at the match line.",
        "trace this line",
        "placement line",
        "pin: outer heading",
        "pin: inner heading",
        "This line must measure 100 mm",
    ):
        assert told in text
    assert text.count("match line") == 3  # beside both lines, and in the sentence
    assert "fold line" not in text
    assert "Right side of the cloth" not in text
    first = next(k for k, s in enumerate(sheet.strokes) if s.stroke == INK and len(s.points) > 100)
    top = sheet.strokes[first].points[:, 1].min()
    assert not [s for s in sheet.strokes[first:] if s.fill and s.points[:, 1].max() > top]  # the card's key is above
    assert own.card is not None
    tile, at, card = own.card
    corner = np.add(at, tile.window[:2])
    box = shapely.box(*corner, *np.add(corner, (card.width, card.height)))
    assert not any(s.geometry.intersects(box) for s in own.drawing.shapes)


def test_pins_stand_where_they_go():
    (_,), (sheet,), _ = laid(scallop())
    outer = next(s for s in sheet.drawn(INK) if len(s.points) > 100)
    top = outer.points[np.argmin(outer.points[:, 1])]
    signs = [s for s in sheet.drawn(INK_SOFT) if abs(np.ptp(s.points[:, 0]) - 2 * PIN_RADIUS) < 0.02]
    middles = [(s.points.min(axis=0) + s.points.max(axis=0)) / 2 for s in signs]
    for at in (top, np.add(top, (0, 13.0))):
        assert min(np.abs(m - at).max() for m in middles) < 0.05


def test_the_lace_is_pale_and_below_the_lines():
    (_,), (sheet,), _ = laid(scallop())
    fills = [k for k, s in enumerate(sheet.strokes) if s.fill == AREAS["lace"][0] and len(s.points) > 50]
    lines = [k for k, s in enumerate(sheet.strokes) if s.stroke == INK and len(s.points) > 100]
    assert max(fills) < min(lines)


def test_a_template_used_once_says_nothing_of_it():
    assert times_told(scallop(times=1)) == ()
    (_,), (sheet,), _ = laid(scallop(times=1))
    assert "Use it" not in sheet.text


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_sheets_put_together_are_the_whole_drawing(paper):
    (own,), sheets, read = laid(marking(), paper=paper)
    assert len(sheets) == len(own.tiles.tiles) > 1
    seen = []
    for tile, page in zip(own.tiles.tiles, sheets, strict=True):
        assert f"{tile.name} of {len(sheets)}" in " ".join(page.text.split())
        assert "Marking the tucks" in page.text
        assert [length(s) for s in page.drawn(INK) if level(s)].count(pytest.approx(100.0, abs=0.05)) >= 1
        corner = np.array(tile.window[:2]) - MARGIN
        seen += [shapely.LineString(r + corner) for s in page.strokes if s.stroke for r in s.runs if len(r) > 1]
    everything = shapely.union_all(seen).buffer(0.05)
    for shape in own.drawing.shapes:
        assert shape.geometry.difference(everything).length < 0.2
    assert sum("Mark every fold." in " ".join(p.text.split()) for p in sheets) == 1
    first = " ".join(read[0].text.split())
    assert f"Marking the tucks hem lace Mark every fold. {len(sheets)} sheets" in first


def test_it_takes_no_more_sheets_for_what_it_tells():
    """A4 turned prints 277 mm by 190 mm inside its margins (computed)."""
    snug = Line("trace", np.array([[0.0, 0.0], [277 - 2 * EDGE, 0.0], [277 - 2 * EDGE, 190 - 2 * EDGE]]))
    (own,), sheets, _ = laid(Template("Snug", ("A sentence to tell.",), (snug,)))
    assert len(sheets) == 1
    assert "A sentence to tell." in sheets[0].text
    full = [Line("trace", np.array([[0.0, y], [277 - 2 * EDGE, y]])) for y in range(0, 181, 10)]
    (own,), sheets, read = laid(Template("Full", ("A sentence to tell.",), tuple(full)))
    assert len(sheets) == 1
    assert own.card is None
    assert "A sentence to tell." in " ".join(read[0].text.split())  # there is no room for it but on the first page


def test_every_template_of_every_element_is_listed_in_order():
    owns, sheets, read = laid(scallop(), marking(), replace(scallop(40.0), title="Another repeat"))
    assert [o.template.title for o in owns] == ["Repeat of hem lace", "Marking the tucks", "Another repeat"]
    first = " ".join(" ".join(p.text for p in read[: len(read) - len(sheets)]).split())
    places = [first.index(o.template.title) for o in owns]
    assert places == sorted(places)
    assert "Repeat of hem lace" in sheets[0].text
    assert "Another repeat" in sheets[-1].text


def on_front(*works, sprigs=0):
    layout, division = toy.cushion(sprigs)
    return pages(templates(replace(layout, works=(*layout.works, *works)), division, paper="A4", units="mm"))


def test_a_panel_shows_what_is_laid_and_pinned_on_it_where_it_is():
    lace = shapely.box(150.0, 180.0, 250.0, 193.0)
    work = Work("band", "front", areas=(Area("lace", lace),), pins=(Pin((160.0, 180.0), "outer heading"),))
    first, *sheets = on_front(work)
    layout, _ = toy.cushion(0)
    text = " ".join(first.text.split())
    for told in ("cut edge", "seam line", "centre line", "lace", "pin: outer heading"):
        assert told in text
    for absent in (
        "a cross to mark",
        "a hooping's field",
        "stitching, by thread",
        "ribbon",
        "cloth laid on",
        "crosses",
    ):
        assert absent not in text
    grounds = [s for p in sheets for s in p.strokes if s.fill == AREAS["lace"][0]]
    assert sum(shapely.Polygon(s.points).area for s in grounds) >= lace.area - 1
    assert layout.panels[0].size == (400.0, 400.0)


def test_a_sheet_with_nothing_but_a_cutting_line_is_printed():
    line = Line("cut", np.array([[20.0, 20.0], [380.0, 20.0]]), label="cut here")
    one = on_front(Work("hem", "front", lines=(line,)))
    assert len(one) == 1 + 3  # 400 mm take three sheets of 190 mm, ten of each shared (computed)
    assert any("cut here" in p.text for p in one[1:])


def test_the_same_twice():
    layout, _ = toy.cushion(0)
    layout = replace(layout, works=(Work("hem lace", "front", templates=(scallop(), marking())),))
    assert templates(layout, NONE, paper="A4", units="mm") == templates(layout, NONE, paper="A4", units="mm")
