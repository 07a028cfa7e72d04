"""Edits applied to the two texts of a piece."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from festoon.desk.edits import (
    AcceptFinding,
    AddElement,
    AddPanel,
    CopyElement,
    Edit,
    FreeElement,
    MoveElement,
    RemoveElement,
    RemovePanel,
    SetBench,
    SetPanel,
    SetPiece,
    SetWord,
)
from festoon.desk.free import freed
from festoon.desk.named import elements_anew, panel_anew
from festoon.desk.sections import Section, inserted, joined, newline_of, places, split, without_remarks
from festoon.desk.words import spelt, spelt_key, with_word
from festoon.errors import PieceError
from festoon.measure import parse_length
from festoon.piece.check import LONGEST_NAME
from festoon.piece.near import did_you_mean
from festoon.piece.read import piece_of
from festoon.piece.words import branches, field_type, kind_of_measure, model_of, words_of
from festoon.techniques import TECHNIQUES
from festoon.work.fields import quoted

_COPY = re.compile(r" copy(?: [0-9]+)?$")


@dataclass(frozen=True, slots=True)
class Sections:
    """The tables of piece.toml and of bench.toml, and the piece's folder."""

    piece: list[Section]
    bench: list[Section]
    folder: Path


def applied(edits: Sequence[Edit], piece: str, bench: str, folder: Path = Path()) -> tuple[str, str]:
    """The texts of piece.toml and bench.toml after all edits, one after the other.

    Both must be TOML; the stitch files that they name lie below `folder`. Raises PieceError where an edit names what
    is not there or its place cannot be changed, and FestoonError where what an element leans on must be laid out for
    it and cannot be; whether the outcome is a piece, reading it tells.
    """
    sections = Sections(split(piece), split(bench), folder)
    for edit in edits:
        sections = _APPLY[type(edit)](edit, sections)
    return joined(sections.piece), joined(sections.bench)


def _set_word(edit: SetWord, sections: Sections) -> Sections:
    at = _named(sections.piece, "element", edit.element)
    piece = _with(sections.piece, at, _way(edit.word), edit.value)
    if edit.word == "name" and isinstance(edit.value, str):
        piece = [_renamed(s, edit.element, edit.value) if s.table == "element" else s for s in piece]
        piece = elements_anew(piece, lambda name: [_named_anew(name, edit.element, str(edit.value))])
    return replace(sections, piece=piece)


def _add(edit: AddElement, sections: Sections) -> Sections:
    own = places(sections.piece, "element")
    if edit.before is not None:
        at = _named(sections.piece, "element", edit.before)
    else:
        at = own[-1] + 1 if own else len(sections.piece)
    section = _new(sections.piece, "[[element]]", edit.element)
    return replace(sections, piece=inserted(sections.piece, at, section))


def _copy(edit: CopyElement, sections: Sections) -> Sections:
    at = _named(sections.piece, "element", edit.element)
    name = edit.name or _free_name(edit.element, [s.data.get("name") for s in _all(sections.piece, "element")])
    section = with_word(without_remarks(sections.piece[at]), ["name"], name)
    place = section.data.get("at")
    model = TECHNIQUES[section.data["kind"]].model if section.data.get("kind") in TECHNIQUES else None
    if any(edit.by) and model is not None and "at" in model.model_fields:
        start = place if isinstance(place, list) and len(place) == 2 else _middle(section, sections.piece)
        section = with_word(section, ["at"], [_moved(v, by) for v, by in zip(start, edit.by, strict=True)])
    return replace(sections, piece=inserted(sections.piece, at + 1, section))


def _remove(edit: RemoveElement, sections: Sections) -> Sections:
    at = _named(sections.piece, "element", edit.element)
    return replace(sections, piece=sections.piece[:at] + sections.piece[at + 1 :])


def _move(edit: MoveElement, sections: Sections) -> Sections:
    at = _named(sections.piece, "element", edit.element)
    own = places(sections.piece, "element")
    to = min(edit.to, len(own) - 1)
    if own.index(at) == to:
        return sections
    rest = sections.piece[:at] + sections.piece[at + 1 :]
    left = places(rest, "element")
    return replace(sections, piece=inserted(rest, left[to] if to < len(left) else left[-1] + 1, sections.piece[at]))


def _free(edit: FreeElement, sections: Sections) -> Sections:
    _named(sections.piece, "element", edit.element)
    texts = joined(sections.piece).encode(), joined(sections.bench).encode() or None
    return replace(sections, piece=freed(edit.element, sections.piece, piece_of(sections.folder, *texts)))


def _add_panel(edit: AddPanel, sections: Sections) -> Sections:
    """One more panel below the others; every element that did not say on which it stands, now does."""
    own = places(sections.piece, "panel")
    if not own:
        raise PieceError("the piece has no panel to lay another beside.", remedy="Mend the piece file first.")
    piece, first = sections.piece, sections.piece[own[0]].data.get("name")
    for n in places(piece, "element"):
        if "panel" not in piece[n].data:
            piece = _with(piece, n, ["panel"], first)
    section = _new(piece, "[[panel]]", edit.panel)
    return replace(sections, piece=inserted(piece, own[-1] + 1, section))


