"""What the page may ask of its server, each by one function of the house; one file a subject."""

from __future__ import annotations

from fastapi import APIRouter

from festoon.web.answers import Wrong
from festoon.web.routes import bench, drawer, results, share, sheet, start, work

STATUSES = (400, 401, 403, 404, 409, 413, 422, 429, 500)

api = APIRouter(prefix="/api", responses={status: {"model": Wrong} for status in STATUSES})
"""All of it."""

api.include_router(start.router)
api.include_router(drawer.router)
api.include_router(share.router)
for _subject in (sheet, work, results, bench):
    api.include_router(_subject.router, prefix="/pieces/{piece}")
api.include_router(drawer.motifs, prefix="/pieces/{piece}")
