"""Typesetting: plain data and a template in, PDF or PNG bytes out. No clock, no fonts but our own."""

from __future__ import annotations

import functools
import json
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal

import typst

from festoon.sheets.style import IN_TEMPLATES

_HERE = Path(__file__).parent


def typeset(
    template: str,
    data: Any,
    *,
    images: Mapping[str, bytes] | None = None,
    form: Literal["pdf", "png"] = "pdf",
    ppi: float = 144.0,
) -> bytes:
    """Set `data` (plain values) with the template of that name and the named images. Same input, same bytes.

    A PNG is the first page only, at `ppi` pixels an inch.
    """
    files = {
        "main.typ": (_HERE / f"{template}.typ").read_bytes(),
        "house.typ": (_HERE / "house.typ").read_bytes(),
        "colours.json": json.dumps(IN_TEMPLATES).encode(),
        "data.json": json.dumps(data, ensure_ascii=False).encode(),
        **(images or {}),
    }
    with tempfile.TemporaryDirectory(prefix="festoon-") as folder:
        for name, content in files.items():
            (Path(folder) / name).write_bytes(content)
        main = str(Path(folder) / "main.typ")
        pages: Any = typst.compile(main, root=folder, font_paths=_fonts(), format=form, ppi=ppi, pdf_tags=False)
    return pages if isinstance(pages, bytes) else pages[0]


@functools.cache
def _fonts() -> typst.Fonts:
    folder = str(_HERE / "fonts")
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder])
