"""A lace band told: what is done with it and when, what can hurt, and its sentences. Not a technique itself."""

from __future__ import annotations

import re
from dataclasses import dataclass

from festoon.measure import Units, fine
from festoon.techniques.lace_words import PAIRED, REPEATED, LaceBand
from festoon.work.values import Caution, Sentence, Step


@dataclass(frozen=True)
class Made:
    """What the steps depend on: whether any lace curves or is mitred, how many closed pieces there are, how many
    mitres are folded, how many pins are stuck, and whether a strip lies behind."""

    curved: bool
    mitres: int
    pieces: int
    pins: int
    behind: bool

    @property
    def traced(self) -> bool:
        """Whether it is shaped on traced stabiliser, before it is laid on the cloth."""
        return self.curved or self.mitres > 0


def steps(words: LaceBand, made: Made, sewing: str, butting: str, units: Units) -> tuple[Step, ...]:
    """The order of the work. sewing, butting: how headings are sewn to the cloth and to each other, in words."""
    name = words.name
    lace = Step(
        f"ready the lace of {name}",
        "Wash or steam the lace, starch it and press it before it is measured: it shrinks.",
        "prepare",
    )
    if not made.traced:
        return _flat(words, lace, sewing, butting)
    trace = Step(
        f"trace {name}",
        "Trace its template on stabiliser, both headings, folds and match lines: one repeat after the other, match "
        "line on match line."
        if words.shape in REPEATED
        else "Trace its template on stabiliser, both headings and folds.",
        "prepare",
    )
    shape = Step(f"shape {name}", " ".join(_shaping(words, made, units)), "shape", (lace.name, trace.name))
    joined = Step(f"sew {name} together", " ".join(_together(words, made, butting)), "shape", (shape.name,))
    lay = Step(f"lay {name} on the cloth", " ".join(_laying(words, made)), "set", (joined.name,))
    return lace, trace, shape, joined, lay, *_on_cloth(name, lay.name, sewing)


def cautions(made: Made) -> tuple[Caution, ...]:
    """What can hurt at lace."""
    hot = Caution(
        "The iron: no hotter than the lace's fibre takes, one dot 110 °C for synthetics, two 150 °C for silk and wool, "
        "three 200 °C for cotton. Damp starch steams: keep fingers and face away.",
        "ISO 3758, from care-label pages",
    )
    blade = Caution(
        "Trim behind the lace with blunt-tipped or duck-billed scissors, the blade flat, and look at both layers "
        "before every cut. Machine stopped and foot up meanwhile.",
        "a lace tutorial (blunt tips); common practice",
    )
    pins = Caution(
        f"Count the pins in{f' (about {made.pins})' if made.pins else ''} and out again, and take each out before the "
        "foot reaches it; plastic heads melt under the iron."
    )
    threads = (
        (
            Caution(
                "Draw the ends of the pull threads to the back, knot them and sew them into the seam: on things for an "
                "infant nothing loose may be left that a finger or toe can catch in."
            ),
        )
        if made.curved
        else ()
    )
    return hot, pins, blade, *threads


def sentences(words: LaceBand, told: tuple[str, ...]) -> tuple[Sentence, ...]:
    """Its words in sentences with gaps, and what was computed (`told`) in sentences without."""
    out = [_said("Lace {width} wide, {strips} side by side, in the shape: {shape}. It follows {along}, {up} above it.")]
    if words.begin or words.end:
        out.append(_said("{begin} of the line are left free at its beginning, {end} at its end."))
    if words.shape in REPEATED:
        out.append(_said("A repeat is about {repeat} long, at most {stretch} of that more or less; middle: {centre}."))
        out.extend(_said(text) for text in _of_shape(words))
    if not (words.closed_pieces or words.shape in PAIRED):
        out.append(_said("The lace lies {lies} of what is drawn."))
    out.append(
        _said("It is drawn up {gather} to 1 at most. A thread to pull: {pull_thread}. Pins on curves every {pins}.")
    )
    out.append(_said("{allowance} are left over at either end; its pattern repeats every {pattern}."))
    out.append(_sewing("Headings are sewn to the cloth with {stitch}, and to each other with {beside}."))
    return (*out, *(Sentence(text) for text in told))


