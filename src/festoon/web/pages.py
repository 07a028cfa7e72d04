"""A PDF's pages as they will print: how large each is, and its picture."""

from __future__ import annotations

import threading

import cv2
import pypdfium2 as pdfium

from festoon.stitches.portrait import png

MM_PER_POINT = 25.4 / 72
"""A PDF's unit is 1/72 inch (ISO 32000-1, 8.3.2.3)."""

WIDEST = 2400
"""px that a page's picture is wide at most: A4 at 290 dots an inch (own choice)."""

_ONE_AT_A_TIME = threading.Lock()
"""PDFium may be used by one thread at a time (its documentation)."""


def page_sizes(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of every page, mm, to 0.01 mm."""
    with _ONE_AT_A_TIME:
        document = pdfium.PdfDocument(pdf)
        try:
            sizes = [document.get_page_size(n) for n in range(len(document))]
        finally:
            document.close()
    return [(round(w * MM_PER_POINT, 2), round(h * MM_PER_POINT, 2)) for w, h in sizes]


def page_picture(pdf: bytes, number: int, width: int) -> bytes:
    """Page `number` (from 1) as a PNG picture, `width` px wide, at most WIDEST. IndexError where there is none."""
    with _ONE_AT_A_TIME:
        document = pdfium.PdfDocument(pdf)
        try:
            if not 1 <= number <= len(document):
                raise IndexError(number)
            page = document[number - 1]
            picture = page.render(scale=min(width, WIDEST) / page.get_width()).to_numpy()
        finally:
            document.close()
    return png(cv2.cvtColor(picture, cv2.COLOR_BGR2RGBA))
