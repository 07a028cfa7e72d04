"""Round trips through all five formats: nothing lost, doubled or moved, every wait at its place."""

import io

import numpy as np
import pyembroidery
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyembroidery import EmbThreadHus, EmbThreadJef, EmbThreadPec, EmbThreadSew, EmbThreadShv

from festoon.errors import StitchFileError
from festoon.plane.pose import Pose
from festoon.stitches import (
    FORMATS,
    Act,
    Format,
    Stitching,
    Thread,
    encode,
    from_points,
    joined,
    needle_check,
    read_bytes,
)
from festoon.stitches.commands import Command, merged, programme, within_reach
from tests.stitches.making import LETTER_F, stitchings, waits

GRID = 0.05 + 1e-9
formats = pytest.mark.parametrize("format", FORMATS)


def round_trip(s: Stitching, format: Format) -> Stitching:
    return read_bytes(encode(s, format), format)


@formats
@settings(max_examples=30)
@given(s=stitchings())
def test_every_penetration_comes_back(s: Stitching, format: Format) -> None:
    back = round_trip(s, format)
    assert back.stitch_count == s.stitch_count
    assert np.abs(back.holes - s.holes).max() <= GRID


@formats
@settings(max_examples=30)
@given(s=stitchings(far=60), turn=st.floats(-360, 360), mirrored=st.booleans())
def test_however_it_is_turned(s: Stitching, turn: float, mirrored: bool, format: Format) -> None:
    posed = s.placed(Pose(3.21, -7.77, turn, mirrored))
    back = round_trip(posed, format)
    assert len(back.holes) == len(posed.holes)
    assert np.abs(back.holes - posed.holes).max() <= GRID


@pytest.mark.parametrize("format", ["dst", "exp", "pes", "jef"])
@settings(max_examples=30)
@given(s=stitchings())
def test_the_machine_waits_where_it_should(s: Stitching, format: Format) -> None:
    mine, theirs = waits(s), waits(round_trip(s, format))
    assert [w[0] for w in theirs] == [w[0] for w in mine]
    if mine:
        assert np.abs(np.array(theirs) - np.array(mine)).max() <= GRID


@settings(max_examples=30)
@given(s=stitchings())
def test_vp3_waits_no_less(s: Stitching) -> None:
    """It has no moves: a stop away from the last penetration costs one more wait, before the way to it."""
    stops = [w for w in waits(s) if w[1:] in s.points[s.acts == Act.STOP].tolist()]
    mine, theirs = waits(s), waits(round_trip(s, "vp3"))
    assert len(mine) <= len(theirs) <= len(mine) + int((s.acts == Act.STOP).sum())
    assert {w[0] for w in mine} == {w[0] for w in theirs}
    for sewn, x, y in stops:
        assert any(w[0] == sewn and np.allclose(w[1:], (x, y), atol=GRID) for w in theirs)


@pytest.mark.parametrize("format", ["exp", "pes"])
@settings(max_examples=25)
@given(s=stitchings())
def test_cuts_and_moves_come_back_where_the_format_has_them(s: Stitching, format: Format) -> None:
    orders = programme(s).orders
    back = programme(round_trip(s, format)).orders
    assert back[back[:, 2] == Command.TRIM].tolist() == orders[orders[:, 2] == Command.TRIM].tolist()
    reach = {"exp": 127, "pes": 2047}[format]
    expected = merged(within_reach(orders, reach))
    assert back[:, :2].tolist() == expected[:, :2].tolist()


@formats
def test_cuts_come_back(format: Format) -> None:
    assert round_trip(LETTER_F, format).acts.tolist().count(Act.TRIM) == 1


@formats
def test_the_letter_f_is_neither_mirrored_nor_shifted(format: Format) -> None:
    back = round_trip(LETTER_F, format)
    assert back.holes.tolist() == LETTER_F.holes.tolist()
    assert back.thread[back.is_stitch].tolist() == LETTER_F.thread[LETTER_F.is_stitch].tolist()