def _of_shape(words: LaceBand) -> list[str]:
    """The sentences that belong to its shape alone."""
    if words.shape == "loops":
        return ["Its loops stand {rise} from the line, {across} wide, {rounds} it."]
    if words.shape == "rings":
        return ["From ring to ring {between}. A straight strip behind: {behind}."]
    if words.shape == "squares":
        return ["From square to square {between}. Each a closed piece: {each}. A straight strip behind: {behind}."]
    if words.shape in PAIRED:
        kind = "oval" if words.shape == "pointed ovals" else "diamond"
        return [
            f"An {kind} reaches {{rise}} from the line on both sides, {{between}} from one to the next."
            if kind == "oval"
            else f"A {kind} reaches {{rise}} from the line on both sides, {{between}} from one to the next.",
            "Each a closed piece: {each}. A straight strip behind: {behind}.",
        ]
    return ["From point to round it reaches {rise}, with the rounds {rounds} the line, {between} from one to the next."]


def _sewing(text: str) -> Sentence:
    return Sentence(text, (("stitch", "sewn.stitch"), ("beside", "butted.stitch")))


def _said(text: str) -> Sentence:
    """A sentence whose gaps are words of the element."""
    return Sentence(text, tuple((word, word) for word in dict.fromkeys(re.findall(r"{(\w+)}", text))))


def _flat(words: LaceBand, lace: Step, sewing: str, butting: str) -> tuple[Step, ...]:
    """Straight lace goes on the cloth at once."""
    name = words.name
    side = Step(
        f"sew the strips of {name} together",
        f"Lay the {words.strips} strips side by side, headings butted, not lapped, patterns matched, and zigzag them "
        f"together: {butting}.",
        "shape",
        (lace.name,),
    )
    before = side if words.strips > 1 else lace
    lay = Step(
        f"lay {name} on the cloth",
        "Draw both headings on the cloth. Pin the lace between the lines without stretching it, and baste.",
        "set",
        (before.name,),
    )
    first = (lace, side) if words.strips > 1 else (lace,)
    return (*first, lay, *_on_cloth(name, lay.name, sewing))


def _shaping(words: LaceBand, made: Made, units: Units) -> list[str]:
    told = []
    if words.closed_pieces:
        told.append(f"Make the {made.pieces} pieces one by one, beginning at the left tip.")
    if made.curved:
        told.append(
            f"Pin the longer heading on its line every {fine(words.pins, units)}, closer where it curves tighter, "
            "without stretching it. Then draw up the other heading by its thread until the lace lies flat, and pin it."
        )
    else:
        told.append("Pin both headings on their lines.")
    if made.mitres:
        told.append(
            "At every point stick a pin through both headings, fold the lace back on itself there and forward again "
            "along the fold line, so that it lies in a mitre."
        )
    if words.shape == "loops":
        told.append("Where the lace crosses itself let the later stretch lie over the earlier.")
    return [*told, "Starch, let dry, and press."]


def _together(words: LaceBand, made: Made, butting: str) -> list[str]:
    told = []
    if made.mitres:
        told.append("Sew every mitre along its fold with a small zigzag and trim the fold close behind it.")
    if words.strips > 1:
        told.append(f"Butt the headings of the {words.strips} strips, not lapped, and zigzag them together: {butting}.")
    if words.shape in PAIRED and not words.closed_pieces:
        told.append(f"Where the two bands meet butt their headings and zigzag over both: {butting}.")
    told.append("An edging or another lace that goes on it is butted and sewn now, while it lies on the stabiliser.")
    return told


def _laying(words: LaceBand, made: Made) -> list[str]:
    told = ["Take off the stabiliser."]
    if made.behind:
        told.append("Lay the straight strip on the cloth first, along the line, and baste it; the rest goes over it.")
    told.append("Lay the lace on its lines on the cloth, points on their marks, and pin or baste it.")
    return told


def _on_cloth(name: str, after: str, sewing: str) -> tuple[Step, ...]:
    sew = Step(
        f"sew {name} on",
        f"Sew the headings to the cloth, the one towards the body first: {sewing}.",
        "set",
        (after,),
    )
    trim = Step(
        f"trim behind {name}",
        "Trim the cloth away behind the lace, close to the stitching. Take all pins out and count them.",
        "trim",
        (sew.name,),
    )
    return sew, trim
