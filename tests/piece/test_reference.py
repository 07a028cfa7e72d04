"""The page about the piece file says what the models say, and the models say everything."""

from __future__ import annotations

import runpy
from collections.abc import Iterator
from pathlib import Path

import pytest
from pydantic import BaseModel

from festoon.piece import Bench, PieceFile
from festoon.piece.words import branches, field_type, item_of, model_of, plain_type, words_of
from festoon.techniques import TECHNIQUES

ROOT = Path(__file__).parents[2]


def tables(model: type[BaseModel]) -> Iterator[type[BaseModel]]:
    """A model and every table inside it."""
    yield model
    for field in words_of(model).values():
        kind = field_type(field)
        for inner in map(model_of, branches(item_of(kind) or kind)):
            if inner is not None:
                yield from tables(inner)


EVERY_TABLE = list(dict.fromkeys([*tables(PieceFile), *tables(Bench), *(t.model for t in TECHNIQUES.values())]))


def test_the_page_is_current() -> None:
    tool = runpy.run_path(str(ROOT / "tools" / "piece_reference.py"))
    page = (ROOT / "docs" / "piece-file.md").read_text(encoding="utf-8")
    assert page == tool["reference"](), "run python tools/piece_reference.py"


@pytest.mark.parametrize("model", EVERY_TABLE, ids=lambda m: m.__name__)
def test_every_word_is_described_and_can_be_told_in_plain_words(model: type[BaseModel]) -> None:
    page = (ROOT / "docs" / "piece-file.md").read_text(encoding="utf-8")
    assert model.__doc__
    for word, field in words_of(model).items():
        assert field.description, f"{model.__name__}.{word}"
        assert field.description.endswith("."), f"{model.__name__}.{word}"
        assert plain_type(field_type(field))
        assert f"`{word}`" in page or f"[{word}]" in page or word == "kind"
