"""The text twin."""

import numpy as np
import pytest
from hypothesis import given

from festoon.errors import StitchFileError
from festoon.stitches import Stitching, dump, empty, undump
from tests.stitches.making import LETTER_F, stitchings


@given(stitchings())
def test_there_and_back(s: Stitching) -> None:
    back = undump(dump(s))
    assert np.abs(back.points - s.points).max() <= 0.05 + 1e-9
    assert back.acts.tolist() == s.acts.tolist()
    assert back.thread.tolist() == s.thread.tolist()
    assert back.threads == s.threads
    assert dump(back) == dump(s)


def test_the_letter_f() -> None:
    lines = dump(LETTER_F).splitlines()
    assert lines[0].startswith("thread    0 #c8412f 26.6666666")
    assert lines[6:9] == ["stitch    100   -160    0", "trim      100   -160    0", "move        0    -80    1"]


def test_nothing() -> None:
    assert dump(empty()) == ""
    assert len(undump("")) == 0


@pytest.mark.parametrize("line", ["stich 1 2 0", "stitch 1 2", "stitch a 2 0", "thread 0 #ffffff", ""])
def test_lines_that_are_no_record(line: str) -> None:
    with pytest.raises(StitchFileError, match=r"line 3: .* is no record"):
        undump(f"thread 0 #000000 25\nstitch 0 0 0\n{line}\n")
