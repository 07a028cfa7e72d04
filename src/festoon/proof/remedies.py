"""What helps where stitching is too thick or too full of holes: the surest first."""

from __future__ import annotations

from dataclasses import dataclass

from festoon.hooping.words import listed
from festoon.measure import NEEDLES, Units, largest_thread, needle_nm, needle_text, tex_from, thread_diameter
from festoon.piece import Bench
from festoon.proof.cloth import LAYERS
from festoon.proof.heap import Rule
from festoon.proof.hidden import Hidden
from festoon.proof.shift import Shift
from festoon.stitches import Thread

LARGER = 2
"""Sizes larger that the needle is advised. Common practice."""
FINE = 60.0
"""wt of the finer thread that is advised: the usual fine one."""
EYES = "Sew it slowly and shield your eyes: a needle can break there."
"""Said wherever it is too thick. Common practice."""


@dataclass(frozen=True, eq=False)
class Thick:
    """What is known of a place, or of all places of the same parts.

    value: what its worst square holds, in the rule's unit, against `limit`, where it is looked at again. parts: bottom
    first. shift: how the uppermost may be moved clear. hidden: what may be left out, and `below` what that is called.
    """

    rule: Rule
    stops: bool
    value: float
    parts: tuple[str, ...]
    threads: tuple[Thread, ...]
    limit: float
    units: Units
    shift: Shift | None
    hidden: Hidden | None
    below: tuple[str, ...]


def remedies(thick: Thick, bench: Bench) -> list[str]:
    """Sentences: move it, leave out what is hidden, another thread or longer stitches, needle and stabiliser."""
    told = [*_moved(thick), *_left_out(thick)]
    if not told:
        told = [
            "Let fewer parts lie over each other there."
            if len(thick.parts) > 1
            else f"Have {thick.parts[0]} drawn more openly there: rows farther apart, and no stitches that all meet in "
            "a point."
        ]
    told.extend(
        _finer(thick)
        if thick.rule == "layers"
        else ["Longer stitches make fewer holes. So do fewer rows of a heavier thread."]
    )
    if not thick.stops:
        needle = _larger(bench) if thick.rule == "layers" else _smaller(thick, bench)
        layers = bench.stabiliser.layers + 1
        told.append(f"Else {needle}put one more layer of stabiliser under it, {layers} in all.")
    return [*told, EYES]


def _moved(thick: Thick) -> list[str]:
    if thick.shift is None:
        return []
    return [f"Move {thick.parts[-1]} by {thick.shift.told(thick.units)}: that brings it under the limit."]


def _left_out(thick: Thick) -> list[str]:
    """The stitching that lies hidden, how much of it, and what is left without it."""
    if thick.hidden is None:
        return []
    left = (
        f"{thick.hidden.left:.1f} layers" if thick.rule == "layers" else f"{thick.hidden.left:.0f} penetrations per cm²"
    )
    enough = "" if thick.hidden.left <= thick.limit else ", which is still too much"
    leave = "Leave" if thick.shift is None else "Or leave"
    return [
        f"{leave} out what lies hidden there under the rest: {listed(thick.below, 3)}, about "
        f"{thick.hidden.stitches:,} stitches; that leaves {left}{enough}."
    ]


def _finer(thick: Thick) -> list[str]:
    """What a finer thread would make of it, where that brings it under the limit."""
    now = max(thread_diameter(t.tex) for t in thick.threads)
    layers = thick.value * thread_diameter(tex_from(FINE, "wt")) / now
    return (
        [f"Finer thread, {FINE:g} wt, makes {layers:.1f} layers of it."] if layers <= LAYERS.value < thick.value else []
    )


def _larger(bench: Bench) -> str:
    """Against breaking: a larger needle, LARGER sizes up, or one with a jeans point."""
    sizes = [nm for nm in NEEDLES if nm > 100 * needle_nm(bench.needle.size) + 0.5]
    larger = f"use a larger needle, {needle_text(sizes[LARGER - 1])}, or a jeans needle" if len(sizes) >= LARGER else ""
    return f"{larger or 'use a jeans needle'}, and "


def _smaller(thick: Thick, bench: Bench) -> str:
    """Against cutting: the next smaller needle, where its eye still takes the thread."""
    widest = max(thread_diameter(t.tex) for t in thick.threads)
    sizes = [nm for nm in NEEDLES if nm < 100 * needle_nm(bench.needle.size) - 0.5]
    if not sizes or largest_thread(str(max(sizes))) < widest:
        return ""
    return f"use a finer needle, {needle_text(max(sizes))}, and "
