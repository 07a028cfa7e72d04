"""One module a technique: its words in the piece file, its geometry, supplies, steps, cautions and sentences.

Every module here that has a `TECHNIQUE` is one; adding the file is all that adding a technique takes.
"""

from __future__ import annotations

import functools
import importlib
import operator
import pkgutil
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import Field

from festoon.techniques.base import Ask, Beginning, ElementBase, Setting, Technique


def _found() -> dict[str, Technique]:
    modules = (importlib.import_module(f"{__name__}.{m.name}") for m in pkgutil.iter_modules(__path__))
    techniques = [m.TECHNIQUE for m in modules if hasattr(m, "TECHNIQUE")]
    return {t.kind: t for t in sorted(techniques, key=lambda t: t.kind)}


TECHNIQUES: dict[str, Technique] = _found()
"""Every technique of the house by its `kind`."""

if TYPE_CHECKING:
    Element = ElementBase
else:
    Element = Annotated[
        functools.reduce(operator.or_, [t.model for t in TECHNIQUES.values()]), Field(discriminator="kind")
    ]


def technique_of(element: Any) -> Technique:
    """The technique that an element belongs to."""
    return TECHNIQUES[element.kind]


__all__ = [
    "TECHNIQUES",
    "Ask",
    "Beginning",
    "Element",
    "ElementBase",
    "Setting",
    "Technique",
    "technique_of",
]
