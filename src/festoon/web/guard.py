"""Who may speak to the page's server: only this machine's own page, with the session's token, in small words."""

from __future__ import annotations

import hmac
import os
import traceback
from collections.abc import Iterable
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

TOKEN_HEADER = "x-festoon-token"
API = "/api/"

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

FAULT = "This is a fault in Festoon, not in your piece. Nothing was left half-written. Please report it."
TRACE = "FESTOON_TRACE"
"""The environment variable that lets a fault of our own show where it lies, on the terminal."""


@dataclass(frozen=True, slots=True)
class Door:
    """The port that the server listens on, and the token of this session."""

    port: int
    token: str

    @property
    def hosts(self) -> tuple[str, ...]:
        """How a browser on this machine may call the server (any other name may have been led here by others)."""
        return (f"127.0.0.1:{self.port}", f"localhost:{self.port}")

    @property
    def cookie(self) -> str:
        """The cookie's name; browsers share cookies between ports, so each has its own."""
        return f"festoon-{self.port}"

    @property
    def address(self) -> str:
        """What to open."""
        return f"http://127.0.0.1:{self.port}/?token={self.token}"

    def knows(self, tokens: Iterable[str]) -> bool:
        """Whether the session's token is among these."""
        return any(hmac.compare_digest(t.encode(), self.token.encode()) for t in tokens)


class Guard:
    """ASGI middleware around the whole application; every refusal is a sentence."""

    def __init__(self, app: ASGIApp, door: Door) -> None:
        self._app, self._door = app, door

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
            answer = self._refused(scope) or self._entered(scope)
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
        if headers.getlist("host") not in [[host] for host in self._door.hosts]:
            return refusal(403, "Only this machine may open the page, by the address that was printed.")
        ours = [f"http://{host}" for host in self._door.hosts]
        if any(origin not in ours for origin in headers.getlist("origin")):
            return refusal(403, "Another page may not speak to this one.")
        if not scope["path"].startswith(API):
            return None
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return refusal(403, "Another page may not speak to this one.")
        if not self._door.knows([*headers.getlist(TOKEN_HEADER), *self._cookies(headers)]):
            return refusal(401, "The page was opened without its token. Open the whole address that was printed.")
        return None

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
        tokens = parse_qs(scope["query_string"].decode("latin-1")).get("token", [])
        if not self._door.knows(tokens):
            return None
        answer = RedirectResponse("/", 303)
        answer.set_cookie(self._door.cookie, self._door.token, httponly=True, samesite="strict", path="/")
        return answer


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
    most = MOST_MOTIF_BYTES if scope["path"] == f"{API}motifs" else MOST_BYTES
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
