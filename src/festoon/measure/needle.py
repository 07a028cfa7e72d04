"""Household needle sizes: metric (NM) and US, by the published table."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from festoon.errors import MeasureError
from festoon.measure.number import is_number, plain

NEEDLES: Mapping[int, int] = MappingProxyType(
    {60: 8, 65: 9, 70: 10, 75: 11, 80: 12, 85: 13, 90: 14, 95: 15, 100: 16, 110: 18, 120: 19, 125: 20, 130: 21}
)
"""NM (blade diameter in 1/100 mm) -> US size (needle tables on three makers' and teachers' pages; some print 120/20,
which is read but not written)."""

EYE_TO_BLADE = 0.40
"""Width of a standard needle's eye to its blade diameter. Common practice, not verified."""

EYE_TO_THREAD = 1.4
"""The eye is to be about 40 % wider than the thread (a needle maker; a shoemaking reference)."""

_NM_OF_US = {us: nm for nm, us in NEEDLES.items()}
_ALSO_PRINTED = {(120, 20)}
_SIZE = re.compile(r"(?:(NM|US) ?)?([0-9]{1,3})(?: ?/ ?([0-9]{1,3}))?", re.IGNORECASE)


def needle_nm(value: object) -> float:
    """The blade diameter in mm of a needle size such as '75/11', '75', 75, 'NM 80' or '12' (US).

    Metric sizes run from 60 and US sizes end at 21, so a bare number is never in doubt. Raises MeasureError.

    >>> needle_nm('75/11'), needle_nm('12')
    (0.75, 0.8)
    """
    return _size(value) / 100


def needle_text(value: object) -> str:
    """The size written in full, metric then US: '75/11'. Raises MeasureError.

    >>> needle_text(75), needle_text('US 12'), needle_text('120/20')
    ('75/11', '80/12', '120/19')
    """
    size = _size(value)
    return f"{size}/{NEEDLES[size]}"


def largest_thread(value: object) -> float:
    """The thickest thread, mm in diameter, that runs freely through the eye of a standard needle of this size.

    Eye = 0.40 of the blade, and 1.4 times the thread. A topstitch needle takes thicker thread. Raises MeasureError.

    >>> round(largest_thread('75/11'), 3)
    0.214
    """
    return needle_nm(value) * EYE_TO_BLADE / EYE_TO_THREAD


def _size(value: object) -> int:
    """The metric size, a key of NEEDLES."""
    if is_number(value):
        text = f"{value:g}" if isinstance(value, float) else f"{value}"
    elif isinstance(value, str):
        text = plain(value, "needle size")
    else:
        raise _unknown(repr(value))
    match = _SIZE.fullmatch(text)
    if match is None:
        raise _unknown(text)
    system, first, second = (match[1] or "").upper(), int(match[2]), match[3]
    if second is not None:
        return _pair(first, int(second), text)
    if system != "US" and first in NEEDLES:
        return first
    if system != "NM" and first in _NM_OF_US:
        return _NM_OF_US[first]
    raise _unknown(text)


def _pair(first: int, second: int, told: str) -> int:
    metric, us = max(first, second), min(first, second)
    if NEEDLES.get(metric) == us or (metric, us) in _ALSO_PRINTED:
        return metric
    if metric in NEEDLES and us in _NM_OF_US:
        raise MeasureError(
            f'"{told}" names two sizes: {metric} is {metric}/{NEEDLES[metric]}, and {us} is {_NM_OF_US[us]}/{us}.',
            remedy="Look at the needle's shank or packet and write one of them.",
        )
    raise _unknown(told)


def _unknown(told: str) -> MeasureError:
    sizes = ", ".join(f"{nm}/{us}" for nm, us in NEEDLES.items())
    return MeasureError(f'"{told[:40]}" is not a needle size known here.', remedy=f"The sizes are {sizes}.")
