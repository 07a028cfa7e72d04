"""Patterns from SVG files: true size whatever unit, viewBox and transforms they are written in.

The expected places are computed by the rules of SVG 2 (W3C): 8.2 the viewport's transform, 8.5 transforms, 10 shapes.
"""

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.errors import PieceError
from festoon.layout import lay_out
from festoon.piece import read_piece, shape_of
from festoon.piece.outline import AROUND
from festoon.piece.pattern import Pattern, pattern_of

SQUARE = '<path id="outline" d="M 0 0 H 100 V 80 H 0 Z"/>'
PAGE = 'width="100mm" height="80mm" viewBox="0 0 100 80"'


def svg(inside: str, page: str = PAGE) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {page}>{inside}</svg>'.encode()


def bounds(pattern: Pattern) -> tuple[float, ...]:
    points = pattern.outline.flatten(0.001)
    return (*points.min(axis=0).tolist(), *points.max(axis=0).tolist())


@pytest.mark.parametrize(
    ("page", "told"),
    [
        ('width="100mm" height="80mm" viewBox="0 0 100 80"', (0, 0, 100, 80)),
        ('width="20cm" height="16cm" viewBox="0 0 100 80"', (0, 0, 200, 160)),
        ('width="10in" height="8in" viewBox="0 0 100 80"', (0, 0, 254, 203.2)),
        ('width="720pt" height="576pt" viewBox="0 0 100 80"', (0, 0, 254, 203.2)),
        ('width="60pc" height="48pc" viewBox="0 0 100 80"', (0, 0, 254, 203.2)),
        ('width="400Q" height="320Q" viewBox="0 0 100 80"', (0, 0, 100, 80)),
        ('width="10in" height="8in"', (0, 0, 100 * 25.4 / 96, 80 * 25.4 / 96)),
        ('width="100mm" height="80mm" viewBox="-10 -20 100 80"', (10, 20, 110, 100)),
        ('width="200mm" height="80mm" viewBox="0 0 100 80"', (50, 0, 150, 80)),
        ('width="200mm" height="80mm" viewBox="0 0 100 80" preserveAspectRatio="xMinYMid meet"', (0, 0, 100, 80)),
        ('width="200mm" height="80mm" viewBox="0 0 100 80" preserveAspectRatio="xMaxYMax"', (100, 0, 200, 80)),
        ('width="200mm" height="80mm" viewBox="0 0 100 80" preserveAspectRatio="none"', (0, 0, 200, 80)),
        ('width="200mm" height="80mm" viewBox="0 0 100 80" preserveAspectRatio="xMidYMin slice"', (0, 0, 200, 160)),
    ],
)
def test_the_page_gives_the_scale(page: str, told: tuple[float, ...]) -> None:
    assert bounds(pattern_of(svg(SQUARE, page))) == pytest.approx(told)


@pytest.mark.parametrize(
    ("transform", "told"),
    [
        ("translate(5)", (5, 0, 105, 80)),
        ("translate(5, 7)", (5, 7, 105, 87)),
        ("scale(2)", (0, 0, 200, 160)),
        ("scale(.5,-1)", (0, -80, 50, 0)),
        ("rotate(90)", (-80, 0, 0, 100)),
        ("rotate(180 50 40)", (0, 0, 100, 80)),
        ("skewX(45)", (0, 0, 180, 80)),
        ("skewY(45)", (0, 0, 100, 180)),
        ("matrix(0 1 -1 0 10 20)", (-70, 20, 10, 120)),
        ("translate(10 0) scale(2)", (10, 0, 210, 160)),
        ("scale(2), translate(10 0)", (20, 0, 220, 160)),
    ],
)
def test_transforms(transform: str, told: tuple[float, ...]) -> None:
    own = SQUARE.replace("<path", f'<path transform="{transform}"')
    assert bounds(pattern_of(svg(own))) == pytest.approx(told)
    assert bounds(pattern_of(svg(f'<g transform="{transform}">{SQUARE}</g>'))) == pytest.approx(told)


