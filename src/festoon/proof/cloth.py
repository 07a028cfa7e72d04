"""How much thread and how many holes a cloth bears, and which cloths are light."""

from __future__ import annotations

from typing import Literal

from festoon.proof.limits import Limit

Weight = Literal["light", "medium"]

_CHOSEN = "common practice, to be tried on cloth"

NEAR = Limit(2.0, _CHOSEN)
"""mm, side of the square over which everything is judged: a needle's way and its neighbours."""
LAYERS = Limit(3.0, "a trade magazine, Dec 2016, p. 31: no more than three layers")
"""Layers of thread; more are looked at again."""
LAYERS_STOP = Limit(6.0, f"twice a trade magazine's three layers, Dec 2016, p. 31: {_CHOSEN}")
"""Layers of thread that will not work."""
HIDES = Limit(0.8, _CHOSEN)
"""Layers that hide what lies beneath: satin 0.5 mm from hole to hole has 0.78 (computed), and thread lies flat."""
HOLES_ONE_LAYER: dict[Weight, tuple[float, float]] = {"light": (150.0, 250.0), "medium": (250.0, 400.0)}
"""Penetrations per cm2 of one layer of stitching: look again at, will not work at. Common practice (chosen, to be
tried on cloth); a full fill of 2.5 mm stitches 0.2 mm apart has 200 (computed)."""
HOLES_SOURCE = f"three layers of what a cloth bears of one: {_CHOSEN}"

LIGHT = ("lawn", "batiste", "organdie", "organdy", "organza", "voile", "silk", "chiffon", "muslin", "nainsook", "net")
"""Words that name a light cloth. Common practice."""


def cloth_weight(cloth: str) -> Weight:
    """Light where the worker's words name a light cloth, else medium.

    >>> cloth_weight("white cotton lawn"), cloth_weight("natural linen"), cloth_weight("")
    ('light', 'medium', 'medium')
    """
    words = "".join(c if c.isalpha() else " " for c in cloth.casefold()).split()
    return "light" if any(word in LIGHT for word in words) else "medium"


def holes_limit(cloth: str) -> tuple[float, float]:
    """Penetrations per cm2 over the NEAR square to look again at, and that will not work.

    The figures for one layer, times the three layers that may lie over each other (computed).

    >>> holes_limit("linen")
    (750.0, 1200.0)
    """
    low, high = HOLES_ONE_LAYER[cloth_weight(cloth)]
    return low * LAYERS.value, high * LAYERS.value
