"""The drawer: what may be added to a piece."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query
from starlette.responses import Response

from festoon.web import drawer
from festoon.web.answers_drawer import BeginningTold, MotifTold
from festoon.web.routes.here import Here

PNG: dict[str, Any] = {"content": {"image/png": {}}}

router = APIRouter(prefix="/techniques")
"""Of all pieces alike."""

motifs = APIRouter(prefix="/motifs")
"""Of one piece."""


@router.get("")
def techniques() -> list[BeginningTold]:
    """Every way of beginning something, technique by technique."""
    return drawer.beginnings()


@router.get("/{number}.png", response_class=Response, responses={200: PNG})
def picture(number: int) -> Response:
    """One of them drawn in its own stitching."""
    return Response(drawer.beginning_picture(number), media_type="image/png")


@motifs.get("")
def own(here: Here) -> list[MotifTold]:
    """The stitch files in the piece's folder."""
    return drawer.motifs(here.desk.folder)


@motifs.get("/picture.png", response_class=Response, responses={200: PNG})
def portrait(here: Here, file: Annotated[str, Query(max_length=1000)]) -> Response:
    """One of them drawn."""
    return Response(drawer.motif_picture(here.desk.folder, file), media_type="image/png")
