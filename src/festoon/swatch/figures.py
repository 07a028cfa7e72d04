"""Readings taken on the sewn swatch -> what the bench learns from them."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from festoon.errors import FestoonError, PieceError
from festoon.measure import parse_length
from festoon.swatch.design import COVER, EXPECTED, PLACES, TWIN, TWIN_APART, TWIN_ROWS

SLIPPED = 5.0
"""mm; a sewn cross farther than this from the drawn one tells of a slip, not of a spread (common practice)."""
MOST_DRAWN = 0.1
"""The largest share that cloth is taken to draw in by: what the bench file admits."""
SPACING_WITHIN = (0.1, 2.0)
"""mm, between which a satin spacing is believed: half and more than thrice the range of usual threads (own choice)."""
NEEDLES_WITHIN = (1.0, 8.0)
"""mm, between which the distance of twin needles is believed: 1.6 to 6.0 are sold (three guides to pin-tuck feet)."""

DEGREES_LEFT = 5 / 8
"""Four crosses give eight figures, of which the hoop's turn and shift, set by eye to fit them, take three."""

_NEXT = re.compile(r"\s+(?=[A-Za-z]\s*=)")
"""Between two measurements in one text."""

_SIZES = {d.letter: d for d in EXPECTED}
_LETTERS = (*_SIZES, *PLACES, COVER, *TWIN)


@dataclass(frozen=True, slots=True)
class Figures:
    """What the swatch says; None where it was not asked.

    along, across: share by which the cloth draws in along and across the stitches, below 0 where it spreads. placing:
    rms distance, mm, of a cross from its place. cover: widest satin spacing that hides the cloth, mm. twin: share of
    the needles' distance that a row of the twin needle takes up.
    """

    along: float | None = None
    across: float | None = None
    placing: float | None = None
    cover: float | None = None
    twin: float | None = None


def readings(words: Iterable[str]) -> dict[str, float]:
    """'a=59.4', 'p=0.3 mm', or several in one, 'c=29,6 d=1 3/16 in', as letter -> mm.

    PieceError for a word of another form, a letter that is not on the swatch or is given twice, and a figure that no
    ruler can show there: not above nothing, or more than twice the nominal size.
    """
    found: dict[str, float] = {}
    for word in (part for text in words for part in _NEXT.split(text.strip())):
        letter, equals, value = (part.strip() for part in word.partition("="))
        if not equals:
            raise _refused(
                f'"{word}" is no measurement.', "Write the letter on the sheet, = and what you measured: a=59.4."
            )
        letter = letter.lower()
        if letter not in _LETTERS:
            near = difflib.get_close_matches(letter, _LETTERS, n=1)
            guess = f"Did you mean {near[0]}? " if near else ""
            raise _refused(f'there is no "{letter}" on the swatch.', f"{guess}The sheet has {_listed(_LETTERS)}.")
        if letter in found:
            raise _refused(f'"{letter}" is given twice.', "Keep one of the two.")
        found[letter] = _sensible(letter, _length(letter, value))
    return found


def figures(found: Mapping[str, float]) -> Figures:
    """What the readings say. a to f are wanted together, p to s together, and u with v; t stands alone.

    Every size is first divided by what its reference line shows of its own (the ruler's scale, and the cloth's
    stretch in the hoop). The share d drawn in is then fitted by least squares to the sizes n of one direction,
    measured as m = n·(1 - d), each misread alike: d = Σ n·(n - m) / Σ n² (geometry). The placing is the rms of the
    four distances, divided by the root of DEGREES_LEFT. A row of the twin needle takes up (TWIN_APART - u) / TWIN_ROWS,
    a share of v. PieceError where some of a set are missing, where nothing is given, where the cloth would draw in by
    more than MOST_DRAWN, or rows take up more than lies between the needles.
    """
    if not found:
        raise _refused("nothing was measured.", "Give what you measured, as a=59.4.")
    sizes = _whole(found, tuple(_SIZES))
    places = _whole(found, PLACES)
    twin = _whole(found, TWIN)
    return Figures(
        along=_drawn(sizes, along=True) if sizes else None,
        across=_drawn(sizes, along=False) if sizes else None,
        placing=_rms(list(places.values())) / math.sqrt(DEGREES_LEFT) if places else None,
        cover=found.get(COVER),
        twin=_twin(*(twin[letter] for letter in TWIN)) if twin else None,
    )


