"""What the page is told of the piece, and changes to it."""

from __future__ import annotations

import math
import struct
import tomllib
from pathlib import Path

import numpy as np

from festoon.layout import lay_out
from festoon.piece import read_piece

from .conftest import Client, Done, client_of, sprig


def changed(client: Client, revision: str, word: str, value: object, label: str = "") -> object:
    edits = [{"do": "set", "element": "sprig", "word": word, "value": value}]
    return client.post(f"{client.here}/change", json={"revision": revision, "label": label, "edits": edits})


def test_the_piece_is_told_as_it_is_laid_out(done: Done, example: Path) -> None:
    told = done.client.get(f"{done.client.here}/piece").json()
    layout = lay_out(read_piece(example))
    assert told["name"] == "Sea-holly cushion"
    panel = told["panels"][0]
    said = {"name": "front", "size": [400, 400], "cloth": "natural linen", "seam": 15, "shaped": False, "folds": []}
    assert {word: panel[word] for word in said} == said
    assert set(panel["lines"]) == {"top", "bottom", "left", "right"}
    assert panel["own"] == [], "no line that is not an edge"
    (seam,) = panel["finished"]
    assert {tuple(corner) for corner in seam} == {(15, 15), (385, 15), (385, 385), (15, 385)}
    assert [p["name"] for p in told["parts"]] == [p.name for w in layout.works for p in w.parts]
    for part, laid in zip(told["parts"], layout.parts("front"), strict=True):
        assert np.allclose(part["bounds"], laid.stitching.bounds, atol=0.0005)
        rings = np.concatenate(part["outline"])
        assert np.allclose([*rings.min(0), *rings.max(0)], laid.region.bounds, atol=0.11)
    sprig_3 = next(p for p in told["parts"] if p["name"] == "sprig-3")
    assert math.isclose(math.dist(sprig_3["at"], (200, 200)), 88, abs_tol=0.001)  # the ring's radius in the piece file
    assert next(p for p in told["parts"] if p["element"] == "stem")["at"] is None


def test_words_sentences_and_handles_are_in_the_words_of_the_piece_file(done: Done) -> None:
    piece = done.client.get(f"{done.client.here}/piece").json()
    stem, ring = piece["elements"][0], sprig(piece)
    assert stem["words"]["bow"] == -3.9
    assert {h["word"] for h in stem["handles"]} == {"bow"}
    gaps = {g["gap"]: g for s in ring["sentences"] for g in s["gaps"]}
    told = {"gap": "count", "word": "ring.count", "value": 9, "shown": "9"}
    assert gaps["count"] == {**told, "kind": "count", "choices": [], "usual": False}
    assert (gaps["radius"]["value"], gaps["radius"]["shown"]) == (88, "88 mm")
    assert gaps["at"]["value"] is None
    assert gaps["at"]["shown"] == "200 mm right, 200 mm down"  # left out: the middle of 400 x 400
    assert [h["name"] for h in piece["hoops"]]
    assert piece["hoop"] == piece["hoops"][0]["name"]


def test_ends_of_a_join_are_told_by_from_and_to(folder: Path, tmp_path: Path) -> None:
    text = (folder / "piece.toml").read_text("utf-8")
    link = '\n[[element]]\nkind = "join"\nname = "link"\nfrom = "sprig-1"\nto = "sprig-5"\n'
    (folder / "piece.toml").write_text(text + link, "utf-8")
    with client_of(folder, tmp_path / "none") as client:
        told = client.get(f"{client.here}/piece").json()["elements"][-1]
    gaps = {g["word"]: g["shown"] for s in told["sentences"] for g in s["gaps"]}
    assert (gaps["from"], gaps["to"]) == ("sprig-1", "sprig-5")


def test_lengths_are_shown_in_the_units_of_the_piece(client: Client) -> None:
    piece = client.get(f"{client.here}/piece").json()
    edit = {"do": "piece", "table": "piece", "word": "units", "value": "inch"}
    told = client.post(f"{client.here}/change", json={"revision": piece["revision"], "edits": [edit]}).json()
    radius = next(g for s in sprig(told)["sentences"] for g in s["gaps"] if g["gap"] == "radius")
    assert radius["shown"].endswith(" in")


