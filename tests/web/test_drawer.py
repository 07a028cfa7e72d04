"""The drawer: every technique found by being there, motifs of the folder, and pictures of both."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import cv2
import numpy as np
import pytest

from festoon.techniques import TECHNIQUES
from festoon.techniques.motif import Motif
from festoon.web.blanks import kind_of_blank, may_be_left_out
from festoon.work.fields import Angle, Length, LineName, MotifFile, PartName, Spot, ThreadName

from .conftest import Client, Done


def seen(data: bytes) -> int:
    """How many of a picture's pixels something is drawn on."""
    picture = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_UNCHANGED)
    return int(np.count_nonzero(picture[..., 3]))


def test_every_technique_is_in_the_drawer_with_what_it_asks_for(client: Client) -> None:
    told = client.get("/api/techniques").json()
    assert {b["kind"] for b in told} == set(TECHNIQUES)
    assert [b["number"] for b in told] == list(range(len(told)))
    for begins in told:
        words = {field.alias or name for name, field in TECHNIQUES[begins["kind"]].model.model_fields.items()}
        assert {*(ask["word"] for ask in begins["asks"]), *begins["words"]} <= words
        assert begins["sentence"].endswith(".")
    join = next(b for b in told if b["told"] == "a join")
    assert [(a["word"], a["wants"]) for a in join["asks"]] == [("from", "part"), ("to", "part")]
    motif = next(b for b in told if b["kind"] == "motif")
    assert [(a["word"], a["wants"]) for a in motif["asks"]] == [("file", "file"), ("at", "place")]


def test_each_is_drawn_in_its_own_stitching(client: Client) -> None:
    pictures = [client.get(f"/api/techniques/{b['number']}.png") for b in client.get("/api/techniques").json()]
    assert all(p.headers["content-type"] == "image/png" and seen(p.content) > 500 for p in pictures)
    assert len({p.content for p in pictures}) == len(pictures)
    assert client.get("/api/techniques/99.png").status_code == 404


def test_the_motifs_of_the_folder_with_pictures(client: Client, folder: Path) -> None:
    (folder / "motifs" / "torn.vp3").write_bytes(b"%vsm%")
    (folder / "motifs" / "note.txt").write_text("no stitches", "utf-8")
    told = {m["file"]: m for m in client.get(f"{client.here}/motifs").json()}
    assert list(told) == ["motifs/sprig.vp3", "motifs/torn.vp3"]
    sprig, torn = told.values()
    assert (sprig["wrong"], sprig["threads"]) == ("", 3)
    assert 19 < sprig["size"][0] < 22
    assert torn["wrong"]
    picture = client.get(f"{client.here}/motifs/picture.png", params={"file": "motifs/sprig.vp3"})
    assert seen(picture.content) > 2000
    for file, status in (("motifs/torn.vp3", 422), ("motifs/none.vp3", 422), ("../../secret.vp3", 422)):
        refused = client.get(f"{client.here}/motifs/picture.png", params={"file": file})
        assert refused.status_code == status
        assert refused.json()["sentence"]


@pytest.mark.parametrize(
    ("kind", "blank"),
    [
        (Length, "length"),
        (Length | None, "length"),
        (Spot, "place"),
        (Spot | None, "place"),
        (Angle, "angle"),
        (float, "number"),
        (int, "count"),
        (bool, "yes/no"),
        (Literal["a", "b"], "choice"),
        (Literal["centre"] | Spot, "choice"),
        (PartName | None, "part"),
        (LineName, "line"),
        (ThreadName | None, "thread"),
        (MotifFile, "file"),
        (str, "words"),
        (tuple[Spot, ...], "several"),
        (tuple[str, ...], "several"),
    ],
)
def test_kinds_of_blanks_come_from_the_fields_type(kind: object, blank: str) -> None:
    assert kind_of_blank(kind) == blank


def test_what_may_be_left_out() -> None:
    assert [may_be_left_out(kind) for kind in (Length | None, Length, Spot | None)] == [True, False, True]


def test_gaps_tell_what_may_stand_in_them(done: Done) -> None:
    piece = done.client.get(f"{done.client.here}/piece").json()
    gaps = {(e["name"], g["word"]): g for e in piece["elements"] for s in e["sentences"] for g in s["gaps"]}
    assert gaps["stem", "stitch"]["choices"] == ["satin", "zigzag", "running"]
    assert gaps["stem", "through"]["choices"] == ["sprig"]
    assert (gaps["stem", "thread"]["kind"], gaps["stem", "thread"]["usual"]) == ("thread", True)
    assert gaps["stem", "thread"]["value"] in gaps["stem", "thread"]["choices"]
    assert (gaps["stem", "spacing"]["value"], gaps["stem", "spacing"]["usual"]) == (None, True)
    assert (gaps["sprig", "at"]["kind"], gaps["sprig", "at"]["usual"]) == ("place", True)
    assert (gaps["sprig", "ring.follow"]["kind"], gaps["sprig", "ring.count"]["kind"]) == ("yes/no", "count")


def test_what_may_be_done_with_an_element_comes_from_its_words(done: Done) -> None:
    elements = {e["name"]: e for e in done.client.get(f"{done.client.here}/piece").json()["elements"]}
    assert elements["sprig"]["may"] == ["at", "turn", "mirror", "row", "ring", "pair", "along", "on"]
    assert elements["stem"]["may"] == []
    assert (elements["stem"]["needs"], elements["sprig"]["needs"]) == (["sprig"], [])
    assert (elements["stem"]["told"], elements["sprig"]["told"]) == ("a join", "a motif")
    assert set(elements["sprig"]["may"]) <= set(Motif.model_fields)
