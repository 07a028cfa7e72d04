"""An element set out several times made into as many by themselves, at exactly the same places."""

from __future__ import annotations

import functools
from typing import Any

from festoon.desk.named import elements_anew
from festoon.desk.sections import Section, places, without_remarks
from festoon.desk.words import with_word
from festoon.errors import PieceError
from festoon.layout import settings
from festoon.piece import Piece
from festoon.techniques import technique_of
from festoon.work.fields import quoted


def freed(name: str, sections: list[Section], piece: Piece) -> list[Section]:
    """The piece's tables with the element `name` as single elements, named as its parts were; piece: the same, read.

    What leans on its parts as a whole becomes single, too. Raises PieceError where it is single already, and
    FestoonError where what it leans on cannot be laid out.
    """
    elements = _Elements(sections, piece)
    if elements.parts(name) == (name,):
        raise PieceError(f"{quoted(name)} stands alone already.", remedy="Move it where you want it.")
    free = {one: elements.parts(one) for one in elements.leaning(name)}
    made: list[Section] = []
    for section in sections:
        single = section.table == "element" and section.data["name"] in free
        made += elements.singles(section) if single else [section]
    return elements_anew(made, lambda one: free.get(one, (one,)))


class _Elements:
    """The elements of the piece, as they are written and as they are read."""

    def __init__(self, sections: list[Section], piece: Piece) -> None:
        self._data = {s.data["name"]: s.data for s in (sections[n] for n in places(sections, "element"))}
        self._read = {e.name: e for e in piece.file.element}
        self._settings = functools.cache(lambda name: settings(piece, (name,))[name])

    def words(self, name: str) -> tuple[dict[str, Any], ...]:
        """The words to change for each of its parts to stand by itself."""
        element = self._read[name]
        return technique_of(element).singly(element, self._settings(name))

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
            more = {n for n, e in self._read.items() if n not in found and found & set(technique_of(e).needs(e))}
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


def _parted(section: Section) -> Section:
    text = section.text.rstrip()
    end = "\r\n" if "\r\n" in section.text else "\n"
    return Section(section.table, text + 2 * end)
