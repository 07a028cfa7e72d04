"""Good pieces of many shapes are read; folders and files that cannot be are told about."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from festoon.errors import PieceError
from festoon.piece import read_piece
from tests.piece.conftest import BENCH, HEAD, MOTIF

Write = Callable[..., Path]

INLINE = """
element = [{ kind = "motif", name = "sprig", file = "motifs/sprig.vp3" }]
panel = [{ name = "front", size = ["40 cm", 300] }]
piece.name = "Wreath"
"""
QUOTED = HEAD.replace("name", '"name"') + MOTIF.replace("\n", "  # remark\n")


@pytest.mark.parametrize(
    "text", [HEAD + MOTIF, QUOTED, INLINE, (HEAD + MOTIF).replace("\n", "\r\n"), "\ufeff" + HEAD + MOTIF]
)
def test_one_piece_in_many_shapes(piece_folder: Write, text: str) -> None:
    piece = read_piece(piece_folder(text))
    assert piece.name == "Wreath"
    assert [(p.name, p.size) for p in piece.panels] == [("front", (400.0, 300.0))]
    assert [(e.name, e.panel) for e in piece.file.element] == [("sprig", "front")]
    assert piece.hoop.name == "small"


def test_each_element_knows_its_line(piece_folder: Write) -> None:
    piece = read_piece(piece_folder(HEAD + MOTIF + "\n" + MOTIF.replace('"sprig"', '"bud"')))
    assert piece.lines == {"sprig": 8, "bud": 13}


def test_the_folder_or_its_piece_file_may_be_given(piece_folder: Write) -> None:
    folder = piece_folder(HEAD)
    assert read_piece(folder).folder == read_piece(folder / "piece.toml").folder == folder


def test_elements_keep_the_panel_that_they_name(piece_folder: Write) -> None:
    second = '[[panel]]\nname = "back"\nsize = [1, 2]\n'
    piece = read_piece(piece_folder(HEAD + second + MOTIF + 'panel = "back"\n'))
    assert piece.file.element[0].panel == "back"


def test_the_hoop_named_is_the_hoop_used(piece_folder: Write) -> None:
    assert read_piece(piece_folder(HEAD + '[hooping]\nhoop = "large"\n')).hoop.field == (180.0, 130.0)


@pytest.mark.parametrize(
    ("written", "turn"),
    [
        ('"square"', "square"),
        ('"free"', "free"),
        ('[0, "1/8 turn"]', (0.0, 45.0)),
        ("[\n -30,\n]", (-30.0,)),
    ],
)
def test_every_way_to_say_how_the_hoop_may_turn(piece_folder: Write, written: str, turn: object) -> None:
    assert read_piece(piece_folder(HEAD + f"[hooping]\nturn = {written}\n")).file.hooping.turn == turn


@pytest.mark.parametrize("name", ["a", "7", "Sprig 2", "left_bow", "bud-3", "Blüte", "a" * 60])
def test_names_that_may_be_used(piece_folder: Write, name: str) -> None:
    assert read_piece(piece_folder(HEAD + MOTIF.replace('"sprig"', f'"{name}"'))).file.element[0].name == name


@pytest.mark.parametrize("name", [" a", "a ", "-a", "a.b", "a\\\\b", "a:b", "..", "a\\nb", "a" * 61, "_"])
def test_names_that_may_not(piece_folder: Write, name: str) -> None:
    with pytest.raises(PieceError, match="cannot be used"):
        read_piece(piece_folder(HEAD + MOTIF.replace('"sprig"', f'"{name}"')))


@pytest.mark.parametrize(
    "written", ["motifs/sprig.vp3", "./motifs/sprig.vp3", "motifs\\\\sprig.vp3", "motifs//sprig.vp3"]
)
def test_a_motif_file_is_kept_in_one_spelling(piece_folder: Write, written: str) -> None:
    piece = read_piece(piece_folder(HEAD + MOTIF.replace("motifs/sprig.vp3", written)))
    assert vars(piece.file.element[0])["file"] == "motifs/sprig.vp3"


def test_the_shared_bench_serves_a_piece_without_one(piece_folder: Write, settings: Path) -> None:
    settings.mkdir()
    (settings / "bench.toml").write_text(BENCH.replace("small", "shared"), encoding="utf-8")
    assert read_piece(piece_folder(HEAD, None)).hoop.name == "shared"


def test_a_mistake_in_the_shared_bench_names_its_whole_path(piece_folder: Write, settings: Path) -> None:
    settings.mkdir()
    (settings / "bench.toml").write_text("hoop = 3\n", encoding="utf-8")
    with pytest.raises(PieceError) as error:
        read_piece(piece_folder(HEAD, None))
    assert str(error.value) == (
        f'{settings / "bench.toml"}, line 1: "hoop" is 3, but it must be tables. Begin each with a line [[hoop]].'
    )


def test_no_bench_anywhere(piece_folder: Write, settings: Path) -> None:
    folder = piece_folder(HEAD, None)
    with pytest.raises(PieceError) as error:
        read_piece(folder)
    assert str(error.value) == (
        f"{folder}: there is no bench.toml in this folder, and no shared one at {settings / 'bench.toml'}. "
        "Copy one from another piece, or run `festoon new` elsewhere and copy its bench.toml."
    )


def test_no_such_folder(tmp_path: Path) -> None:
    with pytest.raises(PieceError) as error:
        read_piece(tmp_path / "nowhere")
    assert str(error.value) == f"{tmp_path / 'nowhere'}: there is no such folder. Look whether its name is spelt so."


def test_a_name_that_no_disk_can_hold(tmp_path: Path) -> None:
    with pytest.raises(PieceError, match=r"there is no such folder\."):
        read_piece(tmp_path / ("a" * 3000))


def test_a_folder_without_a_piece(tmp_path: Path) -> None:
    for given in (tmp_path, tmp_path / "piece.toml"):
        with pytest.raises(PieceError) as error:
            read_piece(given)
        assert str(error.value) == (
            f"{tmp_path}: there is no piece.toml in this folder, so it holds no piece. "
            "Give the folder of a piece, or begin one with `festoon new`."
        )


def test_a_file_that_is_no_piece(tmp_path: Path) -> None:
    (tmp_path / "sprig.vp3").write_bytes(b"")
    with pytest.raises(PieceError) as error:
        read_piece(tmp_path / "sprig.vp3")
    assert str(error.value) == f"{tmp_path / 'sprig.vp3'}: this is no folder. Give the folder that holds piece.toml."


def test_a_folder_called_as_the_piece_file(tmp_path: Path) -> None:
    (tmp_path / "piece.toml").mkdir()
    with pytest.raises(PieceError) as error:
        read_piece(tmp_path)
    assert str(error.value) == "piece.toml: this is a folder, and should be a file. Move the folder elsewhere."


def test_a_file_in_another_encoding(piece_folder: Write) -> None:
    folder = piece_folder(HEAD)
    (folder / "piece.toml").write_bytes(HEAD.replace("Wreath", "Blüte").encode("latin-1"))
    with pytest.raises(PieceError) as error:
        read_piece(folder)
    assert str(error.value) == (
        "piece.toml, line 2: the file is not saved as UTF-8 text. "
        "Open it in a text editor and save it with the encoding UTF-8."
    )


@pytest.mark.parametrize(
    ("refusal", "told"),
    [
        (PermissionError(13, "x"), "you are not allowed to read it. Ask whoever owns the file for leave to read it."),
        (OSError(5, "Input/output error"), "it cannot be read (Input/output error). Look whether its disk or stick is "
         "still there."),
        (FileNotFoundError(2, "x"), "there is no such file. Look whether its name is spelt so."),
    ],
)  # fmt: skip
def test_a_file_that_the_system_refuses(
    piece_folder: Write, monkeypatch: pytest.MonkeyPatch, refusal: OSError, told: str
) -> None:
    folder = piece_folder(HEAD)

    def refuse(path: Path) -> bytes:
        raise refusal

    monkeypatch.setattr(Path, "read_bytes", refuse)
    with pytest.raises(PieceError) as error:
        read_piece(folder)
    assert str(error.value) == f"piece.toml: {told}"
