"""What the page is told of sharing, typed."""

from __future__ import annotations

from festoon.web.answers import Told


class ShareTold(Told):
    """How another device comes in; all empty where the page is not shared.

    address, others: what it opens, the likeliest first. code: what it types then, null after sharing was ended;
    minutes: that the code may still be used. picture: the way in with the code, as a QR picture (a data address).
    devices: how many were let in.
    """

    shared: bool
    address: str = ""
    others: tuple[str, ...] = ()
    code: str | None = None
    minutes: float = 0.0
    picture: str = ""
    devices: int = 0


class EnteredTold(Told):
    """The piece that a device which was let in is shown, by its key."""

    piece: str | None