def test_transforms_within_transforms() -> None:
    inner = f'<g transform="rotate(90)"><g transform="translate(3 4)">{SQUARE}</g></g>'
    drawn = pattern_of(svg(f'<g transform="scale(2)">{inner}</g>'))
    assert bounds(drawn) == pytest.approx((-168, 6, -8, 206)), "moved, then turned, then enlarged"


@given(st.floats(0.1, 40), st.floats(-180, 180), st.floats(-50, 50), st.sampled_from([("mm", 1.0), ("in", 25.4)]))
def test_lengths_come_back_true(scale: float, turn: float, shift: float, unit: tuple[str, float]) -> None:
    """Drawn smaller by what the page enlarges, then turned and moved: the lengths are those of the true pattern."""
    name, mm = unit
    page = f'width="{300 / mm}{name}" height="{300 / mm}{name}" viewBox="0 0 {300 / scale} {300 / scale}"'
    arc = f'<path id="hem" d="M {-50 / scale} 0 A {50 / scale} {50 / scale} 0 0 1 {50 / scale} 0"/>'
    square = f'<path id="outline" d="M 0 0 H {100 / scale} V {80 / scale} H 0 Z"/>'
    drawn = pattern_of(svg(f'<g transform="translate({shift}) rotate({turn})">{arc}{square}</g>', page))
    assert drawn.outline.length == pytest.approx(360)
    assert drawn.lines["hem"].length == pytest.approx(50 * math.pi)


@pytest.mark.parametrize(
    ("shape", "length"),
    [
        ('<rect id="outline" x="5" y="5" width="40" height="30"/>', 140),
        ('<rect id="outline" width="40" height="30" rx="5"/>', 140 - 40 + 10 * math.pi),
        ('<rect id="outline" width="4cm" height="113.38582677165354px"/>', 0),
        ('<circle id="outline" cx="20" cy="20" r="15"/>', 30 * math.pi),
        ('<ellipse id="outline" cx="20" cy="20" rx="15" ry="15"/>', 30 * math.pi),
        ('<polygon id="outline" points="0,0 40,0 40,30"/>', 120),
        ('<polyline id="outline" points="0 0 40 0 40 30 0 0"/>', 120),
    ],
)
def test_plain_shapes_are_lines_too(shape: str, length: float) -> None:
    drawn = pattern_of(svg(shape)).outline
    mm = 96 / 25.4  # of a unit that is 1 mm here, in an attribute with a unit of its own
    assert drawn.closed
    assert drawn.length == pytest.approx(length or 2 * (40 * mm + 113.38582677165354))


def test_every_other_path_with_an_id_is_a_line_of_that_name() -> None:
    inside = (
        SQUARE
        + '<path id="left_seam" d="M 0 0 V 80"/><line id="dart" x1="10" y1="10" x2="10" y2="30"/>'
        + '<path d="M 0 0 H 9"/><path id="two" d="M 0 0 H 9 M 0 5 H 9"/>'
        + '<defs><path id="hidden" d="M 0 0 H 9"/></defs><g style="display: none"><path id="off" d="M 0 0 H 9"/></g>'
    )
    drawn = pattern_of(svg(inside))
    assert {name: round(line.length, 6) for name, line in drawn.lines.items()} == {"left seam": 80, "dart": 20}


