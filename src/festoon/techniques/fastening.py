"""How lace, bands and headings are sewn on: stitch, its measures, needle, thread. Not a technique itself."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from pydantic import Field

from festoon.measure import (
    FIBRE_DENSITY,
    PACKING,
    Units,
    fine,
    largest_thread,
    needle_text,
    tex_from,
    tex_to,
    thread_diameter,
)
from festoon.stitches.consumption import WASTE, sewn
from festoon.work.fields import NeedleSize, PositiveLength, Table, ThreadWeight
from festoon.work.values import Amount, Finding, Supply

Stitch = Literal["butted zigzag", "zigzag", "straight and zigzag", "pin stitch", "straight"]


@dataclass(frozen=True, slots=True)
class Usual:
    """What is usual for a stitch: its width and length, mm, where that comes from, and how it is told."""

    width: float
    length: float
    source: str
    told: str


USUAL: Mapping[Stitch, Usual] = MappingProxyType(
    {
        "butted zigzag": Usual(
            2.5, 1.0, "heirloom teachers' pages: heading to heading", "zigzag over both headings, butted, not lapped,"
        ),
        "zigzag": Usual(2.0, 0.7, "heirloom teachers' pages: insertion to cloth", "zigzag"),
        "straight and zigzag": Usual(
            2.0,
            0.7,
            "heirloom teachers' pages: insertion to cloth",
            "a straight row near the edge, the cloth cut away behind, then zigzag",
        ),
        "pin stitch": Usual(2.0, 2.5, "common practice", "pin stitch, the bite to the side"),
        "straight": Usual(0.0, 2.0, "heirloom teachers' pages: insertion to cloth", "straight stitch"),
    }
)

STRAIGHT_LENGTH = 2.0
"""mm of the straight stitches before a zigzag. Source: heirloom teachers' pages, insertion to cloth."""

THREAD = tex_from(60, "wt")
"""Tex of cotton thread of 60 wt; 60 to 80 is usual. Source: heirloom teachers' pages."""

NEEDLES: tuple[tuple[float, str], ...] = ((80, "60/8"), (60, "65/9"), (50, "70/10"), (40, "75/11"), (30, "90/14"))
"""(wt, needle) for thread so fine or finer. Source: heirloom teachers' pages (two) for 60 and 80 wt; the rest common
practice."""

COARSEST_NEEDLE = "100/16"
"""For thread heavier than all of `NEEDLES`, with a topstitch eye. Common practice."""

PIN_NEEDLE = "90/14"
"""A plain needle for pin stitch: its holes are to stay open. Common practice; up to a plain 110, as in a lace
tutorial."""

LAWN_NEEDLES = ("60/8", "70/10")
"""The same on lawn, where a thick needle cuts threads. Source: heirloom teachers' pages (two)."""

PIN_ALONG, PIN_BITES = 3, 2
"""Stitches of one repeat of pin stitch: forward, back and forward along the edge, then to the side and back. Common
practice, as sewing machines make it."""


class Fastening(Table):
    """How it is sewn on by the sewing machine: the stitch, its measures, the needle and the thread."""

    stitch: Stitch = Field(
        "butted zigzag",
        description="'butted zigzag' (heading to heading), 'zigzag', 'straight and zigzag' (lace on cloth), 'pin "
        "stitch' or 'straight'.",
    )
    width: PositiveLength | None = Field(
        None,
        description="Width of the stitch. Left out: 2.5 mm butted, else 2 mm.",
    )
    length: PositiveLength | None = Field(
        None,
        description="Length of the stitch, along the seam. Left out: 1 mm butted, 0.7 mm for zigzag, 2 mm straight, "
        "2.5 mm for pin stitch.",
    )
    needle: NeedleSize | None = Field(
        None,
        description="The needle. Left out: by the thread, 65/9 for 60 wt; for pin stitch a plain "
        f"{PIN_NEEDLE} (on lawn write {' to '.join(LAWN_NEEDLES)}).",
    )
    thread: ThreadWeight = Field(THREAD, description="Needle and bobbin thread: cotton of 60 to 80 wt is usual.")
    rows: int = Field(1, ge=1, le=9, description="How many rows of it are sewn along every edge.")

    @property
    def wide(self) -> float:
        """Width of the stitch, mm, as written or usual; 0 for a straight one."""
        return 0.0 if self.stitch == "straight" else self.width or USUAL[self.stitch].width

    @property
    def long(self) -> float:
        """Length of the stitch, mm, as written or usual."""
        return self.length or USUAL[self.stitch].length

    @property
    def sewn_with(self) -> str:
        """The needle, '65/9', as written or usual."""
        return self.needle or usual_needle(self.stitch, self.thread)


