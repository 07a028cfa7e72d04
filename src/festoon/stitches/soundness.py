"""Checks of a stitch file's bytes before they are read: empty, cut short, or of another kind than its name says.

The layouts are the openly documented one for dst and those of the stitch-file library's source for the others.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from festoon.errors import StitchFileError
from festoon.stitches import vp3
from festoon.stitches.pairs import MARK, heads, pairs_of

AGAIN = "Copy it again from where you bought it."
RENAME = "Give it back its own ending, or choose the stitch file itself."

_SIGNATURES = (
    (b"\x89PNG", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"GIF8", "a GIF picture"),
    (b"BM", "a BMP picture"),
    (b"%PDF", "a PDF document"),
    (b"PK\x03\x04", "a ZIP archive"),
    (b"Rar!", "a RAR archive"),
    (b"7z\xbc\xaf", "a 7z archive"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"<?xml", "an XML text"),
    (b"<svg", "an SVG drawing"),
    (b"<!DOCTYPE", "a web page"),
    (b"<html", "a web page"),
    (b"#PES", "a pes file"),
    (b"#PEC", "a pec file"),
    (vp3.MAGIC, "a vp3 file"),
    (b"LA:", "a dst file"),
)
_OWN = {"pes": (b"#PES", b"#PEC"), "pec": (b"#PEC",), "vp3": (vp3.MAGIC,)}
_TEXT_KINDS = {"csv", "json", "gcode", "g-code", "ngc", "nc", "g", "txt"}
_TEXT_AT_LEAST = 24
"""A shorter run of printable bytes may well be stitches (own limit)."""


def check_sound(data: bytes, kind: str) -> None:
    """Raises StitchFileError where the bytes cannot be a whole file of this kind (suffix, lower case)."""
    if not data:
        raise StitchFileError("the file is empty (0 bytes).", remedy=AGAIN)
    _check_kind(data, kind)
    check = _CHECKS.get(kind)
    if check is not None:
        check(data)


def _check_kind(data: bytes, kind: str) -> None:
    own = _OWN.get(kind, ())
    if data.startswith(own):
        return
    for mark, name in _SIGNATURES:
        if data.startswith(mark) and not (kind == "dst" and mark == b"LA:") and not (kind == "exp" and mark == b"BM"):
            raise _another(name, kind)
    if kind not in _TEXT_KINDS and _is_text(data):
        raise _another("a text file", kind)
    if own and not _is_cut_mark(data, own):
        raise StitchFileError(f"it does not begin as a {kind} file does.", remedy=RENAME)


def _is_cut_mark(data: bytes, own: tuple[bytes, ...]) -> bool:
    if any(mark.startswith(data) for mark in own):
        raise StitchFileError(f"the file ends in its first line (byte {len(data)}).", remedy=AGAIN)
    return False


def _another(name: str, kind: str) -> StitchFileError:
    return StitchFileError(f"this is {name}, though its name says {kind}.", remedy=RENAME)


def _is_text(data: bytes) -> bool:
    sample = data[:4096]
    if len(sample) < _TEXT_AT_LEAST:
        return False
    plain = sum(b in _PRINTABLE for b in sample)
    words = sum(b in _WORDS for b in sample)
    return plain == len(sample) and words > 0.8 * len(sample) and len(set(sample)) > 8


_WORDS = frozenset(b"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 \t\r\n.,")
_PRINTABLE = frozenset(range(32, 127)) | frozenset(b"\t\r\n") | frozenset(range(0xA0, 0x100))


def _cut_short(has: int, wants: int) -> StitchFileError:
    return StitchFileError(f"the file ends in the middle of a stitch record (byte {has:,} of {wants:,}).", remedy=AGAIN)


def _no_end(has: int, told: str) -> StitchFileError:
    return StitchFileError(f"the file ends before its end mark (after byte {has:,}{told}).", remedy=AGAIN)


_DST_HEAD = 512


def _check_dst(data: bytes) -> None:
    """A header of 512 bytes, records of three with both lowest bits set, an end record (as openly documented)."""
    head = data[:_DST_HEAD]
    if not head.startswith(b"LA:") and head.strip(b" \0"):
        raise StitchFileError("it does not begin as a dst file does.", remedy=RENAME)
    if len(data) < _DST_HEAD:
        raise StitchFileError(f"the file ends in its header (byte {len(data):,} of {_DST_HEAD}).", remedy=AGAIN)
    body = np.frombuffer(data, np.uint8, offset=_DST_HEAD)
    whole = len(body) // 3
    last = body[: whole * 3].reshape(-1, 3)[:, 2]
    ends = np.flatnonzero(last & 0xF3 == 0xF3)
    records = int(ends[0]) if len(ends) else whole
    if (last[:records] & 3 != 3).mean() > 0.05 if records else False:
        raise StitchFileError("its records are not those of a dst file.", remedy=RENAME)
    if len(ends):
        return
    if len(body) % 3:
        raise _cut_short(len(data), _DST_HEAD + whole * 3 + 3)
    declared = _dst_count(head)
    if declared is None or records < declared:
        told = f": {records:,} of {declared:,} records" if declared else ""
        raise _no_end(len(data), told)


def _dst_count(head: bytes) -> int | None:
    at = head.find(b"ST:")
    digits = head[at + 3 : at + 10].strip() if at >= 0 else b""
    return int(digits) if digits.isdigit() else None


def _pairs(data: bytes, start: int, commands: dict[int, bool], kind: str) -> int | None:
    """Check pairs, where commands 80 xx have two more bytes; where the end command stands, or None without one.

    `commands` maps each xx to whether it ends the file.
    """
    pairs = pairs_of(data, start)
    marks = heads(np.flatnonzero(pairs[:, 0] == MARK), 2)
    codes = pairs[marks, 1]
    last = np.flatnonzero(~np.isin(codes, [code for code, ends in commands.items() if not ends]))
    if len(last):
        at = start + 2 * int(marks[last[0]])
        if int(codes[last[0]]) in commands:
            return at
        raise StitchFileError(
            f"byte {at + 2:,} is no command of the {kind} format, so it is damaged or of another kind.",
            remedy=AGAIN,
        )
    wants = max(len(data) + (len(data) - start) % 2, *(start + 2 * marks[-1:] + 4).tolist(), 0)
    if wants > len(data):
        raise _cut_short(len(data), wants)
    return None


def _check_exp(data: bytes) -> None:
    """Pairs to the last byte; the format has no end mark, so a cut between two records cannot be seen."""
    _pairs(data, 0, {0x80: False, 0x01: False, 0x02: False, 0x04: False, 0x10: True}, "exp")


_JEF_HEAD = 116
_JEF_ROOM = 4096
"""More than this between the threads and the stitches is no jef header (own limit), bytes."""


def _check_jef(data: bytes) -> None:
    """The header names where the stitches begin and how many threads there are; 80 10 ends them."""
    if len(data) < _JEF_HEAD:
        raise StitchFileError(f"the file ends in its header (byte {len(data):,} of {_JEF_HEAD}).", remedy=AGAIN)
    start, threads, count = (int.from_bytes(data[i : i + 4], "little") for i in (0, 24, 28))
    if not _JEF_HEAD + 4 * threads <= start <= _JEF_HEAD + 8 * threads + _JEF_ROOM:
        raise StitchFileError("it does not begin as a jef file does.", remedy=RENAME)
    if start > len(data):
        raise StitchFileError(f"the file ends before its stitches (byte {len(data):,} of {start:,}).", remedy=AGAIN)
    if _pairs(data, start, {0x01: False, 0x02: False, 0x10: True}, "jef") is None:
        wants = start + 2 * count
        raise _no_end(len(data), f" of {wants:,}" if wants > len(data) else "")


_PEC_LENGTH_AT = 514


def _check_pes(data: bytes) -> None:
    """The header points at the sewing half, which declares the length of its stitches; FF ends them."""
    pec = 8 if data.startswith(b"#PEC") else int.from_bytes(data[8:12], "little")
    at = pec + _PEC_LENGTH_AT
    if len(data) < at + 16:
        raise StitchFileError(f"the file ends before its stitches (byte {len(data):,} of {at + 16:,}).", remedy=AGAIN)
    if data[pec : pec + 3] != b"LA:":
        raise StitchFileError("its sewing half is not where the header says.", remedy=AGAIN)
    end = pec + _PEC_LENGTH_AT - 2 + int.from_bytes(data[at : at + 3], "little")
    if len(data) < end:
        raise _cut_short(len(data), end)
    if b"\xff" not in data[at + 14 : end]:
        raise _no_end(len(data), "")


_CHECKS: dict[str, Callable[[bytes], None]] = {
    "dst": _check_dst,
    "exp": _check_exp,
    "jef": _check_jef,
    "pes": _check_pes,
    "pec": _check_pes,
}
