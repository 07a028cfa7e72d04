"""Sheet sizes."""

import itertools
import re

import pytest

from festoon.errors import MeasureError
from festoon.measure import PAPERS, paper_size


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("A0", (841, 1189)),
        ("A1", (594, 841)),
        ("A2", (420, 594)),
        ("A3", (297, 420)),
        ("A4", (210, 297)),
        ("A5", (148, 210)),
        ("Letter", (215.9, 279.4)),
        ("legal", (215.9, 355.6)),
        (" TABLOID ", (279.4, 431.8)),
    ],
)
def test_sizes(name: str, size: tuple[float, float]) -> None:
    """Several pages quoting ISO 216; the inch sizes 8½ × 11, 8½ × 14 and 11 × 17 in from memory."""
    assert paper_size(name) == size


def test_each_a_size_is_the_larger_one_halved_and_rounded_down() -> None:
    """Sides halved and rounded down; rounding 1000·2^(¼−k/2) instead gives 595 and 149."""
    series = [PAPERS[f"A{k}"] for k in range(6)]
    for (width, height), smaller in itertools.pairwise(series):
        assert smaller == (height // 2, width)
    naive = [round(1000 * 2 ** (1 / 4 - k / 2)) for k in range(2, 7)]
    assert (naive[0], naive[4]) == (595, 149)
    assert (paper_size("A2")[1], paper_size("A5")[0]) == (594, 148)


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("Lettre", 'Did you mean "Letter"? The sizes are A0, A1'),
        ("foolscap", '"foolscap" is not a paper size known here. The sizes are'),
        ("", "is not a paper size known here"),
    ],
)
def test_says_what_it_does_not_know(name: str, sentence: str) -> None:
    with pytest.raises(MeasureError, match=re.escape(sentence)):
        paper_size(name)