def usual_needle(stitch: Stitch, tex: float) -> str:
    """The needle for a stitch with thread of `tex` g per 1000 m.

    >>> usual_needle("zigzag", 1000 / 60), usual_needle("pin stitch", 1000 / 60)
    ('65/9', '90/14')
    """
    wt = tex_to(tex, "wt") * (1 + 1e-9)
    by_thread = next((needle for least, needle in NEEDLES if wt >= least), COARSEST_NEEDLE)
    return max(by_thread, PIN_NEEDLE, key=_size) if stitch == "pin stitch" else by_thread


def told(fastening: Fastening, units: Units) -> str:
    """The fastening as a part of a sentence: stitch, width, length, needle, thread, rows.

    >>> told(Fastening(stitch="zigzag"), "mm")
    'zigzag 2 mm wide and 0.7 mm long, needle 65/9, thread of 60 wt'
    """
    wide = f"{fine(fastening.wide, units)} wide and " if fastening.wide else ""
    rows = f", {fastening.rows} rows" if fastening.rows > 1 else ""
    plain = "a plain needle" if fastening.stitch == "pin stitch" else "needle"
    return (
        f"{USUAL[fastening.stitch].told} {wide}{fine(fastening.long, units)} long, {plain} {fastening.sewn_with}, "
        f"thread of {_wt(fastening)}{rows}"
    )


def thread_use(fastening: Fastening, mm: float) -> tuple[float, float]:
    """Needle and bobbin thread for a seam of `mm`, both mm, without waste.

    Every stitch takes `consumption.sewn` of its own length: zigzag √(w² + p²) over each advance p, computed. Both
    threads take the same ('ideal needle : bobbin 1:1', a thread maker's 'Standard stitch type classification guide').
    """
    w, p = fastening.wide, fastening.long
    if fastening.stitch == "pin stitch":
        each = (PIN_ALONG * sewn(p) + PIN_BITES * sewn(w)) / p
    else:
        each = sewn(math.hypot(w, p)) / p
        if fastening.stitch == "straight and zigzag":
            each += sewn(STRAIGHT_LENGTH) / STRAIGHT_LENGTH
    half = each * mm * fastening.rows / 2
    return half, half


def supply(fastening: Fastening, mm: float) -> Supply:
    """The thread for a seam of `mm`, needle and bobbin together, waste added."""
    return Supply(
        f"sewing thread, {_wt(fastening)}",
        sum(thread_use(fastening, mm)) * (1 + WASTE),
        "mm",
        f"computed from the length of every stitch, needle and bobbin together, {WASTE:.0%} waste",
    )


def needle_finding(fastening: Fastening, name: str, panel: str, units: Units) -> Finding | None:
    """Thread too thick for the needle's eye; None where it runs freely."""
    diameter = thread_diameter(fastening.thread, FIBRE_DENSITY["cotton"], PACKING["yarn"])
    most = largest_thread(fastening.sewn_with)
    if diameter <= most:
        return None
    return Finding(
        verdict="look again",
        where=f'"{name}" on {panel}',
        reason=f"Thread of {_wt(fastening)} is too thick to run freely through a needle {fastening.sewn_with}.",
        remedy="Take a larger needle or finer thread, or a topstitch needle, whose eye is wider.",
        figure=fine(diameter, units, 2),
        limit=fine(most, units, 2),
        source="a needle maker: eye 40 % wider than the thread; eye 0.4 of the blade, common practice",
        panel=panel,
        rule="thread too thick for the needle",
        about=(name,),
        amount=Amount(round(diameter, 2), "mm"),
    )


def _wt(fastening: Fastening) -> str:
    return f"{tex_to(fastening.thread, 'wt'):.0f} wt"


def _size(needle: str) -> int:
    return int(needle_text(needle).split("/")[0])
