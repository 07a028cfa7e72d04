"""Stitch files from the browser: good ones come into the piece, others are told about, none does harm."""

from __future__ import annotations

from pathlib import Path

import pytest

from festoon.desk import Desk
from festoon.errors import FestoonError
from festoon.stitches import read_stitches
from festoon.web.process import Limits
from festoon.web.uploads import take_in

from .conftest import Client


def test_a_motif_is_brought_in_whole(client: Client, folder: Path) -> None:
    data = (folder / "motifs" / "sprig.vp3").read_bytes()
    answer = client.post(f"{client.here}/motifs", params={"name": "Rose 2.vp3"}, content=data)
    assert answer.json() == {"file": "motifs/Rose 2.vp3"}
    assert (folder / "motifs" / "Rose 2.vp3").read_bytes() == data


@pytest.mark.parametrize("kind", ["application/octet-stream", "application/json", "text/plain", "multipart/form-data"])
def test_bytes_are_taken_as_they_are(client: Client, folder: Path, kind: str) -> None:
    data = (folder / "motifs" / "sprig.vp3").read_bytes()
    sent = client.post(f"{client.here}/motifs", params={"name": "a.vp3"}, content=data, headers={"content-type": kind})
    assert sent.status_code == 200, sent.text


def test_a_broken_file_is_told_about(client: Client, folder: Path) -> None:
    data = (folder / "motifs" / "sprig.vp3").read_bytes()
    for name, content in (("a.vp3", data[:500]), ("a.vp3", b""), ("a.dst", b"x" * 2000), ("a.pdf", data), ("a", data)):
        refused = client.post(f"{client.here}/motifs", params={"name": name}, content=content)
        assert refused.status_code == 422, refused.text
        assert name in refused.json()["sentence"]
    assert sorted(p.name for p in (folder / "motifs").iterdir()) == ["sprig.vp3"]


@pytest.mark.parametrize("name", ["../a.vp3", "/etc/a.vp3", "..\\a.vp3", "C:a.vp3", ".a.vp3", "con.vp3", "a\0.vp3"])
def test_no_name_leads_out_of_the_piece(client: Client, folder: Path, name: str) -> None:
    data = (folder / "motifs" / "sprig.vp3").read_bytes()
    before = sorted(folder.parent.rglob("*.vp3"))
    assert client.post(f"{client.here}/motifs", params={"name": name}, content=data).status_code == 422
    assert sorted(folder.parent.rglob("*.vp3")) == before


def test_a_file_that_swells_is_stopped(folder: Path, capfd: pytest.CaptureFixture[str]) -> None:
    """A million stitches in three megabytes, which take hundreds once they are read."""
    head, to_and_fro = b"LA:swelling".ljust(512, b" "), b"\x01\x00\x03\x02\x00\x03"
    bomb = head + to_and_fro * 500_000 + b"\x00\x00\xf3"
    for limits in (Limits(60, 40), Limits(1, 4000)):
        with pytest.raises(FestoonError, match="too much for the memory, or took too long"):
            take_in(Desk(folder), "bomb.dst", bomb, limits)
    assert not (folder / "motifs" / "bomb.dst").exists()
    few = head + to_and_fro * 30 + b"\x00\x00\xf3"
    assert take_in(Desk(folder), "few.dst", few) == "motifs/few.dst"
    assert read_stitches(folder / "motifs" / "few.dst").stitch_count == 60
    assert capfd.readouterr().err == ""
