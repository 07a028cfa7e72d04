"""What was worked out for the piece as it stands: hoopings, proof, files."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Path, Query
from starlette.responses import Response

from festoon.web.answers import FilesTold, FileTold, HoopingsTold, ProofTold
from festoon.web.files import KINDS, NotYet, media_type, zipped
from festoon.web.pages import WIDEST, page_picture, page_sizes
from festoon.web.results import Results
from festoon.web.routes.here import OPAQUE, PNG, Here, saved

router = APIRouter()

OF_ANY_KIND: dict[str, Any] = {"content": {kind: {} for kind in (OPAQUE, *KINDS.values())}}


def _known(here: Here) -> Results:
    found = here.workshop.results(here.seen().revision)
    if found is None:
        raise NotYet("this has not been worked out for the piece as it stands.", remedy="Begin that work first.")
    return found


Known = Annotated[Results, Depends(_known)]
"""What is known for the piece as it stands."""


def _made(known: Known) -> dict[str, bytes]:
    if known.files is None:
        raise NotYet("the sheets have not been set for the piece as it stands.", remedy="Begin that work first.")
    return known.files


Files = Annotated[dict[str, bytes], Depends(_made)]
"""The files that it comes to."""


@router.get("/hoopings")
def hoopings(known: Known) -> HoopingsTold:
    """The division."""
    return known.hoopings


@router.get("/proof")
def proof(known: Known) -> ProofTold:
    """The proof."""
    if known.proof is None:
        raise NotYet("the piece as it stands has not been proved.", remedy="Begin that work first.")
    return known.proof


@router.get("/proof/thickness.png", response_class=Response, responses={200: PNG})
def thickness(known: Known, panel: str) -> Response:
    """How thick one panel's stitching gets, as a picture."""
    if panel not in known.pictures:
        raise NotYet(f'there is no picture of a panel "{panel}".')
    return Response(known.pictures[panel], media_type="image/png")


@router.get("/files")
def files(known: Known, made: Files) -> FilesTold:
    """The names of all files."""
    told = [FileTold(name=name, size=len(data), pages=_pages(name, data)) for name, data in made.items()]
    return FilesTold(revision=known.hoopings.revision, files=told, refused=list(known.refused))


@router.get("/files.zip", response_class=Response, responses={200: {"content": {"application/zip": {}}}})
def archive(made: Files) -> Response:
    """All files in one."""
    return saved("festoon.zip", zipped(made), "application/zip")


@router.get("/files/{name}", response_class=Response, responses={200: OF_ANY_KIND})
def file(made: Files, name: str) -> Response:
    """One file, byte for byte as `festoon make` writes it."""
    if name not in made:
        raise NotYet(f'there is no file "{name}".')
    kind = media_type(name)
    return saved(name, made[name], kind) if kind == OPAQUE else Response(made[name], media_type=kind)


@router.get("/files/{name}/pages/{number}.png", response_class=Response, responses={200: PNG})
def page(
    made: Files, name: str, number: Annotated[int, Path(ge=1)], across: Annotated[int, Query(ge=1, le=WIDEST)] = 1000
) -> Response:
    """A page of a sheet as it will print, so many px across."""
    if name not in made or number > len(_pages(name, made[name])):
        raise NotYet(f'there is no page {number} of a file "{name}".')
    return Response(page_picture(made[name], number, across), media_type="image/png")


def _pages(name: str, data: bytes) -> list[tuple[float, float]]:
    return page_sizes(data) if media_type(name) == "application/pdf" else []
