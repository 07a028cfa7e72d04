"""What pydantic finds wrong in a piece or bench file, told with file, line, element, and what to write instead."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from festoon.errors import MeasureError, PieceError
from festoon.piece.document import Document
from festoon.piece.locate import KeyPath, line_of
from festoon.piece.near import did_you_mean, listed, nearest
from festoon.piece.place import place_of, shown, subject, value_at
from festoon.piece.words import bare, branches, field_type, inside, item_of, model_of, plain_type, words_of
from festoon.techniques import TECHNIQUES
from festoon.work.fields import quoted


@dataclass(frozen=True, eq=False)
class _Fault:
    """One of pydantic's errors: its place in the file, the types of its table and of the place itself.

    union is the place, and the type, of a value of several possible types of which this error only rules out one.
    """

    path: KeyPath
    owner: Any
    kind: Any
    type: str
    error: ErrorDetails
    union: tuple[KeyPath, Any] | None = None


def problems(error: ValidationError, model: type[BaseModel], document: Document) -> list[PieceError]:
    """Every mistake that pydantic found, one PieceError a place, in the order of the file's lines."""
    faults = _one_a_place([_followed(e, model) for e in error.errors(include_url=False)], document.data)
    faults = [f for f in faults if not _follows_from_another(f, faults)]
    faults.sort(key=lambda fault: line_of(document.lines, fault.path))
    return list({str(told): told for told in (_told(fault, document) for fault in faults)}.values())


def _followed(error: ErrorDetails, model: type[BaseModel]) -> _Fault:
    """Walk the models beside pydantic's path, leaving out the names that it gives to branches of a union."""
    path: KeyPath = ()
    owner: Any = None
    kind: Any = model
    union: tuple[KeyPath, Any] | None = None
    for i, key in enumerate(error["loc"]):
        choices = branches(kind)
        if len(choices) == 1:
            path, owner, kind = (*path, key), choices[0], inside(choices[0], key)
        elif key in TECHNIQUES and all(model_of(c) for c in choices):
            kind = TECHNIQUES[str(key)].model
        else:
            union = (path, kind)
            deeper = [k for k in error["loc"][i + 1 :] if isinstance(k, int)]
            kind = next((c for c in choices if deeper and inside(c, deeper[0]) is not None), None)
    return _Fault(path, owner, kind, error["type"], error, union)


def _one_a_place(faults: list[_Fault], data: Any) -> list[_Fault]:
    """Of the errors of one union keep those inside the branch that was meant, else one for the whole of it."""
    kept: list[_Fault] = []
    seen: set[KeyPath] = set()
    for fault in faults:
        if fault.union is None:
            kept.append(fault)
            continue
        path, kind = fault.union
        if path in seen:
            continue
        seen.add(path)
        group = [f for f in faults if f.union is not None and f.union[0] == path]
        inside = [f for f in group if len(f.path) > len(path) and value_at(data, f.path) is not None]
        kept.extend(inside or [_Fault(path, fault.owner, kind, "union", fault.error)])
    return kept


def _follows_from_another(fault: _Fault, faults: list[_Fault]) -> bool:
    """True for a list that is too short only because its items are wrong, and a missing word that is only misspelt."""
    if fault.type == "too_short":
        return any(len(f.path) > len(fault.path) and f.path[: len(fault.path)] == fault.path for f in faults)
    siblings = [f for f in faults if f.type == "extra_forbidden" and f.path[:-1] == fault.path[:-1]]
    return fault.type == "missing" and any(_meant(f) == fault.path[-1] for f in siblings)


def _meant(unknown: _Fault) -> str | None:
    model = model_of(unknown.owner)
    return nearest(str(unknown.path[-1]), words_of(model)) if model else None


