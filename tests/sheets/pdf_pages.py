"""A PDF's pages measured in mm from their left upper corner, as a ruler would."""

import ctypes
from dataclasses import dataclass

import numpy as np
import pypdfium2
import pypdfium2.raw as raw

MM = 25.4 / 72


@dataclass
class Stroke:
    """One drawn path: its corners in mm, runs apart, with stroke and fill colour ('' for none)."""

    runs: list
    stroke: str
    fill: str

    @property
    def points(self):
        return np.concatenate(self.runs)


@dataclass
class Page:
    size: tuple
    text: str
    strokes: list
    images: list
    """Left, top, right, bottom of every picture, mm."""

    def drawn(self, colour):
        """Every path stroked in that colour."""
        return [s for s in self.strokes if s.stroke == colour]


def pages(data):
    """The pages of a PDF given as bytes."""
    document = pypdfium2.PdfDocument(data)
    try:
        return [_page(document[i]) for i in range(len(document))]
    finally:
        document.close()


def _page(page):
    width, height = page.get_size()
    text_page = page.get_textpage()
    text = text_page.get_text_bounded()
    text_page.close()
    paths = [o for o in page.get_objects(max_depth=6) if o.type == raw.FPDF_PAGEOBJ_PATH]
    strokes = [_stroke(o, height) for o in paths]
    images = [
        tuple(v * MM for v in (left, height - top, right, height - bottom))
        for left, bottom, right, top in (
            o.get_bounds() for o in page.get_objects(max_depth=6) if o.type == raw.FPDF_PAGEOBJ_IMAGE
        )
    ]
    page.close()
    return Page((width * MM, height * MM), text, strokes, images)


def _stroke(obj, height):
    m = obj.get_matrix()
    runs = []
    for i in range(raw.FPDFPath_CountSegments(obj)):
        segment = raw.FPDFPath_GetPathSegment(obj, i)
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        at = m.on_point(x.value, y.value)
        if raw.FPDFPathSegment_GetType(segment) == raw.FPDF_SEGMENT_MOVETO:
            runs.append([])
        runs[-1].append((at[0] * MM, (height - at[1]) * MM))
    fill, stroked = ctypes.c_int(), ctypes.c_int()
    raw.FPDFPath_GetDrawMode(obj, fill, stroked)
    return Stroke(
        [np.array(r) for r in runs],
        _colour(obj, raw.FPDFPageObj_GetStrokeColor) if stroked.value else "",
        _colour(obj, raw.FPDFPageObj_GetFillColor) if fill.value else "",
    )


def _colour(obj, get):
    r, g, b, a = (ctypes.c_uint() for _ in range(4))
    get(obj, r, g, b, a)
    return f"#{r.value:02x}{g.value:02x}{b.value:02x}"
