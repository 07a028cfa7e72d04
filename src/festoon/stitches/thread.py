"""A thread: a colour, its plain name, and how heavy it is. No maker, no chart, no catalogue number."""

from __future__ import annotations

from dataclasses import dataclass

from festoon.stitches.colour import colour_name

RAYON_120_2 = 240 / 9
"""Tex of the usual filament embroidery thread, two plies of 120 denier: 240/9 tex (ISO 1144, from memory)."""


@dataclass(frozen=True, slots=True)
class Thread:
    """A colour '#rrggbb' (lower case) and a linear density in tex (g per 1000 m, ISO 1144)."""

    colour: str = "#000000"
    tex: float = RAYON_120_2

    @property
    def name(self) -> str:
        """The plain colour name, 'pale blue'."""
        return colour_name(self.colour)

    @property
    def rgb(self) -> tuple[int, int, int]:
        """Red, green, blue, 0 to 255."""
        v = int(self.colour[1:], 16)
        return v >> 16, v >> 8 & 255, v & 255
