"""How much thread and how many holes a cloth bears, and which cloths are light."""

from __future__ import annotations

from typing import Literal

from festoon.proof.limits import Limit

Weight = Literal["light", "medium"]

_CHOSEN = "common practice (chosen, to be tried on cloth)"

NEAR = Limit(2.0, _CHOSEN)
"""mm, side of the square over which parts that lie over each other are judged: a needle's way and its neighbours."""
WIDE = Limit(10.0, _CHOSEN)
"""mm, side of the square over which everything is judged: 1 cm2. Stitches that run together in a point, as at the
heart of a flower, are far denser over a few mm2 than any limit, and sew well; over 1 cm2 that evens out."""
LAYERS = Limit(3.0, "a trade magazine, Dec 2016, p. 31: no more than three layers")
"""Layers of thread; more are looked at again."""
LAYERS_STOP = Limit(5.0, _CHOSEN)
"""Layers of thread that will not work."""
ADDED = Limit(1.5, _CHOSEN)
"""Layers over the NEAR square that other parts must add to the thickest one before it counts as piled up: more than
one closed column or fill with its underlay, which comes to 1.2 or 1.3 (computed), as a stem under a flower."""
ADDED_STOP = Limit(3.0, _CHOSEN)
"""The same before it counts as hopeless."""
HOLES_ONE_LAYER: dict[Weight, tuple[float, float]] = {"light": (150.0, 250.0), "medium": (250.0, 400.0)}
"""Penetrations per cm2 of one layer of stitching: look again at, will not work at. Common practice (chosen, to be
tried on cloth); a full fill of 2.5 mm stitches 0.2 mm apart has 200."""

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
    """Penetrations per cm2 over 1 cm2 to look again at, and that will not work.

    The figures for one layer, times the three layers that may lie over each other (computed).

    >>> holes_limit("linen")
    (750.0, 1200.0)
    """
    low, high = HOLES_ONE_LAYER[cloth_weight(cloth)]
    return low * LAYERS.value, high * LAYERS.value
