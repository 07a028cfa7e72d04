"""An element set out several times made into as many by themselves, at exactly the same places."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from festoon.desk.named import elements_anew
from festoon.desk.sections import Section, places, without_remarks
from festoon.desk.words import with_word
from festoon.errors import PieceError
from festoon.measure import parse_length
from festoon.plane import Path, from_svg
from festoon.techniques import TECHNIQUES, Ground
from festoon.work.fields import quoted


def freed(name: str, sections: list[Section]) -> list[Section]:
    """The piece's tables with the element `name` as single elements, named as its parts were.

    What leans on it as a whole becomes single, too. Raises PieceError where it is single already, or cannot be read.
    """
    elements = _Elements(sections)
    if elements.parts(name) == (name,):
        raise PieceError(f"{quoted(name)} stands alone already.", remedy="Move it where you want it.")
    free = {one: elements.parts(one) for one in elements.leaning(name)}
    made: list[Section] = []
    for section in sections:
        single = section.table == "element" and section.data["name"] in free
        made += elements.singles(section) if single else [section]
    return elements_anew(made, lambda one: free.get(one, (one,)))


class _Elements:
    """The elements of the piece, read, with the ground that each stands on."""

    def __init__(self, sections: list[Section]) -> None:
        self._panels = [sections[n].data for n in places(sections, "panel")]
        self._data: dict[str, dict[str, Any]] = {}
        self._read: dict[str, Any] = {}
        for n in places(sections, "element"):
            data = sections[n].data
            try:
                self._read[data["name"]] = TECHNIQUES[data["kind"]].model.model_validate(data)
                self._data[data["name"]] = data
            except (ValidationError, LookupError) as error:
                raise PieceError("an element cannot be read.", remedy="Mend the piece file first.") from error

    def words(self, name: str) -> tuple[dict[str, Any], ...]:
        """The words to change for each of its parts to stand by itself."""
        element = self._read[name]
        panel = self._panel(element.panel)
        return TECHNIQUES[element.kind].singly(element, Ground(_middle(panel), _lines(panel), self.parts))

    def parts(self, name: str) -> tuple[str, ...]:
        """The names of its parts: its own, or numbered. Raises PieceError."""
        if name not in self._read:
            raise PieceError(f"there is no element {quoted(name)} in the piece.", remedy="Look at it as it is now.")
        count = len(self.words(name))
        return (name,) if count == 1 else tuple(f"{name}-{n}" for n in range(1, count + 1))

    def leaning(self, name: str) -> set[str]:
        """The element, and all that lean on it by its own name, or on these."""
        found = {name}
        while True:
            more = {n for n, e in self._read.items() if n not in found and found & set(TECHNIQUES[e.kind].needs(e))}
            if not more:
                return found
            found |= more

    def singles(self, section: Section) -> list[Section]:
        """One table for each part, in order; remarks stay above the first."""
        name = section.data["name"]
        singles = []
        for n, (part, words) in enumerate(zip(self.parts(name), self.words(name), strict=True)):
            single = without_remarks(section) if n else section
            for word, value in {"name": part, **words}.items():
                if value is not None or word in self._data[name]:
                    single = with_word(single, [word], value)
            singles.append(_parted(single))
        return singles

    def _panel(self, name: str | None) -> Mapping[str, Any]:
        found = [p for p in self._panels if name in (None, p.get("name"))]
        if not found:
            raise PieceError(f"there is no panel {quoted(str(name))}.", remedy="Mend the piece file first.")
        return found[0]


def _parted(section: Section) -> Section:
    text = section.text.rstrip()
    end = "\r\n" if "\r\n" in section.text else "\n"
    return Section(section.table, text + 2 * end)


def _middle(panel: Mapping[str, Any]) -> tuple[float, float]:
    width, height = panel["size"]
    return parse_length(width) / 2, parse_length(height) / 2


def _lines(panel: Mapping[str, Any]) -> Any:
    known: Mapping[str, str] = panel.get("lines", {})

    def line(text: str) -> Path:
        return from_svg(known.get(text, text))

    return line
