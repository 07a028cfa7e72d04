"""The browser's own files, read once and given from memory: a first look asks for about a hundred of them."""

from __future__ import annotations

import hashlib
import mimetypes
from dataclasses import dataclass
from pathlib import Path

from starlette.datastructures import Headers
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.types import Receive, Scope, Send

INDEX = "index.html"
"""What a folder's own address leads to."""

KINDS = {".js": "text/javascript", ".woff2": "font/woff2"}
"""What some systems call otherwise, so that browsers refuse it."""


@dataclass(frozen=True, slots=True)
class _File:
    data: bytes
    kind: str
    tag: str


class PageFiles:
    """ASGI application that gives the files of a folder, as they were when it was made, and nothing else."""

    def __init__(self, folder: Path) -> None:
        self._files = {f"/{p.relative_to(folder).as_posix()}": _read(p) for p in folder.rglob("*") if p.is_file()}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a GET or HEAD. HTTPException 405 for another method, 404 where there is no such file."""
        if scope["method"] not in ("GET", "HEAD"):
            raise HTTPException(405)
        path = scope["path"]
        file = self._files.get(path + INDEX if path.endswith("/") else path)
        if file is None:
            raise HTTPException(404)
        same = Headers(scope=scope).get("if-none-match") == file.tag
        answer = Response(b"" if same else file.data, 304 if same else 200, {"etag": file.tag}, file.kind)
        await answer(scope, receive, send)


def _read(path: Path) -> _File:
    data = path.read_bytes()
    kind = KINDS.get(path.suffix) or mimetypes.guess_type(path.name)[0] or "application/octet-stream"
    return _File(data, kind, f'"{hashlib.sha256(data).hexdigest()[:16]}"')