@pytest.mark.parametrize("format", ["pes", "vp3"])
@given(colours=st.lists(st.integers(0, 0xFFFFFF), min_size=1, max_size=70))
@settings(max_examples=20)
def test_colours_come_back(colours: list[int], format: Format) -> None:
    pieces = [from_points([[k, 0], [k, 2]], Thread(f"#{c:06x}")) for k, c in enumerate(colours)]
    whole = joined(pieces, merge=False)
    assert [t.colour for t in round_trip(whole, format).threads] == [t.colour for t in whole.threads]


@formats
def test_long_stitches_gain_no_penetration(format: Format) -> None:
    s = from_points([[0, 0], [57.3, -31.9], [-80, 12.2]], Thread())
    assert round_trip(s, format).holes.tolist() == s.holes.tolist()


def test_a_long_way_of_vp3_that_looks_like_a_command() -> None:
    """-32,767 units are the bytes 80 01 (computed), which elsewhere begin a long way."""
    s = from_points([[1638.3, 0], [-1638.4, 0], [-1638.4, 2], [0, 1638.3], [0, -1638.4]], Thread())
    assert round_trip(s, "vp3").holes.tolist() == s.holes.tolist()


def test_a_way_too_long_for_vp3_is_refused() -> None:
    far = from_points([[-1900, 0], [1900, 0]], Thread())
    assert "a stitch is 3800 mm long on one axis, and a vp3 file holds 3276.7 mm" in refused(far, "vp3")


@formats
def test_a_move_there_and_back_falls_away(format: Format) -> None:
    points = np.array([[0, 0], [1, 0], [9, 9], [1, 0], [2, 0]])
    s = Stitching(points, [0, 0, Act.MOVE, Act.MOVE, 0], [0] * 5, (Thread(),))
    assert encode(s, format) == encode(from_points(points[[0, 1, 4]], Thread()), format)


@formats
def test_stitches_in_one_place_are_not_merged(format: Format) -> None:
    s = from_points([[1, 1], [1, 1], [1, 1], [1.04, 1]], Thread())
    assert round_trip(s, format).stitch_count == 4


@formats
@pytest.mark.parametrize("own_blocks", [True, False])
def test_needle_check(format: Format, own_blocks: bool) -> None:
    """The machine waits at each mark, before any penetration, and then sews: marks on both axes, and off them."""
    marks = np.array([[40, 0], [0, -35.5], [-40, 30.3], [12.1, 12.1]])
    check = needle_check(marks)
    if not own_blocks:
        check = Stitching(check.points, check.acts, np.zeros(len(check)), (Thread("#c8412f"),))
    whole = joined([check, LETTER_F.placed(Pose(5, 3, 30))], trim=False)
    back = round_trip(whole, format)
    first = waits(back)[: len(marks)]
    assert [w[0] for w in first] == [0] * len(marks)
    assert np.abs(np.array([w[1:] for w in first]) - marks).max() < 1e-9
    assert len(waits(back)) == len(marks) + 1
    assert np.abs(back.holes - whole.holes).max() <= GRID


@formats
def test_needle_check_in_the_middle_of_the_field(format: Format) -> None:
    whole = joined([needle_check(np.array([[0.0, 0.0], [5.0, 5.0]])), from_points([[0, 0], [1, 0]], Thread())])
    assert [w[1:] for w in waits(round_trip(whole, format))] == [(0, 0), (5, 5)]


@formats
def test_stops_in_a_row_and_at_the_end(format: Format) -> None:
    acts = [0, 0, Act.STOP, Act.STOP, 0, Act.STOP]
    s = Stitching([[0, 0], [2, 0], [2, 0], [2, 0], [4, 0], [4, 0]], acts, [0] * 6, (Thread("#2b5fc8"),))
    assert waits(round_trip(s, format)) == [(2, 2, 0), (2, 2, 0), (3, 4, 0)]


@formats
def test_same_stitching_same_bytes(format: Format) -> None:
    assert encode(LETTER_F, format) == encode(LETTER_F, format)


def brand_words() -> set[str]:
    """Every maker's and chart's name, and every catalogue name, of the library's own thread charts."""
    words = {"pyembroidery", "Produced by"}
    for module in (EmbThreadHus, EmbThreadJef, EmbThreadPec, EmbThreadSew, EmbThreadShv):
        for thread in module.get_thread_set():
            if thread is not None:
                words |= {thread.brand or "", thread.chart or "", thread.description or ""}
    return {w for w in words if len(w) > 3}


