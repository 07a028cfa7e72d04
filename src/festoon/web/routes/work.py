"""Long work: begun, followed, stopped."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator

from fastapi import APIRouter
from starlette.responses import StreamingResponse

from festoon.web.answers import WorkAsked, WorkTold
from festoon.web.routes.here import Here
from festoon.web.work import Job

router = APIRouter(prefix="/work")


@router.post("")
def begin(here: Here, asked: WorkAsked) -> WorkTold:
    """Begin long work for the piece as it stands."""
    seen = here.at(asked.revision)
    return WorkTold(id=here.workshop.begin(asked.what, seen.layout, seen.revision).id)


@router.get("/{id}/events", response_class=StreamingResponse)
def events(here: Here, id: str) -> StreamingResponse:
    """Its course as server-sent events: progress, then done, failed or stopped; each a JSON {sentence}."""
    return StreamingResponse(_stream(here.workshop.job(id)), media_type="text/event-stream")


@router.delete("/{id}", status_code=204)
def stop(here: Here, id: str) -> None:
    """End it."""
    here.workshop.stop(id)


async def _stream(job: Job) -> AsyncIterator[str]:
    async for way, sentence in job.course():
        yield f"event: {way}\ndata: {json.dumps({'sentence': sentence})}\n\n"
