"""What the swatch says, set into a bench file; every other letter of the file stays as it is."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import tomlkit

from festoon.measure import show_length
from festoon.piece.below import set_below
from festoon.piece.bench import Measured
from festoon.piece.locate import locate
from festoon.registration import PlacingModel, placing_model
from festoon.stitches.lay import SATIN_SPACING
from festoon.swatch.figures import Figures
from festoon.techniques.tuck_plan import TAKE_UP

TABLE = "measured"
BYTE_ORDER = "\ufeff"
"""What some text editors put before the first letter of a file."""

Value = float | str


@dataclass(frozen=True, slots=True)
class Change:
    """One word of the table [measured]: its new value, and a sentence that says what it takes the place of."""

    word: str
    value: Value
    told: str


def changes(figures: Figures, before: Measured, cloth: str = "", stabiliser: str = "") -> tuple[Change, ...]:
    """What to write into [measured], given what stands there.

    Cloth that spreads is written as 0. The placing holds drawing, reading and seat together; the bench keeps them
    apart, so what goes beyond reading and seat (measured or assumed) is laid to the drawing: squares add up.
    """
    found: list[Change] = []
    assumed = PlacingModel()
    if figures.along is not None:
        found.append(_drawn("along", figures.along, before.drawn_along, assumed.drawn_along))
    if figures.across is not None:
        found.append(_drawn("across", figures.across, before.drawn_across, assumed.drawn_across))
    if figures.placing is not None:
        found.append(_marking(figures.placing, before))
    if figures.cover is not None:
        value = round(figures.cover, 3)
        was = _was(before.cover, _hundredths(SATIN_SPACING), _hundredths)
        found.append(Change("cover", value, f"widest spacing that covers: {_hundredths(value)} ({was})"))
    if figures.twin is not None:
        value = round(figures.twin, 3)
        was = _was(before.twin_take_up, _percent(TAKE_UP), _percent)
        told = f"taken up by a row of the twin needle: {_percent(value)} of the needles' distance ({was})"
        found.append(Change("twin_take_up", value, told))
    for word, name, old in (("cloth", cloth, before.cloth), ("stabiliser", stabiliser, before.stabiliser)):
        if name:
            instead = f" (in place of {old})" if old and old != name else ""
            found.append(Change(word, name, f"{word} that the figures hold for: {name}{instead}"))
    return tuple(found)


def rewritten(text: str, values: Mapping[str, Value]) -> str:
    """A well-formed bench file's text with these words of [measured] set; all else is kept letter for letter.

    A word that stands there already keeps its place and its remark. New ones come after the last of the table's lines
    that hang together; the table itself comes last where there is none. Without values nothing changes.
    """
    if not values:
        return text
    mark = BYTE_ORDER if text.startswith(BYTE_ORDER) else ""
    body = text.removeprefix(mark)
    ending = "\r\n" if "\r\n" in body else "\n"
    before, table, after = _parted(body, ending)
    return mark + before + _set(table, values, ending) + after


def _parted(text: str, ending: str) -> tuple[str, str, str]:
    """The text before the table, the table's own with its header, and the text from the next word or table on."""
    lines = locate(text)
    own = [line for path, line in lines.items() if path[0] == TABLE]
    if not own:
        gap = "" if not text or text.endswith("\n") else ending
        return text + gap + (ending if text.strip() else ""), f"[{TABLE}]{ending}", ""
    next_line = min((line for path, line in lines.items() if path[0] != TABLE and line > max(own)), default=None)
    whole = text.split("\n")
    start, stop = min(own) - 1, len(whole) if next_line is None else next_line - 1
    parts = [whole[:start], whole[start:stop], whole[stop:]]
    before, table, after = ("\n".join(part) for part in parts)
    return before + "\n" * bool(parts[0]), table + "\n" * bool(parts[2]), after


def _set(section: str, values: Mapping[str, Value], ending: str) -> str:
    """The table's text with the words set. Only it is parsed, since parsing may regroup lists of tables."""
    document = tomlkit.parse(section)
    measured: Any = document[TABLE]
    new = {word: value for word, value in values.items() if word not in measured}
    for word, value in values.items():
        if word not in new:
            measured[word] = value
    set_below(measured, {word: tomlkit.item(value) for word, value in new.items()}, ending)
    return document.as_string()


def _drawn(way: str, share: float, old: float | None, assumed: float) -> Change:
    value = round(max(0.0, share), 4)
    was = _was(old, _percent(assumed), _percent)
    spread = f"; it spread by {_percent(-share)}, which is written as 0" if round(share, 3) < 0 else ""
    return Change(f"drawn_{way}", value, f"drawn in {way} the stitches: {_percent(value)} ({was}){spread}")


def _marking(placing: float, before: Measured) -> Change:
    model = placing_model(before)
    rest = math.hypot(model.reading, model.seating)
    value = round(math.sqrt(max(0.0, placing**2 - rest**2)), 3)
    was = _was(before.marking, _hundredths(PlacingModel().marking), _hundredths)
    return Change(
        "marking",
        value,
        f"drawing a cross: {_hundredths(value)} ({was}), the part of {_hundredths(placing)} in all "
        "that setting the needle and the hoop's seat do not explain",
    )


def _was(old: float | None, assumed: str, shown: Callable[[float], str]) -> str:
    return f"{assumed} was assumed" if old is None else f"{shown(old)} was measured before"


def _percent(share: float) -> str:
    text = f"{100 * share:.1f}".removesuffix(".0")
    return f"{text} %"


def _hundredths(mm: float) -> str:
    return show_length(mm, places=2)
