"""A map of thickness -> a picture: pale where there is little thread, dark where it piles up."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from festoon.proof.heap import window_cells
from festoon.proof.values import Thickness

CLOTH = "#e9e1cf"
LEVELS: tuple[tuple[float, str], ...] = (
    (0.0, CLOTH),
    (1.0, "#d9b95a"),
    (2.0, "#d98a35"),
    (3.0, "#b8482f"),
    (4.0, "#6d1f38"),
)
"""Layers of thread and the colour that stands for them, for the legend. Every next one is darker, so that the order
also shows in grey; more than the last is drawn as the last."""
SHADES = 32
"""Steps of grey that tell one layer: up to eight layers in 256 tones. Ours."""
SOFTENED = 1.0
"""mm, side of the square over which the picture is averaged, so that it shows stitching, not single threads. Ours."""


def levels_told() -> tuple[str, ...]:
    """The words of the legend, a level each.

    >>> levels_told()
    ('bare cloth', '1 layer', '2 layers', '3 layers', '4 or more')
    """
    several = (f"{layers:g} layers" for layers, _ in LEVELS[2:-1])
    return ("bare cloth", "1 layer", *several, f"{LEVELS[-1][0]:g} or more")


def thickness_picture(thickness: Thickness, px_per_mm: float) -> bytes:
    """The map as a PNG of `px_per_mm` pixels a mm, its left upper corner at the map's origin.

    Layers are averaged over squares of SOFTENED mm and coloured as in LEVELS, evenly in between. A map of no cells
    gives one pixel of cloth. The same map gives the same bytes. ValueError where there are no pixels to a mm.
    """
    return _png(coloured(_softened(thickness, px_per_mm))[..., ::-1])


def _softened(thickness: Thickness, px_per_mm: float) -> NDArray[np.float64]:
    if not px_per_mm > 0:
        raise ValueError(f"{px_per_mm} pixels to a mm make no picture")
    rows, columns = thickness.layers.shape
    height, width = (max(1, round(n * thickness.cell * px_per_mm)) for n in (rows, columns))
    layers = np.zeros((1, 1), np.float32)
    if rows and columns:
        size = window_cells(SOFTENED, thickness.cell) // 2 * 2 + 1  # odd: it stands in the cell's middle
        layers = np.asarray(cv2.blur(thickness.layers, (size, size), borderType=cv2.BORDER_CONSTANT), np.float32)
    return np.asarray(cv2.resize(layers, (width, height)), np.float64)


def _png(pixels: NDArray[np.uint8]) -> bytes:
    done, png = cv2.imencode(".png", pixels)
    if not done:
        raise ValueError(f"no picture of {pixels.shape[1]} by {pixels.shape[0]} pixels can be written")
    return png.tobytes()


def levels_picture(thickness: Thickness, px_per_mm: float) -> bytes:
    """The same as a grey PNG whose tone is the number of layers, SHADES to a layer: for a screen that draws them.

    More layers than a tone can tell are told as the most.
    """
    tones = np.clip(np.rint(SHADES * _softened(thickness, px_per_mm)), 0, 255).astype(np.uint8)
    return _png(tones)


def coloured(layers: NDArray[np.float64]) -> NDArray[np.uint8]:
    """Red, green and blue (..., 3), 0 to 255, for so many layers (...)."""
    at = [level for level, _ in LEVELS]
    shades = np.array([[int(colour[k : k + 2], 16) for k in (1, 3, 5)] for _, colour in LEVELS])
    return np.stack([np.interp(layers, at, shades[:, c]) for c in range(3)], axis=-1).round().astype(np.uint8)
