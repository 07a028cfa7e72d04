"""The desk: a piece that lies open to be changed, every change saved whole and undone without limit.

`Desk` holds one piece folder; what may be done to it is an `Edit`; `import_motif` brings a stitch file into it.
"""

from festoon.desk.desk import Desk, Stale
from festoon.desk.edits import (
    AddElement,
    CopyElement,
    Edit,
    MoveElement,
    RemoveElement,
    SetBench,
    SetPanel,
    SetPiece,
    SetWord,
)
from festoon.desk.motif import import_motif

__all__ = [
    "AddElement",
    "CopyElement",
    "Desk",
    "Edit",
    "MoveElement",
    "RemoveElement",
    "SetBench",
    "SetPanel",
    "SetPiece",
    "SetWord",
    "Stale",
    "import_motif",
]
