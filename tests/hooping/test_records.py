"""`hoopings.json`: exactly the promised keys, and the promised meaning of centre and turn."""

import json
import math
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.hooping.machine_file import machine_stitching
from festoon.hooping.records import record
from festoon.hooping.values import Division
from festoon.plane.pose import Pose
from tests.hooping.toy import BLUE, RED, toy

MANUAL = Path(__file__).parents[2] / "docs" / "records.md"
NUMBER = (int, float)
SCHEMA = {
    "unit": str,
    "count": int,
    "lower_bound": int,
    "fewest_proven": bool,
    "hoopings": [
        {
            "number": int,
            "panel": str,
            "hoop": str,
            "field": (NUMBER, NUMBER),
            "centre": (NUMBER, NUMBER),
            "turn": NUMBER,
            "file": str,
            "stitches": int,
            "threads": [{"name": str, "colour": str, "tex": NUMBER}],
            "elements": [str],
            "marks": [{"name": str, "at": (NUMBER, NUMBER), "in_hoop": (NUMBER, NUMBER)}],
            "expected_error": {"at": (NUMBER, NUMBER), "mm": NUMBER, "confidence": NUMBER},
            "after": [int],
            "laid": bool,
            "widened": [
                {"part": str, "piece": int, "about": (NUMBER, NUMBER), "by": ((NUMBER, NUMBER), (NUMBER, NUMBER))}
            ],
        }
    ],
    "lengthened": [{"element": (str, type(None)), "word": str, "from": NUMBER, "to": NUMBER}],
}

LONGER = [
    {"element": "stem", "word": "tuck", "from": 3.0, "to": 3.8},
    {"element": None, "word": "overlap", "from": 0.0, "to": 1.2},
]


def misfits(value, schema, where="record"):
    """Where a value is not of the schema: keys missing or unknown, lengths, kinds."""
    if isinstance(schema, dict):
        if not isinstance(value, dict) or set(value) != set(schema):
            return [where]
        return [m for k in schema for m in misfits(value[k], schema[k], f"{where}.{k}")]
    if isinstance(schema, list):
        if not isinstance(value, list):
            return [where]
        return [m for k, v in enumerate(value) for m in misfits(v, schema[0], f"{where}[{k}]")]
    if isinstance(schema, tuple) and not all(isinstance(s, type) for s in schema):
        if not isinstance(value, list) or len(value) != len(schema):
            return [where]
        return [m for v, s in zip(value, schema, strict=True) for m in misfits(v, s, where)]
    wrong = not isinstance(value, schema) or (isinstance(value, bool) and schema is not bool)
    return [where] if wrong else []


def told(hooping):
    division = Division((hooping,), 1, True, "One hooping.", ())
    return json.loads(json.dumps(record(division, {3: "3-toy.dst"}, LONGER), allow_nan=False))


def test_entire():
    assert told(toy()) == {
        "unit": "mm",
        "count": 1,
        "lower_bound": 1,
        "fewest_proven": True,
        "hoopings": [
            {
                "number": 3,
                "panel": "cloth",
                "hoop": "toy",
                "field": [1.0, 1.5],
                "centre": [20.0, 30.0],
                "turn": 90.0,
                "file": "3-toy.dst",
                "stitches": 4,
                "threads": [
                    {"name": RED.name, "colour": "#ff0000", "tex": 25.0},
                    {"name": BLUE.name, "colour": "#0000ff", "tex": 40.0},
                ],
                "elements": ["sprig", "leaf"],
                "marks": [
                    {"name": "B", "at": [20.3, 29.6], "in_hoop": [-0.4, -0.3]},
                    {"name": "A", "at": [19.7, 30.4], "in_hoop": [0.4, 0.3]},
                ],
                "expected_error": {"at": [19.3, 30.5], "mm": 0.71, "confidence": 0.95},
                "after": [1, 2],
                "laid": False,
                "widened": [],
            }
        ],
        "lengthened": LONGER,
    }


def test_exactly_these_keys():
    assert misfits(told(toy()), SCHEMA) == []


def words(schema):
    """Every word of a schema, however deep."""
    inner = schema.values() if isinstance(schema, dict) else schema if isinstance(schema, list) else ()
    return {*(schema if isinstance(schema, dict) else ()), *(w for s in inner for w in words(s))}


def test_the_manual_has_every_word_and_no_other():
    """The words in docs/records.md, first in a row of a table or named in its meaning, are those of the record."""
    hoopings = MANUAL.read_text("utf-8").split("\n## ")[0]
    rows = re.findall(r"^\| `(\w+)` \|(.*)", hoopings, re.MULTILINE)
    told = {w for word, meaning in rows for w in (word, *re.findall(r"`(\w+)`", meaning))}
    assert told == words(SCHEMA)
    assert [word for word, _ in rows] == [*SCHEMA, *SCHEMA["hoopings"][0]]


def test_the_schema_notices():
    lacking, beyond = told(toy()), told(toy())
    del lacking["hoopings"][0]["turn"]
    beyond["hoopings"][0]["marks"][1]["extra"] = 1
    assert misfits(lacking, SCHEMA) == ["record.hoopings[0]"]
    assert misfits(beyond, SCHEMA) == ["record.hoopings[0].marks[1]"]


@given(st.builds(Pose, st.floats(-500, 500), st.floats(-500, 500), st.floats(-1000, 1000)))
def test_where_a_stitch_lies(field):
    """centre + R(turn) · (u, v), with R written out here, brings the machine's stitches to those on the panel."""
    hooping = toy(field=field)
    found = told(hooping)["hoopings"][0]
    assert 0 <= found["turn"] < 360
    a, (x, y) = math.radians(found["turn"]), found["centre"]
    for (u, v), hole in zip(machine_stitching(hooping).holes, hooping.stitching.holes, strict=True):
        there = [x + math.cos(a) * u - math.sin(a) * v, y + math.sin(a) * u + math.cos(a) * v]
        assert there == pytest.approx(hole, abs=0.0011)


@pytest.mark.parametrize(("turn", "shown"), [(-90.0, 270.0), (360.0, 0.0), (-0.0001, 0.0), (719.9999, 0.0)])
def test_turns_stay_below_a_whole(turn, shown):
    assert told(toy(field=Pose(0, 0, turn)))["hoopings"][0]["turn"] == shown
