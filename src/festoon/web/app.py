"""The page's server as an ASGI application: every answer typed, every mistake a sentence."""

from __future__ import annotations

from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.types import ASGIApp

from festoon.desk import Stale
from festoon.errors import FestoonError
from festoon.web.files import NotYet
from festoon.web.guard import FAULT, Door, Guard, refusal
from festoon.web.page_files import PageFiles
from festoon.web.routes import api
from festoon.web.sharing import NotShared, TooManyWrong
from festoon.web.table import Table, UnknownPiece

PAGE = Path(__file__).parent / "page"
"""The browser's part."""

CHOICES = ("look at it as it is now", "undo the other change")
"""What may be done where a piece was changed meanwhile."""


def create_app(table: Table, door: Door, page: Path = PAGE) -> ASGIApp:
    """The whole server for the pieces on this table, behind its guard. page: the folder of the browser's files."""

    @asynccontextmanager
    async def life(app: FastAPI) -> AsyncIterator[None]:
        yield
        table.close()

    app = FastAPI(title="Festoon", docs_url=None, redoc_url=None, openapi_url="/api/openapi.json", lifespan=life)
    app.state.table, app.state.door = table, door
    app.include_router(api)
    app.add_exception_handler(Stale, _told(409, CHOICES))
    app.add_exception_handler(NotYet, _told(404))
    app.add_exception_handler(UnknownPiece, _told(404))
    app.add_exception_handler(NotShared, _told(403))
    app.add_exception_handler(TooManyWrong, _told(429))
    app.add_exception_handler(FestoonError, _told(422))
    app.add_exception_handler(RequestValidationError, _misunderstood)
    app.add_exception_handler(HTTPException, _http)
    app.add_exception_handler(Exception, _fault)
    if page.is_dir():
        app.mount("/", PageFiles(page))
    return Guard(app, door, table.lies_open)


def _told(status: int, choices: tuple[str, ...] = ()) -> Callable[[Request, Exception], Awaitable[Response]]:
    async def handler(request: Request, error: Exception) -> Response:
        return refusal(status, str(error), choices)

    return handler


async def _misunderstood(request: Request, error: Exception) -> Response:
    wrong = error.errors() if isinstance(error, RequestValidationError) else []
    first = wrong[0] if wrong else {"loc": (), "msg": "it cannot be read"}
    place = ".".join(str(step) for step in first["loc"])
    return refusal(422, f"The page asked for something that is not understood: {place}: {first['msg']}.")


async def _http(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 400
    told = {404: "There is nothing here.", 405: "That cannot be done here."}
    return refusal(status, told.get(status, "The page asked for something that is not understood."))


async def _fault(request: Request, error: Exception) -> Response:
    return refusal(500, FAULT)
