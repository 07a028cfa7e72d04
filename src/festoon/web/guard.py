"""Who may speak to the page's server: this machine's own page, with the session's token, in small words; and, where
the table is shared, the devices that a code let in, with what lies open and nothing else."""

from __future__ import annotations

import hmac
import os
import re
import traceback
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from festoon.web.sharing import SHARE, Sharing

TOKEN_HEADER = "x-festoon-token"
API = "/api/"
ENTER = "/api/share/enter"
"""Where a device gives its code, the only thing that one without a token may ask."""

GUESTS = re.compile(r"/api/(?:techniques|pieces/(?P<piece>[^/]+))(?:/.*)?")
"""What a device that was let in may ask: all of a piece that lies open, and what may be added to one. It may not make
codes, begin pieces, or open others."""

MOTIFS = re.compile(r"/api/pieces/[^/]+/motifs")
"""Where stitch files are sent to."""

KEY = re.compile(r"[0-9a-f]+")
"""A piece's key."""

MOST_BYTES = 1_000_000
"""Of a request: thousands of changes at once (own choice)."""

MOST_MOTIF_BYTES = 20_000_000
"""Of a stitch file: millions of stitches, more than any hoop takes (own choice)."""

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; "
    "connect-src 'self'; frame-src 'self' blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
FRAMED_POLICY = "frame-ancestors 'self'"
"""For PDF files, which the page shows in a frame and the browser's own viewer draws."""

OUTSIDE = "The page was opened without its token. Open the whole address that was printed, with all behind the ?."
NOT_LET_IN = "This device has not been let in, or sharing was ended. Load the page again and type the code shown now."
FAULT = "This is a fault in Festoon, not in your piece. Nothing was left half-written. Please report it."
TRACE = "FESTOON_TRACE"
"""The environment variable that lets a fault of our own show where it lies, on the terminal."""


@dataclass(frozen=True, slots=True)
class Door:
    """The port that the server listens on, the token of this session, and who else is at the table, if it is shared."""

    port: int
    token: str
    sharing: Sharing | None = None

    @property
    def own(self) -> tuple[str, ...]:
        """How a browser on this machine may call the server; the session's token opens only there."""
        return (f"127.0.0.1:{self.port}", f"localhost:{self.port}")

    def hosts(self, scope: Scope) -> tuple[str, ...]:
        """How a browser may call it: where it is shared, also by the very address at which the request arrived. Any
        name but that may have been led here by others."""
        arrived = scope.get("server") if self.sharing else None
        return (*self.own, f"{arrived[0]}:{self.port}") if arrived else self.own

    @property
    def cookie(self) -> str:
        """The cookie's name; browsers share cookies between ports, so each has its own."""
        return f"festoon-{self.port}"

    def address(self, piece: str | None = None) -> str:
        """What to open: the start, or the piece of this key."""
        return f"http://127.0.0.1:{self.port}/?token={self.token}" + (f"&piece={piece}" if piece else "")

    def knows(self, tokens: Iterable[str]) -> bool:
        """Whether the session's token is among these."""
        return any(hmac.compare_digest(t.encode(), self.token.encode()) for t in tokens)


