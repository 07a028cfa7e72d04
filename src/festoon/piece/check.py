"""What must fit together across a piece and its bench: names, panels, the hoop."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from festoon.errors import PieceError
from festoon.piece.bench import Bench
from festoon.piece.document import Document
from festoon.piece.locate import KeyPath, line_of
from festoon.piece.model import PieceFile
from festoon.piece.near import did_you_mean, listed
from festoon.piece.outline import shape_of
from festoon.piece.place import place_of, shown

LONGEST_NAME = 60
"""Characters of a name; names of files are made of them (ours)."""

_NAME = re.compile(r"[^\W_](?:[\w -]*[\w-])?")
_NUMBERED = re.compile(r"(.+)-[0-9]+")


def contradictions(file: PieceFile, document: Document, bench: Bench, bench_document: Document) -> list[PieceError]:
    """Every contradiction, names first, then what they refer to."""
    return [
        *_printed("piece", (file.piece,), document),
        *_printed("hoop", bench.hoop, bench_document),
        *_printed("thread", bench.thread, bench_document),
        *_names("panel", file.panel, document),
        *_names("element", file.element, document),
        *_shapes(file, document),
        *_panels(file, document),
        *_part_names(file, document),
        *_hoop(file, document, bench),
        *_twice("hoop", bench.hoop, bench_document),
        *_twice("thread", bench.thread, bench_document),
    ]


def _printed(word: str, items: Sequence[Any], document: Document) -> Iterator[PieceError]:
    """These names only stand on sheets: any that can be printed on one line will do."""
    for number, item in enumerate(items):
        if not item.name.isprintable() or not item.name.strip():
            path = (word, "name") if word == "piece" else (word, number, "name")
            yield PieceError(
                f"the name {shown(item.name)} cannot be printed on one line.",
                where=document.place(path),
                remedy="Use letters, digits, spaces and signs only.",
            )


def _names(word: str, items: Sequence[Any], document: Document) -> Iterator[PieceError]:
    for number, item in enumerate(items):
        if not _NAME.fullmatch(item.name) or len(item.name) > LONGEST_NAME:
            yield PieceError(
                f"the name {shown(item.name)} cannot be used.",
                where=document.place((word, number, "name")),
                remedy=f"A name is made of letters, digits, spaces, - and _, begins with a letter or digit, and has at "
                f"most {LONGEST_NAME} characters.",
            )
    yield from _twice(word, items, document)


def _twice(word: str, items: Sequence[Any], document: Document) -> Iterator[PieceError]:
    """Capitals do not make two names different: names become names of files."""
    first: dict[str, int] = {}
    for number, item in enumerate(items):
        before = first.setdefault(item.name.casefold(), number)
        if before != number:
            line = line_of(document.lines, (word, before))
            yield PieceError(
                f"the {word} at line {line} is called {shown(items[before].name)} too.",
                where=place_of(document, (word, number)),
                remedy="Give each a name of its own.",
            )


def _shapes(file: PieceFile, document: Document) -> Iterator[PieceError]:
    """What is cut from a panel must be possible, and its lines named once."""
    for number, panel in enumerate(file.panel):
        try:
            shape_of(panel, file.piece.units)
        except PieceError as error:
            path: KeyPath = ("panel", number, *error.where.split(".", 1))
            yield PieceError(error.what, where=place_of(document, path), remedy=error.remedy)


def _panels(file: PieceFile, document: Document) -> Iterator[PieceError]:
    names = [panel.name for panel in file.panel]
    for number, element in enumerate(file.element):
        if element.panel is None and len(names) > 1:
            yield PieceError(
                f"it does not say on which of the {len(names)} panels it stands.",
                where=place_of(document, ("element", number)),
                remedy=f"Add panel = {listed(map(shown, names))}.",
            )
        elif element.panel is not None and element.panel not in names:
            yield PieceError(
                f"there is no panel {shown(element.panel)}.",
                where=place_of(document, ("element", number, "panel")),
                remedy=did_you_mean(element.panel, names, f"There is {listed(map(shown, names), 'and')}."),
            )


def _part_names(file: PieceFile, document: Document) -> Iterator[PieceError]:
    """Repeats of an element are called name-1, name-2, ...: no other element may be called so."""
    numbers = {element.name.casefold(): number for number, element in enumerate(file.element)}
    for number, element in enumerate(file.element):
        repeat = _NUMBERED.fullmatch(element.name)
        whole = numbers.get(repeat.group(1).casefold()) if repeat else None
        if whole is not None:
            yield PieceError(
                f"{shown(element.name)} is what a repeat of {shown(file.element[whole].name)} at line "
                f"{line_of(document.lines, ('element', whole))} would be called.",
                where=place_of(document, ("element", number)),
                remedy="Give it another name.",
            )


def _hoop(file: PieceFile, document: Document, bench: Bench) -> Iterator[PieceError]:
    wanted, names = file.hooping.hoop, [hoop.name for hoop in bench.hoop]
    if wanted is not None and wanted not in names:
        yield PieceError(
            f"there is no hoop {shown(wanted)} on the bench.",
            where=place_of(document, ("hooping", "hoop")),
            remedy=did_you_mean(wanted, names, f"The bench has {listed(map(shown, names), 'and')}."),
        )
