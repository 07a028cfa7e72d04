"""A picture of stitching as it looks on the cloth: threads in the order of sewing, with the sheen of satin.

Pictures are arrays (h, w, 4) of uint8, red, green, blue and alpha. While they are drawn the colours are multiplied by
alpha ('laid on'), so that soft edges mix rightly; `portrait` and `finished` give plain colours.
"""

from __future__ import annotations

import math

import cv2
import numpy as np
from numpy.typing import NDArray

from festoon.stitches.stitching import Stitching

Picture = NDArray[np.uint8]

WIDTH = 0.42
"""How wide a thread is drawn, mm: a little wider than the spacing of satin, which therefore closes."""

LIGHT = (-0.5, -0.866)
"""Towards the light, from the upper left, y down."""

SHADES = (-0.32, -0.17, -0.02, 0.14, 0.32)
"""Five shades of a thread, dull to bright, and all between: how far towards black (below 0) or white (by eye)."""

EDGE = 0.3
"""How much darker than its crown the side of a thread is, a fraction (own choice, by eye)."""

LIFE = 0.16
"""How much of the whole range of shades one stitch may differ from the next (own choice, by eye)."""

CROWN = 0.62
"""The crown's part of a thread's width, moved towards the light (own choice, by eye)."""

CROWNED = 3.0
"""Pixels across a thread from which its crown is drawn; on a narrower one it could not be seen (by eye)."""

SHADOW = (0.12, 0.3)
"""The shadow of the stitching on the cloth: how far it falls and blurs, mm, and how dark (own choice, by eye)."""

_BITS = 4
_GOLDEN = (math.sqrt(5) - 1) / 2


def portrait(
    stitching: Stitching, px_per_mm: float, *, margin_mm: float = 2.0, cloth: tuple[int, int, int] | None = None
) -> Picture:
    """The stitching alone, `margin_mm` around its penetrations, on cloth of one colour or on nothing (transparent).

    Shape (h, w, 4); the corner (0, 0) of the picture lies at (left - margin, top - margin). ValueError where there
    are no stitches.
    """
    left, top, right, bottom = stitching.bounds
    canvas = blank(right - left + 2 * margin_mm, bottom - top + 2 * margin_mm, px_per_mm, cloth=cloth)
    draw(canvas, stitching, px_per_mm, (left - margin_mm, top - margin_mm))
    return finished(canvas)


def blank(width_mm: float, height_mm: float, px_per_mm: float, *, cloth: tuple[int, int, int] | None = None) -> Picture:
    """An empty canvas to `draw` on: cloth of one colour, or transparent."""
    shape = (max(1, math.ceil(height_mm * px_per_mm)), max(1, math.ceil(width_mm * px_per_mm)), 4)
    canvas = np.zeros(shape, np.uint8)
    if cloth is not None:
        canvas[:] = (*cloth, 255)
    return canvas


def draw(canvas: Picture, stitching: Stitching, px_per_mm: float, origin: tuple[float, float]) -> None:
    """Draw the stitching onto a canvas, in place; `origin` is where the canvas's corner lies, mm.

    What lies outside the canvas is left out. Later drawings lie over earlier ones, as in sewing.
    """
    ends = stitching.laid()
    if not len(ends):
        return
    points = (stitching.points - np.array(origin)) * px_per_mm - 0.5
    a, b = points[ends - 1], points[ends]
    reach = WIDTH * px_per_mm
    inside = ((np.maximum(a, b) > -reach) & (np.minimum(a, b) < np.array(canvas.shape[1::-1]) + reach)).all(axis=1)
    a, b, ends = a[inside], b[inside], ends[inside]
    if not len(ends):
        return
    _cast_shadow(canvas, a, b, px_per_mm)
    sides, crowns = _strips(a, b, px_per_mm)
    face = _faces(stitching, ends, a, b)
    if reach < CROWNED:
        for side, plain in zip(sides, _opaque(face * (1 - EDGE * (1 - CROWN))), strict=True):
            cv2.fillConvexPoly(canvas, side, plain, cv2.LINE_AA, _BITS)
        return
    for side, crown, dark, bright in zip(sides, crowns, _opaque(face * (1 - EDGE)), _opaque(face), strict=True):
        cv2.fillConvexPoly(canvas, side, dark, cv2.LINE_AA, _BITS)
        cv2.fillConvexPoly(canvas, crown, bright, cv2.LINE_AA, _BITS)