@formats
def test_no_makers_in_the_bytes(format: Format) -> None:
    """Plain colour words of ours may stand in the file, names of charts may not."""
    colours = {t.color & 0xFFFFFF for t in EmbThreadPec.get_thread_set() if t is not None}
    pieces = [from_points([[k, 0], [k, 1]], Thread(f"#{c:06x}")) for k, c in enumerate(sorted(colours))]
    data = encode(joined(pieces, merge=False), format)
    text = data.replace(b"\0", b"").lower()
    plain = {t.name for p in pieces for t in p.threads}
    for name in sorted(plain, key=len, reverse=True):
        text = text.replace(name.encode(), b"")
    found = [w for w in brand_words() if w.lower().encode() in text]
    assert found == []
    assert len(brand_words()) > 100, "the library's charts were read"


@pytest.mark.parametrize("format", ["pes", "vp3", "jef"])
def test_makers_in_a_bought_file_stay_behind(format: Format) -> None:
    pattern = pyembroidery.EmbPattern()
    pattern.add_thread({"hex": "#336699", "description": "Sky", "brand": "Thready", "catalog": "4711"})
    pattern.add_block([(0, 0), (50, 0), (50, 30)], None)
    pattern.end()
    s = read_bytes(_written(pattern, format), format)
    again = encode(s, format)
    assert b"Thready" not in again
    assert b"4711" not in again
    assert "Thready" not in repr(s.threads)


def _written(pattern: pyembroidery.EmbPattern, format: str) -> bytes:
    stream = io.BytesIO()
    getattr(pyembroidery.EmbPattern, f"write_{format}")(pattern, stream, {"version": 6})
    return stream.getvalue()


@pytest.mark.parametrize("format", FORMATS)
def test_files_of_the_library_read_the_same(format: Format) -> None:
    """A design written by the library's own writers, asymmetric and with a colour change."""
    pattern = pyembroidery.EmbPattern()
    for thread in ("#c8412f", "#2b5fc8"):
        pattern.add_thread(thread)
    f = (LETTER_F.points * 10).astype(int).tolist()
    for x, y in f[:5]:
        pattern.stitch_abs(x, y)
    pattern.color_change()
    for x, y in f[7:]:
        pattern.stitch_abs(x, y)
    pattern.end()
    s = read_bytes(_written(pattern, format), format)
    places = [tuple(p) for p in s.holes.round(6).tolist()]
    assert [p for p, q in zip(places, [None, *places], strict=False) if p != q] == [
        tuple(p) for p in LETTER_F.holes.tolist()
    ]
    assert len(s.threads) == 2


def refused(s: Stitching, format: Format = "dst") -> str:
    with pytest.raises(StitchFileError) as caught:
        encode(s, format)
    return str(caught.value)


def test_refusals() -> None:
    far = from_points([[0, 0], [2500, 0]], Thread())
    assert refused(far).startswith("record 2: it lies at (2500, 0) mm, and no machine reaches farther than 2 m.")
    assert "(nan, 0)" in refused(from_points([[float("nan"), 0]], Thread()))
    assert "(inf, 0)" in refused(from_points([[float("inf"), 0]], Thread()))
    assert "no stitches" in refused(needle_check(np.array([[1.0, 2.0]])))
    many = joined([from_points([[k % 9, 0], [k % 9, 1]], Thread()) for k in range(300)], merge=False)
    assert "299 thread changes and stops, and a pes file holds 254" in refused(many, "pes")
    assert "300 thread blocks and stops, and a vp3 file holds 255" in refused(many, "vp3")
    with pytest.raises(StitchFileError, match="'gif' cannot be written"):
        encode(LETTER_F, "gif")  # type: ignore[arg-type]


@given(st.integers(1, 400), st.lists(st.tuples(st.integers(-3000, 3000), st.integers(-3000, 3000)), min_size=1))
def test_splitting(reach: int, places: list[tuple[int, int]]) -> None:
    orders = programme(from_points(np.array(places) / 10, Thread())).orders
    split = within_reach(orders, reach)
    assert np.abs(np.diff(split[:, :2], axis=0, prepend=0)).max() <= reach
    assert split[split[:, 2] == Command.STITCH].tolist() == orders.tolist()
