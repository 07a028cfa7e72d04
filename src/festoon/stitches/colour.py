"""Plain English names for colours: the nearest of a small table, as the eye measures nearness."""

from __future__ import annotations

import re
from functools import cache

import numpy as np
from numpy.typing import NDArray

WORDS: dict[str, str] = {
    "white": "#ffffff",
    "cream": "#fff4d9",
    "ivory": "#f6ecd2",
    "ecru": "#e3d3b3",
    "pale grey": "#dcdcdc",
    "light grey": "#bdbdbd",
    "grey": "#8c8c8c",
    "dark grey": "#555555",
    "charcoal": "#333436",
    "black": "#000000",
    "warm grey": "#9b9088",
    "silver grey": "#c3c9ce",
    "blue grey": "#75879a",
    "dark blue grey": "#3f4f5f",
    "green grey": "#8b9988",
    "pale pink": "#fbd9df",
    "pink": "#f5a3b7",
    "rose pink": "#e8708f",
    "deep pink": "#d63c77",
    "bright pink": "#ff4fa3",
    "dusty pink": "#c6929a",
    "old rose": "#b0656f",
    "salmon": "#f58c78",
    "coral": "#f36a52",
    "scarlet": "#e5281f",
    "red": "#c8102e",
    "dark red": "#8c1220",
    "wine red": "#5f1428",
    "madder red": "#a63a2c",
    "brick red": "#8f4030",
    "rust": "#b0522a",
    "apricot": "#fbb583",
    "peach": "#ffd3b3",
    "orange": "#f58220",
    "dark orange": "#d25f10",
    "pale yellow": "#fdf2a5",
    "lemon yellow": "#f9e840",
    "yellow": "#ffd400",
    "straw": "#e2c878",
    "golden yellow": "#f3b21b",
    "gold": "#c8962e",
    "ochre": "#b5802a",
    "mustard": "#a98b2b",
    "pale green": "#cfe8c6",
    "light green": "#9ad08a",
    "bright green": "#2fd033",
    "green": "#2a8a3e",
    "dark green": "#14532d",
    "yellow green": "#a8c832",
    "moss green": "#75803a",
    "olive green": "#5a5a24",
    "grey green": "#93a68f",
    "sage green": "#a9b89a",
    "leaf green": "#57963c",
    "blue green": "#1f8a80",
    "dark blue green": "#0f5257",
    "mint green": "#b2e6cf",
    "sea green": "#54b89a",
    "turquoise": "#22c4c8",
    "bright turquoise": "#0ff2f2",
    "pale turquoise": "#b4e6e8",
    "pale blue": "#cfe2f3",
    "light blue": "#9cc4e8",
    "sky blue": "#5fb0e6",
    "bright blue": "#1f7fe0",
    "blue": "#1f55b0",
    "royal blue": "#2a36c0",
    "dark blue": "#1a2e6e",
    "navy blue": "#101c40",
    "grey blue": "#6f8fb5",
    "lavender": "#c5bbe6",
    "pale violet": "#ded3f0",
    "lilac": "#c79fd8",
    "mauve": "#a07f9f",
    "violet": "#7a3fb5",
    "dark violet": "#432062",
    "purple": "#8a2a86",
    "plum": "#5e2750",
    "magenta": "#d322b4",
    "pale brown": "#cfae8a",
    "tan": "#c19a6b",
    "beige": "#e6d5c0",
    "light brown": "#a87b50",
    "brown": "#7b4a26",
    "red brown": "#7a3320",
    "dark brown": "#452818",
    "grey brown": "#7d6c5c",
}
"""Our own words, each with a colour that most people would call so (common practice)."""

AXES = np.array([1.0, 2.0, 2.0])
"""What each OKLab axis counts in a comparison of colours."""

_SRGB_TO_CONE = np.array(
    [
        [0.4122214708, 0.5363325363, 0.0514459929],
        [0.2119034982, 0.6806995451, 0.1073969566],
        [0.0883024619, 0.2817188376, 0.6299787005],
    ]
)
_CONE_TO_OKLAB = np.array(
    [
        [0.2104542553, 0.7936177850, -0.0040720468],
        [1.9779984951, -2.4285922050, 0.4505937099],
        [0.0259040371, 0.7827717662, -0.8086757660],
    ]
)


def parse_colour(colour: str) -> str:
    """'#rrggbb' in lower case from '#RRGGBB' or '#rgb'; ValueError for anything else.

    >>> parse_colour("#FA0")
    '#ffaa00'
    """
    text = colour.strip().lower()
    if re.fullmatch(r"#[0-9a-f]{3}", text):
        return "#" + "".join(c * 2 for c in text[1:])
    if not re.fullmatch(r"#[0-9a-f]{6}", text):
        raise ValueError(f"'{colour}' is no colour; write it as '#rrggbb'")
    return text


def oklab(colour: str) -> NDArray[np.float64]:
    """(lightness, green to red, blue to yellow) of a colour '#rrggbb', shape (3,).

    Source: B. Ottosson, 'A perceptual color space for image processing' (2020), its matrices for linear sRGB;
    sRGB's curve from IEC 61966-2-1 (both from memory).
    """
    text = parse_colour(colour)
    rgb = np.array([int(text[i : i + 2], 16) for i in (1, 3, 5)]) / 255
    linear = np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)
    lab: NDArray[np.float64] = _CONE_TO_OKLAB @ np.cbrt(_SRGB_TO_CONE @ linear)
    return lab


@cache
def colour_name(colour: str) -> str:
    """The plain name of the nearest colour in `WORDS`; ValueError if it is no colour.

    Nearness is the distance in OKLab with both colour axes counted twice, the weight that its author later advised
    for comparing colours (from memory).

    >>> colour_name("#cfe3f5")
    'pale blue'
    """
    names, places = _table()
    distances = ((places - oklab(colour) * AXES) ** 2).sum(axis=1)
    return names[int(distances.argmin())]


@cache
def _table() -> tuple[tuple[str, ...], NDArray[np.float64]]:
    return tuple(WORDS), np.array([oklab(c) for c in WORDS.values()]) * AXES
