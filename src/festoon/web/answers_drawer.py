"""What the page is told of what may be added to a piece, typed."""

from __future__ import annotations

from typing import Any, Literal

from festoon.web.answers import Spot, Told

Wants = Literal["part", "element", "place", "line", "file"]
"""What is to be pointed out: a part, a whole element (by any of its parts), a place, a line of the cloth, a file."""


class AskTold(Told):
    """What is asked for in beginning an element: the word that it fills, and how it is asked."""

    word: str
    told: str
    wants: Wants


class BeginningTold(Told):
    """One way of beginning an element; see festoon.techniques.Beginning. number: that of its picture."""

    number: int
    kind: str
    told: str
    sentence: str
    asks: list[AskTold]
    words: dict[str, Any]
    under: bool


class MotifTold(Told):
    """A stitch file of the piece's folder: width and height, mm. wrong: why it cannot be read, empty where it can."""

    file: str
    size: Spot
    stitches: int
    threads: int
    wrong: str