def _remove_panel(edit: RemovePanel, sections: Sections) -> Sections:
    at = _named(sections.piece, "panel", edit.panel)
    standing = [d["name"] for d in (s.data for s in _all(sections.piece, "element")) if d.get("panel") == edit.panel]
    if standing:
        raise PieceError(
            f"{quoted(standing[0])} stands on panel {quoted(edit.panel)}.",
            remedy="Set it on another panel first, or take it off.",
        )
    return replace(sections, piece=sections.piece[:at] + sections.piece[at + 1 :])


def _set_panel(edit: SetPanel, sections: Sections) -> Sections:
    at = _named(sections.piece, "panel", edit.panel)
    piece = _with(sections.piece, at, _way(edit.word), edit.value)
    if edit.word == "name" and isinstance(edit.value, str):
        piece = panel_anew(piece, edit.panel, edit.value)
        for n in places(piece, "element"):
            if piece[n].data.get("panel") == edit.panel:
                piece = _with(piece, n, ["panel"], edit.value)
    return replace(sections, piece=piece)


def _set_piece(edit: SetPiece, sections: Sections) -> Sections:
    return replace(sections, piece=_in_table(sections.piece, edit.table, _way(edit.word), edit.value))


def _set_bench(edit: SetBench, sections: Sections) -> Sections:
    table, *words = _way(edit.path)
    if words and words[0].isdecimal():
        return replace(sections, bench=_in_list(sections.bench, table, int(words[0]), words[1:], edit.value))
    if not words:
        raise PieceError(f"{quoted(edit.path)} names no word of the bench.", remedy='Write it as "machine.format".')
    return replace(sections, bench=_in_table(sections.bench, table, words, edit.value))


def _accept(edit: AcceptFinding, sections: Sections) -> Sections:
    """What was accepted of the same before keeps its place and its remarks."""
    own = next((n for n in places(sections.piece, "accepted") if _same_finding(edit, sections.piece[n].data)), None)
    piece = sections.piece
    if own is None and edit.note is not None:
        words = {"rule": edit.rule, "panel": edit.panel or None, "about": list(edit.about) or None}
        section = _new(piece, "[[accepted]]", {**words, "amount": edit.amount, "note": edit.note})
        last = places(piece, "accepted")
        piece = inserted(piece, last[-1] + 1 if last else len(piece), section)
    elif own is not None and edit.note is not None:
        piece = _with(_with(piece, own, ["amount"], edit.amount), own, ["note"], edit.note)
    elif own is not None:
        piece = piece[:own] + piece[own + 1 :]
    else:
        raise PieceError(f"nothing of {quoted(edit.rule)} is accepted there.", remedy="Look at the piece as it is now.")
    return replace(sections, piece=piece)


def _same_finding(edit: AcceptFinding, data: dict[str, Any]) -> bool:
    about = data.get("about", [])
    same = data.get("rule") == edit.rule and data.get("panel", "") == edit.panel
    return same and isinstance(about, list) and set(about) == set(edit.about)


_APPLY: dict[type, Callable[[Any, Sections], Sections]] = {
    SetWord: _set_word,
    AddElement: _add,
    CopyElement: _copy,
    RemoveElement: _remove,
    MoveElement: _move,
    FreeElement: _free,
    AddPanel: _add_panel,
    RemovePanel: _remove_panel,
    SetPanel: _set_panel,
    SetPiece: _set_piece,
    SetBench: _set_bench,
    AcceptFinding: _accept,
}


def _way(word: str) -> list[str]:
    return word.split(".")


def _all(sections: list[Section], table: str) -> list[Section]:
    return [sections[n] for n in places(sections, table)]


def _with(sections: list[Section], at: int, words: list[str], value: Any) -> list[Section]:
    return [with_word(s, words, value) if n == at else s for n, s in enumerate(sections)]


def _named(sections: list[Section], table: str, name: str) -> int:
    names = {sections[n].data.get("name"): n for n in places(sections, table)}
    if name not in names:
        known = [n for n in names if isinstance(n, str)]
        raise PieceError(
            f"there is no {table} {quoted(name)} in the piece.",
            remedy=did_you_mean(name, known, "Look at the piece as it is now; it may have been taken out."),
        )
    return names[name]


def _new(sections: list[Section], header: str, words: dict[str, Any]) -> Section:
    end = newline_of(joined(sections))
    lines = [header, *(f"{spelt_key(word)} = {spelt(value)}" for word, value in words.items() if value is not None)]
    return Section(header.strip("[]"), end.join(lines) + end)


