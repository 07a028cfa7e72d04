"""Plain names for colours."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from festoon.stitches import Thread
from festoon.stitches.colour import WORDS, colour_name, oklab, parse_colour


@pytest.mark.parametrize(
    ("colour", "name"),
    [
        ("#ffffff", "white"),
        ("#000000", "black"),
        ("#808080", "grey"),
        ("#0000ff", "royal blue"),
        ("#ff0000", "scarlet"),
        ("#cfe3f5", "pale blue"),
        ("#3b1f5e", "dark violet"),
        ("#FFF4D9", "cream"),
    ],
)
def test_names_that_anyone_would_give(colour: str, name: str) -> None:
    assert colour_name(colour) == name


@pytest.mark.parametrize("name", WORDS)
def test_every_word_names_its_own_colour(name: str) -> None:
    assert colour_name(WORDS[name]) == name


def test_words_are_plain() -> None:
    assert all(re.fullmatch(r"[a-z]+( [a-z]+){0,2}", name) for name in WORDS)
    assert len(set(WORDS.values())) == len(WORDS)


def test_oklab_of_white_and_primaries() -> None:
    """Ottosson's own table of examples, from memory: white (1, 0, 0), red (0.628, 0.225, 0.126)."""
    assert oklab("#ffffff") == pytest.approx([1, 0, 0], abs=1e-6)
    assert oklab("#ff0000") == pytest.approx([0.62796, 0.22486, 0.12585], abs=1e-4)
    assert oklab("#000000") == pytest.approx([0, 0, 0])


@given(st.integers(0, 0xFFFFFF))
def test_every_colour_has_a_name(value: int) -> None:
    assert Thread(f"#{value:06x}").name in WORDS


@given(st.integers(0, 255))
def test_greys_have_no_hue(v: int) -> None:
    assert np.abs(oklab(f"#{v:02x}{v:02x}{v:02x}")[1:]).max() < 1e-6


@pytest.mark.parametrize("wrong", ["", "red", "#12", "#1234567", "#ggg"])
def test_what_is_no_colour(wrong: str) -> None:
    with pytest.raises(ValueError, match="no colour"):
        parse_colour(wrong)
