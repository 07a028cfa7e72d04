"""The server run on this machine, and shared with its network where that is asked for, until Ctrl-C."""

from __future__ import annotations

import os
import secrets
import socket
import threading
import webbrowser
from collections.abc import Callable, Sequence
from contextlib import ExitStack, suppress
from pathlib import Path

import uvicorn

from festoon.errors import FestoonError
from festoon.web.app import create_app
from festoon.web.guard import Door
from festoon.web.process import ready
from festoon.web.qr import blocks
from festoon.web.sharing import CODE_MINUTES, Sharing, door_of, way_in
from festoon.web.table import Table

LOOPBACK = "127.0.0.1"
TOKEN_BYTES = 32
"""Of chance in a session's token: more than can be tried."""

PATIENCE = 1
"""Seconds that answers under way have to end when the server is closed."""


def serve(
    piece: Path | None, port: int, tell: Callable[[str], None], *, browser: bool, share: Sequence[str] = ()
) -> None:
    """Serve the page, which opens at this piece or at the start, until Ctrl-C.

    tell: given the address to open once it can be opened, and then how other devices come in, if it is shared. port: 0
    takes a free one. share: this machine's addresses at which other devices may come in; none: this machine alone.
    Raises FestoonError where the piece cannot be opened or the port is taken.
    """
    table = Table(piece)
    key = table.first
    with ExitStack() as stack:
        listening = [stack.enter_context(_listening(LOOPBACK, port))]
        port = listening[0].getsockname()[1]
        listening += [stack.enter_context(_listening(address, port)) for address in share]
        door = Door(port, secrets.token_urlsafe(TOKEN_BYTES), Sharing(share) if share else None)
        config = uvicorn.Config(
            create_app(table, door),
            log_config=None,
            access_log=False,
            server_header=False,
            ws="none",
            proxy_headers=False,
            timeout_graceful_shutdown=PATIENCE,
        )
        address = door.address(key)
        threading.Thread(target=_prepare, args=(table, key), daemon=True).start()
        tell(address)
        if door.sharing:
            tell(_how_to_come_in(door.sharing, port, key))
        if browser:
            webbrowser.open(address)
        try:
            uvicorn.Server(config).run(sockets=listening)
        except KeyboardInterrupt:
            return


def _prepare(table: Table, key: str | None) -> None:
    """The piece is laid out while the browser starts, and then what long work needs is loaded."""
    with suppress(FestoonError):  # the page will be told
        if key is not None:
            table.opened(key).prepare()
    ready()


def _how_to_come_in(sharing: Sharing, port: int, piece: str | None) -> str:
    """For the terminal: the QR picture, the address with the code, and a caution."""
    code, address = sharing.begin(), sharing.addresses[0]
    return "\n".join(
        [
            "",
            blocks(way_in(address, port, code, piece)),
            f"On a tablet or phone in this network: scan this, or open {door_of(address, port)} and type {code.told}.",
            f"The code lets one device in and ends after {CODE_MINUTES:g} minutes; the page shows the next one.",
            "Nothing is encrypted on the way: share only in a network that you trust.",
        ]
    )


def _listening(address: str, port: int) -> socket.socket:
    # Named as TCP: only then does asyncio send what it has at once (TCP_NODELAY). Otherwise the body of an answer waits
    # for the other side's delayed acknowledgement of its head, about 40 ms each time (RFC 896, RFC 1122 4.2.3.2).
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        if os.name == "posix":  # a port served a moment ago may be taken again; other systems allow it anyway
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((address, port))
        listening.listen()
    except (OSError, OverflowError) as error:
        listening.close()
        raise FestoonError(
            f"port {port} cannot be opened; another program may use it.",
            remedy="Choose another with --port, or leave it out to have a free one found.",
        ) from error
    return listening