MISTAKES = {
    "no outline": (svg('<path id="hem" d="M 0 0 H 9"/>'), 'it has no path with the id "outline".'),
    "no unit": (svg(SQUARE, 'width="100" height="80"'), 'its page has no true size: width is "100".'),
    "pixels": (svg(SQUARE, 'width="10mm" height="80px"'), 'its page has no true size: height is "80px".'),
    "per cent": (svg(SQUARE, 'width="100%" height="80mm"'), 'its page has no true size: width is "100%".'),
    "no size": (svg(SQUARE, 'viewBox="0 0 1 1"'), "its page has no true size: width is not given."),
    "viewBox of nothing": (svg(SQUARE, 'width="1mm" height="1mm" viewBox="0 0 0 5"'), "its viewBox has no width"),
    "viewBox of three": (
        svg(SQUARE, 'width="1mm" height="1mm" viewBox="0 0 5"'),
        'its viewBox cannot be read, "0 0 5"',
    ),
    "unknown transform": (svg(f'<g transform="bend(3)">{SQUARE}</g>'), "it has a transform that cannot be read"),
    "half a transform": (svg(f'<g transform="rotate(3 4)">{SQUARE}</g>'), 'its rotate cannot be read, "3 4"'),
    "two of a name": (svg(SQUARE + SQUARE), 'two of its paths are called "outline".'),
    "outline in two": (
        svg('<path id="outline" d="M 0 0 H 9 M 0 5 H 9"/>'),
        'its path "outline": The path data draws 2',
    ),
    "unreadable outline": (svg('<path id="outline" d="M 0 0 X"/>'), 'its path "outline": The path data cannot be read'),
    "outline of nothing": (svg('<path id="outline"/>'), 'its path "outline": The path data draws no line.'),
    "too large": (svg(SQUARE, 'width="1000000in" height="9in" viewBox="0 0 1 1" preserveAspectRatio="none"'), "longer"),
    "no SVG": (b"<html></html>", "it is no SVG file."),
    "no XML": (b"outline", "it cannot be read as SVG beyond line 1."),
    "cut short": (svg(SQUARE)[:-9], "it cannot be read as SVG beyond line 1."),
    "empty": (b"", "it cannot be read as SVG"),
    "entities": (
        b'<!DOCTYPE svg [<!ENTITY a "aaaaaaaa"><!ENTITY b "&a;&a;&a;">]>' + svg(f"<g>&b;{SQUARE}</g>"),
        "it defines words of its own (entities).",
    ),
}


@pytest.mark.parametrize("case", MISTAKES)
def test_a_file_that_is_no_pattern_is_told(case: str) -> None:
    data, told = MISTAKES[case]
    with pytest.raises(PieceError) as error:
        pattern_of(data)
    assert told in str(error.value)


@given(st.binary(max_size=60) | st.text('<>/svg="outline path d M0 9HZ', max_size=60).map(lambda t: svg(t)))
def test_whatever_a_file_holds_only_sentences_come_of_it(data: bytes) -> None:
    try:
        pattern_of(data)
    except PieceError as error:
        assert str(error)  # noqa: PT017


HEAD = '[piece]\nname = "Gown"\n\n'
PANEL = '[[panel]]\nname = "yoke"\nfile = "patterns/yoke.svg"\n'
BENCH = "[[hoop]]\nfield = [100, 100]\n"
YOKE = SQUARE + '<path id="hem" d="M 0 80 H 100"/>'


def home(folder: Path, words: str = "", drawing: str = YOKE, rest: str = "") -> Path:
    (folder / "patterns").mkdir(exist_ok=True)
    (folder / "patterns" / "yoke.svg").write_bytes(svg(drawing))
    (folder / "piece.toml").write_text(HEAD + PANEL + words + rest, "utf-8")
    (folder / "bench.toml").write_text(BENCH, "utf-8")
    return folder


def test_a_panel_takes_outline_and_lines_from_its_file(tmp_path: Path) -> None:
    (panel,) = read_piece(home(tmp_path, "seam = 10\nhem_allowance = 30\nlines = { dart = 'M 60 60 V 90' }\n")).panels
    shape = shape_of(panel)
    assert shape.cut.bounds == pytest.approx((AROUND, AROUND, AROUND + 120, AROUND + 120))
    assert shape.finished.bounds == pytest.approx((50, 50, 150, 130))
    assert panel.size == (200, 200)
    hem, dart = shape.lines["hem"], shape.lines["dart"]
    assert [*hem.start, *hem.end] == pytest.approx([50, 130, 150, 130])
    assert [*dart.start, *dart.end] == pytest.approx([60, 60, 60, 90]), "the panel's own lines are in mm of the block"