def finished(canvas: Picture) -> Picture:
    """The canvas with plain colours, as picture files want them."""
    alpha = canvas[..., 3:].astype(np.uint16)
    if (alpha == 255).all():
        return canvas
    colour = np.minimum(255, (canvas[..., :3] * np.uint16(255) + alpha // 2) // np.maximum(alpha, 1))
    return np.concatenate([colour.astype(np.uint8), canvas[..., 3:]], axis=2)


def png(picture: Picture) -> bytes:
    """The bytes of a PNG file of a finished picture (h, w, 4); the same for the same picture."""
    done, data = cv2.imencode(".png", cv2.cvtColor(picture, cv2.COLOR_RGBA2BGRA))
    if not done:
        raise ValueError(f"no PNG can be made of a picture of shape {picture.shape}")
    return data.tobytes()


def _strips(
    a: NDArray[np.float64], b: NDArray[np.float64], px_per_mm: float
) -> tuple[NDArray[np.int32], NDArray[np.int32]]:
    """Each thread's whole strip and its crown, (m, 4, 2) in fractions of a pixel."""
    along = b - a
    length = np.maximum(np.hypot(along[:, 0], along[:, 1]), 1e-9)[:, None]
    across = np.stack([-along[:, 1], along[:, 0]], axis=1) / length
    across *= np.where(across @ np.array(LIGHT) < 0, -1.0, 1.0)[:, None]
    half = max(WIDTH * px_per_mm, 1.0) / 2
    tip = along / length * half * 0.5
    lit = across * half * (1 - CROWN) * 0.6
    whole, crown = across * half, across * half * CROWN
    strips = np.stack([a - tip + whole, b + tip + whole, b + tip - whole, a - tip - whole], axis=1)
    inner = np.stack([a + crown, b + crown, b - crown, a - crown], axis=1) + lit[:, None]
    scale = 1 << _BITS
    return np.rint(strips * scale).astype(np.int32), np.rint(inner * scale).astype(np.int32)


def _faces(
    stitching: Stitching, ends: NDArray[np.intp], a: NDArray[np.float64], b: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Colours (m, 3) of each thread's crown; its sides are darker by EDGE.

    A thread across the light shines, one along it does not: satin turns bright or dull with its direction. Each
    stitch differs a little, by its number, since no two threads lie quite alike.
    """
    along = b - a
    cosine = (along @ np.array(LIGHT)) / np.maximum(np.hypot(along[:, 0], along[:, 1]), 1e-9)
    shine = (1 - cosine**2) ** 0.9 + ((ends * _GOLDEN) % 1 - 0.5) * LIFE
    shade = np.interp(shine, np.linspace(0.0, 1.0, len(SHADES)), SHADES)[:, None]
    colour = np.array([thread.rgb for thread in stitching.threads], np.float64)[stitching.thread[ends]]
    return np.asarray(np.where(shade < 0, colour * (1 + shade), colour + (255 - colour) * shade))


def _opaque(colours: NDArray[np.float64]) -> list[tuple[int, ...]]:
    r, g, b = np.rint(colours).astype(int).T.tolist()
    return list(zip(r, g, b, [255] * len(r), strict=True))


def _cast_shadow(canvas: Picture, a: NDArray[np.float64], b: NDArray[np.float64], px_per_mm: float) -> None:
    """Darken the cloth softly to the lower right of the threads."""
    far, dark = SHADOW
    mask = np.zeros(canvas.shape[:2], np.uint8)
    shift = -np.array(LIGHT) * far * px_per_mm
    lines = np.rint((np.stack([a, b], axis=1) + shift) * (1 << _BITS)).astype(np.int32)
    cv2.polylines(mask, list(lines), False, 255, max(1, round(WIDTH * px_per_mm)), cv2.LINE_8, _BITS)
    blurred = cv2.GaussianBlur(mask, (0, 0), max(0.3, far * px_per_mm))
    left = cv2.convertScaleAbs(blurred, alpha=-dark, beta=255)
    full = np.full_like(left, 255)
    alpha = full - cv2.multiply(full - canvas[..., 3], left, scale=1 / 255)
    canvas[:] = cv2.multiply(canvas, cv2.merge([left, left, left, full]), scale=1 / 255)
    canvas[..., 3] = alpha
