"""An element's sentences with their gaps: what kind of thing stands in each, how it is shown, what may stand there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import NoneType
from typing import Any, Literal, get_args, get_origin

from festoon.layout import Layout
from festoon.measure import show_length
from festoon.piece import Panel, shape_of
from festoon.piece.words import bare, branches, inside, kind_of_measure, words_of
from festoon.web.answers import BlankKind, GapTold, SentenceTold, Spot
from festoon.web.panel_words import edge_sentences, shape_sentences
from festoon.work import Sentence, Work

_KINDS: dict[str | None, BlankKind] = {
    "length": "length",
    "angle": "angle",
    "part": "part",
    "element": "part",
    "line": "line",
    "thread": "thread",
    "motif file": "file",
}
"""Titles of work/fields.py -> kinds of blank."""


def kind_of_blank(kind: Any) -> BlankKind:
    """What kind of thing a field of this type takes.

    >>> kind_of_blank(bool), kind_of_blank(Literal["a", "b"] | None), kind_of_blank(int), kind_of_blank(str | None)
    ('yes/no', 'choice', 'count', 'words')
    """
    first = bare(branches(kind)[0])[0]
    if get_origin(first) is Literal:
        return "choice"
    if get_origin(first) is tuple:
        args = get_args(first)
        place = len(args) == 2 and all(kind_of_measure(a) == "length" for a in args)
        return "place" if place else "several"
    plain: dict[Any, BlankKind] = {bool: "yes/no", int: "count", float: "number"}
    return _KINDS.get(kind_of_measure(kind)) or plain.get(first, "words")


def may_be_left_out(kind: Any) -> bool:
    """Whether a field of this type may say nothing, so that what is usual holds."""
    return NoneType in get_args(bare(kind)[0])


class Blanks:
    """The gaps of all elements of one layout."""

    def __init__(self, layout: Layout) -> None:
        self._layout = layout
        self._units = layout.piece.file.piece.units

    def sentences(self, element: Any, work: Work) -> list[SentenceTold]:
        """The element's sentences, as its technique gave them."""
        stands = {h.field: h.at for h in work.handles}
        return [self._sentence(s, element, stands) for s in work.sentences]

    def of_shape(self, panel: Panel) -> list[SentenceTold]:
        """What is said of a panel's shape."""
        return [self._sentence(s, panel, {}) for s in shape_sentences(panel)]

    def of_edges(self, panel: Panel, straight: Sequence[str]) -> list[SentenceTold]:
        """What is said of a panel's edges. straight: those that may lie on a fold."""
        return [self._sentence(s, panel, {}, {"fold": straight}) for s in edge_sentences(panel)]

    def _sentence(
        self, sentence: Sentence, of: Any, stands: Mapping[str, Spot], known: Mapping[str, Sequence[str]] | None = None
    ) -> SentenceTold:
        """Of an element or a panel. known: what may be chosen for fields that nothing else tells it of."""
        gaps = [self._gap(gap, field, of, stands, known or {}) for gap, field in sentence.gaps]
        return SentenceTold(text=sentence.text, gaps=gaps)

    def _gap(
        self, gap: str, field: str, of: Any, stands: Mapping[str, Spot], known: Mapping[str, Sequence[str]]
    ) -> GapTold:
        value, kind = of, type(of)
        for step in field.split("."):
            value, kind = None if value is None else getattr(value, step), inside(kind, step)
        return GapTold(
            gap=gap,
            word=word_of(type(of), field),
            value=value,
            shown=shown(stands.get(field) if value is None else value, kind, self._units),
            kind=kind_of_blank(kind),
            choices=[*known[field]] if field in known else self._choices(kind, of),
            usual=may_be_left_out(kind),
        )

    def _choices(self, kind: Any, element: Any) -> list[str]:
        """What may be chosen, where all of it can be told."""
        layout, measure = self._layout, kind_of_measure(kind)
        if measure in ("part", "element"):
            others = [p for p in layout.parts(element.panel) if p.element != element.name]
            if measure == "part":
                return [p.name for p in others]
            return list(dict.fromkeys(p.element for p in others if p.name != p.element))
        if measure == "line":
            here = (name for p in layout.panels if p.name == element.panel for name in shape_of(p).lines)
            works = (w for w in layout.works if w.panel == element.panel and w.element != element.name)
            return [*here, *(f"{w.element}/{name}" for w in works for name in w.named)]
        if measure == "thread":
            return [t.name for t in layout.piece.bench.thread]
        literals = (bare(branch)[0] for branch in branches(kind))
        return [choice for one in literals if get_origin(one) is Literal for choice in get_args(one)]


def word_of(model: Any, field: str) -> str:
    """The word of the piece file for a field: 'from' for start; a dot before a word of a table within."""
    first, dot, rest = field.partition(".")
    aliases = {f: word for word, info in words_of(model).items() for f, i in model.model_fields.items() if i is info}
    return aliases.get(first, first) + dot + rest


def shown(value: Any, kind: Any, units: Any) -> str:
    """A value as it is read in a sentence, by the kind that its field has; lengths in the piece's units.

    >>> shown(None, None, "mm"), shown(True, bool, "mm"), shown(["a", "b"], tuple[str, ...], "mm")
    ('as usual', 'yes', 'a, b')
    """
    if value is None:
        return "as usual"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, Sequence):
        return _several(value, kind, units)
    measure = kind_of_measure(kind)
    if measure == "length":
        return show_length(value, units)
    return f"{value:g}°" if measure == "angle" else f"{value:g}"


def _several(values: Sequence[Any], kind: Any, units: Any) -> str:
    each = [shown(v, inside(kind, n), units) for n, v in enumerate(values)]
    if len(each) == 2 and kind_of_measure(inside(kind, 0)) == "length":
        return f"{each[0]} right, {each[1]} down"
    return ", ".join(each) or "none"
