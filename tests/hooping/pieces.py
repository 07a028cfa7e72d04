"""Small pieces built in memory: filled rectangles as motifs, and what is laid between them."""

import functools
from pathlib import Path

from shapely import box

from festoon.layout import Layout, lay_out
from festoon.piece import Bench, BenchThread, Dividing, Hoop, Panel, Piece, PieceFile
from festoon.piece.model import PieceTable
from festoon.stitches import Stitching, Thread
from festoon.stitches.lay import fill

RED, BLUE = Thread("#c8412f"), Thread("#2b5fc8")
SMALL = Hoop(name="small", field=(100.0, 100.0))
ROWS = 2.0
"""mm between the rows of a patch: few stitches are quick to sew."""


@functools.cache
def patch(file: str) -> Stitching:
    """'40x20' or '40x20-blue': a loosely filled rectangle of that size, its middle at (0, 0)."""
    size, _, colour = file.partition("-")
    w, h = (float(v) for v in size.split("x"))
    thread = BLUE if colour == "blue" else RED
    return fill(box(-w / 2, -h / 2, w / 2, h / 2), angle=0, row=ROWS, thread=thread)


def motif(name, file, at=(200, 200), **words):
    """Words of a motif."""
    place = {} if "along" in words else {"at": at}
    return {"kind": "motif", "name": name, "file": file, **place, **words}


def piece(*elements, hoops=(SMALL,), panels=((400.0, 400.0),), lines=None, units="mm", **hooping):
    """A piece of these elements; every one stands on the panel it names, or on the first."""
    names = ["front", "back", "side"][: len(panels)]
    file = PieceFile(
        piece=PieceTable(name="toy", units=units),
        panel=tuple(Panel(name=n, size=s, lines=lines or {}) for n, s in zip(names, panels, strict=True)),
        hooping=Dividing(**hooping),
        element=tuple({"panel": "front", **e} for e in elements),
    )
    threads = (BenchThread(name="red", colour=RED.colour), BenchThread(name="blue", colour=BLUE.colour))
    numbers = {e["name"]: 10 * (k + 1) for k, e in enumerate(elements)}
    return Piece(Path("nowhere"), file, Bench(hoop=tuple(hoops), thread=threads), numbers)


def laid_out(*elements, **words) -> Layout:
    """The same, laid out."""
    return lay_out(piece(*elements, **words), patch)
