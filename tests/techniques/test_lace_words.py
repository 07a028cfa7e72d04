"""The words of a lace band: what is refused, and what they say together."""

import pytest
from pydantic import ValidationError

from .lace_toy import lace


def test_words_that_contradict_each_other_are_refused():
    with pytest.raises(ValidationError, match="Make between smaller"):
        lace(shape="scallops", repeat=40, between=40)
    with pytest.raises(ValidationError, match="too short for lace so wide"):
        lace(shape="scallops", repeat=12, width=13, strips=2)


def test_which_shapes_are_closed_pieces():
    assert lace(shape="rings").closed_pieces
    assert lace(shape="diamonds", each=True).closed_pieces
    assert not lace(shape="diamonds").closed_pieces
    assert not lace(shape="scallops", each=True).closed_pieces


def test_strips_side_by_side_add_up():
    assert lace(width=10, strips=3).total == 30
