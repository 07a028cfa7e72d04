"""What may be done to a piece, each as a value that says itself in JSON by its word `do`."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, FiniteFloat, JsonValue


class _Edit(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class SetWord(_Edit):
    """Give one word of an element a value, as it is written in the piece file.

    A dotted word lies in a table of the element: "ring.radius". None takes the word out. A new "name" is changed in
    the elements that name this one, too.
    """

    do: Literal["set"] = "set"
    element: str
    word: str
    value: JsonValue

    @property
    def label(self) -> str:
        """'turning sprig-3'."""
        return _DOING.get(self.word, f"changing {self.word} of") + f" {self.element}"


class AddElement(_Edit):
    """Lay an element under another (`before` it in the file), or on top of all."""

    do: Literal["add"] = "add"
    element: dict[str, JsonValue]
    before: str | None = None

    @property
    def label(self) -> str:
        """'adding sprig'."""
        return f"adding {self.element.get('name', 'an element')}"


class CopyElement(_Edit):
    """Lay a copy of an element on it, `by` so many mm to the right and down; without a name it is called '... copy'."""

    do: Literal["copy"] = "copy"
    element: str
    name: str | None = None
    by: tuple[FiniteFloat, FiniteFloat] = (0.0, 0.0)

    @property
    def label(self) -> str:
        """'copying sprig'."""
        return f"copying {self.element}"


class RemoveElement(_Edit):
    """Take an element out, with the remarks directly above it."""

    do: Literal["remove"] = "remove"
    element: str

    @property
    def label(self) -> str:
        """'taking out sprig'."""
        return f"taking out {self.element}"


class MoveElement(_Edit):
    """Lay an element elsewhere in the order: 0 is at the bottom."""

    do: Literal["order"] = "order"
    element: str
    to: int = Field(ge=0)

    @property
    def label(self) -> str:
        """'laying sprig elsewhere in the order'."""
        return f"laying {self.element} elsewhere in the order"


class SetPanel(_Edit):
    """Give one word of a panel a value; a new "name" is changed in the elements that stand on it, too."""

    do: Literal["panel"] = "panel"
    panel: str
    word: str
    value: JsonValue

    @property
    def label(self) -> str:
        """'changing size of front'."""
        return f"changing {self.word} of {self.panel}"


class SetPiece(_Edit):
    """Give one word of [piece] or [hooping] a value."""

    do: Literal["piece"] = "piece"
    table: Literal["piece", "hooping"]
    word: str
    value: JsonValue

    @property
    def label(self) -> str:
        """'changing overlap'."""
        return f"changing {self.word}"


class SetBench(_Edit):
    """Give a place of the bench a value: "machine.format", "hoop.0.field".

    "hoop.1" with a table changes the second hoop, or adds it where there is one; with None takes it away.
    """

    do: Literal["bench"] = "bench"
    path: str
    value: JsonValue

    @property
    def label(self) -> str:
        """'changing the bench: machine.format'."""
        return f"changing the bench: {self.path}"


Edit = Annotated[
    SetWord | AddElement | CopyElement | RemoveElement | MoveElement | SetPanel | SetPiece | SetBench,
    Field(discriminator="do"),
]
"""Any one of them, told apart by `do`."""

_DOING = {"at": "moving", "turn": "turning", "mirror": "mirroring", "name": "renaming"}


def label_of(edits: Iterable[Edit]) -> str:
    """What a worker would say was done: 'turning sprig', 'moving leaf and 2 more'."""
    first, *others = dict.fromkeys(edit.label for edit in edits)
    return f"{first} and {len(others)} more" if others else first
