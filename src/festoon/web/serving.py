"""The server run on this machine alone, until Ctrl-C."""

from __future__ import annotations

import secrets
import socket
import webbrowser
from collections.abc import Callable
from pathlib import Path

import uvicorn

from festoon.desk import Desk
from festoon.errors import FestoonError
from festoon.web.app import create_app
from festoon.web.guard import Door

LOOPBACK = "127.0.0.1"
TOKEN_BYTES = 32
"""Of chance in a session's token: more than can be tried."""

PATIENCE = 1
"""Seconds that answers under way have to end when the server is closed."""


def serve(piece: Path, port: int, tell: Callable[[str], None], *, browser: bool) -> None:
    """Serve the piece's page; `tell` is given the address to open once it can be opened. Ends with Ctrl-C.

    port 0 takes a free one. Raises FestoonError where the piece cannot be opened or the port is taken.
    """
    desk = Desk(piece)
    with _listening(port) as listening:
        door = Door(listening.getsockname()[1], secrets.token_urlsafe(TOKEN_BYTES))
        config = uvicorn.Config(
            create_app(desk, door),
            log_config=None,
            access_log=False,
            server_header=False,
            ws="none",
            proxy_headers=False,
            timeout_graceful_shutdown=PATIENCE,
        )
        tell(door.address)
        if browser:
            webbrowser.open(door.address)
        try:
            uvicorn.Server(config).run(sockets=[listening])
        except KeyboardInterrupt:
            return


def _listening(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.bind((LOOPBACK, port))
        listening.listen()
    except (OSError, OverflowError) as error:
        listening.close()
        raise FestoonError(
            f"port {port} cannot be opened; another program may use it.",
            remedy="Choose another with --port, or leave it out to have a free one found.",
        ) from error
    return listening