def _whole(found: Mapping[str, float], letters: tuple[str, ...]) -> dict[str, float]:
    """The readings of one set, or none of them."""
    given = {letter: found[letter] for letter in letters if letter in found}
    missing = [letter for letter in letters if letter not in found]
    if given and missing:
        lack = "is" if len(missing) == 1 else "are"
        raise _refused(
            f"{_listed(letters)} belong together, and {_listed(missing)} {lack} missing.",
            "Measure all of them, or leave out all of them.",
        )
    return given


def _drawn(sizes: Mapping[str, float], *, along: bool) -> float:
    lines = {d.level: sizes[d.letter] / d.nominal for d in EXPECTED if d.along is None}
    pairs = [(d.nominal, sizes[d.letter] / lines[d.level]) for d in EXPECTED if d.along is along]
    share = sum(n * (n - m) for n, m in pairs) / sum(n * n for n, _ in pairs)
    if share > MOST_DRAWN:
        letters = _listed([d.letter for d in EXPECTED if d.along is along])
        raise _refused(
            f"by {letters} the cloth would draw in by {100 * share:.1f} %, and more than {100 * MOST_DRAWN:.0f} % is "
            "beyond belief.",
            "Measure again; if it is so, put a firmer stabiliser under the cloth and sew the swatch anew.",
        )
    return share


def _twin(left: float, needles: float) -> float:
    """The share of the needles' distance that a row takes up; at most all of it (geometry)."""
    share = (TWIN_APART - left) / TWIN_ROWS / needles
    if share > 1:
        raise _refused(
            f"{TWIN_ROWS} rows of needles {needles:g} mm apart cannot take up {TWIN_APART - left:g} mm: that is more "
            "than lies between them.",
            "Measure again from line to line, and look for the needles' distance on their packet.",
        )
    return share


def _rms(values: list[float]) -> float:
    return math.sqrt(sum(v * v for v in values) / len(values))


def _length(letter: str, text: str) -> float:
    try:
        return parse_length(text)
    except FestoonError as error:
        raise error.at(f"measured {letter}") from error


def _sensible(letter: str, value: float) -> float:
    where = f"measured {letter}"
    if value < 0:
        raise PieceError(f"{value:g} mm is less than nothing.", where=where, remedy="Measure again.")
    if letter in _SIZES:
        nominal = _SIZES[letter].nominal
        if not 0 < value <= 2 * nominal:
            raise PieceError(
                f"{_SIZES[letter].name} cannot measure {value:g} mm; it was sewn {nominal:g} mm long.",
                where=where,
                remedy="Look which letter the figure belongs to, and whether it is in millimetres.",
            )
    elif letter in PLACES and value > SLIPPED:
        raise PieceError(
            f"a cross sewn {value:g} mm beside the drawn one tells that the hoop or the cloth slipped.",
            where=where,
            remedy="Hoop anew, check the needle at all four crosses, and sew the swatch again.",
        )
    elif letter == COVER and not SPACING_WITHIN[0] <= value <= SPACING_WITHIN[1]:
        raise PieceError(
            f"{value:g} mm is no spacing of satin stitches.",
            where=where,
            remedy="Write the number beside the widest trial that shows no cloth, such as t=0.45.",
        )
    elif letter == TWIN[0] and not 0 < value <= TWIN_APART:
        raise PieceError(
            f"{value:g} mm is not left of {TWIN_APART:g} mm when it is tucked.",
            where=where,
            remedy=f"Write what the lines measure that were {TWIN_APART:g} mm apart, such as u=86.",
        )
    elif letter == TWIN[1] and not NEEDLES_WITHIN[0] <= value <= NEEDLES_WITHIN[1]:
        raise PieceError(
            f"no twin needle has its needles {value:g} mm apart.",
            where=where,
            remedy="Write the distance on its packet, such as v=2 for 2.0/80.",
        )
    return value


def _listed(letters: Iterable[str]) -> str:
    *first, last = letters
    return f"{', '.join(first)} and {last}" if first else last


def _refused(what: str, remedy: str) -> PieceError:
    return PieceError(what, where="measured", remedy=remedy)
