"""truing.json: what it holds, that it comes back the same, and what is said where it is broken."""

import json

import pytest

from festoon.errors import PieceError
from festoon.plane.pose import Pose
from festoon.truing import true_hooping
from festoon.truing.record import (
    Change,
    Outlook,
    TruingFile,
    file_bytes,
    read_records,
    truing_record,
    with_record,
)
from tests.truing.toy import FIELD, FLE, model, moved, toy


def record(pose=Pose(1.25, -0.5, 0.75), **off):  # noqa: B008
    hooping = toy()
    return truing_record(true_hooping(hooping, moved(pose, **off), model=model(FLE)), hooping, "hooping-03-trued.dst")


def test_what_it_holds():
    found = json.loads(file_bytes(TruingFile(hoopings=(record(),))))
    assert list(found) == ["unit", "hoopings", "outlook"]
    (one,) = found["hoopings"]
    at = FIELD.apply((40.0, -40.0))
    assert one["marks"][1]["name"] == "B"
    assert one["marks"][1]["at"] == pytest.approx(at, abs=6e-4)
    assert one["marks"][1]["off"] == pytest.approx(moved(Pose(1.25, -0.5, 0.75))["B"], abs=6e-4)
    del one["marks"]
    assert one == {
        "number": 3,
        "panel": "cloth",
        "file": "hooping-03-trued.dst",
        "verdict": "sound",
        "shift": [1.25, -0.5],
        "turn": 0.75,
        "residual": 0.0,
        "scale": 1.0,
    }


def test_it_comes_back_the_same(tmp_path):
    ahead = Outlook(number=4, expected=Change(before=0.9, now=0.7), across=None)
    whole = TruingFile(hoopings=(record(A=(0.3, 0.2)),), outlook=(ahead,))
    path = tmp_path / "truing.json"
    path.write_bytes(file_bytes(whole))
    assert read_records(path) == whole.hoopings
    assert TruingFile.model_validate_json(path.read_bytes()) == whole
    assert file_bytes(whole) == file_bytes(TruingFile.model_validate_json(path.read_bytes()))


def test_no_file_is_no_readings(tmp_path):
    assert read_records(tmp_path / "truing.json") == ()


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        '{"unit": "inch", "hoopings": []}',
        '{"unit": "mm", "hoopings": [{"number": 1}]}',
        b"\xff\xfe",
        file_bytes(TruingFile(hoopings=(record(),))).replace(b"1.25", b"Infinity"),
        file_bytes(TruingFile(hoopings=(record(),))).replace(b'"residual": 0.0', b'"residual": -1.0'),
        file_bytes(TruingFile(hoopings=(record(),))).replace(b'"residual": 0.0', b'"residual": 1e300'),
        file_bytes(TruingFile(hoopings=(record(),))).replace(b'"name": "B"', b'"name": "A"'),
    ],
)
def test_a_broken_file_is_told(text, tmp_path):
    path = tmp_path / "truing.json"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(
        PieceError, match=r"truing\.json: the readings in it cannot be understood\. Mend it, or move it"
    ):
        read_records(path)


def test_a_hooping_read_again_takes_the_place_of_its_earlier_readings():
    first, again = record(), record(Pose(2, 0))
    other = first.model_copy(update={"number": 1})
    assert with_record((first,), other) == (other, first)
    assert with_record((other, first), again) == (other, again)
