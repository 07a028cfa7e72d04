"""What was read of a hooping before: found again only for that hooping, and only while its crosses stand."""

from dataclasses import replace
from pathlib import Path

from festoon.hooping import Mark
from festoon.piece import Bench, Hoop, Panel, Piece, PieceFile
from festoon.piece.model import PieceTable
from festoon.truing import judged, trued_before
from festoon.truing.record import TRUING, TruingFile, file_bytes, truing_record
from tests.truing.toy import moved, toy

READ = moved(corners={"A": (-40.0, -40.0), "C": (40.0, 40.0)}, A=(0.4, 0.1), C=(0.4, 0.1))


def piece(folder: Path) -> Piece:
    file = PieceFile(piece=PieceTable(name="Toy"), panel=(Panel(name="cloth", size=(400.0, 300.0)),), element=())
    return Piece(folder, file, Bench(hoop=(Hoop(field=(100.0, 100.0)),)), {})


def test_found_again_only_for_its_hooping_and_its_crosses(tmp_path: Path) -> None:
    hooping, ours = toy(), piece(tmp_path)
    assert trued_before(ours, hooping) is None
    truing = judged(ours, hooping, READ, "mm")
    assert not (tmp_path / TRUING).exists()
    record = truing_record(truing, hooping, "hooping-03-trued.dst")
    (tmp_path / TRUING).write_bytes(file_bytes(TruingFile(hoopings=(record,))))
    assert trued_before(ours, hooping) == record
    assert trued_before(ours, replace(hooping, number=4)) is None
    x, y = hooping.marks[0].at
    assert trued_before(ours, replace(hooping, marks=(Mark("A", (x + 1.0, y)), *hooping.marks[1:]))) is None
