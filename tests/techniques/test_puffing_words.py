"""The words of puffing."""

import pytest
from pydantic import ValidationError

from festoon.techniques.puffing_words import Puffing


def puffing(**words):
    return Puffing(**{"kind": "puffing", "name": "it", "along": "hem", **words})


def test_what_is_usual():
    # An encyclopedia of sewing machine techniques, as quoted: 2 1/2 to 3 to 1, half an inch more at each long edge.
    usual = puffing()
    assert (usual.fullness, usual.edge, usual.rows) == (2.5, 12.7, 2)


@pytest.mark.parametrize("words", [{"rows": 5, "apart": 7}, {"rows": 2, "edge": 3}])
def test_rows_of_gathering_outside_of_the_allowance_are_refused(words):
    with pytest.raises(ValidationError, match="beyond the edge's allowance"):
        puffing(**words)
