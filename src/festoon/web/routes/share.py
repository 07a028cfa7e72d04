"""Sharing the table: codes for other devices, and their way in."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends, Query, Request
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from festoon.web.answers_share import EnteredTold, ShareTold
from festoon.web.guard import Door
from festoon.web.qr import picture
from festoon.web.routes.here import OnTable
from festoon.web.sharing import NotShared, door_of, way_in

router = APIRouter(prefix="/share")


def _door(request: Request) -> Door:
    door: Door = request.app.state.door
    return door


AtDoor = Annotated[Door, Depends(_door)]
Key = Annotated[str, Query(max_length=100, pattern="^[0-9a-f]*$")]


class CodeTyped(BaseModel):
    """A code as it was typed."""

    model_config = ConfigDict(extra="forbid")
    code: str = Field(max_length=100)


@router.get("")
def share(door: AtDoor, piece: Key = "") -> ShareTold:
    """How another device comes in; piece: what it is shown first."""
    if door.sharing is None:
        return ShareTold(shared=False)
    code, devices = door.sharing.code, door.sharing.devices
    first, *rest = (door_of(a, door.port) for a in door.sharing.addresses)
    others = tuple(rest)
    if code is None:
        return ShareTold(shared=True, address=first, others=others, devices=devices)
    return ShareTold(
        shared=True,
        address=first,
        others=others,
        code=code.told,
        minutes=round(door.sharing.minutes_left(code), 2),
        picture=picture(way_in(door.sharing.addresses[0], door.port, code, piece or None)),
        devices=devices,
    )


@router.post("/code")
def begin(door: AtDoor, piece: Key = "") -> ShareTold:
    """Make a new code; the last one ends."""
    if door.sharing is None:
        raise NotShared("this page is not shared.", remedy="Start it with: festoon open --share.")
    door.sharing.begin()
    return share(door, piece)


@router.delete("/devices")
def end(door: AtDoor) -> ShareTold:
    """Send every other device away."""
    if door.sharing is not None:
        door.sharing.end()
    return share(door)


@router.post("/enter")
def enter(door: AtDoor, table: OnTable, answer: Response, typed: CodeTyped) -> EnteredTold:
    """Let the device in that typed a code: it gets a token of its own, in a cookie that no script reads."""
    if door.sharing is None:
        raise NotShared("this page is not shared.", remedy="Start it with: festoon open --share.")
    token = door.sharing.enter(typed.code)
    answer.set_cookie(door.cookie, token, httponly=True, samesite="strict", path="/")
    return EnteredTold(piece=table.first)
