"""The piece as it lies on the sheet, and changes to it."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Header, Query, Request
from pydantic import Field
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from festoon.desk import Edit
from festoon.web.answers import At, ImportTold, PieceTold
from festoon.web.routes.here import BYTES, OPAQUE, Here
from festoon.web.uploads import take_in

MOST_EDITS = 1000
"""Of one change (own choice)."""

router = APIRouter()


class ChangeAsked(At):
    """Edits that are made together or not at all, and what they are called in undo."""

    label: str = Field("", max_length=200)
    edits: list[Edit] = Field(max_length=MOST_EDITS)


def _told(piece: PieceTold) -> Response:
    """The answer, written straight from its model: checking it once more would take several times as long."""
    return Response(piece.model_dump_json(), media_type="application/json")


@router.get("/piece", response_model=PieceTold)
def piece(here: Here) -> Response:
    """The piece as it stands, laid out."""
    return _told(here.told())


@router.get("/stitches", response_class=Response, responses={200: BYTES})
def stitches(
    here: Here, revision: str | None = None, if_none_match: Annotated[str | None, Header()] = None
) -> Response:
    """All stitching, in the form of festoon.web.thread_data."""
    seen = here.seen() if revision is None else here.at(revision)
    tag = {"etag": f'"{seen.revision}"'}
    if if_none_match == tag["etag"]:
        return Response(status_code=304, headers=tag)
    return Response(seen.stitches, media_type=OPAQUE, headers=tag)


@router.post("/change", response_model=PieceTold)
def change(here: Here, asked: ChangeAsked) -> Response:
    """Change the piece and save it."""
    return _told(here.change(asked.edits, asked.revision, asked.label))


@router.post("/undo", response_model=PieceTold)
def undo(here: Here, asked: At) -> Response:
    """Take the last change back."""
    return _told(here.undo(asked.revision))


@router.post("/redo", response_model=PieceTold)
def redo(here: Here, asked: At) -> Response:
    """Do again what was last taken back."""
    return _told(here.redo(asked.revision))


@router.post("/motifs", openapi_extra={"requestBody": {**BYTES, "required": True}})
async def motifs(here: Here, request: Request, name: Annotated[str, Query(max_length=255)]) -> ImportTold:
    """Bring a stitch file into the piece; its bytes are the whole body."""
    data = await request.body()
    return ImportTold(file=await run_in_threadpool(take_in, here.desk, name, data))
