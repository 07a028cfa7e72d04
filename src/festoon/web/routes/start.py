"""The start: where a piece is begun, an example taken, or an earlier piece opened again."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from fastapi import APIRouter
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from festoon.errors import PieceError
from festoon.piece.read import PIECE
from festoon.web.answers_start import AnswersTold, ExampleTold, OpenedTold, OwnMotifTold, RecentTold, StartTold
from festoon.web.begin import Answers, begin, copy_example, pieces_home, usual_answers
from festoon.web.examples import OWN_MOTIFS, Example, example_picture, examples, motif_picture
from festoon.web.recent import Recent, recent
from festoon.web.routes.here import PNG, OnTable
from festoon.web.table import key_of
from festoon.work.fields import quoted

LONGEST_PATH = 4096
"""Letters of a folder's place: as long as systems allow (common practice)."""

router = APIRouter(prefix="/start")


class ExampleAsked(BaseModel):
    """An example by its key."""

    model_config = ConfigDict(extra="forbid")
    example: str = Field(max_length=200)


class FolderAsked(BaseModel):
    """A piece by the place of its folder."""

    model_config = ConfigDict(extra="forbid")
    folder: str = Field(max_length=LONGEST_PATH)


@router.get("")
def start(table: OnTable) -> StartTold:
    """What may be begun and opened."""
    return StartTold(
        first=table.first,
        home=str(pieces_home()),
        answers=AnswersTold.model_validate(usual_answers().model_dump()),
        examples=[_example(e) for e in examples()],
        motifs=[OwnMotifTold(key=m.key, name=m.name) for m in OWN_MOTIFS],
        recent=[_recent(r) for r in recent()],
    )


@router.post("/new")
def new(table: OnTable, asked: Answers) -> OpenedTold:
    """A new piece after the answers, in a folder of its own."""
    return OpenedTold(key=table.open(begin(asked)))


@router.post("/example")
def take(table: OnTable, asked: ExampleAsked) -> OpenedTold:
    """A copy of an example to work on."""
    return OpenedTold(key=table.open(copy_example(asked.example)))


@router.post("/open")
def open_folder(table: OnTable, asked: FolderAsked) -> OpenedTold:
    """The piece in a folder."""
    return OpenedTold(key=table.open(_written(asked.folder)))


@router.delete("/recent/{piece}", status_code=204)
def forget(table: OnTable, piece: str) -> None:
    """Take a piece from those that are remembered; its folder stays as it is."""
    table.forget(piece)


@router.get("/examples/{key}.png", response_class=Response, responses={200: PNG})
def example_look(key: str) -> Response:
    """What an example looks like, without cloth."""
    return Response(example_picture(key), media_type="image/png")


@router.get("/motifs/{key}.png", response_class=Response, responses={200: PNG})
def motif_look(key: str) -> Response:
    """What a motif of Festoon's own looks like, without cloth."""
    return Response(motif_picture(key), media_type="image/png")


def _example(example: Example) -> ExampleTold:
    panel = example.piece.panels[0]
    return ExampleTold(key=example.key, name=example.piece.name, told=example.told, size=panel.size, cloth=panel.cloth)


def _recent(recent: Recent) -> RecentTold:
    there = os.path.isfile(recent.folder / PIECE)  # Path.is_file fails where the system refuses to look
    return RecentTold(
        key=key_of(recent.folder), name=recent.name, folder=str(recent.folder), opened=recent.opened, missing=not there
    )


def _written(folder: str) -> Path:
    """The folder that someone wrote down. Raises PieceError where that is no whole path."""
    text = folder.strip().strip("\"'")
    with suppress(RuntimeError):  # '~name' of somebody unknown
        path = Path(text).expanduser()
        if text.isprintable() and path.is_absolute():
            return path
    raise PieceError(
        f"{quoted(folder)} does not say where the folder lies.",
        remedy="Write its whole way, from the top or from your home: ~/Festoon/wreath.",
    )
