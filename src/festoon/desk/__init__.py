"""The desk: a piece that lies open to be changed, every change saved whole and undone without limit.

`Desk` holds one piece folder; what may be done to it is an `Edit`; `import_motif` brings a stitch file into it.
"""

from festoon.desk.desk import Desk, Stale
from festoon.desk.edits import (
    AcceptFinding,
    AddElement,
    AddPanel,
    CopyElement,
    Edit,
    FreeElement,
    MoveElement,
    RemoveElement,
    RemovePanel,
    SetBench,
    SetPanel,
    SetPiece,
    SetWord,
)
from festoon.desk.motif import import_motif

__all__ = [
    "AcceptFinding",
    "AddElement",
    "AddPanel",
    "CopyElement",
    "Desk",
    "Edit",
    "FreeElement",
    "MoveElement",
    "RemoveElement",
    "RemovePanel",
    "SetBench",
    "SetPanel",
    "SetPiece",
    "SetWord",
    "Stale",
    "import_motif",
]
