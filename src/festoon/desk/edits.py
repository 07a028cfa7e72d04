"""What may be done to a piece, each as a value that says itself in JSON by its word `do`."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, FiniteFloat, JsonValue


class _Edit(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class SetWord(_Edit):
    """Give one word of an element a value, as it is written in the piece file.

    A dotted word lies in a table of the element, "ring.radius", or in a list of it, "via.0". None takes the word out. A
    new "name" is changed in the elements that name this one, too.
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


class FreeElement(_Edit):
    """Make an element that is set out several times into single ones at exactly the same places, named as its parts
    are ('sprig-3'). What leans on it as a whole becomes single, too, and whatever names one of its parts holds on.
    """

    do: Literal["free"] = "free"
    element: str

    @property
    def label(self) -> str:
        """'setting each sprig free'."""
        return f"setting each {self.element} free"


class AddPanel(_Edit):
    """Lay one more panel of cloth below the others, with the words of the piece file."""

    do: Literal["add panel"] = "add panel"
    panel: dict[str, JsonValue]

    @property
    def label(self) -> str:
        """'adding panel back'."""
        return f"adding panel {self.panel.get('name', '')}".rstrip()


class RemovePanel(_Edit):
    """Take a panel away on which nothing stands."""

    do: Literal["remove panel"] = "remove panel"
    panel: str

    @property
    def label(self) -> str:
        """'taking panel back away'."""
        return f"taking panel {self.panel} away"


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


class AcceptFinding(_Edit):
    """Let a finding be: rule, panel and what it is about, with its figure as it stands and a note; see [[accepted]].

    It takes the place of what was accepted of the same before. Without amount and note that is taken back.
    """

    do: Literal["accept"] = "accept"
    rule: str
    panel: str = ""
    about: tuple[str, ...] = ()
    amount: FiniteFloat | None = None
    note: str | None = None

    @property
    def label(self) -> str:
        """'accepting a finding'."""
        return "accepting a finding" if self.note is not None else "taking an acceptance back"


Edit = Annotated[
    SetWord
    | AddElement
    | CopyElement
    | RemoveElement
    | MoveElement
    | FreeElement
    | AddPanel
    | RemovePanel
    | SetPanel
    | SetPiece
    | SetBench
    | AcceptFinding,
    Field(discriminator="do"),
]
"""Any one of them, told apart by `do`."""

_DOING = {"at": "moving", "turn": "turning", "mirror": "mirroring", "name": "renaming"}


def label_of(edits: Iterable[Edit]) -> str:
    """What a worker would say was done: 'turning sprig', 'moving leaf and 2 more'."""
    first, *others = dict.fromkeys(edit.label for edit in edits)
    return f"{first} and {len(others)} more" if others else first
