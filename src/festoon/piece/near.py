"""The nearest word to one that is not there."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

CLOSE = 0.6
"""How alike two words must be to be offered (difflib's ratio; own choice)."""


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like `word`, capitals aside; None where none is close.

    >>> nearest("widht", ["width", "height"])
    'width'
    """
    plain = {k.casefold(): k for k in known}
    found = difflib.get_close_matches(word.casefold(), plain, n=1, cutoff=CLOSE)
    return plain[found[0]] if found else None


def did_you_mean(word: str, known: Iterable[str], otherwise: str = "") -> str:
    """'Did you mean "width"?', or `otherwise` where nothing is close."""
    near = nearest(word, list(known))
    return f'Did you mean "{near}"?' if near else otherwise


def listed(words: Iterable[str], last: str = "or") -> str:
    """Words as running text.

    >>> listed(["one", "two", "three"])
    'one, two or three'
    """
    *rest, end = words
    return f"{', '.join(rest)} {last} {end}" if rest else end
