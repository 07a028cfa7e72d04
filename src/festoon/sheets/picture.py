"""The piece with its numbered hoopings as a PNG, for a page that tells about it."""

from __future__ import annotations

from festoon.hooping.values import Division
from festoon.layout import Layout
from festoon.sheets.figures import piece_figure
from festoon.sheets.typeset import typeset

_HEIGHT = 110.0
"""Height of the tallest panel as if it were printed, mm: lines and numbers keep their weight to it."""
_BORDER = 8.0
_MM_PER_INCH = 25.4


def picture(layout: Layout, division: Division, *, width_px: int = 1200) -> bytes:
    """A PNG `width_px` pixels wide: every panel on tissue, stitched, with its hoopings and crosses."""
    scale = _HEIGHT / max(p.size[1] for p in layout.panels)
    placed, x = [], _BORDER
    width = sum(p.size[0] * scale + 2.0 + _BORDER for p in layout.panels) + _BORDER
    fineness = width_px / width
    images: dict[str, bytes] = {}
    for i, panel in enumerate(layout.panels):
        figure = piece_figure(layout, division, panel, scale, name=f"piece-{i}", px_per_mm=fineness * 1.5)
        images.update(figure.images)
        placed.append({"at": [x, _BORDER], "size": list(figure.size), "records": figure.records})
        x += figure.size[0] + _BORDER
    height = _HEIGHT + 2.0 + 2 * _BORDER
    data = {"size": [width, height], "figures": placed}
    return typeset("picture", data, images=images, form="png", ppi=fineness * _MM_PER_INCH)
