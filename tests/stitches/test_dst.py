"""The dst file against an independent reading of its openly documented table."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.stitches import Act, Stitching, Thread, encode, from_points, read_bytes
from tests.stitches.making import LETTER_F

BITS = [
    [(0, 1), (0, -1), (0, 9), (0, -9), (-9, 0), (9, 0), (-1, 0), (1, 0)],
    [(0, 3), (0, -3), (0, 27), (0, -27), (-27, 0), (27, 0), (-3, 0), (3, 0)],
    [(0, 0), (0, 0), (0, 81), (0, -81), (-81, 0), (81, 0), (0, 0), (0, 0)],
]
"""What each bit, 7 to 0, of the three bytes adds to x and to y (y up): a page on the format, published."""


def decoded(record: bytes) -> tuple[str, int, int]:
    """(kind, x, y up) of one record."""
    x = y = 0
    for byte, ways in zip(record, BITS, strict=True):
        for place, (dx, dy) in enumerate(ways):
            if byte >> (7 - place) & 1:
                x, y = x + dx, y + dy
    assert record[2] & 3 == 3
    if record[2] & 0xF3 == 0xF3:
        return "end", x, y
    kinds = {0x00: "stitch", 0x80: "jump", 0xC0: "stop"}
    return kinds[record[2] & 0xC0], x, y


def records(data: bytes) -> list[tuple[str, int, int]]:
    body = data[512:]
    assert len(body) % 3 == 0
    return [decoded(body[i : i + 3]) for i in range(0, len(body), 3)]


def header(data: bytes) -> dict[str, str]:
    return dict(line.split(":", 1) for line in data[:124].decode("ascii").split("\r") if line)


def body_of(*ways: tuple[int, int]) -> str:
    """Hex of the records of stitches, each by (x, y up) units from the one before."""
    steps = np.cumsum(np.array(ways), axis=0) * [0.1, -0.1]
    return encode(from_points(steps, Thread()), "dst")[512:-3].hex().upper()


@pytest.mark.parametrize(
    ("way", "expected"),
    [
        ((0, 0), "000003"),
        ((1, 0), "010003"),
        ((100, 0), "090407"),
        ((40, -20), "A55503"),
        ((5, -7), "568203"),
        ((0, 121), "A0A023"),
        ((121, 121), "A5A527"),
        ((-121, -121), "5A5A1B"),
        ((-12, 64), "A81223"),
    ],
)
def test_worked_records(way: tuple[int, int], expected: str) -> None:
    """The last is the format page's own example (published); the rest are computed from its table."""
    assert body_of(way) == expected


def test_the_published_records_read() -> None:
    """The format page's examples: A8 12 23 stitch (-12, +64), A8 12 A3 the same as a jump, 00 00 C3 a stop."""
    head = b"LA:".ljust(512)
    data = head + bytes.fromhex("A81223 0000C3 A812A3 A81223 0000F3")
    s = read_bytes(data, "dst")
    assert s.acts.tolist() == [Act.STITCH, Act.MOVE, Act.STITCH]
    assert s.points.tolist() == [[-1.2, -6.4], [-2.4, -12.8], [pytest.approx(-3.6), pytest.approx(-19.2)]]
    assert s.thread.tolist() == [0, 1, 1]


@given(st.integers(-121, 121), st.integers(-121, 121))
def test_every_way_within_reach_is_one_record(x: int, y: int) -> None:
    """243 values an axis, each reached once (computed from the table)."""
    data = encode(from_points([[x / 10, -y / 10]], Thread()), "dst")
    assert records(data) == [("stitch", x, y), ("end", 0, 0)]


@pytest.mark.parametrize(("way", "count"), [(121, 1), (122, 2), (300, 3), (500, 5), (1000, 9)])
def test_long_ways(way: int, count: int) -> None:
    """A way of m takes ceil(m / 121) records on the longer axis (computed); the last alone goes through the cloth."""
    told = records(encode(from_points([[way / 10, -3.0]], Thread()), "dst"))[:-1]
    assert [kind for kind, _, _ in told] == ["jump"] * (count - 1) + ["stitch"]
    assert (sum(x for _, x, _ in told), sum(y for _, _, y in told)) == (way, 30)


def test_the_letter_f_stands_upright_and_unshifted() -> None:
    told = records(encode(LETTER_F, "dst"))
    at = np.cumsum([(x, y) for _, x, y in told], axis=0)
    holes = at[[kind == "stitch" for kind, _, _ in told]]
    assert holes.max(axis=0).tolist() == [100, 160]  # y up: the letter stands above its start
    assert holes.min(axis=0).tolist() == [0, 0]
    assert at[-1].tolist() == [60, 80]


def test_header() -> None:
    """Field order and widths as a university wiki gives them (widths from memory): 124 bytes, then 1A, then spaces."""
    told = records(encode(LETTER_F, "dst"))
    data = encode(LETTER_F, "dst")
    assert data[124] == 0x1A
    assert data[125:512] == b" " * 387
    fields = header(data)
    assert list(fields) == ["LA", "ST", "CO", "+X", "-X", "+Y", "-Y", "AX", "AY", "MX", "MY", "PD"]
    assert int(fields["ST"]) == len(told) - 1
    assert int(fields["CO"]) == sum(kind == "stop" for kind, _, _ in told) == 1
    assert [int(fields[k]) for k in ("+X", "-X", "+Y", "-Y")] == [100, 0, 160, 0]
    assert (fields["AX"], fields["AY"]) == ("+   60", "+   80")


def test_a_cut_is_three_jumps_that_come_back() -> None:
    told = records(encode(LETTER_F, "dst"))
    assert [kind for kind, _, _ in told[5:9]] == ["jump", "jump", "jump", "stop"]
    assert np.sum([way[1:] for way in told[6:9]], axis=0).tolist() != [0]
    assert (sum(w[1] for w in told[5:8]), sum(w[2] for w in told[5:8])) == (0, 0)


def test_rounding_does_not_add_up() -> None:
    """Forty steps of 0.14 mm end at 5.6 mm, as they should; each rounded by itself they would end at 4 mm."""
    s = from_points([[0.14 * k, 0] for k in range(41)], Thread())
    assert sum(x for _, x, _ in records(encode(s, "dst"))) == 56
    back = read_bytes(encode(s, "dst"), "dst")
    assert isinstance(back, Stitching)
    assert np.abs(back.holes - s.holes).max() <= 0.05 + 1e-9
