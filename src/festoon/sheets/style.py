"""Colours, lines and letters of everything that is printed: ink on white paper, one meaning to a colour."""

from __future__ import annotations

INK = "#26231e"
"""Words and the cloth's cut edge."""
INK_SOFT = "#575044"
"""Second voice: notes, assembly marks."""
DRAFT = "#857962"
"""Fine lines that carry meaning: seam line, centre lines."""
FAINT = "#cdc3ad"
"""Rules that carry none."""
PEN = "#1a5798"
"""The washable pen: crosses and their names."""
WORK = "#9b2f42"
"""Madder thread: the numbers of the hoopings."""
WOOD = "#c89f6b"
WOOD_LIGHT = "#e6cda4"
WOOD_DARK = "#7c5a31"
"""Hoops and their fields."""
CLOTH = "#efe8d9"
CLOTH_EDGE = "#7d6f54"
TISSUE = "#f8f4e8"
WHITE = "#ffffff"
VEIL = "#ffffffdd"
"""Behind words that lie over lines: the lines still show."""
WASH = "#f6e9cd"
"""Ground of a caution."""
CAUTION = "#85540a"
"""Words of a caution."""

IN_TEMPLATES = {
    "ink": INK,
    "soft": INK_SOFT,
    "draft": DRAFT,
    "faint": FAINT,
    "pen": PEN,
    "madder": WORK,
    "wood": WOOD,
    "tissue": TISSUE,
    "wash": WASH,
    "caution": CAUTION,
}
"""The colours by the names that the typesetting templates use."""

CROSS_ARM = 8.0
"""Length of each arm of a cross, mm, measured from its middle: long enough to lay a ruler along."""

DASH_DOT = (6.0, 1.5, 0.8, 1.5)
"""Centre lines, mm on and off: the usual drafting line."""
DASHED = (3.0, 2.0)
DOTTED = (0.6, 1.4)


def channels(colour: str) -> tuple[int, int, int]:
    """Red, green and blue of '#rrggbb', 0 to 255."""
    v = int(colour[1:7], 16)
    return v >> 16, v >> 8 & 255, v & 255


def mixed(colour: str, other: str, share: float) -> str:
    """`colour` with `share` (0 to 1) of `other` in it, mixed channel by channel.

    >>> mixed("#000000", "#ffffff", 0.5)
    '#808080'
    """
    pairs = zip(channels(colour), channels(other), strict=True)
    return "#" + "".join(f"{int(a + (b - a) * share + 0.5):02x}" for a, b in pairs)


def lightness(colour: str) -> float:
    """Relative luminance, 0 black to 1 white (IEC 61966-2-1, the sRGB standard; from memory)."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (v / 255 for v in channels(colour))]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def tint(colour: str) -> str:
    """A thread's colour as a pale ground, so that lines and words over it stay legible."""
    return mixed(colour, WHITE, 0.78)


def line_colour(colour: str) -> str:
    """A thread's colour darkened until a thin line of it shows on white paper (3 to 1 at least)."""
    for share in range(0, 100, 5):
        darker = mixed(colour, INK, share / 100)
        if 1.05 / (lightness(darker) + 0.05) >= 3.0:
            return darker
    return INK