def test_its_page_is_set_where_it_is_told_and_else_its_cut_edge_in_the_middle(tmp_path: Path) -> None:
    (told,) = read_piece(home(tmp_path, "at = [15, 20]\nsize = [300, 200]\n")).panels
    assert shape_of(told).finished.bounds == pytest.approx((15, 20, 115, 100))
    (middle,) = read_piece(home(tmp_path, "size = [300, 200]\nseam = 10\n")).panels
    assert shape_of(middle).cut.bounds == pytest.approx((90, 50, 210, 150))


def test_a_fold_along_a_line_of_the_file(tmp_path: Path) -> None:
    drawing = YOKE + '<path id="centre_front" d="M 0 0 V 80"/>'
    (panel,) = read_piece(home(tmp_path, 'seam = 10\nfold = "centre front"\n', drawing)).panels
    shape = shape_of(panel)
    assert shape.finished.bounds[0] == pytest.approx(shape.cut.bounds[0])
    assert shape.cut.area == pytest.approx(110 * 100)


def test_elements_follow_its_lines_and_see_that_the_file_has_changed(tmp_path: Path) -> None:
    row = '[[element]]\nkind = "join"\nname = "row"\npath = "hem"\n'
    first = lay_out(read_piece(home(tmp_path, rest=row))).parts("yoke")[0].stitching.bounds
    other = YOKE.replace("M 0 80 H 100", "M 0 50 H 100")
    second = lay_out(read_piece(home(tmp_path, drawing=other, rest=row))).parts("yoke")[0].stitching.bounds
    assert first[3] - second[3] == pytest.approx(30, abs=0.1)


@pytest.mark.parametrize(
    ("words", "drawing", "told"),
    [
        ("", "", 'piece.toml, line 6, panel "yoke", patterns/yoke.svg: it has no path with the id "outline".'),
        (
            'lines = { hem = "M 0 0 H 9" }\n',
            YOKE,
            'line 7, panel "yoke": "hem" is a line of patterns/yoke.svg already.',
        ),
        ("centre_front = 70\n", YOKE + '<path id="centre_front" d="M 9 0 V 9"/>', '"centre front" is a line of this'),
        ("size = [50, 200]\n", YOKE, 'line 7, panel "yoke": it is cut 100 mm by 80 mm with its allowances, and its'),
        ("", SQUARE.replace("Z", ""), 'line 6, panel "yoke": its outline does not come back to where it begins.'),
        ("hem_allowance = 9\n", SQUARE, 'line 7, panel "yoke": it has a hem allowance, and no line called "hem".'),
    ],
)
def test_what_does_not_fit_is_told_with_its_place(tmp_path: Path, words: str, drawing: str, told: str) -> None:
    with pytest.raises(PieceError) as error:
        read_piece(home(tmp_path, words, drawing))
    assert told in str(error.value)


def test_a_file_that_is_not_there_or_lies_elsewhere(tmp_path: Path) -> None:
    (tmp_path / "piece").mkdir()
    piece = home(tmp_path / "piece")
    (piece / "patterns" / "yoke.svg").rename(piece / "patterns" / "yolk.svg")
    with pytest.raises(PieceError, match=r'there is no such file in the piece\'s folder. Did you mean "patterns/yolk'):
        read_piece(piece)
    (tmp_path / "out.svg").write_bytes(svg(YOKE))
    (piece / "patterns" / "yoke.svg").symlink_to(tmp_path / "out.svg")
    with pytest.raises(PieceError, match=r"lies outside the piece's folder\. Copy it into the folder's patterns"):
        read_piece(piece)
