"""Breaks of a course too small to be mitred: how far each is eased along the lace."""

from __future__ import annotations

import math

from festoon.shaping.bend import Ease
from festoon.shaping.headings import Headings


def eases(laid: Headings) -> list[Ease]:
    """The small breaks, each spread over half the band's width to either side (common practice).

    Where breaks stand closer than that, as in a curve drawn by chords, each is spread over a whole number of the
    chords beside it, so that even chords make an even bend.
    """
    half = min(abs(laid.distance), laid.cells[-1].s1) / 2
    round_ = laid.around and not any(j.mitred for j in laid.joints)
    out: list[Ease] = []
    for low, high in laid.spans:
        here = [j for j in laid.joints if not j.mitred and low <= j.leaves < high]
        at = [low, *(j.leaves for j in here), high]
        for k, joint in enumerate(here):
            apart = (at[k + 2] - at[k]) / 2
            reach = apart * (max(round(half / apart - 0.5), 0) + 0.5) if apart < half else half
            out += _spread(joint.leaves - reach, joint.leaves + reach, 2 * math.tan(joint.turn / 2), low, high, round_)
    return out


def _spread(s0: float, s1: float, turn: float, low: float, high: float, round_: bool) -> list[Ease]:
    """One break's ease within its leg: what reaches beyond an end is laid back from there, and on a round leg goes on
    at the other."""
    parts = [(max(s0, low), min(s1, high), min(s1, high) - max(s0, low))]
    if s0 < low:
        parts.append((high - (low - s0), high, low - s0) if round_ else (low, min(2 * low - s0, high), low - s0))
    if s1 > high:
        parts.append((low, low + s1 - high, s1 - high) if round_ else (max(2 * high - s1, low), high, s1 - high))
    return [Ease(a, b, turn * share / (s1 - s0)) for a, b, share in parts]
