"""The words of an edging, and those that say nothing together."""

import pytest
from pydantic import ValidationError

from festoon.techniques.edging_words import Edging


def edging(**words):
    return Edging(**{"kind": "edging", "name": "frill", "along": "hem", **words})


def test_what_is_usual():
    # An heirloom teacher (restoring a christening gown): 1 in more at each end for the pull threads.
    usual = edging()
    assert (usual.fullness, usual.lies, usual.allowance, usual.ends) == (1.0, "below", 25.4, None)
    assert usual.sewn.stitch == "butted zigzag"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ({"fullness": 0.9}, "greater than or equal to 1"),
        ({"fullness": 2, "at_curves": 1.5}, "less full at_curves"),
        ({"lies": "middle"}, "'above' or 'below'"),
        ({"piece": 50}, "no longer than the allowances"),
    ],
)
def test_what_says_nothing_is_refused(words, told):
    with pytest.raises(ValidationError, match=told):
        edging(**words)