class Guard:
    """ASGI middleware around the whole application; every refusal is a sentence."""

    def __init__(self, app: ASGIApp, door: Door, lies_open: Callable[[str], bool]) -> None:
        self._app, self._door, self._lies_open = app, door, lies_open

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
        elif scope["type"] == "http":
            await self._http(scope, receive, send)

    async def _http(self, scope: Scope, receive: Receive, send: Send) -> None:
        begun = False

        async def guarded(message: Message) -> None:
            nonlocal begun
            if message["type"] == "http.response.start":
                begun = True
                _dress(scope["path"], MutableHeaders(scope=message))
            await send(message)

        try:
            answer = self._refused(scope) or self._entered(scope) or self._led(scope)
            if answer is None:
                body = await _body(scope, receive)
                if body is None:
                    answer = refusal(413, "This is more than can be taken in at once.")
            if answer is not None:
                await answer(scope, receive, guarded)
                return
            await self._app(scope, _again(body or b"", receive), guarded)
        except Exception:
            if TRACE in os.environ:
                traceback.print_exc()
            if not begun:
                await refusal(500, FAULT)(scope, receive, guarded)

    def _refused(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        hosts = self._door.hosts(scope)
        if headers.getlist("host") not in [[host] for host in hosts]:
            return refusal(403, "The page opens only by the address that was printed or shown.")
        ours = [f"http://{host}" for host in hosts]
        if any(origin not in ours for origin in headers.getlist("origin")):
            return refusal(403, "Another page may not speak to this one.")
        if not scope["path"].startswith(API):
            return None
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return refusal(403, "Another page may not speak to this one.")
        own = headers["host"] in self._door.own
        if scope["path"] == ENTER:
            return refusal(403, "Codes are for other devices; here the page opens by itself.") if own else None
        if self._owner(headers):
            return None
        if not self._guest(headers):
            return refusal(401, OUTSIDE if own else NOT_LET_IN)
        asked = GUESTS.fullmatch(scope["path"])
        if asked is None or not (asked["piece"] is None or self._lies_open(asked["piece"])):
            return refusal(403, "Only the machine that the page is shared from may do this.")
        return None

    def _owner(self, headers: Headers) -> bool:
        return headers["host"] in self._door.own and self._door.knows(self._tokens(headers))

    def _guest(self, headers: Headers) -> bool:
        return self._door.sharing is not None and self._door.sharing.knows(self._tokens(headers))

    def _tokens(self, headers: Headers) -> list[str]:
        return [*headers.getlist(TOKEN_HEADER), *self._cookies(headers)]

    def _cookies(self, headers: Headers) -> list[str]:
        try:
            jar = SimpleCookie("; ".join(headers.getlist("cookie")))
        except CookieError:
            return []
        return [jar[self._door.cookie].value] if self._door.cookie in jar else []

    def _entered(self, scope: Scope) -> Response | None:
        """The way in: the token goes from the address into a cookie that no script reads."""
        if scope["path"] != "/" or scope["method"] != "GET":
            return None
        asked = parse_qs(scope["query_string"].decode("latin-1"))
        at = Headers(scope=scope)["host"]
        if at not in self._door.own or not self._door.knows(asked.get("token", [])):
            return None
        key = next(filter(KEY.fullmatch, asked.get("piece", [])), None)
        answer = RedirectResponse(f"/?piece={key}" if key else "/#start", 303)
        answer.set_cookie(self._door.cookie, self._door.token, httponly=True, samesite="strict", path="/")
        return answer

    def _led(self, scope: Scope) -> Response | None:
        """A device that nobody let in yet is led to where it types its code."""
        headers = Headers(scope=scope)
        if scope["path"] != "/" or headers["host"] in self._door.own or self._guest(headers):
            return None
        return RedirectResponse(SHARE, 303)


def refusal(status: int, sentence: str, choices: tuple[str, ...] = ()) -> JSONResponse:
    """An answer that says what is wrong."""
    return JSONResponse({"sentence": sentence, "choices": list(choices)}, status)


def _dress(path: str, headers: MutableHeaders) -> None:
    pdf = headers.get("content-type", "").startswith("application/pdf")
    headers["content-security-policy"] = FRAMED_POLICY if pdf else POLICY
    headers["x-content-type-options"] = "nosniff"
    headers["referrer-policy"] = "no-referrer"
    headers["cross-origin-resource-policy"] = "same-origin"
    headers["cross-origin-opener-policy"] = "same-origin"
    headers["cache-control"] = "no-store" if path.startswith(API) or "set-cookie" in headers else "no-cache"


async def _body(scope: Scope, receive: Receive) -> bytes | None:
    """The request's body; None where it is too large."""
    most = MOST_MOTIF_BYTES if MOTIFS.fullmatch(scope["path"]) else MOST_BYTES
    length = Headers(scope=scope).get("content-length", "0")
    if not length.isdecimal() or int(length) > most:
        return None
    body = bytearray()
    while True:
        message = await receive()
        body += message.get("body", b"")
        if len(body) > most:
            return None
        if not message.get("more_body", False):
            return bytes(body)


def _again(body: bytes, receive: Receive) -> Receive:
    """A channel that gives the body once, then whatever comes."""
    given = False

    async def replay() -> Message:
        nonlocal given
        if given:
            return await receive()
        given = True
        return {"type": "http.request", "body": body, "more_body": False}

    return replay