def _told(fault: _Fault, document: Document) -> PieceError:
    path = fault.path
    remedy = ""
    if fault.type == "extra_forbidden":
        what, remedy = _unknown_word(fault, value_at(document.data, path))
    elif fault.type == "missing" and isinstance(path[-1], str):
        what, remedy = _missing_word(fault)
    elif fault.type == "union_tag_invalid":
        path = (*path, "kind")
        what, remedy = _unknown_technique(value_at(document.data, path))
    elif fault.type == "union_tag_not_found":
        what, remedy = '"kind" is missing.', f"It says which technique this is, {_techniques('or')}."
    elif fault.type == "value_error" and _speaks_of_the_value(fault.error):
        about = subject(path)
        what = f"{about}: {fault.error['ctx']['error']}" if about else str(fault.error["ctx"]["error"])
    else:
        path = path[:-1] if fault.type == "missing" else path
        what, remedy = _wrong_value(path, fault.owner if fault.type == "missing" else fault.kind, document)
    return PieceError(what, where=place_of(document, path), remedy=remedy)


def _speaks_of_the_value(error: ErrorDetails) -> bool:
    """False where a measure was asked for and a list, table, date or true/false stands there: the type is wrong."""
    measure = isinstance(error["ctx"]["error"].__cause__, MeasureError)
    value = error["input"]
    return not measure or (isinstance(value, str | int | float) and not isinstance(value, bool))


def _unknown_word(fault: _Fault, value: Any) -> tuple[str, str]:
    model = model_of(fault.owner)
    words = words_of(model) if model else {}
    word = str(fault.path[-1])
    about = subject(fault.path[:-1]) if len(fault.path) > 2 else ""
    place = f"in {about}" if about else "here"
    if len(fault.path) > 1:
        known = f"The words are: {', '.join(words)}."
        return f"there is no word {quoted(word)} {place}.", did_you_mean(word, words, known)
    tables = listed((_header(w, field_type(f)) for w, f in words.items()), "and")
    if isinstance(value, dict | list):
        return f"there is no table {quoted(word)}.", did_you_mean(word, words, f"The tables are {tables}.")
    return f"the word {quoted(word)} stands before every table.", f"Put it below the table it belongs to: {tables}."


def _header(word: str, kind: Any) -> str:
    return f"[[{word}]]" if item_of(kind) is not None else f"[{word}]"


def _missing_word(fault: _Fault) -> tuple[str, str]:
    word = str(fault.path[-1])
    model = model_of(fault.owner)
    field = words_of(model)[word] if model else None
    says = (field.description if field else None) or ""
    says = says[:1].lower() + says[1:]
    if len(fault.path) == 1:
        return f"there is no {_header(word, fault.kind)} in it: {says}", f"Add a line {_header(word, fault.kind)}."
    return f"{subject(fault.path)} is missing: {says}", ""


def _unknown_technique(kind: Any) -> tuple[str, str]:
    if not isinstance(kind, str):
        return f'"kind" is {shown(kind)}, but it must be the name of a technique.', f"Write {_techniques('or')}."
    return f"there is no technique {quoted(kind)}.", did_you_mean(
        kind, TECHNIQUES, f"The techniques are {_techniques()}."
    )


def _techniques(last: str = "and") -> str:
    return listed((f'"{kind}"' for kind in TECHNIQUES), last)


def _wrong_value(path: KeyPath, kind: Any, document: Document) -> tuple[str, str]:
    value = value_at(document.data, path)
    item = item_of(kind) if kind is not None else None
    word = str(path[-1])
    several = item is not None and all(model_of(b) for b in branches(item))
    if several and isinstance(value, dict):
        return f"[{word}] has one pair of brackets, but there may be several.", f"Write [[{word}]]."
    if several:
        return f'"{word}" is {shown(value)}, but it must be tables.', f"Begin each with a line [[{word}]]."
    if model_of(kind) is not None and isinstance(value, list) and len(path) == 1:
        return f"[[{word}]] has two pairs of brackets, but there is only one.", f"Write [{word}]."
    choices = [c for b in branches(kind) if get_origin(b) is Literal for c in get_args(b)]
    guess = did_you_mean(value, choices) if isinstance(value, str) else ""
    example = "" if guess or isinstance(value, list) else _example(kind)
    about = subject(path) or "this"
    return f"{about} is {shown(value)}, but it must be {plain_type(kind)}.", guess or example


def _example(kind: Any) -> str:
    pair = any(get_origin(bare(b)[0]) is tuple and item_of(b) is None for b in branches(kind))
    return "Write both in brackets: [120, 80]." if pair else ""
