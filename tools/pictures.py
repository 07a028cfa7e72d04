"""`make pictures`: the pictures in README.md, drawn by Festoon itself from the examples."""

from __future__ import annotations

from pathlib import Path

from festoon.files import write_whole
from festoon.hooping import divide
from festoon.layout import lay_out
from festoon.piece import read_piece
from festoon.sheets import picture

ROOT = Path(__file__).parent.parent
PICTURES = ROOT / "docs" / "pictures"

EXAMPLES = {"sea-holly-cushion": 1400, "tablecloth-hem": 1400}
"""Each example and how many pixels wide its picture is."""


def main() -> None:
    """Draw every example's picture anew."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name, width in EXAMPLES.items():
        layout = lay_out(read_piece(ROOT / "examples" / name))
        path = PICTURES / f"{name}.png"
        write_whole(path, picture(layout, divide(layout), width_px=width))
        print(path.relative_to(ROOT))


if __name__ == "__main__":
    main()
