"""Thread numbering: tex inside; the systems on labels read, converted, and turned to a diameter."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, get_args

from festoon.errors import MeasureError
from festoon.measure.number import LONGEST, finite, is_number, nearest, plain, read_number

System = Literal["tex", "dtex", "den", "Nm", "wt", "Ne"]
SYSTEMS: tuple[System, ...] = get_args(System)
"""The numbering systems. wt is metres per gram of the finished thread, so the same figure as Nm."""

GRAMS_PER_POUND = 453.59237
METRES_PER_HANK = 840 * 0.9144
NE_TEX = GRAMS_PER_POUND * 1000 / METRES_PER_HANK
"""tex = NE_TEX / Ne: 590.5412, from 840 yd hanks to the pound (a thread maker's bulletin 'Thread numbering')."""

_NUMBER_PER_TEX: Mapping[str, float] = MappingProxyType({"tex": 1.0, "dtex": 10.0, "den": 9.0})
"""Direct systems, grams per 1000, 10 000 and 9000 m (ISO 1144; clauses from memory)."""

_TEX_TIMES_NUMBER: Mapping[str, float] = MappingProxyType({"Nm": 1000.0, "wt": 1000.0, "Ne": NE_TEX})
"""Indirect systems, length per weight (a thread maker's bulletin 'Thread numbering')."""

FIBRE_DENSITY: Mapping[str, float] = MappingProxyType(
    {
        "cotton": 1.52,
        "viscose": 1.49,
        "silk": 1.34,
        "polyester": 1.39,
        "nylon": 1.14,
        "acetate": 1.32,
        "wool": 1.31,
        "flax": 1.50,
    }
)
"""g/cm³ at 65 % relative humidity: Morton & Hearle, Physical Properties of Textile Fibres, Table 5.1; flax from
memory."""

PACKING: Mapping[str, float] = MappingProxyType(
    {
        "solid": 1.0,
        "hexagonal": math.pi / (2 * math.sqrt(3)),
        "square": math.pi / 4,
        "filament": 0.75,
        "yarn": 0.60,
    }
)
"""Share of a thread's section that is fibre. Hexagonal close and open square by geometry; twisted filament at the
upper end of 0.65-0.75 (handbook range, from memory); yarn under moderate pressure from Peirce's 1.1 cm³/g (1937)."""

_WORDS = {
    "tex": "tex",
    "dtex": "dtex",
    "decitex": "dtex",
    "den": "den",
    "denier": "den",
    "nm": "Nm",
    "wt": "wt",
    "weight": "wt",
    "ne": "Ne",
}
_COUNT = r"(?P<count>[0-9]+(?:[.,][0-9]+)?)"
_PLIES = r"(?: ?[/x×] ?(?P<plies>[0-9]{1,3}))?"
_WORD = r"(?P<word>[A-Za-z]+)\.?"
_FORMS = tuple(
    re.compile(form)
    for form in (
        rf"{_COUNT}{_PLIES} ?{_WORD}",
        rf"{_COUNT} ?{_WORD}{_PLIES}",
        rf"{_WORD} ?{_COUNT}{_PLIES}",
        rf"{_COUNT}{_PLIES}(?P<word>)",
    )
)
_EXAMPLES = '"40 wt", "120/2 den", "tex 25", "Nm 60", "267 dtex" or "Ne 50/2"'


def tex_from(number: float, system: System) -> float:
    """The tex (g per 1000 m) of a thread whose number in `system` is `number`.

    tex = den / 9 = dtex / 10 = 1000 / Nm = 590.54 / Ne (ISO 2947; ASTM D2260). Raises MeasureError where the number
    is not above zero.

    >>> tex_from(40, 'wt'), round(tex_from(240, 'den'), 3)
    (25.0, 26.667)
    """
    known = _positive(number)
    return _positive(
        known / _NUMBER_PER_TEX[system] if system in _NUMBER_PER_TEX else _TEX_TIMES_NUMBER[system] / known
    )


def tex_to(tex: float, system: System) -> float:
    """The number in `system` of a thread of `tex` g per 1000 m. Raises MeasureError where it is not above zero.

    >>> tex_to(25, 'den'), tex_to(25, 'Nm')
    (225.0, 40.0)
    """
    known = _positive(tex)
    return _positive(
        known * _NUMBER_PER_TEX[system] if system in _NUMBER_PER_TEX else _TEX_TIMES_NUMBER[system] / known
    )


def _positive(number: float) -> float:
    known = finite(number, "thread number")
    if known <= 0:
        raise MeasureError("a thread number must be above zero.", remedy=f"Write it as {_EXAMPLES}.")
    return known


def parse_thread(value: object) -> float:
    """The tex of a thread as it is labelled: '40 wt', '120/2 den', 'tex 25', 'Nm 80/2', '267 dtex', 'Ne 50/2'.

    Plies multiply the single thread's tex, so 'Nm 80/2' is the resultant 40. wt already counts the finished thread,
    so '40/2 wt' is refused, as is a number without its system: 60 may be Nm, Ne or wt. Raises MeasureError.

    >>> parse_thread('Nm 80/2'), parse_thread('40 wt')
    (25.0, 25.0)
    """
    if is_number(value):
        raise _which_system(f"{value}"[:LONGEST])
    if not isinstance(value, str):
        raise _unreadable(repr(value))
    text = plain(value, "thread number")
    match = next(filter(None, (form.fullmatch(text) for form in _FORMS)), None)
    if match is None:
        raise _unreadable(f'"{text}"')
    count, plies, word = (match.groupdict().get(name) for name in ("count", "plies", "word"))
    if not word:
        raise _which_system(text)
    system = _system(word, text)
    if plies is not None and system == "wt":
        raise MeasureError(
            f'"{text}" gives plies, but wt already counts the finished thread.', remedy=f'Write "{count} wt".'
        )
    if plies is not None and int(plies) == 0:
        raise MeasureError(f'"{text}" has no plies.', remedy="Write the number of plies after the stroke, as in 120/2.")
    return tex_from(float(read_number(count or "", text)), system) * int(plies or 1)


def _system(word: str, told: str) -> System:
    small = word.casefold()
    for system in SYSTEMS:
        if _WORDS.get(small) == system:
            return system
    near = nearest(small, _WORDS)
    guess = f'Did you mean "{_WORDS[near]}"? ' if near else ""
    raise MeasureError(
        f'"{word}" in "{told}" is not a thread numbering known here.', remedy=f"{guess}They are {', '.join(SYSTEMS)}."
    )


def _which_system(told: str) -> MeasureError:
    finished = "" if "/" in told else f'"{told} wt", '
    return MeasureError(
        f'"{told}" does not say by which system the thread is numbered.',
        remedy=f'Write {finished}"Nm {told}", "Ne {told}", "{told} den" or "tex {told}", as on the label.',
    )


def _unreadable(told: str) -> MeasureError:
    return MeasureError(f"{told} is not a thread number.", remedy=f"Write it as {_EXAMPLES}.")


def thread_diameter(tex: float, density: float = FIBRE_DENSITY["viscose"], packing: float = PACKING["yarn"]) -> float:
    """The diameter in mm of a round thread of `tex` g per 1000 m: d = √(4·tex / (1000·π·density·packing)).

    density is the fibre's, g/cm³; packing is the share of the section that is fibre. From tex = ρφπd²/4; with packing
    1 it agrees with the published fibre formula d[µm] = 11.3·√(dtex/ρ).

    >>> round(thread_diameter(240 / 9), 4)
    0.1949
    """
    return math.sqrt(4e-3 * _positive(tex) / (math.pi * density * packing))
