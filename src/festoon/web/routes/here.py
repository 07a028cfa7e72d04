"""What routes share: the piece that they are asked about, and how bytes are described and saved."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import Depends, Request
from starlette.responses import Response

from festoon.web.opened import Opened
from festoon.web.table import Table

OPAQUE = "application/octet-stream"
BYTES: dict[str, Any] = {"content": {OPAQUE: {"schema": {"type": "string", "format": "binary"}}}}
PNG: dict[str, Any] = {"content": {"image/png": {}}}


def _table(request: Request) -> Table:
    table: Table = request.app.state.table
    return table


OnTable = Annotated[Table, Depends(_table)]
"""The cutting table with all open pieces."""


def _here(piece: str, table: OnTable) -> Opened:
    return table.opened(piece)


Here = Annotated[Opened, Depends(_here)]
"""The piece whose key stands in the address."""


def saved(name: str, data: bytes, kind: str) -> Response:
    """An answer that the browser saves under this name."""
    return Response(data, media_type=kind, headers={"content-disposition": f'attachment; filename="{name}"'})
