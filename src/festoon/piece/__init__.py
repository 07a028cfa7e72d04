"""The document: panels, elements, bench; read from a folder, checked, told about in plain sentences.

`read_piece` turns a folder into a Piece or raises a PieceError that names file, line and remedy.
"""

from festoon.piece.bench import Bench, BenchThread, Hoop, Machine, thread_name
from festoon.piece.model import MADE, Dividing, Panel, Piece, PieceFile
from festoon.piece.read import read_piece

__all__ = [
    "MADE",
    "Bench",
    "BenchThread",
    "Dividing",
    "Hoop",
    "Machine",
    "Panel",
    "Piece",
    "PieceFile",
    "read_piece",
    "thread_name",
]