def test_stitches_travel_as_bytes(done: Done, example: Path) -> None:
    client = done.client
    piece = client.get(f"{client.here}/piece").json()
    answer = client.get(f"{client.here}/stitches", params={"revision": piece["revision"]})
    magic, version, count = struct.unpack_from("<4sII", answer.content)
    assert (magic, version, len(answer.content)) == (b"FSTN", 1, 12 + 10 * count)
    points = np.frombuffer(answer.content, "<f4", 2 * count, 12).reshape(-1, 2)
    acts = np.frombuffer(answer.content, np.uint8, count, 12 + 8 * count)
    threads = np.frombuffer(answer.content, np.uint8, count, 12 + 9 * count)
    laid = [p for w in lay_out(read_piece(example)).works for p in w.parts]
    assert sum(p["count"] for p in piece["parts"]) == count
    for told, part in zip(piece["parts"], laid, strict=True):
        own = slice(told["first"], told["first"] + told["count"])
        assert np.allclose(points[own], part.stitching.points, atol=1e-4)
        assert np.array_equal(acts[own], part.stitching.acts)
        colours = np.array([t["colour"] for t in told["threads"]])[threads[own]]
        assert list(colours) == [part.stitching.threads[k].colour for k in part.stitching.thread]
    again = client.get(f"{client.here}/stitches", headers={"if-none-match": answer.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_a_change_is_saved_and_undone_and_done_again(client: Client, folder: Path) -> None:
    first = client.get(f"{client.here}/piece").json()
    assert (first["undo"], first["redo"]) == (None, None)
    moved = changed(client, first["revision"], "at", [201, 199], "moving the wreath").json()
    assert tomllib.loads((folder / "piece.toml").read_text("utf-8"))["element"][1]["at"] == [201, 199]
    assert sprig(moved)["handles"][0]["at"] == [201, 199]
    assert moved["undo"] == "moving the wreath"
    back = client.post(f"{client.here}/undo", json={"revision": moved["revision"]}).json()
    assert back["revision"] == first["revision"]
    assert back["redo"] == "moving the wreath"
    assert client.post(f"{client.here}/redo", json={"revision": back["revision"]}).json()["parts"] == moved["parts"]


def test_two_windows_cannot_write_over_each_other(client: Client) -> None:
    seen = client.get(f"{client.here}/piece").json()["revision"]
    assert changed(client, seen, "turn", 10).status_code == 200
    late = changed(client, seen, "turn", 20)
    assert late.status_code == 409
    assert "changed meanwhile" in late.json()["sentence"]
    assert late.json()["choices"]
    for path in (f"{client.here}/undo", f"{client.here}/redo"):
        assert client.post(path, json={"revision": seen}).status_code == 409
    assert client.post(f"{client.here}/work", json={"what": "proof", "revision": seen}).status_code == 409
    assert client.get(f"{client.here}/stitches", params={"revision": seen}).status_code == 409


def test_nothing_is_saved_that_cannot_be_laid_out(client: Client, folder: Path) -> None:
    before, seen = (folder / "piece.toml").read_bytes(), client.get(f"{client.here}/piece").json()["revision"]
    for word, value, told in (("at", [5, 200], "beyond the left edge"), ("nonsense", 1, "nonsense")):
        refused = changed(client, seen, word, value)
        assert refused.status_code == 422
        assert told in refused.json()["sentence"]
    assert (folder / "piece.toml").read_bytes() == before
    assert client.get(f"{client.here}/piece").json()["undo"] is None


def test_what_is_not_understood_is_told_in_a_sentence(client: Client) -> None:
    for body in ({}, {"revision": "x", "edits": [{"do": "dance"}]}, {"revision": 1, "edits": []}):
        wrong = client.post(f"{client.here}/change", json=body)
        assert wrong.status_code == 422
        assert "not understood" in wrong.json()["sentence"]
    assert client.post(f"{client.here}/change", content=b"{").status_code == 422
    assert client.get("/api/nothing").json()["sentence"] == "There is nothing here."
    assert client.delete(f"{client.here}/change").status_code == 405


def test_a_piece_file_spoilt_by_hand_is_told(client: Client, folder: Path) -> None:
    (folder / "piece.toml").write_text("[piece", "utf-8")
    spoilt = client.get(f"{client.here}/piece")
    assert spoilt.status_code == 422
    assert "piece.toml, line 1" in spoilt.json()["sentence"]


def test_every_route_is_described(client: Client) -> None:
    paths = client.get("/api/openapi.json").json()["paths"]
    of_piece = "/api/pieces/{piece}"
    wanted = {f"{of_piece}/{path}" for path in ("piece", "change", "work", "files/{name}")}
    assert {"/api/start", *wanted} <= set(paths)
    assert "$ref" in str(paths[f"{of_piece}/piece"]["get"]["responses"]["200"])