def _in_table(sections: list[Section], table: str, words: list[str], value: Any) -> list[Section]:
    """A word of a table that stands once; begun where it is missing, above the elements."""
    own = places(sections, table)
    if own:
        sections, at = _only_there(sections, own, words[0]) if len(own) > 1 else (sections, own[0])
        changed = _with(sections, at, words, value)
        return changed if changed[at].text.strip() else changed[:at] + changed[at + 1 :]
    head = replace(sections[0], table=table)
    if head.begun:
        return [replace(with_word(head, words, value), table=""), *sections[1:]]
    if value is None:
        return sections
    at = next(iter(places(sections, "element")), len(sections))
    return inserted(sections, at, with_word(_new(sections, f"[{table}]", {}), words, value))


def _only_there(sections: list[Section], own: list[int], word: str) -> tuple[list[Section], int]:
    """(the sections with the word in the first of the `own` that has it and in no other, where that stands)."""
    having = [n for n in own if word in sections[n].data]
    alike = [sections[n].data[word] for n in having]
    if len(having) > 1:
        sections = _with(sections, having[0], [word], [one for listed in alike for one in listed])
        sections = [s for n, s in enumerate(sections) if n not in having[1:]]
    return sections, having[0] if having else own[0]


def _in_list(sections: list[Section], table: str, number: int, words: list[str], value: Any) -> list[Section]:
    own = places(sections, table)
    if number > len(own) or (number == len(own) and (words or not isinstance(value, dict))):
        raise PieceError(f"there is no {table} {number + 1} on the bench.", remedy=f"It has {len(own)}.")
    if number == len(own):
        at = own[-1] + 1 if own else len(sections)
        return inserted(sections, at, _new(sections, f"[[{table}]]", value))
    at = own[number]
    if words:
        return _with(sections, at, words, value)
    if value is None:
        return sections[:at] + sections[at + 1 :]
    if not isinstance(value, dict):
        raise PieceError(f"a {table} is a table of words.", remedy="Give it all its words.")
    for word in [*(w for w in sections[at].data if w not in value), *value]:
        sections = _with(sections, at, [word], value.get(word))
    return sections


def _free_name(name: str, taken: Sequence[Any]) -> str:
    """'sprig copy', 'sprig copy 2'; a number behind a - would name a repeat."""
    base = _COPY.sub("", name)
    known = {str(t).casefold() for t in taken}
    endings = [" copy", *(f" copy {n}" for n in range(2, len(known) + 3))]
    free = (base[: LONGEST_NAME - len(ending)].rstrip(" -") + ending for ending in endings)
    return next(f for f in free if f.casefold() not in known)


def _middle(section: Section, sections: list[Section]) -> list[Any]:
    """Where an element stands that does not say: the middle of its panel."""
    panels = [s.data for s in _all(sections, "panel")]
    wanted = section.data.get("panel")
    size = next((p.get("size") for p in panels if wanted in (None, p.get("name"))), None)
    if not isinstance(size, list):
        raise PieceError(f"panel {quoted(str(wanted))} has no size.", remedy="Give it one first.")
    return [parse_length(value) / 2 for value in size]


def _moved(value: Any, by: float) -> Any:
    """A length and so many mm more; written in mm to the thousandth, or as it was where it stays."""
    return round(parse_length(value) + by, 3) if by else value


def _renamed(section: Section, old: str, new: str) -> Section:
    """An element with every word changed that names another element, a repeat of it, or one of its lines."""
    technique = TECHNIQUES.get(section.data.get("kind", ""))
    for way, kind, value in _names(section.data, technique.model) if technique else ():
        renamed = _line_anew(value, old, new) if kind == "line" else _named_anew(value, old, new)
        if renamed != value:
            section = with_word(section, way, renamed)
    return section


def _names(data: dict[str, Any], model: type[BaseModel]) -> Iterator[tuple[list[str], str, str]]:
    """Where an element names a part, an element or a line: (the way to the word, which of these, what it says)."""
    for word, field in words_of(model).items():
        kind, value = field_type(field), data.get(word)
        inner = next((m for b in branches(kind) if (m := model_of(b))), None)
        if isinstance(value, str) and (measure := kind_of_measure(kind)) in ("part", "element", "line"):
            yield [word], str(measure), value
        elif inner is not None and isinstance(value, dict):
            yield from (([word, *way], named, text) for way, named, text in _names(value, inner))


def _named_anew(name: str, old: str, new: str) -> str:
    """The name of an element or of one of its repeats, where the element `old` is now called `new`."""
    repeat = re.fullmatch(re.escape(old) + r"(-[0-9]+)?", name)
    return new + (repeat.group(1) or "") if repeat else name


def _line_anew(line: str, old: str, new: str) -> str:
    """The name of a line, where the element `old` is now called `new`: only its own lines are renamed with it."""
    owner, stroke, own = line.partition("/")
    return new + stroke + own if stroke and owner == old else line
