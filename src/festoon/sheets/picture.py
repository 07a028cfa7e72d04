"""The piece with its numbered hoopings as a PNG, for a page that tells about it."""

from __future__ import annotations

from festoon.hooping.values import Division
from festoon.layout import Layout
from festoon.measure import MM_PER_INCH
from festoon.sheets.figures import piece_figure
from festoon.sheets.portraits import portraits
from festoon.sheets.typeset import typeset

_HEIGHT = 110.0
"""Height of the tallest panel as if it were printed, mm: lines and numbers keep their weight to it."""
_BORDER = 8.0
_FINER = 1.5
"""Pixels of stitching to one of the picture: threads stay smooth when they are brought down to it."""


def picture(layout: Layout, division: Division, *, width_px: int = 1200) -> bytes:
    """A PNG `width_px` pixels wide: every panel on tissue, stitched, with its hoopings and crosses."""
    scale = _HEIGHT / max(p.size[1] for p in layout.panels)
    placed, x = [], _BORDER
    width = sum(p.size[0] * scale + 2.0 + _BORDER for p in layout.panels) + _BORDER
    fineness = width_px / width
    images = portraits(division.hoopings, fineness * scale * _FINER)
    for panel in layout.panels:
        figure = piece_figure(layout, division, panel, scale, images)
        placed.append({"at": [x, _BORDER], "size": list(figure.size), "records": figure.records})
        x += figure.size[0] + _BORDER
    height = _HEIGHT + 2.0 + 2 * _BORDER
    data = {"size": [width, height], "figures": placed}
    return typeset(
        "picture", data, images={i.file: i.data for i in images.values()}, form="png", ppi=fineness * MM_PER_INCH
    )
