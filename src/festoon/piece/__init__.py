"""The document: panels, elements, bench; read from a folder, checked, told about in plain sentences.

`read_piece` turns a folder into a Piece or raises a PieceError that names file, line and remedy.
"""

from festoon.piece.bench import Bench, BenchThread, Hoop, Machine, thread_name
from festoon.piece.model import MADE, Dividing, Piece, PieceFile
from festoon.piece.outline import PanelShape, shape_of
from festoon.piece.panel import Panel
from festoon.piece.read import read_piece

__all__ = [
    "MADE",
    "Bench",
    "BenchThread",
    "Dividing",
    "Hoop",
    "Machine",
    "Panel",
    "PanelShape",
    "Piece",
    "PieceFile",
    "read_piece",
    "shape_of",
    "thread_name",
]
