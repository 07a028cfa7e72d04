"""What is said of a panel's shape, with the gaps that change it."""

from __future__ import annotations

from typing import Literal

from festoon.piece import Panel
from festoon.work import Sentence

Shape = Literal["rectangle", "flared", "circle", "ring", "outline", "pattern"]

_WORDS: dict[str, Shape] = {"flared": "flared", "circle": "circle", "ring": "ring", "cut": "outline", "file": "pattern"}
"""The panel's word that gives a shape -> what the shape is called."""

_MEASURES: dict[Shape, Sentence] = {
    "flared": Sentence(
        "The waist is a curve of radius {waist}, the hem one of {hem}, {angle} from seam to seam.",
        (("waist", "flared.waist_radius"), ("hem", "flared.hem_radius"), ("angle", "flared.angle")),
    ),
    "circle": Sentence("It is {across} across.", (("across", "circle.diameter"),)),
    "ring": Sentence("It is {outer} across, its hole {inner}.", (("outer", "ring.outer"), ("inner", "ring.inner"))),
}

_HEM = Sentence("Allowed along the hem: {hem}.", (("hem", "hem_allowance"),))
_FRONT = Sentence("Centre front, from the left edge: {front}.", (("front", "centre_front"),))
_EDGES = Sentence(
    "The edge on a fold of the cloth: {fold}. Left and right seam sewn to each other: {closes}.",
    (("fold", "fold"), ("closes", "closes")),
)


def shape_named(panel: Panel) -> Shape:
    """What its shape is called."""
    return next((shape for word, shape in _WORDS.items() if getattr(panel, word) is not None), "rectangle")


def shape_sentences(panel: Panel) -> tuple[Sentence, ...]:
    """Its measures, where its block does not tell them."""
    shape = shape_named(panel)
    return (_MEASURES[shape],) if shape in _MEASURES else ()


def edge_sentences(panel: Panel) -> tuple[Sentence, ...]:
    """What is special about its edges."""
    shape = shape_named(panel)
    if shape in ("circle", "ring"):
        return (_HEM,)
    return (_HEM, _EDGES) if shape == "flared" else (_HEM, _FRONT, _EDGES)
