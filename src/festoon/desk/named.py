"""Names in [hooping] and [[accepted]], brought up to date when elements or panels are named anew."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from festoon.desk.sections import Section
from festoon.desk.words import with_word

Now = Callable[[str], Sequence[str]]
"""An element's or part's name as it was -> the names in its place now."""


def elements_anew(sections: list[Section], now: Now) -> list[Section]:
    """All tables, with the names that [hooping] lists, in `order` or in what its hoopings hold, and those that
    something accepted is about, as they are now.
    """
    return [_listed(s, now) if s.table == "hooping" else _about(s, now) for s in sections]


def panel_anew(sections: list[Section], old: str, new: str) -> list[Section]:
    """All tables, with the panel that hoopings of the worker's own, or what she accepted, lie on called `new`."""
    laid = [_laid(s, lambda one: {**one, "panel": new} if one.get("panel") == old else one) for s in sections]
    return [with_word(s, ["panel"], new) if s.table == "accepted" and s.data.get("panel") == old else s for s in laid]


def _listed(section: Section, now: Now) -> Section:
    order = section.data.get("order")
    if isinstance(order, list) and _anew(order, now) != order:
        section = with_word(section, ["order"], _anew(order, now))
    return _laid(section, lambda one: {**one, "holds": _anew(one["holds"], now)} if "holds" in one else one)


def _about(section: Section, now: Now) -> Section:
    """What is on no panel is about no part."""
    about = section.data.get("about") if section.table == "accepted" and "panel" in section.data else None
    anew = _anew(about, now) if isinstance(about, list) else about
    return section if anew == about else with_word(section, ["about"], anew)


def _laid(section: Section, change: Callable[[dict[str, Any]], dict[str, Any]]) -> Section:
    laid = section.data.get("laid") if section.table == "hooping" else None
    changed = [change(one) for one in laid] if isinstance(laid, list) else laid
    return section if changed == laid else with_word(section, ["laid"], changed)


def _anew(listed: list[Any], now: Now) -> list[Any]:
    """The number of a divided part's piece, as in 'hem/2', stays behind its name."""
    split = (str(name).partition("/") for name in listed)
    return [name + slash + piece for part, slash, piece in split for name in now(part)]
