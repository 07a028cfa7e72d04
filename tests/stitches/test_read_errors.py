"""Every way in which a stitch file can be wrong has its own sentence."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from festoon.errors import OutputError, StitchFileError
from festoon.stitches import (
    FORMATS,
    Format,
    Stitching,
    Thread,
    encode,
    from_points,
    joined,
    read_bytes,
    read_stitches,
    write_stitches,
)
from festoon.stitches.decoding import readers
from tests.stitches.making import LETTER_F

PNG = b"\x89PNG\r\n\x1a\n" + bytes(600)
LETTER = b"Dear Anna, the wreath is ready and looks lovely on the cushion. " * 12


def told(data: bytes, suffix: str) -> str:
    with pytest.raises(StitchFileError) as caught:
        read_bytes(data, suffix)
    return str(caught.value)


def told_of(path: Path) -> str:
    with pytest.raises(StitchFileError) as caught:
        read_stitches(path)
    return str(caught.value)


def test_no_file_a_folder_an_empty_file(tmp_path: Path) -> None:
    folder = tmp_path / "sprig.dst"
    folder.mkdir()
    empty = tmp_path / "empty.pes"
    empty.write_bytes(b"")
    assert told_of(tmp_path / "gone.dst") == "gone.dst: there is no such file. Check its name and folder."
    assert told_of(folder) == "sprig.dst: this is a folder. Name a stitch file inside it."
    assert told_of(empty) == "empty.pes: the file is empty (0 bytes). Copy it again from where you bought it."


def test_unknown_endings() -> None:
    assert told(b"x", ".dts").startswith("'.dts' is no kind of stitch file that can be read. Did you mean .dst? These")
    assert "its name has no ending" in told(b"x", "")
    assert "dst" in told(b"x", "docx")


@pytest.mark.parametrize("format", FORMATS)
def test_pictures_and_letters_under_another_name(format: Format) -> None:
    assert told(PNG, format).startswith(f"this is a PNG picture, though its name says {format}.")
    assert told(LETTER, format).startswith(f"this is a text file, though its name says {format}.")


def test_stitch_files_under_each_others_names() -> None:
    assert "this is a pes file, though its name says dst" in told(encode(LETTER_F, "pes"), "dst")
    assert "this is a vp3 file, though its name says jef" in told(encode(LETTER_F, "vp3"), "jef")
    assert "this is a dst file, though its name says exp" in told(encode(LETTER_F, "dst"), "exp")
    assert "does not begin as a jef file does" in told(encode(LETTER_F, "exp") + bytes(200), "jef")
    assert "does not begin as a dst file does" in told(encode(LETTER_F, "jef") + bytes(500), "dst")
    assert "does not begin as a pes file does" in told(encode(LETTER_F, "exp") + bytes(500), "pes")


def test_a_dst_file_cut_short() -> None:
    data = encode(LETTER_F, "dst")
    assert "in the middle of a stitch record (byte 550 of 551). Copy it again" in told(data[:550], "dst")
    assert "ends before its end mark (after byte 542: 10 of " in told(data[:542], "dst")
    assert "ends in its header (byte 300 of 512)" in told(data[:300], "dst")


def test_a_dst_file_without_end_mark_but_with_all_its_records_is_read() -> None:
    data = encode(LETTER_F, "dst")[:-3]
    assert read_bytes(data, "dst").stitch_count == LETTER_F.stitch_count


def test_an_exp_file_cut_short() -> None:
    data = encode(LETTER_F, "exp")
    assert f"(byte {len(data) - 1} of {len(data)})" in told(data[:-1], "exp")
    cut = data.index(b"\x80\x01") + 3
    assert f"in the middle of a stitch record (byte {cut} of {cut + 1})" in told(data[:cut], "exp")
    assert f"byte {len(data) + 2} is no command of the exp format" in told(data + b"\x80\x55\x00\x00", "exp")


@pytest.mark.parametrize("format", ["dst", "pes", "jef", "vp3"])
def test_cut_anywhere_it_is_noticed(format: Format) -> None:
    """Up to the last stitch: behind it pes keeps only small pictures, and dst its end mark."""
    data = encode(LETTER_F, format)
    last = {"dst": len(data) - 3, "jef": len(data), "vp3": len(data)}.get(format) or data.index(b"\x31\xff\xf0") + 30
    for length in range(last):
        assert told(data[:length], format)


def test_jef_and_pes_name_the_bytes_wanted() -> None:
    jef, pes = encode(LETTER_F, "jef"), encode(LETTER_F, "pes")
    assert f"after byte {len(jef) - 2} of {len(jef)}" in told(jef[:-2], "jef")
    assert "in the middle of a stitch record (byte" in told(pes[: pes.index(b"\x31\xff\xf0") + 15], "pes")


def test_files_without_stitches() -> None:
    head = b"LA:".ljust(512)
    assert told(head + b"\0\0\xf3", "dst") == "it holds no stitches. Choose another file."
    assert told(head + bytes.fromhex("A812A3 0000C3 0000F3"), "dst") == "it holds no stitches. Choose another file."


def test_stitches_beyond_all_reach_are_named() -> None:
    head = b"LA:".ljust(512)
    data = head + bytes.fromhex("A5A527") * 200 + b"\0\0\xf3"
    assert told(data, "dst").startswith("stitch 166 would lie at (2008.6, -2008.6) mm, farther than 2 m")


def test_bytes_that_break_the_reader() -> None:
    assert "its stitches cannot be read; it is damaged, or no xxx file." in told(b"\xff\x01", "xxx")


def test_writing_what_cannot_be_written(tmp_path: Path) -> None:
    with pytest.raises(StitchFileError, match=r"sprig\.gif: '\.gif' is not a kind of machine file"):
        write_stitches(LETTER_F, tmp_path / "sprig.gif")
    with pytest.raises(StitchFileError, match=r"sprig\.dst, record 1: it lies at"):
        write_stitches(from_points([[9999, 0]], Thread()), tmp_path / "sprig.dst")
    with pytest.raises(OutputError, match="folder it should go into does not exist"):
        write_stitches(LETTER_F, tmp_path / "none" / "sprig.dst")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("format", FORMATS)
def test_written_and_read_from_the_disk_whatever_the_case(tmp_path: Path, format: Format) -> None:
    path = tmp_path / f"Sprig.{format.upper()}"
    write_stitches(LETTER_F, path)
    assert path.read_bytes() == encode(LETTER_F, format)
    assert read_stitches(path).holes.tolist() == LETTER_F.holes.tolist()


WHOLE = joined([LETTER_F, from_points(np.arange(60).reshape(-1, 2) / 3.0, Thread("#3f8a4d"))])


@pytest.mark.parametrize("format", FORMATS)
@settings(max_examples=60)
@given(data=st.data())
def test_mangled_bytes_give_stitches_or_a_sentence(format: Format, data: st.DataObject) -> None:
    code = bytearray(encode_once(format))
    for _ in range(data.draw(st.integers(1, 6))):
        code[data.draw(st.integers(0, len(code) - 1))] = data.draw(st.integers(0, 255))
    code = code[: data.draw(st.integers(0, len(code)))] if data.draw(st.booleans()) else code
    _stitches_or_sentence(bytes(code), format)


@settings(max_examples=120)
@given(suffix=st.sampled_from(sorted(readers())), data=st.binary(max_size=700))
def test_any_bytes_under_any_name_give_stitches_or_a_sentence(suffix: str, data: bytes) -> None:
    _stitches_or_sentence(data, suffix)


def _stitches_or_sentence(data: bytes, suffix: str) -> None:
    try:
        found = read_bytes(data, suffix)
    except StitchFileError:
        return
    assert isinstance(found, Stitching)
    assert found.stitch_count > 0
    assert np.abs(found.points).max() <= 2000


_MADE: dict[str, bytes] = {}


def encode_once(format: Format) -> bytes:
    return _MADE.setdefault(format, encode(WHOLE, format))
