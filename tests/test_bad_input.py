"""Every mistake that a worker can make, from the command line: one sentence, status 1, and nothing written."""

from __future__ import annotations

import struct
from collections.abc import Callable
from pathlib import Path

import pyembroidery
import pytest
from typer.testing import CliRunner

from festoon.cli import app
from festoon.piece.start import new_piece

Spoil = Callable[[Path], None]


def told(folder: Path, *words: str) -> str:
    """What `festoon make` says of a spoilt piece, on one line; it must fail and leave the folder as it was."""
    before = {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    result = CliRunner().invoke(app, ["make", str(folder), *words])
    assert result.exit_code == 1, result.output
    assert "Traceback" not in result.output
    assert {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()} == before
    return " ".join(result.output.split()).removeprefix("! ")


def word(old: str, new: str, file: str = "piece.toml") -> Spoil:
    def spoil(folder: Path) -> None:
        text = (folder / file).read_text("utf-8")
        assert old in text, old
        (folder / file).write_text(text.replace(old, new, 1), "utf-8")

    return spoil


def motif(data: bytes | Callable[[bytes], bytes] | None, name: str = "sprig.vp3") -> Spoil:
    def spoil(folder: Path) -> None:
        old = folder / "motifs" / "sprig.vp3"
        content = data(old.read_bytes()) if callable(data) else data
        old.unlink()
        if content is not None:
            (folder / "motifs" / name).write_bytes(content)
        word("motifs/sprig.vp3", f"motifs/{name}")(folder)

    return spoil


def library_dst(*records: tuple[int, float, float]) -> bytes:
    """A dst of exactly these records (dx and dy in 0.1 mm), each encoded by hand from the open three-byte table."""
    body = b"".join(dst_record(*r) for r in records)
    head = f"LA:{'none':16}\rST:{len(records):7}\rCO:  0\r+X:    0\r-X:    0\r+Y:    0\r-Y:    0\r"
    head += "AX:+    0\rAY:+    0\rMX:+    0\rMY:+    0\rPD:******\r\x1a"
    return head.encode().ljust(512) + body + b"\x00\x00\xf3"


def dst_record(flags: int, dx: int, dy: int) -> bytes:
    """One record: balanced ternary digits of dx and dy, bits as openly documented."""
    bits = {
        ("x", 1): (0, 1), ("x", -1): (0, 2), ("x", 9): (0, 4), ("x", -9): (0, 8),
        ("y", -9): (0, 16), ("y", 9): (0, 32), ("y", -1): (0, 64), ("y", 1): (0, 128),
        ("x", 3): (1, 1), ("x", -3): (1, 2), ("x", 27): (1, 4), ("x", -27): (1, 8),
        ("y", -27): (1, 16), ("y", 27): (1, 32), ("y", -3): (1, 64), ("y", 3): (1, 128),
        ("x", 81): (2, 4), ("x", -81): (2, 8), ("y", -81): (2, 16), ("y", 81): (2, 32),
    }  # fmt: skip
    record = [0, 0, 3 | flags]
    for axis, value in (("x", dx), ("y", dy)):
        for weight in (81, 27, 9, 3, 1):
            rest = (weight - 1) // 2
            if value > rest:
                place, bit = bits[axis, weight]
                value -= weight
            elif value < -rest:
                place, bit = bits[axis, -weight]
                value += weight
            else:
                continue
            record[place] |= bit
        assert value == 0
    return bytes(record)


JUMP = 0x80
NO_STITCHES = library_dst((JUMP, 50, 0), (JUMP, 0, 50))
FAR_AWAY = library_dst((0, 0, 0), *[(JUMP, 121, 0)] * 400, (0, 10, 0))

STITCH_FILES = {
    "missing": (motif(None, "gone.vp3"), "motifs/gone.vp3: there is no such file in the piece's folder."),
    "empty": (motif(b""), "motifs/sprig.vp3: the file is empty (0 bytes). Copy it again from where you bought it."),
    "truncated": (
        motif(lambda d: d[:-100]),
        "motifs/sprig.vp3: the file ends too soon (byte 1,636 of at least 1,736).",
    ),
    "truncated dst": (
        motif(library_dst((0, 0, 0), (0, 10, 0), (0, 0, 10))[:-5], "cut.dst"),
        "motifs/cut.dst: the file ends in the middle of a stitch record (byte 519 of",
    ),
    "a picture": (
        motif(b"\x89PNG\r\n\x1a\n" + bytes(2000)),
        "motifs/sprig.vp3: this is a PNG picture, though its name",
    ),
    "text": (
        motif(b"Dear student,\nhere it is.\n" * 40, "letter.dst"),
        "motifs/letter.dst: this is a text file, though",
    ),
    "no stitches": (motif(NO_STITCHES, "moves.dst"), "motifs/moves.dst: it holds no stitches. Choose another file."),
    "absurd": (motif(FAR_AWAY, "far.dst"), "motifs/far.dst: stitch"),
}


@pytest.mark.parametrize("case", STITCH_FILES)
def test_stitch_files(tmp_path: Path, case: str) -> None:
    spoil, sentence = STITCH_FILES[case]
    new_piece(tmp_path)
    spoil(tmp_path)
    said = told(tmp_path)
    assert sentence in said
    assert said.startswith('piece.toml, line 34, motif "sprig", motifs/')
    assert said.endswith(".")


PIECES = {
    "misspelt word": (
        word("width = 1.6", "widht = 1.6"),
        'piece.toml, line 31, join "stem": there is no word "widht" here. Did you mean "width"?',
    ),
    "misspelt technique": (word('kind = "motif"', 'kind = "motiv"'), 'Did you mean "motif"?'),
    "negative": (word("width = 1.6", "width = -1.6"), 'piece.toml, line 31, join "stem": "width"'),
    "not a number": (word("width = 1.6", "width = nan"), 'piece.toml, line 31, join "stem": "width"'),
    "infinite": (
        word("radius = 110", "radius = inf"),
        'line 39, motif "sprig": "ring.radius": the length is not a finite number.',
    ),
    "strange unit": (word('"40 cm", "40 cm"', '"40 ells", "40 cm"'), '"ells"'),
    "two of one name": (word('name = "stem"', 'name = "sprig"'), "sprig"),
    "join to nowhere": (
        word('through = "sprig"', 'through = "sprog"'),
        'join "stem": nothing on panel "front" is called "sprog". Did you mean "sprig"?',
    ),
    "off the panel": (word("at = [200, 200]", "at = [200, 60]"), 'beyond the top edge of panel "front". Move it'),
    "no hoop can reach it": (
        word("field = [100, 100]", "field = [4, 4]", "bench.toml"),
        "no hooping can reach it. The hoop",
    ),
    "no such thread": (word('thread = "leaf"', 'thread = "laef"'), 'Did you mean "leaf"?'),
    "broken toml": (word("[[panel]]", "[[panel]"), "piece.toml, line 12"),
    "bench": (
        word("speed = 600", "speed = 0", "bench.toml"),
        'bench.toml, line 6, [machine]: "speed" is 0, but it must be a number above 0',
    ),
}


@pytest.mark.parametrize("case", PIECES)
def test_pieces(tmp_path: Path, case: str) -> None:
    spoil, sentence = PIECES[case]
    new_piece(tmp_path)
    spoil(tmp_path)
    said = told(tmp_path)
    assert sentence in said
    assert said.endswith((".", "?"))


def test_a_file_made_by_the_library_alone_is_taken(tmp_path: Path) -> None:
    """The hand-made dst bytes above are sound: the format library reads the same moves from them."""
    path = tmp_path / "hand.dst"
    path.write_bytes(library_dst((0, 40, -20), (0, 5, -7), (0, 121, 121), (0, -121, -121)))
    stitches = [(x, y) for x, y, act in pyembroidery.read(str(path)).stitches if act == pyembroidery.STITCH]
    assert stitches == [(40, 20), (45, 27), (166, -94), (45, 27)]
    assert struct.unpack("3B", dst_record(0, 40, -20)) == (0xA5, 0x55, 0x03)
