"""An address as a QR picture, for the page and for the terminal (ISO/IEC 18004, drawn by segno)."""

from __future__ import annotations

import io

import segno

SCALE = 8
"""px of the picture for one square of the code (own choice; the page shows it smaller)."""


def picture(address: str) -> str:
    """A PNG as a data address, dark on white with the quiet margin that the standard asks for."""
    return str(_code(address).png_data_uri(scale=SCALE))


def blocks(address: str) -> str:
    """The same of block characters, two rows in one line."""
    drawn = io.StringIO()
    _code(address).terminal(out=drawn, compact=True)
    return drawn.getvalue().rstrip("\n")


def _code(address: str) -> segno.QRCode:
    return segno.make(address, error="m", micro=False)
