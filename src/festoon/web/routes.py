"""What the page may ask of its server, each by one function of the house."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator
from typing import Annotated

from fastapi import APIRouter, Header, Query, Request
from pydantic import Field
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response, StreamingResponse

from festoon.desk import Edit
from festoon.web.answers import (
    At,
    FilesTold,
    FileTold,
    HoopingsTold,
    ImportTold,
    PieceTold,
    ProofTold,
    WorkAsked,
    WorkTold,
    Wrong,
)
from festoon.web.files import NotYet, media_type, zipped
from festoon.web.opened import Opened
from festoon.web.tasks import Results
from festoon.web.uploads import take_in
from festoon.web.work import Job, Workshop

MOST_EDITS = 1000
"""Of one change (own choice)."""

OPAQUE = "application/octet-stream"
BYTES = {"content": {OPAQUE: {"schema": {"type": "string", "format": "binary"}}}}


class ChangeAsked(At):
    """Edits that are made together or not at all, and what they are called in undo."""

    label: str = Field("", max_length=200)
    edits: list[Edit] = Field(max_length=MOST_EDITS)


def routes(opened: Opened, workshop: Workshop) -> APIRouter:
    """Every route under /api for one open piece."""
    api = APIRouter(prefix="/api", responses={s: {"model": Wrong} for s in (401, 403, 404, 409, 413, 422, 500)})
    _sheet(api, opened)
    _work(api, opened, workshop)
    _results(api, opened, workshop)
    return api


def _sheet(api: APIRouter, opened: Opened) -> None:
    @api.get("/piece")
    def piece() -> PieceTold:
        """The piece as it stands, laid out."""
        return opened.told()

    @api.get("/stitches", response_class=Response, responses={200: BYTES})
    def stitches(revision: str | None = None, if_none_match: Annotated[str | None, Header()] = None) -> Response:
        """All stitching, in the form of festoon.web.thread_data."""
        seen = opened.seen() if revision is None else opened.at(revision)
        tag = {"etag": f'"{seen.revision}"'}
        if if_none_match == tag["etag"]:
            return Response(status_code=304, headers=tag)
        return Response(seen.stitches, media_type=OPAQUE, headers=tag)

    @api.post("/change")
    def change(asked: ChangeAsked) -> PieceTold:
        """Change the piece and save it."""
        return opened.change(asked.edits, asked.revision, asked.label)

    @api.post("/undo")
    def undo(asked: At) -> PieceTold:
        """Take the last change back."""
        return opened.undo(asked.revision)

    @api.post("/redo")
    def redo(asked: At) -> PieceTold:
        """Do again what was last taken back."""
        return opened.redo(asked.revision)

    @api.post("/motifs", openapi_extra={"requestBody": {**BYTES, "required": True}})
    async def motifs(request: Request, name: Annotated[str, Query(max_length=255)]) -> ImportTold:
        """Bring a stitch file into the piece; its bytes are the whole body."""
        data = await request.body()
        return ImportTold(file=await run_in_threadpool(take_in, opened.desk, name, data))


def _work(api: APIRouter, opened: Opened, workshop: Workshop) -> None:
    @api.post("/work")
    def begin(asked: WorkAsked) -> WorkTold:
        """Begin long work for the piece as it stands."""
        seen = opened.at(asked.revision)
        return WorkTold(id=workshop.begin(asked.what, seen.layout.piece, seen.revision).id)

    @api.get("/work/{id}/events", response_class=StreamingResponse)
    def events(id: str) -> StreamingResponse:
        """Its course as server-sent events: progress, then done, failed or stopped; each a JSON {sentence}."""
        return StreamingResponse(_stream(workshop.job(id)), media_type="text/event-stream")

    @api.delete("/work/{id}", status_code=204)
    def stop(id: str) -> None:
        """End it."""
        workshop.stop(id)


def _results(api: APIRouter, opened: Opened, workshop: Workshop) -> None:
    def known() -> Results:
        found = workshop.results(opened.seen().revision)
        if found is None:
            raise NotYet("this has not been worked out for the piece as it stands.", remedy="Begin that work first.")
        return found

    def made() -> dict[str, bytes]:
        files = known().files
        if files is None:
            raise NotYet("the sheets have not been set for the piece as it stands.", remedy="Begin that work first.")
        return files

    def proved() -> ProofTold:
        proof = known().proof
        if proof is None:
            raise NotYet("the piece as it stands has not been proved.", remedy="Begin that work first.")
        return proof

    @api.get("/hoopings")
    def hoopings() -> HoopingsTold:
        """The division."""
        return known().hoopings

    @api.get("/proof")
    def proof() -> ProofTold:
        """The proof."""
        return proved()

    @api.get("/proof/thickness.png", response_class=Response, responses={200: {"content": {"image/png": {}}}})
    def thickness(panel: str) -> Response:
        """How thick one panel's stitching gets, as a picture."""
        pictures = known().pictures
        if panel not in pictures:
            raise NotYet(f'there is no picture of a panel "{panel}".')
        return Response(pictures[panel], media_type="image/png")

    @api.get("/files")
    def files() -> FilesTold:
        """The names of all files."""
        found, held = known(), made()
        told = [FileTold(name=name, size=len(data)) for name, data in held.items()]
        return FilesTold(revision=found.hoopings.revision, files=told, refused=list(found.refused))

    @api.get("/files.zip", response_class=Response, responses={200: BYTES})
    def archive() -> Response:
        """All files in one."""
        return _saved("festoon.zip", zipped(made()), "application/zip")

    @api.get("/files/{name}", response_class=Response, responses={200: BYTES})
    def file(name: str) -> Response:
        """One file, byte for byte as `festoon make` writes it."""
        held = made()
        if name not in held:
            raise NotYet(f'there is no file "{name}".')
        kind = media_type(name)
        return _saved(name, held[name], kind) if kind == OPAQUE else Response(held[name], media_type=kind)


def _saved(name: str, data: bytes, kind: str) -> Response:
    return Response(data, media_type=kind, headers={"content-disposition": f'attachment; filename="{name}"'})


async def _stream(job: Job) -> AsyncIterator[str]:
    async for way, sentence in job.course():
        yield f"event: {way}\ndata: {json.dumps({'sentence': sentence})}\n\n"
